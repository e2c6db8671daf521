package weight

import (
	"fmt"
	"strconv"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

func (c *computation) parts(entries []sources.Entry) []view.Part {
	parts := []view.Part{view.Pots{Items: []view.Pot{care.PotView(c.pot)}}, c.figures()}
	if guards := care.GuardViews(c.guards()); len(guards) > 0 {
		parts = append(parts, view.Cautions{Items: guards})
	}
	for _, note := range care.Notes(c.guards()) {
		parts = append(parts, view.Paragraph{Text: note})
	}
	if c.balcony {
		parts = append(parts, c.codesView())
	}
	return append(parts,
		view.Cautions{Title: "Take care", Items: care.Views(c.cautions())},
		view.Working{Title: "Working", Steps: c.working()},
		view.Bibliography{Title: "Sources", Entries: entries},
	)
}

func (c *computation) figures() view.Figures {
	f := view.Figures{Title: "What it weighs"}
	row := func(label string, m units.SomeMass, note string) {
		const kgPerPound = 0.45359237 // NIST SP 811
		f.Rows = append(f.Rows, view.Figure{
			Label: label, Value: fmt.Sprintf("about %s kg, %s lb", view.Number(m.Typical), view.Number(m.Typical/kgPerPound)),
			Note: spreadNote(m, note),
		})
	}
	row("Dry", c.dry, "")
	row("Watered and drained", c.watered, "")
	row("Dripping", c.dripping, "the ceiling, just after watering")
	f.Rows = append(f.Rows, view.Figure{
		Label: "Load on its footprint", Value: fmt.Sprintf("about %s kPa, %s lb per square foot", view.Number(c.load.Typical), view.Number(poundsPerSquareFoot(c.load.Typical))),
		Note: fmt.Sprintf("up to %s kPa, %s lb per square foot, dripping", view.Number(c.load.High), view.Number(poundsPerSquareFoot(c.load.High))),
	}, view.Figure{Label: "Mix", Value: c.mix.says})
	return f
}

func spreadNote(m units.SomeMass, note string) string {
	if m.Low == m.High {
		return note
	}
	text := view.Span(m.Low, m.High) + " kg"
	if note != "" {
		text += "; " + note
	}
	return text
}

// A code is a design figure of a building code.
type code struct {
	where   string
	pounds  float64
	sources []string
}

// codes lists the design figures of the reference that have a number.
func (c *computation) codes() []code {
	var out []code
	for i := range 12 {
		at := func(key string) []string { return []string{"footprint_load", "code_figures", strconv.Itoa(i), key} }
		where, ok := c.pass.Ref.Text("volumes", at("where")...)
		if !ok {
			continue
		}
		if f, known := c.pass.Ref.At("volumes", at("lb_per_ft2")...); known {
			out = append(out, code{where, f.Typical, f.Source})
		}
	}
	return out
}

func (c *computation) codesView() view.Table {
	t := view.Table{
		Caption: "Design minimums in some codes, for comparison",
		Columns: []view.Column{{Head: "Where"}, {Head: "lb per square foot", Numeric: true}, {Head: "kPa", Numeric: true}},
	}
	psf, _ := units.Lookup("psf", units.US)
	factor, _ := psf.Factor.Float64()
	for _, code := range c.codes() {
		t.Rows = append(t.Rows, []string{code.where, view.Number(code.pounds), fmt.Sprintf("%.2f", code.pounds*factor)})
	}
	t.Notes = append(t.Notes, "Minimums for new work, shared with people, snow and furniture; local law decides, and an old or altered structure may carry less.")
	return t
}

func (c *computation) working() []view.WorkingStep {
	lib, x := c.pass.Ref, view.Exact
	wet := c.mix.watered(lib)
	dry, drySources := c.mix.dry(lib)
	litres := (c.low + c.high) / 2
	_, large := c.pot.Vessel.Ends()
	sum := func(density float64, m units.SomeMass) string {
		return fmt.Sprintf("%s L x %s kg/L + %s kg = %s kg", x(litres), x(density), x(c.extra), x(m.Typical))
	}
	return []view.WorkingStep{
		{What: "dry", Sum: sum(dry.Typical, c.dry), Sources: drySources},
		{What: "watered", Sum: sum(wet.Typical, c.watered), Sources: wet.Source},
		{What: "dripping", Sum: sum(c.mix.dripping(lib), c.dripping), Sources: wet.Source},
		{What: "area of the base", Sum: x(1e4*c.baseM2) + " cm²"},
		{What: "load, watered", Sum: fmt.Sprintf("%s kg x 9.80665 m/s² / %s m² = %s kPa", x(c.watered.Typical), x(c.baseM2), x(c.load.Typical))},
		{What: "load, dripping", Sum: fmt.Sprintf("%s kg x 9.80665 m/s² / %s m² = %s kPa", x(c.dripping.High), x(large.AreaAt(0)/1e4), x(c.load.High))},
	}
}
