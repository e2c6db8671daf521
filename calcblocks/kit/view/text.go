package view

import (
	"fmt"
	"io"
	"strings"
)

// textWidth is what the text printer fills: a terminal of 80 columns.
const textWidth = 80

// Text prints a document for a terminal of 80 columns.
func Text(w io.Writer, d Doc) error {
	p := &page{}
	p.parts(d.Parts)
	_, err := io.WriteString(w, p.String())
	return err
}

// part prints one part. A part that is missing here is our bug, so it is loud.
func (p *page) part(part Part) {
	switch part := part.(type) {
	case Paragraph:
		p.text("", part.Text)
	case More:
		p.title(part.Title)
		p.text("", part.Text)
	case Steps:
		p.steps(part)
	case Pots:
		p.pots(part)
	case Sizes:
		p.sizes(part)
	case Amounts:
		p.amounts(part)
	case Variants:
		p.variants(part)
	case Ticks:
		p.ticks(part)
	case Figures:
		p.figures(part)
	case Table:
		p.table(part)
	case Bars:
		p.bars(part)
	case Chart:
		p.chart(part)
	case Dots:
		p.dots(part)
	case Cautions:
		p.cautions(part)
	case Section:
		p.section(part)
	case Working:
		p.working(part)
	case Listing:
		p.listing(part)
	case Bibliography:
		p.bibliography(part)
	default:
		panic(fmt.Sprintf("view: no text for a part of type %T", part))
	}
}

// parts prints parts with a blank line between those that say anything.
func (p *page) parts(parts []Part) {
	for _, part := range parts {
		p.gap()
		p.part(part)
	}
}

func (p *page) steps(s Steps) {
	p.title(s.Title)
	for i, step := range s.Items {
		number := fmt.Sprintf("%2d. ", i+1)
		p.text(number, step.Text)
		p.inside(len(number), func() { p.cautionItems(step.Cautions) })
	}
}

func (p *page) pots(s Pots) {
	p.title(s.Title)
	g := grid{columns: []Column{{}, {Numeric: true}, {}}}
	for _, pot := range s.Items {
		description := pot.Description
		if pot.Assumed {
			description = strings.TrimPrefix(description+"; this shape is assumed", "; ")
		}
		g.row(pot.Name, pot.Volume, description)
	}
	p.inside(2, func() { p.grid(g) })
}

func (p *page) sizes(s Sizes) {
	p.title(s.Title)
	for _, size := range s.Items {
		head := size.Label
		if size.Litres != "" && size.Litres != size.Label {
			head += " (" + size.Litres + ")"
		}
		p.gap()
		p.head(head, "=")
		for _, note := range size.Notes {
			p.text("", note)
		}
		p.parts(size.Parts)
	}
}

func (p *page) variants(v Variants) {
	for _, variant := range v.Items {
		label := variant.Label
		if variant.Default && len(v.Items) > 1 {
			label += " (unless you pick another)"
		}
		p.gap()
		p.head(label, "-")
		p.parts(variant.Parts)
	}
}

func (p *page) ticks(t Ticks) {
	p.title(t.Title)
	for _, item := range t.Items {
		text := item.Text
		if item.Much != "" {
			text = item.Much + " " + item.Text
		}
		p.text("[ ] ", text)
		p.inside(4, func() { p.text("", item.Detail) })
	}
}

func (p *page) figures(f Figures) {
	p.title(f.Title)
	g := grid{columns: []Column{{}, {}, {}}}
	for _, row := range f.Rows {
		g.row(row.Label, row.Value, row.Note)
	}
	p.inside(2, func() { p.grid(g) })
}

func (p *page) table(t Table) {
	p.title(t.Caption)
	g := grid{columns: t.Columns}
	for _, row := range t.Rows {
		g.row(row...)
	}
	p.inside(2, func() {
		p.grid(g)
		for _, note := range t.Notes {
			p.text("", note)
		}
	})
}

func (p *page) cautions(c Cautions) {
	p.title(c.Title)
	p.cautionItems(c.Items)
}

// cautionItems prints each caution after a mark of its own: cautions are not known by colour alone.
func (p *page) cautionItems(items []Caution) {
	for _, c := range items {
		text := c.Text
		if c.Word != "" {
			text = c.Word + ": " + text
		}
		if c.Defer != "" {
			text += " " + c.Defer
		}
		p.text("! ", text+inBrackets(c.Sources))
	}
}

// inBrackets is the keys of sources, as a text ends with them.
func inBrackets(keys []string) string {
	if len(keys) == 0 {
		return ""
	}
	return " [" + strings.Join(keys, ", ") + "]"
}

func (p *page) working(w Working) {
	p.title(w.Title)
	for _, s := range w.Steps {
		p.text("", s.What)
		p.inside(4, func() { p.text("", s.Sum+inBrackets(s.Sources)) })
	}
}

func (p *page) listing(l Listing) {
	p.title(l.Title)
	p.inside(4, func() {
		for _, line := range strings.Split(strings.TrimRight(l.Text, "\n"), "\n") {
			p.line(line)
		}
	})
}

func (p *page) bibliography(b Bibliography) {
	p.title(b.Title)
	for _, e := range b.Entries {
		parts := []string{e.Publisher, e.Number, e.URL, e.Place}
		if e.Year != 0 {
			parts[0] = strings.TrimPrefix(fmt.Sprintf("%s, %d", e.Publisher, e.Year), ", ")
		}
		text := e.Title
		for _, part := range parts {
			if part != "" {
				text += ". " + part
			}
		}
		p.text("["+e.Key+"] ", text)
	}
}
