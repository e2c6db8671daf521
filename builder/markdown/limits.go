package markdown

import (
	"bytes"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"trug/calcblocks/kit/diag"
)

// What a note may hold at most. No note that people read comes near, and a few kilobytes beyond would cost
// minutes or gigabytes: the library's work grows with the square of the first four, and each row of a table is
// filled up to the columns of its head.
const (
	mostNested    = 20   // quotes and lists in each other
	mostBrackets  = 1000 // [ and ] in one paragraph, heading or cell
	mostLeads     = 1000 // lines of one paragraph that start with [, as definitions do
	mostFootnotes = 1000
	mostColumns   = 100    // of a table
	mostCells     = 20_000 // of a table
)

// An excess is a place where a note goes beyond one of these. There the library is not asked to read on.
type excess struct {
	at      int
	code    string
	message string
	args    []any
	hint    string
}

var excessKey = parser.NewContextKey()

// exceeds notes an excess in the context, the first of each sort.
func exceeds(pc parser.Context, e excess) {
	all, _ := pc.Get(excessKey).(map[string]excess)
	if all == nil {
		all = map[string]excess{}
		pc.Set(excessKey, all)
	}
	if _, told := all[e.code]; !told {
		all[e.code] = e
	}
}

func (r *reader) readExcesses(pc parser.Context) {
	all, _ := pc.Get(excessKey).(map[string]excess)
	for _, e := range all {
		r.report(diag.Errorf(r.at(e.at), e.code, e.message, e.args...).Hint("%s", e.hint))
	}
}

// shallow opens a quote or a list unless it stands in too many others.
type shallow struct{ parser.BlockParser }

// Open begins a quote or a list.
func (p shallow) Open(parent ast.Node, r text.Reader, pc parser.Context) (ast.Node, parser.State) {
	depth := 0
	for n := parent; n != nil; n = n.Parent() {
		if n.Kind() != ast.KindListItem { // its list counts
			depth++
		}
	}
	if depth <= mostNested || parent.Kind() == ast.KindList { // in a list only items begin
		return p.BlockParser.Open(parent, r, pc)
	}
	_, segment := r.PeekLine()
	exceeds(pc, excess{
		segment.Start - segment.Padding + max(pc.BlockOffset(), 0), "too-deep", "more than %d quotes, lists or footnotes stand in each other here",
		[]any{mostNested},
		"end some of them, or put a backslash before \">\", \"-\" or the number if it is meant as text",
	})
	return nil, parser.NoChildren
}

// fewBrackets reads links, and leaves off where a piece of text holds too many of their brackets.
type fewBrackets struct{ parser.InlineParser }

var bracketsKey = parser.NewContextKey()

type brackets struct {
	in ast.Node
	n  int
}

// Parse reads from a bracket on.
func (p fewBrackets) Parse(parent ast.Node, r text.Reader, pc parser.Context) ast.Node {
	seen, _ := pc.Get(bracketsKey).(*brackets)
	if seen == nil || seen.in != parent {
		seen = &brackets{in: parent}
		pc.Set(bracketsKey, seen)
	}
	if seen.n++; seen.n <= mostBrackets {
		return p.InlineParser.Parse(parent, r, pc)
	}
	_, segment := r.PeekLine()
	exceeds(pc, excess{
		segment.Start, "too-many-brackets", "more than %d square brackets stand in one piece of text",
		[]any{mostBrackets},
		"part it by empty lines",
	})
	return nil
}

// CloseBlock ends a piece of text.
func (p fewBrackets) CloseBlock(parent ast.Node, r text.Reader, pc parser.Context) {
	p.InlineParser.(parser.CloseBlocker).CloseBlock(parent, r, pc)
}

// footnotes reads no more than so many footnotes.
type footnotes struct{ parser.BlockParser }

var footnotesKey = parser.NewContextKey()

// Extend adds footnotes to a grammar.
func (footnotes) Extend(m goldmark.Markdown) {
	m.Parser().AddOptions(
		parser.WithBlockParsers(util.Prioritized(footnotes{shallow{extension.NewFootnoteBlockParser()}}, 999)),
		parser.WithInlineParsers(util.Prioritized(extension.NewFootnoteParser(), 101)),
		parser.WithASTTransformers(util.Prioritized(extension.NewFootnoteASTTransformer(), 999)),
	)
}

// Open begins a footnote.
func (p footnotes) Open(parent ast.Node, r text.Reader, pc parser.Context) (ast.Node, parser.State) {
	n, _ := pc.Get(footnotesKey).(int)
	line, segment := r.PeekLine()
	if n >= mostFootnotes && bytes.HasPrefix(bytes.TrimLeft(line, " "), []byte("[^")) {
		exceeds(pc, excess{
			segment.Start, "too-many-footnotes", "this note has more than %d footnotes",
			[]any{mostFootnotes},
			"make several notes of it",
		})
		return nil, parser.NoChildren
	}
	node, state := p.BlockParser.Open(parent, r, pc)
	if node != nil {
		pc.Set(footnotesKey, n+1)
	}
	return node, state
}

// fewLeads takes reference definitions out of a paragraph that does not hold too many.
type fewLeads struct{ parser.ParagraphTransformer }

// Transform makes definitions of the lines of a paragraph that are some.
func (t fewLeads) Transform(n *ast.Paragraph, r text.Reader, pc parser.Context) {
	leads := 0
	for i := range n.Lines().Len() {
		if line := n.Lines().At(i); bytes.HasPrefix(line.Value(r.Source()), []byte("[")) {
			leads++
		}
	}
	if leads <= mostLeads {
		t.ParagraphTransformer.Transform(n, r, pc)
		return
	}
	exceeds(pc, excess{
		n.Lines().At(0).Start, "too-many-definitions", "more than %d lines of this paragraph start with [",
		[]any{mostLeads},
		"part them by empty lines",
	})
}

// tables reads tables of no more than so many columns and cells.
type tables struct{ parser.ParagraphTransformer }

// Extend adds tables to a grammar.
func (t tables) Extend(m goldmark.Markdown) {
	m.Parser().AddOptions(
		parser.WithParagraphTransformers(util.Prioritized(tables{extension.NewTableParagraphTransformer()}, 200)),
		parser.WithASTTransformers(util.Prioritized(extension.NewTableASTTransformer(), 0)),
	)
}

// Transform makes a table of a paragraph that is one.
func (t tables) Transform(n *ast.Paragraph, r text.Reader, pc parser.Context) {
	lines := n.Lines()
	for i := 1; i < lines.Len(); i++ {
		line := lines.At(i)
		columns := columnsOf(line.Value(r.Source()))
		cells, at := columns*(lines.Len()-i), lines.At(i-1).Start
		switch {
		case columns > mostColumns:
			exceeds(pc, excess{
				at, "wide-table", "this table has %d columns, more than %d",
				[]any{columns, mostColumns},
				"turn rows and columns, or make several tables of it",
			})
			return
		case cells > mostCells:
			exceeds(pc, excess{
				at, "long-table", "this table has %d cells, more than %d",
				[]any{cells, mostCells},
				"make several tables of it",
			})
			return
		}
	}
	t.ParagraphTransformer.Transform(n, r, pc)
}

// columnsOf returns how many columns a line parts, 0 when it is not the line below a table's head.
func columnsOf(line []byte) int {
	line = bytes.TrimSpace(line)
	if len(bytes.Trim(line, "|:- \t")) > 0 || !bytes.ContainsRune(line, '-') {
		return 0
	}
	inner := bytes.TrimSuffix(bytes.TrimPrefix(line, []byte("|")), []byte("|"))
	return bytes.Count(inner, []byte("|")) + 1
}
