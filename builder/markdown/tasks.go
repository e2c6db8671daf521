package markdown

import (
	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"
)

// task returns the box that a paragraph of a list item starts with, nil without one.
func task(paragraph ast.Node) *east.TaskCheckBox {
	if paragraph == nil {
		return nil
	}
	box, _ := paragraph.FirstChild().(*east.TaskCheckBox)
	return box
}

// writeTask writes the box. It is named by the label round it, or by itself when it has no text.
func (w *writer) writeTask(b util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	_, _ = b.WriteString(`<input type="checkbox" disabled`)
	if node.(*east.TaskCheckBox).IsChecked {
		_, _ = b.WriteString(" checked")
	}
	if node.NextSibling() == nil {
		_, _ = b.WriteString(` aria-label="Task"`)
	}
	_, _ = b.WriteString("> ")
	return ast.WalkContinue, nil
}

// writeItem marks the list items that are tasks.
func (w *writer) writeItem(b util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		_, _ = b.WriteString("</li>\n")
		return ast.WalkContinue, nil
	}
	first := n.FirstChild()
	if task(first) != nil {
		_, _ = b.WriteString(`<li class="task">`)
	} else {
		_, _ = b.WriteString("<li>")
	}
	if first != nil && first.Kind() != ast.KindTextBlock {
		_ = b.WriteByte('\n')
	}
	return ast.WalkContinue, nil
}

func (w *writer) writeParagraph(b util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = b.WriteString("<p>")
	}
	writeLabel(b, n, entering)
	if !entering {
		_, _ = b.WriteString("</p>\n")
	}
	return ast.WalkContinue, nil
}

func (w *writer) writeTextBlock(b util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	writeLabel(b, n, entering)
	if !entering && n.NextSibling() != nil && n.HasChildren() {
		_ = b.WriteByte('\n')
	}
	return ast.WalkContinue, nil
}

func writeLabel(b util.BufWriter, n ast.Node, entering bool) {
	switch {
	case task(n) == nil:
	case entering:
		_, _ = b.WriteString("<label>")
	default:
		_, _ = b.WriteString("</label>")
	}
}
