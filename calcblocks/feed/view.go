package feed

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

func (c *computation) parts(entries []sources.Entry) []view.Part {
	var parts []view.Part
	if c.can != nil {
		parts = append(parts, c.amounts())
	}
	parts = append(parts, c.figures(), c.bars(), c.brings())
	if guards := care.GuardViews(c.guards()); len(guards) > 0 {
		parts = append(parts, view.Cautions{Items: guards})
	}
	parts = append(parts, c.steps())
	if c.hasNitrogen() {
		parts = append(parts, c.practices())
	}
	return append(parts,
		view.Working{Title: "Working", Steps: c.working()},
		view.Cautions{Title: "Take care", Items: care.Views(c.cautions())},
		view.Bibliography{Title: "Sources", Entries: entries},
	)
}

// text writes a span for people, without a word on what is not in doubt.
func (s span) text() string { return view.Span(s.low, s.high) }

func (c *computation) gramsText() string {
	return sure(func(end int) float64 { return c.grams(*c.can, end).Float() }).text()
}

// litresText says how much water the can holds, as the author wrote it and in litres.
func (c *computation) litresText() string {
	litres := view.Number(c.can.Float()/1000) + " L"
	if c.canText == "" || strings.HasSuffix(strings.ToLower(c.canText), "l") && !strings.HasSuffix(strings.ToLower(c.canText), "gal") {
		return litres
	}
	return c.canText + " (" + litres + ")"
}

// amounts shows what goes into the can as spoons, or as grams alone where no spoon can be given.
func (c *computation) amounts() view.Amounts {
	a := view.Amounts{Title: "Into " + c.litresText() + " of water", Sets: c.sets()}
	row := view.Amount{Name: c.name, Grams: c.gramsText() + " g", Measures: map[string]string{}}
	if c.material != nil {
		row.Amendment = c.material.ID
	}
	if c.spoons == nil {
		row.GramsFirst = true
	}
	for set, ends := range c.spoons {
		row.Measures[string(set)] = measure.Range(ends[0], ends[1])
		if set == c.pass.Garden.Handbook.Main {
			row.Error = roundingText(ends)
		}
	}
	a.Rows = append(a.Rows, row)
	return a
}

func roundingText(ends [2]measure.Measure) string {
	worst := ends[0].Error
	if max(ends[1].Error, -ends[1].Error) > max(worst, -worst) {
		worst = ends[1].Error
	}
	switch {
	case worst > 0.5:
		return "rounded up by " + view.Number(worst) + " %"
	case worst < -0.5:
		return "rounded down by " + view.Number(-worst) + " %"
	}
	return ""
}

func (c *computation) figures() view.Figures {
	f := view.Figures{Title: "How strong"}
	row := func(label, value, note string) {
		f.Rows = append(f.Rows, view.Figure{Label: label, Value: value, Note: note})
	}
	row("Wanted", c.wantedText(), "in water 1 ppm is 1 mg/L")
	row("In 1 litre", sure(c.gramsPerLitre).text()+" g", "")
	row("In 100 US gallons", sure(c.ounces).text()+" oz by weight", "exact; print reckons with 75, which is 0.15 % more than 74.89")
	if c.can != nil {
		row("Nutrient in the can", sure(func(end int) float64 { return c.asked(end) * c.can.Float() / 1e6 }).text()+" g "+c.strength.nutrient.symbol, "")
	}
	if v, ok := c.volume(); ok && c.isLiquid() {
		row("Product in the can", v.text()+" mL", "")
	}
	c.stockRows(row)
	row("Salt", c.saltText(), "rise of the water's EC; the water's own comes on top")
	return f
}

func (c *computation) stockRows(row func(label, value, note string)) {
	if c.injector == nil {
		return
	}
	ratio, _ := c.injector.Float64()
	row("Stock for the injector", sure(c.stockPerLitre).text()+" g in a litre", "thinned 1:"+view.Exact(ratio))
	if c.stock != nil {
		row("For "+view.Number(c.stock.Float()/1000)+" L of stock", sure(func(end int) float64 { return c.stockGrams(end).Float() }).text()+" g", "")
	}
}

func (c *computation) wantedText() string {
	return sure(c.asked).text() + " mg/L " + c.strength.nutrient.symbol
}

func (c *computation) saltText() string {
	low, high := c.salt(0).Low, c.salt(1).High
	if !c.allSalt() {
		return "at most about " + view.Number(high) + " mS/cm"
	}
	return "about " + view.Span(low, high) + " mS/cm"
}

// bars shows the three of the label beside the band that is usual for vegetables in an organic mix.
func (c *computation) bars() view.Bars {
	b := view.Bars{Title: "What a litre holds", Unit: "mg/L"}
	for _, n := range nutrients[:3] {
		s, known := c.nutrientSpan(n, c.reached)
		if !known {
			continue
		}
		bar := view.Bar{Label: n.symbol, Low: s.least, High: s.most, Text: view.Span(s.low, s.high) + " mg/L"}
		if n.key == "n" && c.strength.nutrient.key == "n" {
			usual := c.published()[0].figure
			bar.Need = &view.Band{Low: usual.Low, High: usual.High}
		}
		b.Rows = append(b.Rows, bar)
	}
	return b
}

// brings is the same as numbers, elements beside the oxides of the label, and what the spoons give.
func (c *computation) brings() view.Table {
	t := view.Table{Caption: "What the feed brings, mg in a litre", Columns: []view.Column{{Head: "Nutrient"}, {Head: "Weighed", Numeric: true}}}
	if c.spoons != nil {
		t.Columns = append(t.Columns, view.Column{Head: "By the spoon", Numeric: true})
	}
	var missing []string
	for _, n := range nutrients {
		s, known := c.nutrientSpan(n, c.reached)
		if !known {
			missing = append(missing, n.symbol)
			continue
		}
		row := []string{n.symbol, view.Span(s.least, s.most)}
		if c.spoons != nil {
			s, _ := c.nutrientSpan(n, c.spooned)
			row = append(row, view.Span(s.least, s.most))
		}
		t.Rows = append(t.Rows, row)
	}
	t.Notes = append(t.Notes, "P2O5 and K2O are as labels state them; P and K are the elements in them.")
	if len(missing) > 0 {
		t.Notes = append(t.Notes, "Not known: "+view.And(missing)+".")
	}
	return t
}

func (c *computation) steps() view.Steps {
	s := view.Steps{Title: "Steps"}
	step := func(format string, args ...any) {
		s.Items = append(s.Items, view.Step{Text: fmt.Sprintf(format, args...)})
	}
	switch {
	case c.can != nil && c.isLiquid():
		step("Shake the bottle. Half fill the can, add the feed, then fill it up to %s.", c.litresText())
	case c.can != nil && c.staysSolid():
		step("Stir it into the can of %s. It does not dissolve: let it settle and strain it, or the rose clogs.", c.litresText())
	case c.can != nil && !c.allSalt():
		step("Half fill the can with lukewarm water, stir the feed in, then fill it up to %s. Strain what does not dissolve.", c.litresText())
	case c.can != nil:
		step("Half fill the can with lukewarm water, stir the feed in until it is gone, then fill it up to %s.", c.litresText())
	}
	if c.injector != nil {
		step("Stir the stock well before each use and catch a little of what the injector gives: its EC should be close to the water's own and %s.", strings.Replace(c.saltText(), "about ", "", 1))
	}
	if c.injector != nil && !c.isLiquid() && !c.staysSolid() {
		step("Where some of it stays at the bottom, the stock is stronger than what dissolves, and the feed weaker than told: make it thinner, as the label says.")
	}
	step("Water a dry mix first; feed when it is moist. Use the feed the same day.")
	return s
}

// hasNitrogen says whether there is nitrogen to hold against what is published.
func (c *computation) hasNitrogen() bool {
	n, known := c.reached(nutrients[0], 1)
	return known && n.Typical > 0
}

// practices holds the strength against what is published.
func (c *computation) practices() view.Table {
	n, _ := c.nutrientSpan(nutrients[0], c.reached)
	t := view.Table{Caption: "Published strengths, N in a litre at every watering", Columns: []view.Column{{Head: "Practice"}, {Head: "mg/L N"}, {Head: "Source"}}}
	t.Caption += ", beside " + n.text() + " here"
	for _, p := range c.published() {
		t.Rows = append(t.Rows, []string{p.what, view.Span(p.figure.Low, p.figure.High), "[" + strings.Join(p.figure.Source, ", ") + "]"})
	}
	return t
}

func (c *computation) working() []view.WorkingStep {
	x := view.Exact
	ends := func(of func(end int) float64, unit string) string {
		low, high := of(0), of(1)
		if low == high {
			return x(low) + unit
		}
		return x(low) + " to " + x(high) + unit
	}
	wanted := ends(c.asked, " mg/L "+c.strength.nutrient.symbol)
	steps := []view.WorkingStep{{
		What: "product in a litre", Sum: fmt.Sprintf("%s / %s %% = %s", wanted, x(100*c.basis.share.Typical), ends(func(end int) float64 { return 1000 * c.gramsPerLitre(end) }, " mg")), Sources: c.basis.sources,
	}}
	add := func(what, sum string, keys ...string) {
		steps = append(steps, view.WorkingStep{What: what, Sum: sum, Sources: keys})
	}
	if n := c.strength.nutrient; n.factor != 1 {
		add(n.symbol+" in the label's "+n.label.Symbol(), fmt.Sprintf("%s x %s, by the atomic weights", n.label.Symbol(), x(n.factor)), "derived-stoichiometry")
	}
	if c.can != nil {
		add("product in the can", fmt.Sprintf("%s x %s L = %s", ends(c.gramsPerLitre, " g/L"), x(c.can.Float()/1000), ends(func(end int) float64 { return c.grams(*c.can, end).Float() }, " g")))
	}
	add("in 100 US gallons", fmt.Sprintf("%s x 378.541 L / 28.3495 g = %s", ends(c.gramsPerLitre, " g/L"), ends(c.ounces, " oz")), "nist-sp811")
	c.spoonWorking(add)
	for _, n := range nutrients {
		if s, known := c.nutrientSpan(n, c.reached); known {
			in := c.contains(n)
			add(n.symbol+" in a litre", fmt.Sprintf("%s x %s %% = %s mg/L", ends(func(end int) float64 { return 1000 * c.gramsPerLitre(end) }, " mg/L"), x(100*in.share.Typical), spanText(s)), in.sources...)
		}
	}
	if c.injector != nil {
		ratio, _ := c.injector.Float64()
		add("stock", fmt.Sprintf("%s x %s = %s", ends(c.gramsPerLitre, " g/L"), x(ratio), ends(c.stockPerLitre, " g/L")), "tamu-greenhouse-guide")
	}
	per := c.pass.Ref.Must("judging", "salinity_use", "ec_per_gram_salt_in_water")
	add("salt", fmt.Sprintf("%s x %s to %s mS/cm for each g/L: %s", ends(c.gramsPerLitre, " g/L"), x(per.Low), x(per.High), c.saltText()), per.Source...)
	return steps
}

func spanText(s span) string {
	if s.low == s.high {
		return view.Exact(s.low)
	}
	return view.Exact(s.low) + " to " + view.Exact(s.high)
}

// spoonWorking is the way from grams to spoons.
func (c *computation) spoonWorking(add func(what, sum string, keys ...string)) {
	if c.spoons == nil {
		return
	}
	d, keys, _ := c.density()
	v, _ := c.volume()
	add("volume", fmt.Sprintf("%s g / %s g/mL = %s mL", c.gramsText(), view.Exact(d.Typical), spanText(v)), keys...)
	main := c.pass.Garden.Handbook.Main
	ends := c.spoons[main]
	got := units.Weigh(ends[0].Volume, d)
	add("by the spoon", fmt.Sprintf("%s holds %s mL, %s g", ends[0].Text, view.Exact(ends[0].Volume.Float()), view.Exact(got.Typical)))
}
