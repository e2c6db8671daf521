package compost

import (
	"slices"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/heap"
	"trug/calcblocks/kit/units"
)

// computation carries one Compute. Kilograms, shares.
type computation struct {
	*compost
	pass   *block.Pass
	stuffs []*stuff
	change *stuff // the material that is solved for, nil for none

	forRatio, forWater heap.Amount // of change
	blend              blend       // as given; without change where its amount was not told
	atGoal             blend       // with the amount solved for, where one reaches the goal
	tied               []units.SomeMass
}

// blend is what a set of materials makes together.
type blend struct {
	materials                []heap.Material
	ratio, moisture, kg, dry units.SomeShare
	addWater                 units.SomeShare // kg up to the wanted moisture, or to the usual least
}

// Compute computes one heap.
func (h *compost) Compute(p *block.Pass) block.Result {
	c := &computation{compost: h, pass: p}
	ok := len(h.heap) > 0
	for _, e := range h.heap {
		s, known := c.resolve(e)
		c.stuffs, ok = append(c.stuffs, s), known && ok
	}
	if ok = c.findChange() && ok; !ok {
		return block.Result{Title: "Compost heap"}
	}
	c.solve()
	return c.result()
}

// findChange finds the material whose amount is solved for: the one that "adjust" names, or the one without
// an amount.
func (c *computation) findChange() bool {
	var open []*stuff
	for _, s := range c.stuffs {
		if !s.known && s.amount == nil {
			open = append(open, s)
		}
	}
	if c.adjust != nil {
		name, ok := c.adjust.Text()
		i := slices.IndexFunc(c.stuffs, func(s *stuff) bool { return s.name == name })
		if ok && i < 0 {
			c.pass.Report(diag.Errorf(c.adjust.At(), "not-in-heap", "%q is not in the heap", name).Hint("name one of the materials of the heap"))
			return false
		}
		if !ok {
			return false
		}
		c.change = c.stuffs[i]
	} else if len(open) == 1 && c.wants() {
		c.change = open[0]
	}
	return c.checkOpen(open)
}

// byRatio, byWater and wants say which goals the author has.
func (h *compost) byRatio() bool { return h.goal != 0 }
func (h *compost) byWater() bool { return h.moisture != 0 }
func (h *compost) wants() bool   { return h.byRatio() || h.byWater() }

// checkOpen reports amounts that are missing, and a goal without a material to reach it with.
func (c *computation) checkOpen(open []*stuff) bool {
	ok := true
	for _, s := range open {
		if s != c.change {
			ok = c.missing(s, "no-amount", "tell \"weight\" or \"volume\"", "how much of %q is not told", s.name)
		}
	}
	switch {
	case !ok:
	case c.change == nil && c.wants():
		c.pass.Report(diag.Errorf(c.at0(), "nothing-to-adjust", "the goal needs a material whose amount may change").Hint("add \"adjust: dry-leaves\", or leave its weight out"))
		return false
	case c.change != nil && !c.wants():
		c.pass.Report(diag.Errorf(c.at0(), "no-goal", "there is a material to adjust and no goal").Hint("add \"wanted: 30\""))
		return false
	case c.change != nil && len(c.stuffs) == 1:
		c.pass.Report(diag.Errorf(c.change.key.At(), "one-material", "a heap of %q alone cannot be adjusted with itself", c.change.name).Hint("add the other material"))
		return false
	}
	return ok
}

// at0 is the place of the goal, else of the block.
func (c *computation) at0() diag.Position {
	if c.goalAt != nil {
		return c.goalAt.At()
	}
	return c.compost.at.At()
}

// solve works out the blend and the amounts that the goals need (season.md, section 3.1).
func (c *computation) solve() {
	var rest []heap.Material
	for _, s := range c.stuffs {
		if s != c.change {
			rest = append(rest, s.material)
		}
	}
	given := slices.Clone(rest)
	if c.change != nil {
		one := c.change.material.One()
		if c.byRatio() {
			c.forRatio = heap.Solve(nutrients(rest), one.Nutrients(), c.goal)
		}
		if c.byWater() {
			c.forWater = heap.Solve(water(rest), one.Water(), c.moisture)
		}
		if c.solved() {
			c.atGoal = c.mix(append(slices.Clone(rest), c.with(c.needed())))
		}
		if c.change.known {
			given = append(given, c.change.material)
		}
	}
	c.blend = c.mix(given)
	for _, s := range c.stuffs {
		c.tied = append(c.tied, c.tieUp(s))
	}
}

// needed is the amount for the goal that leads: the C:N, else the moisture, since water can be added and carbon not.
func (c *computation) needed() heap.Amount {
	if c.byRatio() {
		return c.forRatio
	}
	return c.forWater
}

// solved says whether an amount reaches the goal. Then all that is shown is of the heap with that amount, whatever
// the author wrote.
func (c *computation) solved() bool { return c.change != nil && c.needed().Reached }

// with returns the adjusted material at the typical amount of a solution: a decision, to be weighed.
func (c *computation) with(a heap.Amount) heap.Material {
	m := c.change.material
	m.Kg = heap.Sure(a.Kg.Typical)
	return m
}

func nutrients(all []heap.Material) []heap.Item {
	var out []heap.Item
	for _, m := range all {
		out = append(out, m.Nutrients())
	}
	return out
}

func water(all []heap.Material) []heap.Item {
	var out []heap.Item
	for _, m := range all {
		out = append(out, m.Water())
	}
	return out
}

func (c *computation) mix(all []heap.Material) blend {
	b := blend{materials: all, ratio: heap.Ratio(nutrients(all)...), moisture: heap.Ratio(water(all)...)}
	for _, m := range all {
		b.kg, b.dry = b.kg.Add(m.Kg), b.dry.Add(m.Dry())
	}
	b.addWater = heap.WaterToAdd(c.moistEnough(), all...)
	return b
}

// moistEnough is the wanted moisture, else the least of the usual band.
func (c *computation) moistEnough() float64 {
	if c.byWater() {
		return c.moisture
	}
	return c.band("moisture_percent_ideal").Low / 100
}

// tieUp returns the grams of nitrogen that a material takes from a mix in a season if it rots there instead of
// on the heap.
func (c *computation) tieUp(s *stuff) units.SomeMass {
	return heap.TiedUp(c.amountOf(s).Nutrients(), c.breakEven(), s.decays)
}

// amountOf returns a material with the amount that stands in the heap that is shown.
func (c *computation) amountOf(s *stuff) heap.Material {
	if s == c.change && (c.solved() || !s.known) {
		return c.with(c.needed())
	}
	return s.material
}

func (c *computation) breakEven() float64 { return c.pass.Ref.Number("heap", "tie_up", "break_even") }

// tiedUp is the sum over the materials, which are independent.
func (c *computation) tiedUp() units.SomeMass {
	var sum units.SomeMass
	for _, m := range c.tied {
		sum = sum.Add(m)
	}
	return sum
}

// reached says whether the goal lies between the material and the rest.
func (c *computation) reached() bool { return c.change == nil || c.solved() }

// shown is the blend that the reader ends with: at the goal where there is one.
func (c *computation) shown() blend {
	if c.solved() {
		return c.atGoal
	}
	return c.blend
}

// tooWet and tooDry hold the blend against the usual band (Composting Handbook, 2022: ideally 50 to 60 %).
func (c *computation) tooWet() bool {
	return 100*c.shown().moisture.Typical > c.band("moisture_percent_ideal").High+1e-9
}

func (c *computation) tooDry() bool {
	return 100*c.shown().moisture.Typical < c.band("moisture_percent_ideal").Low-1e-9
}

// lacksLittle says whether the water that lacks is within the doubt in the heap's moisture: half its range, and half a
// percent at least, which is as fine as a moisture is told (judgement, no source).
func (c *computation) lacksLittle() bool {
	m := c.shown().moisture
	return c.moistEnough()-m.Typical < max((m.High-m.Low)/2, 0.005)
}
