package reading

import (
	"fmt"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/extract"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// of writes a belief of a working.
func of[D any](b units.Belief[D]) string {
	if b.Low == b.High {
		return x(b.Typical)
	}
	return fmt.Sprintf("%s (%s to %s)", x(b.Typical), x(b.Low), x(b.High))
}

func (c *computation) working() []view.WorkingStep {
	var steps []view.WorkingStep
	add := func(what, sum string, keys ...string) {
		steps = append(steps, view.WorkingStep{What: what, Sum: sum, Sources: care.Keys(keys)})
	}
	c.ecWorking(add)
	if c.ph != nil {
		_, band := c.target()
		add("pH read", fmt.Sprintf("%s, beside %s to %s", x(*c.ph), x(band.Low), x(band.High)), append(band.Source, c.own.Key)...)
	}
	c.yieldWorking(add)
	c.waterWorking(add)
	c.limeWorking(add)
	if c.compost {
		c.shareWorking(add)
	}
	water := c.water1()
	for _, v := range c.values {
		nutrient, factor, ok := labelled(v.element.key)
		if ok && c.method == extract.SME && !c.compost {
			add(v.element.symbol+" dissolved in a litre of mix", fmt.Sprintf("%s mg/L x %s L x %s = %s g %s", x(v.mg), x(water.Typical), x(factor), x(v.mg*water.Typical*factor/1000), nutrient.Symbol()), append(water.Source, c.own.Key)...)
		}
	}
	for _, pair := range [][2]string{{"k", "mg"}, {"ca", "mg"}, {"ca", "k"}} {
		if r, ok := c.ratio(pair[0], pair[1]); ok {
			a, _ := c.mg(pair[0])
			b, _ := c.mg(pair[1])
			add(view.Capital(pair[0])+" to "+view.Capital(pair[1]), fmt.Sprintf("%s / %s = %s", x(a), x(b), x(r)), "derived-here")
		}
	}
	return steps
}

type adder func(what, sum string, keys ...string)

// conversionSources are those by which the EC that was read is converted to another method's.
func (c *computation) conversionSources(to extract.Method) []string {
	table := c.pass.Ref.Must("judging", "ec_conversion", "break_points", "sme", "1").Source
	if c.method != extract.OneToFive && to != extract.OneToFive {
		return table
	}
	return care.Keys(c.pass.Ref.Must("judging", "ec_conversion", "sme_per_1to5_by_volume", "estimate").Source, table)
}

func (c *computation) ecWorking(add adder) {
	if c.ec == nil {
		return
	}
	add("EC read", x(*c.ec)+" mS/cm by "+c.method.Name(), c.own.Key)
	for _, m := range extract.Methods {
		ec, ok := c.converted[m]
		switch {
		case m == c.method:
		case !ok:
			add("EC, "+m.Name(), "beyond the last break point: not converted", c.conversionSources(m)...)
		case c.method == extract.OneToFive || m == extract.OneToFive:
			add("EC, "+m.Name(), fmt.Sprintf("by way of the saturated extract at 7 (6.8 to 10) times the 1:5: %s mS/cm", of(ec)), c.conversionSources(m)...)
		default:
			add("EC, "+m.Name(), fmt.Sprintf("between break points of equal rank: %s mS/cm", of(ec)), c.conversionSources(m)...)
		}
	}
	per := c.pass.Ref.Must("judging", "ec_conversion", "ec_to_salts_ppm_per_ms_cm")
	add("salts in the extract", fmt.Sprintf("%s mS/cm x %s = %s mg/L", x(*c.ec), x(per.Typical), x(c.salts())), per.Source...)
}

func (c *computation) yieldWorking(add adder) {
	table, soilless, ok := c.yields()
	if !ok {
		return
	}
	ec, _ := c.sme()
	a, b, more := c.plant.Salinity.Threshold, c.plant.Salinity.Slope, c.tolerance()
	add("yield by the crop table", fmt.Sprintf("100 - %s x (%s - %s), from 0 to 100 = %s %%", x(b.Typical), of(ec), x(a.Typical), of(table)), a.Source...)
	add("yield in a soilless mix", fmt.Sprintf("100 - %s x (%s - %s - %s), from 0 to 100 = %s %%", x(b.Typical), of(ec), x(a.Typical), of(units.SomeEC{Low: more.Low, Typical: more.Typical, High: more.High}), of(soilless)), append(a.Source, more.Source...)...)
}

func (c *computation) waterWorking(add adder) {
	if c.hasPot && c.ec != nil && !c.compost {
		low, high := c.pot.Litres()
		times := c.flushTimes()
		add("water for a flush", fmt.Sprintf("%s L x %s = %s L", view.Span(low, high), x(times.Typical), view.Span(extract.Flush(low, times.Typical), extract.Flush(high, times.Typical))), times.Source...)
	}
	if c.flushNeeded() {
		add("salt left after a flush", fmt.Sprintf("exp(-%s / 0.5) = %s %%", x(c.flushTimes().Typical), x(100*c.left())), "derived-here")
	}
	if c.applied != nil {
		all := c.applied.Float() / 1000
		add("share that drained", fmt.Sprintf("%s L / %s L = %s %%", x(c.drained), x(all), x(100*extract.LeachingFraction(c.drained, all))), c.pass.Ref.Must("judging", "leaching", "fraction_target").Source...)
	}
	if share, ok := c.required(); ok {
		a := c.plant.Salinity.Threshold
		add("share that has to drain", fmt.Sprintf("%s / (5 x %s - %s) = %s %%", x(*c.water), x(a.Typical), x(*c.water), x(100*share)), append(a.Source, "fao29")...)
		add("water to give", fmt.Sprintf("100 / (1 - %s) = %s %% of what the plants drink", x(share), x(extract.Applied(100, share))), "sdsu-notes")
	}
}

func (c *computation) limeWorking(add adder) {
	target, _ := c.target()
	rate, keys := c.limeRate()
	if c.rise() > 0 {
		add("lime in a litre of mix", fmt.Sprintf("(%s - %s) x %s g/L / %s %% = %s g/L", x(target), x(*c.ph), of(rate), of(percent(c.lime.value)), of(c.limePerLitre())), append(keys, c.lime.keys...)...)
		if c.hasPot {
			low, high := c.pot.Litres()
			add("lime for the pot", fmt.Sprintf("%s g/L x %s L = %s g", of(c.limePerLitre()), view.Span(low, high), of(c.forPot(c.limePerLitre()))))
		}
		if c.works != nil {
			add("lime working by day 7", "sum of share x effect of its size = "+x(100**c.works)+" %", "huang-2007")
		}
	}
	if c.fall() > 0 {
		m, _ := c.pass.Garden.Material("sulfur-powder")
		purity := m.Content("s")
		per := c.pass.Ref.Must("volumes", "pure_compounds", "sulfur_acidity", "kg_caco3_per_kg_s")
		add("sulfur in a litre of mix", fmt.Sprintf("(%s - %s) x %s g/L / %s / %s %% = %s g/L", x(*c.ph), x(target), of(rate), x(per.Typical), x(purity.Typical), of(c.sulfur())), append(append(keys, per.Source...), purity.Source...)...)
	}
}

// percent turns a share into percent.
func percent(s units.SomeShare) units.SomeShare { return units.SomeShare(s.Scale(100)) }

func (c *computation) shareWorking(add adder) {
	base := c.baseEC()
	for _, l := range c.shareLimits() {
		if s, ok := c.saltShare(l.ec); ok {
			ec, _ := c.sme()
			add("share of a mix "+l.words, fmt.Sprintf("(%s - %s) / (%s - %s), from 0 to 1 = %s %%", x(l.ec), x(base.Typical), of(ec), x(base.Typical), of(percent(s))), base.Source...)
		}
	}
}
