package markdown

import (
	"bufio"
	"bytes"
	"html"
	"strings"

	"github.com/yuin/goldmark/ast"
	gmhtml "github.com/yuin/goldmark/renderer/html"
)

// text returns what a reader sees of a node, without markup, on one line. Footnote references and
// task boxes are left out.
func (d *Document) text(n ast.Node) string {
	var b strings.Builder
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		d.appendText(&b, c)
	}
	return b.String()
}

// Prose returns all that a reader sees of a note's own text, headings and descriptions of pictures among
// it, without markup and without blocks and code; what stands apart is parted by a line end.
func (d *Document) Prose() string {
	d.read.Do(func() { d.prose = d.readProse() })
	return d.prose
}

func (d *Document) readProse() string {
	var b strings.Builder
	_ = ast.Walk(d.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		first := n.FirstChild()
		if !entering || n.Type() != ast.TypeBlock || first == nil || first.Type() != ast.TypeInline {
			return ast.WalkContinue, nil
		}
		b.WriteString(strings.TrimSpace(d.text(n)) + "\n")
		return ast.WalkSkipChildren, nil
	})
	return b.String()
}

func (d *Document) appendText(b *strings.Builder, n ast.Node) {
	switch n := n.(type) {
	case *ast.Text:
		value := n.Segment.Value(d.source)
		if n.IsRaw() {
			b.WriteString(strings.ReplaceAll(string(value), "\n", " "))
			return
		}
		b.WriteString(unescape(value))
		if n.SoftLineBreak() || n.HardLineBreak() {
			b.WriteByte(' ')
		}
	case *ast.String:
		b.WriteString(html.UnescapeString(string(n.Value)))
	case *ast.AutoLink:
		b.Write(n.Label(d.source))
	case *ast.RawHTML:
		if !d.plain {
			b.WriteString(d.rawText(n))
		}
	default:
		b.WriteString(d.text(n))
	}
}

// unescape resolves backslash escapes and character references. It goes through the library's writer
// and back, so that both always agree on what an escape is.
func unescape(value []byte) string {
	if !bytes.ContainsAny(value, "\\&\x00") {
		return string(value)
	}
	var b strings.Builder
	w := bufio.NewWriter(&b)
	gmhtml.DefaultWriter.Write(w, value)
	_ = w.Flush() // a strings.Builder does not fail
	return html.UnescapeString(b.String())
}
