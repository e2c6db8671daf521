package layouts

import (
	"html/template"
	"regexp"
	"slices"
	"strings"

	"trug/calcblocks/kit/view"
)

// A Printed is a block printed once for all places where it stands. Several goroutines may use it.
type Printed struct {
	look   *Layouts
	doc    view.Doc
	own    []view.Part // below it where it has a page to itself
	made   Context
	pieces []piece // nil = printed anew at each place
	size   int     // of all pieces
}

// Print prints a block for places that share c's BlockID and Main and whether there is a How; c may be any of
// them. At other places it is printed anew. So it is at every place under a dress that replaces the template of a
// part, which may do with its place what no mark stands for. The parts in own stand below the block's own where it is
// in no note.
func (l *Layouts) Print(doc view.Doc, c Context, own ...view.Part) (*Printed, error) {
	out := &Printed{look: l, doc: doc, own: own, made: c}
	if len(doc.Parts) == 0 || l.dressesParts() {
		return out, nil
	}
	c.Root, c.Heading = rootMark, unplaced
	if c.How != "" {
		c.How = howMark
	}
	p := l.printer(c)
	p.kept = &kept{}
	parts, err := p.all(slices.Concat(doc.Parts, own))
	for i, html := range parts {
		out.pieces = p.kept.split(out.pieces, keptPart{html: html, alone: i >= len(doc.Parts)})
	}
	for _, piece := range out.pieces {
		out.size += len(piece.text)
	}
	return out, err
}

// At returns the block's HTML at a place, under the heads that it has there: the same as Parts gives for the heads
// and the block's parts. A block that shows nothing has no head either.
func (p *Printed) At(c Context, heads ...view.More) (template.HTML, error) {
	if len(p.doc.Parts) == 0 {
		return "", nil
	}
	var parts []view.Part
	for _, head := range heads {
		parts = append(parts, head)
	}
	if p.pieces == nil || !p.fits(c) {
		parts = append(parts, p.doc.Parts...)
		if !c.InNote {
			parts = append(parts, p.own...)
		}
		return p.look.Parts(view.Doc{Parts: parts}, c)
	}
	at := p.look.printer(c)
	above, err := at.all(parts)
	if err != nil {
		return "", err
	}
	shell, err := at.block(append(above, bodyMark))
	for _, head := range heads {
		at = at.below(head.Title)
	}
	start, end, _ := strings.Cut(string(shell), bodyMark)
	var b strings.Builder
	b.Grow(len(shell) + p.size + p.size/16)
	b.WriteString(start)
	at.fill(&b, p.pieces)
	b.WriteString(end)
	return template.HTML(b.String()), err
}

// plain is what stands in an address as it is.
var plain = regexp.MustCompile(`^[\w./-]*$`)

// fits says whether nothing but the pieces' gaps differs at a place.
func (p *Printed) fits(c Context) bool {
	return c.BlockID == p.made.BlockID && c.Main == p.made.Main && (c.How == "") == (p.made.How == "") &&
		plain.MatchString(c.Root) && plain.MatchString(c.How) && plain.MatchString(c.BlockID)
}

// dressesParts says whether the dress replaces the template of a part.
func (l *Layouts) dressesParts() bool {
	for name := range l.own {
		if strings.HasPrefix(name, "parts/") {
			return true
		}
	}
	return false
}
