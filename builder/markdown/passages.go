package markdown

import (
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

	"trug/calcblocks/kit/diag"
)

// A Passage is a stretch of a note's own text that a reader sees as one: a paragraph, a heading, a line of a
// list, a cell. Code is left out.
type Passage struct {
	Text   string
	file   *diag.File
	pieces []piece
}

// A piece says where in the note the text from a byte on stands.
type piece struct{ text, source int }

// At returns the place of a byte of the text.
func (p Passage) At(offset int) diag.Position {
	i, found := slices.BinarySearchFunc(p.pieces, offset, func(a piece, at int) int { return a.text - at })
	if !found {
		i--
	}
	if i < 0 {
		return diag.Position{File: p.file}
	}
	return p.file.At(p.pieces[i].source + offset - p.pieces[i].text)
}

// Passages returns the note's own text in order. file is the one that the note was read from.
func (d *Document) Passages(file *diag.File) []Passage {
	var out []Passage
	d = d.unfolded()
	_ = ast.Walk(d.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		first := n.FirstChild()
		if !entering || n.Type() != ast.TypeBlock || first == nil || first.Type() != ast.TypeInline {
			return ast.WalkContinue, nil
		}
		var b strings.Builder
		p := Passage{file: file}
		d.appendPieces(&b, &p, n)
		p.Text = b.String()
		out = append(out, p)
		return ast.WalkSkipChildren, nil
	})
	return out
}

func (d *Document) appendPieces(b *strings.Builder, p *Passage, n ast.Node) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *ast.Text:
			p.pieces = append(p.pieces, piece{b.Len(), c.Segment.Start})
			d.appendText(b, c)
		case *ast.CodeSpan, *ast.AutoLink, *ast.RawHTML:
			b.WriteByte(' ')
		default:
			d.appendPieces(b, p, c)
		}
	}
}
