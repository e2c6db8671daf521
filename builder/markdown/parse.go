// Package markdown reads notes: their blocks, headings, links and images with the places they stand
// at, and writes them as HTML. It is the only package that knows the Markdown and highlighting
// libraries.
package markdown

import (
	"slices"
	"sync"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"trug/calcblocks/kit/diag"
)

// Options says how a note is read; the zero value knows no kinds.
type Options struct {
	// Kinds are the words that make a fenced block a block of ours.
	Kinds []string
	// Plain reads and writes CommonMark 0.31.2 alone: no extension, raw HTML kept, title kept. It is
	// meant for the examples of the standard.
	Plain bool
}

// A Document is a note after reading. Headings, Links and Images stand in the order of the note, with
// those of footnotes last; Blocks in the order of the file.
type Document struct {
	// Title is the text of the first heading, "" without one.
	Title    string
	Headings []Heading
	Links    []Link
	Images   []Image
	Blocks   []*Block

	file     *diag.File
	options  Options
	plain    bool
	source   []byte
	root     ast.Node
	blocks   map[ast.Node]*Block
	targets  map[ast.Node]target
	ids      map[ast.Node]string // of headings
	title    ast.Node            // the heading that the page prints, nil when the body prints it
	unshown  map[reference]bool  // footnote references that stand where nothing is written
	headings int                 // level of the heading before
	read     sync.Once           // of the prose
	prose    string
}

// A reader is a document being read.
type reader struct {
	*Document
	file   *diag.File
	kinds  []string
	used   map[string]int // heading ids, and that of the page's own part which holds them, with the last number behind each
	report func(diag.Diagnostic)
}

// Parse reads a note. It reports into report, which may be nil, and never stops early: a document
// comes back whatever was wrong. Blocks whose fence is not closed are left out of Blocks, because
// their body runs on into the rest of the note.
func Parse(file *diag.File, o Options, report func(diag.Diagnostic)) *Document {
	if report == nil {
		report = func(diag.Diagnostic) {}
	}
	d := &Document{
		file: file, options: o, plain: o.Plain, source: []byte(file.Text),
		blocks: map[ast.Node]*Block{}, targets: map[ast.Node]target{},
		ids: map[ast.Node]string{}, unshown: map[reference]bool{},
	}
	r := &reader{Document: d, file: file, kinds: o.Kinds, used: map[string]int{"main": 1}, report: report}
	r.leadingLines()
	context := parser.NewContext()
	d.root = grammar(o.Plain).Parse(text.NewReader(d.source), parser.WithContext(context))
	r.readExcesses(context)
	r.readFences(seenFences(context))
	r.readFootnotes(context)
	_ = ast.Walk(d.root, r.visit) // visit returns no error
	slices.SortFunc(d.Blocks, func(a, b *Block) int { return a.place.open - b.place.open })
	return d
}

// visit gathers what a node tells the rest of the builder.
func (r *reader) visit(n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	switch n := n.(type) {
	case *ast.Heading:
		r.readHeading(n)
	case *ast.FencedCodeBlock:
		if b := r.blocks[n]; b != nil {
			b.Under = r.headings
			r.Blocks = append(r.Blocks, b)
		}
	case *ast.CodeBlock:
		r.readCodeBlock(n)
	case *ast.Link:
		r.readLink(n)
	case *ast.AutoLink:
		r.readAutoLink(n)
	case *ast.LinkReferenceDefinition:
		r.readDefinition(n)
	case *ast.Image:
		r.readImage(n)
		return ast.WalkSkipChildren, nil // a link inside the text of an image is not written
	case *ast.HTMLBlock:
		r.readHTMLBlock(n)
	case *ast.RawHTML:
		r.readRawHTML(n)
	}
	return ast.WalkContinue, nil
}

// at returns the position of a byte of the note.
func (r *reader) at(offset int) diag.Position { return r.file.At(offset) }

// doubt returns a diagnostic that stops nothing.
func doubt(at diag.Position, code, format string, args ...any) diag.Diagnostic {
	d := diag.Errorf(at, code, format, args...)
	d.Severity = diag.Doubt
	return d
}
