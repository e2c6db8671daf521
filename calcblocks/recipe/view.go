package recipe

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// result puts the data, the view and the facts together.
func (c *computation) result() block.Result {
	c.season, c.common = c.courses(), c.commonWorking()
	c.lookAround()
	for i := range c.sizes {
		c.sizes[i].working = c.working(c.sizes[i])
	}
	entries := care.Entries(c.pass.Garden, c.keys())
	tree := care.Sealed(c.tree(), entries)
	r := block.Result{Title: c.title, Data: tree, Facts: append(c.uses(), c.offer()), Sources: entries}
	r.Working = slices.Clone(c.common)
	for _, s := range c.sizes {
		r.Working = append(r.Working, s.working...)
	}
	r.View = view.Doc{Parts: c.parts(entries)}
	return r
}

func (c *computation) parts(entries []sources.Entry) []view.Part {
	parts := []view.Part{view.Paragraph{Text: c.intro()}}
	sizes := view.Sizes{Title: "Pick your container"}
	for _, s := range c.sizes {
		sizes.Items = append(sizes.Items, c.sizeView(s))
	}
	if c.pass.For == "" {
		sizes.Own = c.ownPot()
	}
	parts = append(parts, sizes)
	parts = append(parts, c.seasonView()...)
	steps, rest := c.stepsView()
	return append(parts, steps, view.Cautions{Title: "Take care", Items: rest}, view.Bibliography{Title: "Sources", Entries: entries})
}

func (c *computation) intro() string {
	text := fmt.Sprintf("Amounts for one container, worked out from a recipe for %s of mix. Level the cup, do not tap it.", c.mixText)
	if c.cropOK != nil {
		text += " Written for " + view.Small(c.cropOK.Name)
		if c.plants > 0 {
			text += fmt.Sprintf(", %s to that much mix", plants(c.plants))
		}
		text += "."
	}
	return text
}

func plants(n int) string {
	if n == 1 {
		return "1 plant"
	}
	return fmt.Sprintf("%d plants", n)
}

func (c *computation) sizeView(s scaled) view.Size {
	anchor := "for-" + data.Slug(s.container.Label)
	out := view.Size{Label: s.container.Label, Anchor: anchor, Litres: view.Span(s.litres[0], s.litres[1]) + " L"}
	out.Pot = care.PotView(s.container)
	out.Pot.Anchor = anchor
	out.Notes = care.Notes(s.combos[0].guards)
	out.Parts = append(out.Parts, c.amountsView(s))
	if s.compost != nil {
		out.Parts = append(out.Parts, c.compostView(s))
	}
	out.Parts = append(out.Parts, c.variants(s))
	if t, ok := c.insteadView(s); ok {
		out.Parts = append(out.Parts, t)
	}
	out.Parts = append(out.Parts, view.Working{Title: "Working for " + s.container.Label, Steps: s.working})
	return out
}

func (c *computation) amountsView(s scaled) view.Amounts {
	hb := c.pass.Garden.Handbook
	out := view.Amounts{Title: "What goes in"}
	for _, set := range hb.Sets() {
		out.Sets = append(out.Sets, string(set))
	}
	for _, l := range s.lines {
		if l.choice == "" {
			out.Rows = append(out.Rows, c.amountView(l.options[0], false))
			continue
		}
		choice := view.Choice{Name: l.choice}
		for _, p := range l.options {
			choice.Options = append(choice.Options, c.amountView(p, true))
		}
		out.Choices = append(out.Choices, choice)
	}
	return out
}

func (c *computation) amountView(p portion, brings bool) view.Amount {
	hb := c.pass.Garden.Handbook
	low, high := p.ends[0], p.ends[1]
	a := view.Amount{
		Amendment: p.material.ID, Name: p.material.Name, Measures: map[string]string{},
		Grams: view.Span(low.mass.Typical, high.mass.Typical) + " g", Reason: reason(p.material),
		GramsFirst: hb.Rounding == measure.Household || p.amount.Low.Weighed,
	}
	for _, set := range hb.Sets() {
		a.Measures[string(set)] = measureText(p, set)
	}
	if worst := p.worstRounding(hb); worst >= 1 || worst <= -1 {
		a.Error = fmt.Sprintf("the spoons hold %s %% %s than asked", view.Number(max(worst, -worst)), care.MoreOrLess(worst))
	}
	if brings {
		a.Brings = bringsText(p)
	}
	return a
}

// measureText prints the measure of one set; of a weighed amount it is only about, and none without a
// density.
func measureText(p portion, set units.Set) string {
	return amountText(p.amount, p.ends[0].in(set), p.ends[1].in(set))
}

func amountText(a units.Amount, low, high measure.Measure) string {
	switch {
	case !a.Low.Weighed:
		return measure.Range(low, high)
	case high.Text == "":
		return ""
	}
	return "about " + measure.Range(low, high)
}

// bringsText names what an option brings, most telling first: "1.2 g N, 0.6 g K2O".
func bringsText(p portion) string {
	low, high := p.alone[0], p.alone[1]
	var out []string
	for _, n := range reference.Nutrients {
		a, b := low.Added[n], high.Added[n]
		if b.Known && b.Value.Typical >= 0.05 {
			out = append(out, view.Span(a.Value.Typical, b.Value.Typical)+" g "+n.Symbol())
		}
	}
	return strings.Join(out, ", ")
}

// reason says in a few words what a material is for.
func reason(m *garden.Material) string {
	switch class := m.Class(); {
	case class == "":
		return "your own blend"
	case class == "nitrogen" && m.Ref.Release.Week2.Known:
		return "fast nitrogen, half of it within two weeks"
	case class == "nitrogen" && m.Ref.Release.FirstSeason.Typical >= 55:
		return "nitrogen, most of it this season"
	case class == "nitrogen":
		return "slow nitrogen, all season"
	case class == "potassium" && m.SaltIndex().Typical > 20:
		return "potassium at once"
	default:
		return reasons[class]
	}
}

var reasons = map[string]string{
	"potassium": "gentle potassium", "phosphorus": "slow phosphorus", "calcium": "calcium, pH stays",
	"magnesium": "magnesium at once", "liming": "raises pH: only after a test", "acidifying": "lowers pH: only after a test",
	"compost": "body and slow nutrients", "mineral": "structure, next to no nutrients", "blend": "a bit of everything",
}

// variants arranges what each combination of picks brings.
func (c *computation) variants(s scaled) view.Variants {
	var out view.Variants
	for i, combo := range s.combos {
		v := view.Variant{With: combo.with, Default: i == 0, Label: combo.label}
		if guards := guardViews(combo); len(guards.Items) > 0 {
			v.Parts = append(v.Parts, guards)
		}
		v.Parts = append(v.Parts, bringsTable(combo, s), c.nitrogenView(&s, combo.supplied), c.figuresView(combo))
		out.Items = append(out.Items, v)
	}
	return out
}

func guardViews(out combo) view.Cautions { return view.Cautions{Items: care.GuardViews(out.guards)} }

func withText(c *computation, ids []string) string {
	var names []string
	for _, id := range ids {
		if m, ok := c.pass.Garden.Material(id); ok {
			names = append(names, view.Small(m.Name))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "with " + view.And(names)
}

func bringsTable(out combo, s scaled) view.Table {
	t := view.Table{Caption: "What it brings to " + s.container.Label + ": grams, their range by the analyses, and the dose in the mix", Columns: []view.Column{
		{Head: "Nutrient"}, {Head: "Grams", Numeric: true}, {Head: "Range", Numeric: true}, {Head: "mg per L", Numeric: true},
	}}
	for _, n := range reference.Nutrients {
		low, high := out.ends[0].Added[n], out.ends[1].Added[n]
		if !high.Known {
			t.Rows = append(t.Rows, []string{n.Symbol(), "not known", "", ""})
			continue
		}
		t.Rows = append(t.Rows, []string{
			n.Symbol(), view.Span(low.Value.Typical, high.Value.Typical), view.Span(low.Value.Low, high.Value.High),
			view.Span(1000*low.Value.Typical/s.litres[0], 1000*high.Value.Typical/s.litres[1]),
		})
		if len(high.Missing) > 0 {
			t.Notes = append(t.Notes, n.Symbol()+" without "+strings.Join(high.Missing, ", ")+": not known there.")
		}
	}
	return t
}
