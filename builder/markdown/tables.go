package markdown

import (
	"fmt"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"
)

// writeTable wraps a table in a region that scrolls, because at 320 px most tables are wider than the
// page, and that the keyboard reaches. Its name is a number: notes have no table captions.
func (w *writer) writeTable(b util.BufWriter, _ []byte, _ ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		_, _ = b.WriteString("</table>\n</div>\n")
		return ast.WalkContinue, nil
	}
	w.tables++
	label := w.label(fmt.Sprintf("Table %d", w.tables))
	_, _ = fmt.Fprintf(b, "<div class=\"table-scroll\" tabindex=\"0\" role=\"region\" aria-label=\"%s\">\n<table>\n",
		escape(label))
	return ast.WalkContinue, nil
}

func (w *writer) writeTableHeader(b util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = b.WriteString("<thead>\n<tr>\n")
		return ast.WalkContinue, nil
	}
	_, _ = b.WriteString("</tr>\n</thead>\n")
	if n.NextSibling() != nil {
		_, _ = b.WriteString("<tbody>\n")
	}
	return ast.WalkContinue, nil
}

func (w *writer) writeTableRow(b util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = b.WriteString("<tr>\n")
		return ast.WalkContinue, nil
	}
	_, _ = b.WriteString("</tr>\n")
	if n.NextSibling() == nil {
		_, _ = b.WriteString("</tbody>\n")
	}
	return ast.WalkContinue, nil
}

// writeTableCell writes alignment as a class, since the pages allow no style attribute. An empty cell
// of the header heads nothing and is an ordinary cell.
func (w *writer) writeTableCell(b util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*east.TableCell)
	tag := "td"
	if n.Parent().Kind() == east.KindTableHeader && n.HasChildren() {
		tag = "th"
	}
	if !entering {
		_, _ = b.WriteString("</" + tag + ">\n")
		return ast.WalkContinue, nil
	}
	_, _ = b.WriteString("<" + tag)
	if tag == "th" {
		_, _ = b.WriteString(` scope="col"`)
	}
	if n.Alignment != east.AlignNone {
		_, _ = b.WriteString(` class="align-` + n.Alignment.String() + `"`)
	}
	_ = b.WriteByte('>')
	return ast.WalkContinue, nil
}
