package compost

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/heap"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

func (c *computation) parts(entries []sources.Entry) []view.Part {
	parts := []view.Part{view.Paragraph{Text: view.Capital(c.verdict()) + "."}, c.figures(), c.bars(), c.table()}
	if guards := care.GuardViews(c.guards()); len(guards) > 0 {
		parts = append(parts, view.Cautions{Items: guards})
	}
	return append(parts,
		c.tieTable(), c.targetTable(),
		view.Working{Title: "Working", Steps: c.working()},
		view.Cautions{Title: "Take care", Items: care.Views(c.cautions())},
		view.Bibliography{Title: "Sources", Entries: entries},
	)
}

// about writes a belief for people: the typical figure, and its range where it has one.
func about(b units.SomeShare, times float64, unit string) string {
	if b.Low == b.High {
		return strings.TrimSpace(n(b.Typical*times) + " " + unit)
	}
	return fmt.Sprintf("about %s (%s)", strings.TrimSpace(n(b.Typical*times)+" "+unit), view.Span(b.Low*times, b.High*times))
}

func (c *computation) figures() view.Figures {
	f := view.Figures{Title: "The heap"}
	row := func(label, value, note string) {
		f.Rows = append(f.Rows, view.Figure{Label: label, Value: value, Note: note})
	}
	b := c.shown()
	if c.goal > 0 {
		row(c.change.title+" for C:N "+n(c.goal), c.neededText(c.forRatio), c.addNote(c.forRatio))
	}
	if c.moisture > 0 && c.change != nil {
		row(c.change.title+" for "+n(100*c.moisture)+" % moisture", c.neededText(c.forWater), c.addNote(c.forWater))
	}
	row("Carbon for one of nitrogen", about(b.ratio, 1, ""), "usual at the start: "+words(c.band("c_to_n_ideal")))
	row("Moisture", about(b.moisture, 100, "%"), "usual: "+words(c.band("moisture_percent_ideal")))
	row("Weight as it is", about(b.kg, 1, "kg"), about(b.dry, 1, "kg")+" of it dry")
	if b.addWater.High > 0.005 {
		row("Water to add", c.waterText(), "up to "+n(100*c.moistEnough())+" %")
	}
	row("Nitrogen, worked into a mix instead", tieText(c.tiedUp()), "a season's rot in the mix; weak figures")
	return f
}

// waterText says how much water to add: no amount where what lacks is within the doubt.
func (c *computation) waterText() string {
	b := c.shown()
	switch {
	case !c.lacksLittle():
		return about(b.addWater, 1, "L")
	case b.moisture.Low == b.moisture.High:
		return "about none"
	}
	return "none to " + n(b.addWater.High) + " L, within the ranges of the moistures"
}

func words(f reference.Figure) string { return f.Words() }

func (c *computation) neededText(a heap.Amount) string {
	switch {
	case !a.Reached:
		return "no amount reaches it"
	case a.Open:
		return fmt.Sprintf("about %s kg (%s or more: the figures leave the upper end open)", n(a.Kg.Typical), n(a.Kg.Low))
	}
	return about(a.Kg, 1, "kg")
}

// addNote says how far the amount for a goal is from what the author wrote.
func (c *computation) addNote(a heap.Amount) string {
	if !c.change.known || !a.Reached {
		return ""
	}
	more := a.Kg.Typical - c.change.material.Kg.Typical
	if more < 0 {
		return n(-more) + " kg less than written"
	}
	return n(more) + " kg more than written"
}

// writtenNote tells the written amount beside the one that all sums are of.
func (c *computation) writtenNote() string {
	written := c.change.material.Kg
	return fmt.Sprintf("%s: %s kg written, %s kg for the goal. All sums here are of the heap at the goal.", c.change.title, view.Span(written.Low, written.High), n(c.needed().Kg.Typical))
}

// bars compares the C:N of the materials and of the heap.
func (c *computation) bars() view.Bars {
	ideal := c.band("c_to_n_ideal")
	b := view.Bars{Title: "Carbon for one of nitrogen"}
	bar := func(label string, x units.SomeShare) view.Bar {
		return view.Bar{Label: label, Low: x.Low, High: x.High, Text: view.Span(x.Low, x.High)}
	}
	for _, s := range c.stuffs {
		b.Rows = append(b.Rows, bar(s.title, s.material.CToN))
	}
	whole := bar("The heap", c.shown().ratio)
	whole.Need = &view.Band{Low: ideal.Low, High: ideal.High}
	b.Rows = append(b.Rows, whole)
	return b
}

func (c *computation) table() view.Table {
	t := view.Table{Caption: "What goes on", Columns: []view.Column{
		{Head: "Material"}, {Head: "kg", Numeric: true}, {Head: "Moisture %", Numeric: true}, {Head: "C % dry", Numeric: true}, {Head: "N % dry", Numeric: true}, {Head: "C:N", Numeric: true},
	}}
	for _, s := range c.stuffs {
		m := c.amountOf(s)
		kg := view.Span(m.Kg.Low, m.Kg.High)
		if !s.known && !c.reached() {
			kg = "not known"
		}
		t.Rows = append(t.Rows, []string{
			s.title, kg, view.Span(100*m.Moisture.Low, 100*m.Moisture.High), view.Span(100*m.Carbon.Low, 100*m.Carbon.High),
			view.Span(100*m.Nitrogen.Low, 100*m.Nitrogen.High), view.Span(m.CToN.Low, m.CToN.High),
		})
	}
	if c.solved() && c.change.known {
		t.Notes = append(t.Notes, c.writtenNote())
	}
	if slices.ContainsFunc(c.stuffs, func(s *stuff) bool { return s.held }) {
		t.Notes = append(t.Notes, "Carbon reckoned from nitrogen and C:N is shown up to what organic matter has; the sums go by nitrogen and C:N, whose far ends need not meet.")
	}
	t.Notes = append(t.Notes, "Peat and coir count for little: they have much carbon and rot slowly. Leave them out.")
	return t
}

// tieText says what nitrogen a season's rot takes or gives.
func tieText(m units.SomeMass) string {
	switch {
	case m.Low >= 0 && m.High < 0.005:
		return "none either way"
	case m.Low >= 0:
		return "ties up " + view.Span(m.Low, m.High) + " g"
	case m.High <= 0:
		return "gives " + view.Span(-m.High, -m.Low) + " g"
	}
	return fmt.Sprintf("from %s g given to %s g tied up", n(-m.Low), n(m.High))
}

func (c *computation) tieTable() view.Table {
	t := view.Table{Caption: "Left in a mix instead of composted: nitrogen in a season", Columns: []view.Column{{Head: "Material"}, {Head: "Rots in a season, %"}, {Head: "Nitrogen"}}}
	for i, s := range c.stuffs {
		t.Rows = append(t.Rows, []string{s.title, view.Span(100*s.decays.Low, 100*s.decays.High), tieText(c.tied[i])})
	}
	other := c.pass.Ref.Must("heap", "tie_up", "break_even_elsewhere")
	t.Notes = append(t.Notes,
		fmt.Sprintf("C:N %s is taken as the balance, %s by another source; from 20 to 30 little happens either way.", n(c.breakEven()), n(other.Typical)),
		"Chopping tough roots and straw ties up more: shake roots out instead.",
	)
	return t
}

// A target is a published band.
type target struct {
	what, ratio, moisture string
	sources               []string
}

func (c *computation) targets() []target {
	ratio, wide := c.band("c_to_n_ideal"), c.band("c_to_n_acceptable")
	wet, wetWide := c.band("moisture_percent_ideal"), c.band("moisture_percent_acceptable")
	other := func(key string) reference.Figure {
		return c.pass.Ref.Must("heap", "targets", "published", "another handbook", key)
	}
	span := func(f reference.Figure) string { return view.Span(f.Low, f.High) }
	start := c.pass.Ref.Must("heap", "targets", "c_to_n", "start")
	return []target{
		{"ideal", span(ratio), span(wet), ratio.Source},
		{"acceptable", span(wide), span(wetWide), wide.Source},
		{"another handbook", span(other("c_to_n")), span(other("moisture_percent")), other("c_to_n").Source},
		{"at the start", "about " + n(start.Typical), "up to 55 to 60", start.Source},
	}
}

func (c *computation) targetTable() view.Table {
	t := view.Table{Caption: "Published bands", Columns: []view.Column{{Head: "Heap"}, {Head: "C:N"}, {Head: "Moisture %"}, {Head: "Source"}}}
	for _, x := range c.targets() {
		t.Rows = append(t.Rows, []string{x.what, x.ratio, x.moisture, "[" + strings.Join(x.sources, ", ") + "]"})
	}
	return t
}
