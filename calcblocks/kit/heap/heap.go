// Package heap is the arithmetic of carbon, nitrogen and water in a blend (season.md, section 3; the blend
// equations are those of Cornell Composting, from memory). Figures come in as beliefs and every answer
// carries bounds that no figure within its own range can leave.
package heap

import (
	"slices"

	"trug/calcblocks/kit/units"
)

// An Item is one term of a ratio of sums: Weight x Top over Weight x Bottom. All three are above zero, and
// independent of one another.
type Item struct{ Weight, Top, Bottom units.SomeShare }

// Sure returns a number without doubt.
func Sure(x float64) units.SomeShare { return units.SomeShare{Low: x, Typical: x, High: x} }

// Ratio returns the sum of Weight x Top over the sum of Weight x Bottom. Its ends are exact: the ratio rises
// in each Top and falls in each Bottom, and a heavier item pulls it to the item's own ratio, so that at an
// end the items beyond some point of their order weigh most and the others least.
func Ratio(items ...Item) units.SomeShare {
	typical := quotient(items, func(i Item) (w, top, bottom float64) { return i.Weight.Typical, i.Top.Typical, i.Bottom.Typical })
	out := Sure(typical)
	most := slices.Clone(items)
	slices.SortStableFunc(most, func(a, b Item) int { return sign(b.Top.High*a.Bottom.Low - a.Top.High*b.Bottom.Low) })
	least := slices.Clone(items)
	slices.SortStableFunc(least, func(a, b Item) int { return sign(a.Top.Low*b.Bottom.High - b.Top.Low*a.Bottom.High) })
	for heavy := range len(items) + 1 {
		out.High = max(out.High, split(most, heavy, func(i Item) (float64, float64) { return i.Top.High, i.Bottom.Low }))
		out.Low = min(out.Low, split(least, heavy, func(i Item) (float64, float64) { return i.Top.Low, i.Bottom.High }))
	}
	return out
}

func sign(x float64) int {
	switch {
	case x < 0:
		return -1
	case x > 0:
		return 1
	}
	return 0
}

// split returns the ratio when the first items weigh most and the others least.
func split(items []Item, heavy int, ends func(Item) (top, bottom float64)) float64 {
	n := 0
	return quotient(items, func(i Item) (float64, float64, float64) {
		n++
		top, bottom := ends(i)
		if n <= heavy {
			return i.Weight.High, top, bottom
		}
		return i.Weight.Low, top, bottom
	})
}

func quotient(items []Item, of func(Item) (w, top, bottom float64)) float64 {
	var above, below float64
	for _, i := range items {
		w, top, bottom := of(i)
		above, below = above+w*top, below+w*bottom
	}
	return above / below
}

// An Amount is how much of a material brings a blend to a goal.
type Amount struct {
	Kg      units.SomeShare // 0 where the goal is not reached
	Open    bool            // within the figures' ranges there may be no upper end
	Reached bool            // at the typical figures the goal lies between the material and the rest
}

// Solve returns the kilograms of a material that bring the ratio of a blend to a goal: the sum over the rest
// of Weight x (Top - goal x Bottom), over Weight x (goal x Bottom - Top) of the material, whose Weight is for
// each kilogram. Each term rises or falls in each of its three figures, and the terms are independent, so the
// ends add; a quotient below zero means that the goal does not lie between.
func Solve(rest []Item, material Item, goal float64) Amount {
	var short units.SomeShare
	for _, i := range rest {
		short = short.Add(i.above(goal))
	}
	per := material.above(goal).Scale(-1)
	if per.Typical < 0 { // the material lies above the goal
		short, per = short.Scale(-1), per.Scale(-1)
	}
	if per.Typical == 0 {
		return Amount{Open: true}
	}
	a := Amount{Reached: short.Typical >= 0, Open: per.Low <= 0}
	a.Kg.Low, a.Kg.Typical = max(short.Low, 0)/per.High, max(short.Typical, 0)/per.Typical
	a.Kg.High = a.Kg.Typical
	if !a.Open {
		a.Kg.High = max(short.High, 0) / per.Low
	}
	return a
}

// above returns Weight x (Top - goal x Bottom).
func (i Item) above(goal float64) units.SomeShare {
	return units.SomeShare(units.Corners[plain](func(x []float64) float64 { return x[0] * (x[1] - goal*x[2]) }, i.Weight, i.Top, i.Bottom))
}

// plain is the dimension of a number.
type plain struct{}

// TiedUp returns the grams of nitrogen that what decays of a material takes from the mix, below zero what it
// gives: kg x 1000 x (C / break-even - N) x the share that decays (season.md, section 3.3, derived; the
// break-even of 24 is that of USDA-NRCS).
func TiedUp(i Item, breakEven float64, decayed units.SomeShare) units.SomeMass {
	return units.SomeMass(units.Corners[plain](func(x []float64) float64 {
		return 1000 * x[0] * (x[1]/breakEven - x[2]) * x[3]
	}, i.Weight, i.Top, i.Bottom, decayed))
}
