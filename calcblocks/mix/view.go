package mix

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

func (c *computation) view(entries []sources.Entry) []view.Part {
	parts := []view.Part{
		view.Paragraph{Text: fmt.Sprintf("For %s L of mix, firmed in the pots. Loose parts lose volume when they are blended and firmed, so more goes in than comes out.", view.Number(c.litres))},
		c.partsView(),
	}
	if len(c.additions()) > 0 {
		parts = append(parts, c.amountsView())
	}
	if guards := care.GuardViews(c.guards()); len(guards) > 0 {
		parts = append(parts, view.Cautions{Items: guards})
	}
	parts = append(parts, c.figures())
	for _, note := range c.notes() {
		parts = append(parts, view.Paragraph{Text: note})
	}
	return append(parts, c.bringsView(), c.steps(),
		view.Cautions{Title: "Take care", Items: care.Views(c.cautions())},
		view.Working{Title: "Working", Steps: c.working()},
		view.Bibliography{Title: "Sources", Entries: entries})
}

func (l laid) says() string {
	if l.material != nil {
		return l.material.Name
	}
	return view.Capital(l.component.says)
}

func (c *computation) partsView() view.Table {
	t := view.Table{Caption: "Parts by volume", Columns: []view.Column{
		{Head: "Part"},
		{Head: "Share, %", Numeric: true},
		{Head: "Loose, L", Numeric: true},
		{Head: "Range, L", Numeric: true},
		{Head: "Bags"},
	}}
	total := 0.0
	for _, p := range c.parts {
		total += p.loose.Typical / 1000
		t.Rows = append(t.Rows, []string{
			p.says(), view.Number(100 * p.share), view.Number(p.loose.Typical / 1000), view.Span(p.loose.Low/1000, p.loose.High/1000), bagText(c.bags(p)),
		})
	}
	t.Notes = append(t.Notes, fmt.Sprintf("Together %s L loose for %s L in the pots. Part bags are bought whole.", view.Number(total), view.Number(c.litres)))
	return t
}

func (c *computation) amountsView() view.Amounts {
	hb := c.pass.Garden.Handbook
	out := view.Amounts{Title: "Mixed in, for the whole batch"}
	for _, set := range hb.Sets() {
		out.Sets = append(out.Sets, string(set))
	}
	for _, p := range c.additions() {
		low, high := p.ends[0], p.ends[1]
		a := view.Amount{
			Amendment: p.material.ID, Name: p.material.Name, Measures: map[string]string{},
			Grams:      view.Span(low.mass.Typical, high.mass.Typical) + " g",
			GramsFirst: hb.Rounding == measure.Household || p.weighed(),
			Reason:     view.Span(low.mass.Typical/c.litres, high.mass.Typical/c.litres) + " g per litre of mix",
		}
		for _, set := range hb.Sets() {
			a.Measures[string(set)] = measureText(p, set)
		}
		if worst := p.worst(hb); !p.weighed() && math.Abs(worst) >= 1 {
			a.Error = fmt.Sprintf("the spoons are %s %% off what is asked", view.Number(math.Abs(worst)))
		}
		out.Rows = append(out.Rows, a)
	}
	return out
}

// measureText prints the measure of one set; of what is weighed it is only about.
func measureText(p portion, set units.Set) string {
	low, high := p.ends[0].measures[set], p.ends[1].measures[set]
	switch {
	case !p.weighed():
		return measure.Range(low, high)
	case high.Text == "":
		return ""
	}
	return "about " + measure.Range(low, high)
}

func (c *computation) figures() view.Figures {
	f := view.Figures{Title: "What it comes to"}
	row := func(label, value, note string) {
		f.Rows = append(f.Rows, view.Figure{Label: label, Value: value, Note: note})
	}
	kilos := func(m units.SomeMass) (string, string) {
		return "about " + view.Number(m.Typical/1000) + " kg", view.Span(m.Low/1000, m.High/1000) + " kg"
	}
	value, note := kilos(c.dry)
	row("Dry", value, note)
	value, note = kilos(c.watered)
	row("Watered and drained", value, note)
	if p := c.pores; p != nil {
		note := ""
		if len(p.guessed) > 0 {
			note = "partly a guess, see below"
		}
		row("Air, watered and drained", "about "+view.Span(p.air.Low, p.air.High)+" %", note)
		row("Water held", "about "+view.Span(p.water.Low, p.water.High)+" %", note)
	} else {
		row("Air and water", "not known", "no measured figures of these parts")
	}
	if a := c.acidity; a.known {
		row("Starting pH, estimate", fmt.Sprintf("about %.1f", a.ph.Typical), fmt.Sprintf("%.1f to %.1f; test it", a.ph.Low, a.ph.High))
	} else {
		row("Starting pH", "not estimated", a.why)
	}
	row("Cost", c.costText(), c.costNote())
	return f
}

func (c *computation) costText() string {
	low, high, _ := c.cost()
	if !high.Known {
		return "no price known"
	}
	currency := c.pass.Garden.Handbook.Currency
	a, b := fmt.Sprintf("%.2f", math.Round(low.Value.Typical)/100), fmt.Sprintf("%.2f", math.Round(high.Value.Typical)/100)
	if a == b {
		return "about " + a + " " + currency
	}
	return "about " + a + " to " + b + " " + currency
}

func (c *computation) costNote() string {
	_, _, missing := c.cost()
	if len(missing) == 0 {
		return "of what is used, not of whole bags"
	}
	return "without " + strings.Join(missing, ", ") + ": no price in the cupboard"
}

// notes say what was guessed and what was left out.
func (c *computation) notes() []string {
	var out []string
	if c.pores != nil && len(c.pores.guessed) > 0 {
		text := "No measured air and water of " + view.And(c.pores.guessed) + " is at hand: the span that is wanted of container mixes stands in"
		if tight := c.tight(); len(tight) > 0 {
			text += ", as far as the grains of " + view.And(tight) + " leave room for it"
		}
		out = append(out, text+". Fine grains between coarse ones leave less air.")
	}
	if c.acidity.known {
		weeks := c.pass.Ref.Must("judging", "lime_rates", "effect_weeks")
		text := "The pH is read off a grid that was measured in peat with one compost."
		if len(c.lime) > 0 {
			text += fmt.Sprintf(" Lime takes %s weeks to work, coarse lime longer.", view.Span(weeks.Low, weeks.High))
		}
		out = append(out, text)
	}
	if len(c.acidity.apart) > 0 {
		out = append(out, "The estimate of the pH leaves out "+view.And(c.acidity.apart)+".")
	}
	return out
}

func (c *computation) bringsView() view.Table {
	t := view.Table{Caption: "What it brings: grams, their range by the analyses, and the dose in the mix", Columns: []view.Column{
		{Head: "Nutrient"},
		{Head: "Grams", Numeric: true},
		{Head: "Range", Numeric: true},
		{Head: "mg per L", Numeric: true},
	}}
	unlike := map[string][]string{}
	for _, n := range reference.Nutrients {
		low, high := c.added(n)
		if text := strings.Join(high.Missing, ", "); text != "" {
			unlike[text] = append(unlike[text], n.Symbol())
		}
		if !high.Known {
			t.Rows = append(t.Rows, []string{n.Symbol(), "not known", "", ""})
			continue
		}
		t.Rows = append(t.Rows, []string{
			n.Symbol(), view.Span(low.Value.Typical, high.Value.Typical), view.Span(low.Value.Low, high.Value.High),
			view.Span(1000*low.Value.Typical/c.litres, 1000*high.Value.Typical/c.litres),
		})
	}
	for _, n := range reference.Nutrients { // in the order of the nutrients, each set of names once
		_, high := c.added(n)
		text := strings.Join(high.Missing, ", ")
		if symbols := unlike[text]; len(symbols) > 0 && symbols[0] == n.Symbol() {
			t.Notes = append(t.Notes, strings.Join(symbols, ", ")+" without "+text+": not known there.")
		}
	}
	t.Notes = append(t.Notes, "In all. Of compost hardly any nitrogen comes free in the first season.")
	return t
}

// steps is the usual order of making a mix: moistened parts blend better and raise no dust (volumes.md,
// section 3; order common practice).
func (c *computation) steps() view.Steps {
	s := view.Steps{Title: "Steps"}
	add := func(text string) { s.Items = append(s.Items, view.Step{Text: text}) }
	add("Moisten the parts first, the dry ones until they do not dust, and break up lumps.")
	add("Measure the parts loose, by the bucket, onto a clean sheet.")
	if len(c.additions()) > 0 {
		add("Strew the amendments evenly over the heap.")
	}
	add("Turn the heap over until its colour is even, at least three times.")
	fill := "Fill the pots, firm gently, and water until a little runs out."
	if slices.ContainsFunc(c.lime, func(portion) bool { return true }) {
		fill += " Keep the mix moist while the lime works, and test the pH before you plant."
	}
	add(fill)
	return s
}
