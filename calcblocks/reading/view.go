package reading

import (
	"fmt"
	"math"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/extract"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

var solubleOrder = reference.Nutrients

func x(v float64) string { return view.Exact(v) }

func (c *computation) parts(entries []sources.Entry) []view.Part {
	parts := []view.Part{view.Paragraph{Text: c.verdict()}}
	if guards := care.GuardViews(c.guards()); len(guards) > 0 {
		parts = append(parts, view.Cautions{Items: guards})
	}
	parts = append(parts, c.classTable())
	if b := c.bars(); len(b.Rows) > 0 {
		parts = append(parts, b)
	}
	if c.ec != nil {
		parts = append(parts, c.ecTable())
	}
	parts = append(parts, c.figures(), c.steps())
	for _, text := range care.Notes(c.guards()) {
		parts = append(parts, view.Paragraph{Text: text})
	}
	return append(parts,
		view.Working{Title: "Working", Steps: c.working()},
		view.Cautions{Title: "Take care", Items: care.Views(c.cautions())},
		view.Bibliography{Title: "Sources", Entries: entries},
	)
}

// A row is one value with its class.
type row struct {
	what, value, class, band string
	lab                      []string
}

// classed lists every value with its class, the band of that class and whose band it is.
func (c *computation) classed() []row {
	var out []row
	add := func(what, value, unit string, class extract.Class, ok bool) {
		r := row{what: what, value: value + unit, class: "no band held"}
		if ok {
			r.class, r.band, r.lab = class.Name, bandText(class.Band), class.Band.Source
		}
		out = append(out, r)
	}
	if c.ec != nil {
		class, ok := c.ecClass()
		add("EC, "+c.method.Name(), x(*c.ec), " mS/cm", class, ok)
	}
	if c.ph != nil {
		out = append(out, c.phRow())
	}
	for _, v := range c.values {
		class, ok := c.classOf(v)
		add(v.element.symbol, x(v.mg), " mg/L", class, ok)
	}
	return out
}

func bandText(f reference.Figure) string {
	switch {
	case f.OpenHigh:
		return x(f.Low) + " or more"
	case f.Low == f.High:
		return x(f.Low)
	}
	return x(f.Low) + " to " + x(f.High)
}

// phRow holds the pH against the usual band of a used mix.
func (c *computation) phRow() row {
	_, band := c.target()
	r := row{what: "pH", value: x(*c.ph), band: bandText(band), lab: band.Source}
	switch {
	case c.compost:
		found := c.pass.Ref.Must("judging", "compost_limits", "normally_found", "pH")
		r.class, r.band, r.lab = "normal", bandText(found), found.Source
		if *c.ph < found.Low || *c.ph > found.High {
			r.class = "unusual"
		}
	case *c.ph < band.Low:
		r.class = "below"
	case *c.ph > band.High:
		r.class = "above"
	default:
		r.class = "wanted"
	}
	return r
}

func (c *computation) classTable() view.Table {
	t := view.Table{Caption: "What the test says", Columns: []view.Column{{Head: "Value"}, {Head: "Read", Numeric: true}, {Head: "Class"}, {Head: "Band of the class"}, {Head: "By"}}}
	for _, r := range c.classed() {
		by := ""
		if len(r.lab) > 0 {
			by = "[" + strings.Join(r.lab, ", ") + "]"
		}
		t.Rows = append(t.Rows, []string{r.what, r.value, r.class, r.band, by})
	}
	t.Notes = append(t.Notes, "A band holds only for the extract and the laboratory that it was made for.")
	return t
}

// bars shows the elements beside what is called optimum, on one axis.
func (c *computation) bars() view.Bars {
	b := view.Bars{Title: "Elements in the extract, beside the optimum", Unit: "mg/L"}
	if c.method != extract.SME || c.compost {
		return b
	}
	for _, v := range c.values {
		f, ok := c.pass.Ref.At("judging", "sme_classes", v.element.key, "optimum")
		if !ok {
			continue
		}
		bar := view.Bar{Label: v.element.symbol, Low: v.mg, High: v.mg, Text: n(v.mg) + " mg/L", Need: &view.Band{Low: f.Low, High: f.High}}
		if f.OpenHigh { // no upper edge is published
			bar.Text, bar.Need = bar.Text+", optimum "+n(f.Low)+" or more", nil
		}
		b.Rows = append(b.Rows, bar)
	}
	return b
}

// ecTable shows what the other methods would read.
func (c *computation) ecTable() view.Table {
	t := view.Table{Caption: "EC by method, mS/cm", Columns: []view.Column{{Head: "Method"}, {Head: "EC", Numeric: true}, {Head: "Between"}}}
	for _, m := range extract.Methods {
		name := m.Name()
		if m == c.method {
			name += ", measured"
		}
		ec, ok := c.converted[m]
		switch {
		case m == c.method:
			t.Rows = append(t.Rows, []string{name, x(*c.ec), ""})
		case !ok:
			t.Rows = append(t.Rows, []string{name, "not known", "beyond the table"})
		default:
			t.Rows = append(t.Rows, []string{name, "about " + n(ec.Typical), view.Span(ec.Low, ec.High)})
		}
	}
	t.Notes = append(t.Notes, "Converted figures stand between the ways of reckoning that are published; only a test by the method itself is sure.")
	return t
}

// about writes a belief for people: one figure where its range prints as one.
func about[D any](b units.Belief[D], unit string) string {
	if n(b.Low) == n(b.High) {
		return n(b.Typical) + " " + unit
	}
	return fmt.Sprintf("about %s %s (%s)", n(b.Typical), unit, view.Span(b.Low, b.High))
}

func (c *computation) figures() view.Figures {
	f := view.Figures{Title: "What follows"}
	row := func(label, value, note string) {
		f.Rows = append(f.Rows, view.Figure{Label: label, Value: value, Note: note})
	}
	if c.ec != nil {
		row("Salts in the extract", "about "+n(c.salts())+" mg/L", "640 for each mS/cm; some meters use 500 or 700")
	}
	c.yieldRows(row)
	c.waterRows(row)
	c.limeRows(row)
	if c.compost {
		for _, l := range c.shareLimits() {
			if s, ok := c.saltShare(l.ec); ok {
				value := "at most " + about(percent(s), "%")
				if s.Low >= 1 {
					value = "salt sets no limit"
				}
				row("Share of a mix "+l.words+", by salt", value, fmt.Sprintf("the rest at EC %s, the mix up to %s mS/cm; %s %% is usual", n(c.baseEC().Typical), n(l.ec), n(c.pass.Ref.Number("judging", "compost_limits", "share_by_volume_percent", "normal"))))
			}
		}
	}
	var dissolved []string
	for _, nutrient := range solubleOrder {
		if dose, ok := c.soluble()[nutrient]; ok {
			dissolved = append(dissolved, n(1000*dose.Typical)+" mg "+nutrient.Symbol())
		}
	}
	if len(dissolved) > 0 {
		row("Dissolved in a litre of mix", view.And(dissolved), "counts as supply of the old mix, as far as it is not washed out")
	}
	if c.plant != nil && c.plant.PH.Known && c.ph != nil && !c.compost {
		shift := c.pass.Ref.Number("judging", "ph_mineral_to_soilless_shift")
		row("pH for "+view.Small(c.plant.Name), x(c.plant.PH.Low)+" to "+x(c.plant.PH.High), "in mineral soil; about "+x(-shift)+" lower in peat or bark")
	}
	for _, r := range []struct{ key, words string }{{"k mg", "K : Mg"}, {"ca mg", "Ca : Mg"}, {"ca k", "Ca : K"}} {
		a, b, _ := strings.Cut(r.key, " ")
		if q, ok := c.ratio(a, b); ok {
			row(r.words+" by weight", n(q), "")
		}
	}
	return f
}

func (c *computation) yieldRows(row func(label, value, note string)) {
	if c.plant == nil {
		return
	}
	table, soilless, ok := c.yields()
	if !ok {
		row("Yield of "+view.Small(c.plant.Name), "not known", "no published line for this crop, or no EC to hold against it")
		return
	}
	a, b := c.plant.Salinity.Threshold.Typical, c.plant.Salinity.Slope.Typical
	row("Yield of "+view.Small(c.plant.Name)+", by the crop table", about(table, "%"), fmt.Sprintf("full up to %s mS/cm, then %s %% less for each; found in mineral soil", n(a), n(b)))
	row("Yield in a soilless mix", about(soilless, "%"), fmt.Sprintf("it bears %s mS/cm more, since much of its EC is nutrient", view.Span(c.tolerance().Low, c.tolerance().High)))
}

func (c *computation) waterRows(row func(label, value, note string)) {
	times := c.flushTimes()
	if c.ec != nil && !c.compost {
		value := n(times.Typical) + " times the volume of the pot"
		if c.hasPot {
			low, high := c.pot.Litres()
			value = view.Span(extract.Flush(low, times.Typical), extract.Flush(high, times.Typical)) + " L"
		}
		why := "not called for by this reading"
		if c.flushNeeded() {
			why = "slowly; let it drain and empty the saucer"
		}
		row("Water for a flush", value, why)
		if c.flushNeeded() {
			row("Salt left after it", fmt.Sprintf("about %s %%", n(100*c.left())), "nearly all nitrate and most potassium go with it: follow with feed")
		}
	}
	if c.applied != nil {
		target := c.pass.Ref.Must("judging", "leaching", "fraction_target")
		row("Share that drained", n(100*extract.LeachingFraction(c.drained, c.applied.Float()/1000))+" %", view.Span(100*target.Low, 100*target.High)+" % is aimed at")
	}
	if c.water != nil && c.plant != nil && c.plant.Salinity.Threshold.Known {
		share, ok := c.required()
		switch {
		case ok:
			row("Share that has to drain with this water", n(100*share)+" %", "give "+n(extract.Applied(100, share))+" % of what the plants drink")
		default:
			row("Share that has to drain with this water", "none is enough", "the water is too salty for this crop: use rain water")
		}
	}
}

// left is the share of mobile salt that stays after a flush: exp(-V / Vw), with Vw half the pot (judging.yaml,
// leaching, wash_out, derived).
func (c *computation) left() float64 { return math.Exp(-c.flushTimes().Typical / 0.5) }

func (c *computation) limeRows(row func(label, value, note string)) {
	target, _ := c.target()
	if c.rise() > 0 {
		row(c.lime.material.Name+" up to pH "+n(target), about(c.limePerLitre(), "g in a litre of mix"), "published rates differ fourfold: start low, test after "+c.limeWeeks()+" weeks")
		if c.hasPot {
			row("For "+c.pot.Label, about(c.forPot(c.limePerLitre()), "g"), "")
		}
		if c.works != nil {
			row("Of that, working by day 7", n(100**c.works)+" %", "coarse lime works later; do not add more for it")
		}
	}
	if c.fall() > 0 {
		row("Sulfur down to pH "+n(target), about(c.sulfur(), "g in a litre of mix"), c.sulfurNote())
		if c.hasPot {
			row("For "+c.pot.Label, about(c.forPot(c.sulfur()), "g"), "")
		}
	}
}

// sulfurNote tells the usual most of sulfur at once.
func (c *computation) sulfurNote() string {
	m, _ := c.pass.Garden.Material("sulfur-powder")
	note := "slow, and only in a warm, moist mix; carbonate takes more"
	if f := m.Ref.Limit.GramsPerLitre; f.Known {
		note = "at most " + x(f.Typical) + " g in a litre at once; " + note
	}
	return note
}

func (c *computation) steps() view.Steps {
	s := view.Steps{Title: "Steps"}
	step := func(format string, args ...any) {
		s.Items = append(s.Items, view.Step{Text: fmt.Sprintf(format, args...)})
	}
	if c.flushNeeded() {
		step("Scrape off the crust. Pour on %s times the pot's volume of plain water, slowly; let it drain and empty the saucer. Feed afterwards.", n(c.flushTimes().Typical))
		step("Test again by the same method before you plant.")
	}
	if c.rise() > 0 {
		step("Work half of the lime in, keep the mix moist, and test after %s weeks before you add the rest.", c.limeWeeks())
	}
	if c.fall() > 0 {
		step("Thin the mix with peat or bark, or work sulfur in, a little at a time, and test after six to eight weeks.")
	}
	step("Write down the method with the value: numbers of two methods cannot be compared.")
	return s
}
