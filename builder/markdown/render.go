package markdown

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/renderer"
	gmhtml "github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"trug/calcblocks/kit/diag"
)

// Hooks is how the rest of the builder takes part in writing a note. The zero value writes the note
// as it is, with its blocks as code.
type Hooks struct {
	// Block returns the HTML that stands in the block's place; it is never inside a paragraph.
	Block func(*Block) string
	// Link returns the address to write for a target. An empty answer writes the text alone.
	Link func(target string, at diag.Position) string
	// Image returns the picture to show. One without an address leaves its text alone.
	Image func(Image) Picture
	// Text returns plain text to write as a link's text, and whether it replaces what is written.
	Text func(link Link) (string, bool)
	// Prefix is put before every id, and Deeper added to the level of every heading, for pages that
	// hold several notes. Link has to answer for targets that start with "#".
	Prefix string
	Deeper int
}

// A Picture is what a page shows for an image of a note.
type Picture struct {
	Address       string
	Width, Height int // of the file at Address, in pixels; 0 = not known
	// Widths lists the same picture in several widths and Sizes says how wide it stands on the page, both
	// as HTML's srcset and sizes; "" = there is one file.
	Widths, Sizes string
}

// A writer prints one document once.
type writer struct {
	*Document
	hooks  Hooks
	tables int
	linked map[ast.Node]bool // links whose start tag is written
}

// HTML returns the note as HTML for the body of a page. A first heading of level 1 is left out,
// because the page prints the title.
func (d *Document) HTML(h Hooks) string {
	d = d.unfolded()
	w := &writer{Document: d, hooks: h, linked: map[ast.Node]bool{}}
	own := util.Prioritized(w, 100) // the smallest number wins
	base := gmhtml.NewRenderer()
	if d.plain {
		base = gmhtml.NewRenderer(gmhtml.WithXHTML(), gmhtml.WithUnsafe())
	}
	all := []util.PrioritizedValue{
		own, util.Prioritized(base, 1000),
		util.Prioritized(extension.NewStrikethroughHTMLRenderer(), 500),
		util.Prioritized(extension.NewDefinitionListHTMLRenderer(), 500),
	}
	out := sheets.Get().(*bytes.Buffer)
	defer sheets.Put(out)
	out.Reset()
	if err := renderer.NewRenderer(renderer.WithNodeRenderers(all...)).Render(out, d.source, d.root); err != nil {
		panic(fmt.Sprintf("markdown: writing to memory failed: %v", err)) // no node returns an error
	}
	return out.String()
}

// sheets are buffers to write notes on, each grown to what was written before.
var sheets = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// RegisterFuncs tells the library which nodes are printed here.
func (w *writer) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(ast.KindFencedCodeBlock, w.writeFence)
	r.Register(ast.KindLink, w.writeLink)
	r.Register(ast.KindAutoLink, w.writeAutoLink)
	r.Register(ast.KindImage, w.writeImage)
	if w.plain {
		return
	}
	r.Register(ast.KindCodeBlock, w.writeCodeBlock)
	r.Register(ast.KindHeading, w.writeHeading)
	r.Register(ast.KindHTMLBlock, w.writeHTMLBlock)
	r.Register(ast.KindRawHTML, w.writeRawHTML)
	r.Register(ast.KindListItem, w.writeItem)
	r.Register(ast.KindParagraph, w.writeParagraph)
	r.Register(ast.KindTextBlock, w.writeTextBlock)
	r.Register(east.KindTaskCheckBox, w.writeTask)
	r.Register(east.KindTable, w.writeTable)
	r.Register(east.KindTableHeader, w.writeTableHeader)
	r.Register(east.KindTableRow, w.writeTableRow)
	r.Register(east.KindTableCell, w.writeTableCell)
	r.Register(east.KindFootnoteLink, w.writeFootnoteLink)
	r.Register(east.KindFootnoteBacklink, w.writeFootnoteBack)
	r.Register(east.KindFootnote, w.writeFootnote)
	r.Register(east.KindFootnoteList, w.writeFootnotes)
}

// label makes the name of a part unique on a page that holds several notes.
func (w *writer) label(name string) string {
	if w.hooks.Prefix == "" || w.Title == "" {
		return name
	}
	return name + " of " + w.Title
}

func escape(s string) string { return string(util.EscapeHTML([]byte(s))) }

func (w *writer) writeHeading(b util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if node == w.title {
		return ast.WalkSkipChildren, nil
	}
	level := strconv.Itoa(min(node.(*ast.Heading).Level+w.hooks.Deeper, 6))
	if entering {
		_, _ = b.WriteString("<h" + level + ` id="` + escape(w.hooks.Prefix+w.ids[node]) + `">`)
	} else {
		_, _ = b.WriteString("</h" + level + ">\n")
	}
	return ast.WalkContinue, nil
}

func (w *writer) writeFence(b util.BufWriter, source []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	n := node.(*ast.FencedCodeBlock)
	block := w.blocks[node]
	language := unescape(n.Language(source))
	switch {
	case block != nil && w.hooks.Block != nil:
		_, _ = b.WriteString(strings.TrimRight(w.hooks.Block(block), "\n"))
		_ = b.WriteByte('\n')
	case w.plain:
		writePlainCode(b, string(n.Lines().Value(source)), language)
	case block != nil:
		writeCode(b, block.Body, "yaml")
	default:
		writeCode(b, string(n.Lines().Value(source)), language)
	}
	return ast.WalkContinue, nil
}

func writePlainCode(b util.BufWriter, code, language string) {
	if language != "" {
		language = ` class="language-` + escape(language) + `"`
	}
	_, _ = b.WriteString("<pre><code" + language + ">" + escape(clean(code)) + "</code></pre>\n")
}

func (w *writer) writeCodeBlock(b util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		writeCode(b, string(n.Lines().Value(source)), "")
	}
	return ast.WalkContinue, nil
}
