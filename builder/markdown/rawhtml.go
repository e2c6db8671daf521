package markdown

import (
	"html"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"trug/calcblocks/kit/diag"
)

func (r *reader) readHTMLBlock(n *ast.HTMLBlock) {
	if n.Lines().Len() == 0 {
		return
	}
	first := n.Lines().At(0)
	value := string(first.Value(r.source))
	shown := strings.TrimSpace(value)
	indent := len(value) - len(strings.TrimLeft(value, " \t"))
	r.reportHTML(r.at(first.Start+max(indent-first.Padding, 0)), shown)
}

func (r *reader) readRawHTML(n *ast.RawHTML) {
	shown := r.rawText(n)
	if strings.HasPrefix(shown, "</") && hasRawBefore(n) {
		return // one report for a pair of tags
	}
	r.reportHTML(r.at(n.Segments.At(0).Start), shown)
}

func hasRawBefore(n ast.Node) bool {
	for p := n.PreviousSibling(); p != nil; p = p.PreviousSibling() {
		if p.Kind() == ast.KindRawHTML {
			return true
		}
	}
	return false
}

func (r *reader) reportHTML(at diag.Position, shown string) {
	if r.plain {
		return
	}
	r.report(doubt(at, "raw-html", "raw HTML %q is shown as text", shown).
		Hint("use Markdown, or put a backslash before \"<\" if it is meant as text"))
}

// rawText returns raw HTML as written.
func (d *Document) rawText(n *ast.RawHTML) string {
	var b strings.Builder
	for i := range n.Segments.Len() {
		s := n.Segments.At(i)
		b.Write(s.Value(d.source))
	}
	return b.String()
}

// writeRawHTML prints inline raw HTML as text.
func (w *writer) writeRawHTML(b util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = b.WriteString(html.EscapeString(clean(w.rawText(node.(*ast.RawHTML)))))
	}
	return ast.WalkSkipChildren, nil
}

// writeHTMLBlock prints a block of raw HTML as code.
func (w *writer) writeHTMLBlock(b util.BufWriter, source []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	n := node.(*ast.HTMLBlock)
	code := string(n.Lines().Value(source))
	if n.HasClosure() {
		code += string(n.ClosureLine.Value(source))
	}
	writeCode(b, code, "html")
	return ast.WalkContinue, nil
}
