package markdown

import (
	"fmt"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// A reference is one place that refers to a footnote: the footnote's number and which of its places.
type reference struct{ note, place int }

var unusedKey = parser.NewContextKey()

// unusedFootnotes notes the footnotes that nothing refers to, before the library drops them.
type unusedFootnotes struct{}

// Transform looks through a note that is read.
func (unusedFootnotes) Transform(root *ast.Document, _ text.Reader, pc parser.Context) {
	var unused []*east.Footnote
	_ = ast.Walk(root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if f, ok := n.(*east.Footnote); ok && entering && f.Index < 0 {
			unused = append(unused, f)
		}
		return ast.WalkContinue, nil
	})
	pc.Set(unusedKey, unused)
}

func (r *reader) readFootnotes(pc parser.Context) {
	unused, _ := pc.Get(unusedKey).([]*east.Footnote)
	for _, f := range unused {
		r.hideReferences(f)
		r.report(doubt(r.at(max(f.Pos(), 0)), "footnote-unused", "nothing refers to the footnote %q, so it is left out", f.Ref).
			Hint("write [^%s] where it belongs", f.Ref))
	}
}

// hideReferences remembers the footnote references inside a node that is not written, so that no link
// leads back to them.
func (r *reader) hideReferences(n ast.Node) {
	_ = ast.Walk(n, func(c ast.Node, entering bool) (ast.WalkStatus, error) {
		if f, ok := c.(*east.FootnoteLink); ok && entering {
			r.unshown[reference{f.Index, f.RefIndex}] = true
		}
		return ast.WalkContinue, nil
	})
}

// Footnote ids hold an underscore, which no heading id does.
func (w *writer) noteID(note int) string { return fmt.Sprintf("%sfootnote_%d", w.hooks.Prefix, note) }

func (w *writer) placeID(r reference) string {
	return fmt.Sprintf("%s_place_%d", w.noteID(r.note), r.place+1)
}

func (w *writer) writeFootnoteLink(b util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if n := node.(*east.FootnoteLink); entering {
		_, _ = fmt.Fprintf(b, `<sup><a id="%s" href="#%s" class="footnote-mark" role="doc-noteref" aria-label="Footnote %d">%d</a></sup>`,
			escape(w.placeID(reference{n.Index, n.RefIndex})), escape(w.noteID(n.Index)), n.Index, n.Index)
	}
	return ast.WalkContinue, nil
}

func (w *writer) writeFootnoteBack(b util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*east.FootnoteBacklink)
	ref := reference{n.Index, n.RefIndex}
	if !entering || w.unshown[ref] {
		return ast.WalkContinue, nil
	}
	label := fmt.Sprintf("Back to footnote mark %d", n.Index)
	if n.RefCount > 1 {
		label += fmt.Sprintf(", place %d", n.RefIndex+1)
	}
	_, _ = fmt.Fprintf(b, ` <a href="#%s" class="footnote-back" role="doc-backlink" aria-label="%s">↩︎</a>`,
		escape(w.placeID(ref)), label)
	return ast.WalkContinue, nil
}

func (w *writer) writeFootnote(b util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = fmt.Fprintf(b, "<li id=\"%s\">\n", escape(w.noteID(node.(*east.Footnote).Index)))
	} else {
		_, _ = b.WriteString("</li>\n")
	}
	return ast.WalkContinue, nil
}

func (w *writer) writeFootnotes(b util.BufWriter, _ []byte, _ ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = fmt.Fprintf(b, "<section class=\"footnotes\" role=\"doc-endnotes\" aria-label=\"%s\">\n<ol>\n",
			escape(w.label("Footnotes")))
	} else {
		_, _ = b.WriteString("</ol>\n</section>\n")
	}
	return ast.WalkContinue, nil
}
