package markdown

import (
	"fmt"
	"unicode"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"
)

// writeTable wraps a table in a region that scrolls, because at 320 px most tables are wider than the
// page, and that the keyboard reaches. Its name is a number: notes have no table captions.
func (w *writer) writeTable(b util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		_, _ = b.WriteString("</table>\n</div>\n")
		return ast.WalkContinue, nil
	}
	w.tables++
	label := w.label(fmt.Sprintf("Table %d", w.tables))
	class := ""
	if w.crowded(n) {
		class = ` class="crowded"`
	}
	_, _ = fmt.Fprintf(b, "<div class=\"table-scroll\" tabindex=\"0\" role=\"region\" aria-label=\"%s\">\n<table%s>\n",
		escape(label), class)
	return ast.WalkContinue, nil
}

// A sheet of paper holds about as many characters side by side in the type of a table, which has the room of two
// between its columns.
const (
	acrossPaper = 95
	tableGutter = 2
)

// crowded says whether a table is wider than paper even where each cell breaks after every word. No style sheet can
// ask that, and a browser makes the whole page smaller by it.
func (w *writer) crowded(table ast.Node) bool {
	var longest []int
	for row := table.FirstChild(); row != nil; row = row.NextSibling() {
		i := 0
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			if i == len(longest) {
				longest = append(longest, 0)
			}
			longest[i] = max(longest[i], longestWord(w.text(cell)))
			i++
		}
	}
	across := tableGutter * len(longest)
	for _, n := range longest {
		across += n
	}
	return across > acrossPaper
}

// longestWord is the width in characters of what a browser does not break: it does after a blank, a hyphen and between
// the signs of scripts that write no blanks, each as wide as two letters.
func longestWord(text string) int {
	longest, word := 0, 0
	for _, r := range text {
		switch {
		case unicode.IsSpace(r):
			word = 0
		case unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana):
			word = 2
		default:
			word++
		}
		longest = max(longest, word)
		if r == '-' {
			word = 0
		}
	}
	return longest
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
