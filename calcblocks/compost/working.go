package compost

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/heap"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// blendSource stands behind the blend equations.
const blendSource = "cornell-composting"

// x writes a figure of a working, with its range where it has one.
func x(b units.SomeShare, times float64) string {
	if b.Low == b.High {
		return view.Exact(b.Typical * times)
	}
	return fmt.Sprintf("%s (%s to %s)", view.Exact(b.Typical*times), view.Exact(b.Low*times), view.Exact(b.High*times))
}

func (c *computation) working() []view.WorkingStep {
	var steps []view.WorkingStep
	add := func(what, sum string, keys ...string) {
		steps = append(steps, view.WorkingStep{What: what, Sum: sum, Sources: care.Keys(keys)})
	}
	for _, s := range c.stuffs {
		m := s.material
		held := ""
		if s.held {
			held = ", C held to what organic matter has"
		}
		if s.aside.Known {
			held = fmt.Sprintf(", by C and C:N; the listed N of %s is from memory and set aside", s.aside.Words())
		}
		add(s.title, fmt.Sprintf("moisture %s %%, C %s %%, N %s %% of dry matter, C:N %s%s", x(m.Moisture, 100), x(m.Carbon, 100), x(m.Nitrogen, 100), x(m.CToN, 1), held), s.keys...)
	}
	if c.goal > 0 {
		add(c.change.title+" for C:N "+n(c.goal), c.solveText(c.forRatio, nutrients, c.goal), blendSource)
	}
	if c.moisture > 0 && c.change != nil {
		add(c.change.title+" for the moisture", c.solveText(c.forWater, water, c.moisture), blendSource)
	}
	b := c.shown()
	add("C:N of the heap", c.sumText(b, func(m heap.Material) float64 { return m.Dry().Typical * m.Carbon.Typical }, func(m heap.Material) float64 { return m.Dry().Typical * m.Nitrogen.Typical }, "kg C", "kg N")+" = "+x(b.ratio, 1), blendSource)
	add("moisture of the heap", c.sumText(b, func(m heap.Material) float64 { return m.Kg.Typical * m.Moisture.Typical }, func(m heap.Material) float64 { return m.Kg.Typical }, "kg water", "kg")+" = "+x(b.moisture, 100)+" %", blendSource)
	if b.addWater.High > 0.005 {
		there := view.Exact(b.kg.Typical * b.moisture.Typical)
		add("water to add", fmt.Sprintf("%s kg dry x %s / %s - %s kg of water there = %s kg", x(b.dry, 1), view.Exact(c.moistEnough()), view.Exact(1-c.moistEnough()), there, x(b.addWater, 1)))
	}
	be := c.pass.Ref.Must("heap", "tie_up", "break_even")
	for i, s := range c.stuffs {
		m := c.amountOf(s)
		add("nitrogen, "+view.Small(s.title), tiedText(m, be.Typical, s.decays, c.tied[i]), append(be.Source, s.keys...)...)
	}
	return steps
}

// tiedText writes the nitrogen tied up by the two figures that are known of a material, so that its range can be done
// again: the third moves with them.
func tiedText(m heap.Material, even float64, decays units.SomeShare, tied units.SomeMass) string {
	e := view.Exact(even)
	per := fmt.Sprintf("(%s / %s - %s)", x(m.Carbon, 1), e, x(m.Nitrogen, 1))
	switch m.Known {
	case heap.NitrogenAndRatio:
		per = fmt.Sprintf("%s x (%s / %s - 1)", x(m.Nitrogen, 1), x(m.CToN, 1), e)
	case heap.CarbonAndRatio:
		per = fmt.Sprintf("%s x (1 / %s - 1 / %s)", x(m.Carbon, 1), e, x(m.CToN, 1))
	}
	return fmt.Sprintf("1000 x %s kg dry x %s x %s = %s g", x(m.Dry(), 1), per, x(decays, 1), x(units.SomeShare(tied), 1))
}

// solveText is the equation of the amount with its figures.
func (c *computation) solveText(a heap.Amount, of func([]heap.Material) []heap.Item, goal float64) string {
	var terms []string
	for _, i := range of(c.restBlend().materials) {
		terms = append(terms, fmt.Sprintf("%s x (%s - %s x %s)", view.Exact(i.Weight.Typical), view.Exact(i.Top.Typical), view.Exact(goal), view.Exact(i.Bottom.Typical)))
	}
	one := of([]heap.Material{c.change.material.One()})[0]
	per := fmt.Sprintf("[%s x (%s x %s - %s)]", view.Exact(one.Weight.Typical), view.Exact(goal), view.Exact(one.Bottom.Typical), view.Exact(one.Top.Typical))
	result := "below zero: out of reach"
	if a.Reached {
		result = x(a.Kg, 1) + " kg"
		if a.Open {
			result = fmt.Sprintf("%s kg, %s or more", view.Exact(a.Kg.Typical), view.Exact(a.Kg.Low))
		}
	}
	return "(" + strings.Join(terms, " + ") + ") / " + per + " = " + result
}

// sumText writes a quotient of sums.
func (c *computation) sumText(b blend, top, bottom func(heap.Material) float64, topUnit, bottomUnit string) string {
	var above, below []string
	for _, m := range b.materials {
		above, below = append(above, view.Exact(top(m))), append(below, view.Exact(bottom(m)))
	}
	return fmt.Sprintf("(%s) %s / (%s) %s", strings.Join(above, " + "), topUnit, strings.Join(below, " + "), bottomUnit)
}
