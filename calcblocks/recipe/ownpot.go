package recipe

import (
	"math"
	"math/big"
	"slices"

	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// The containers that a reader may ask for, in hundredths of a litre.
const (
	ownLeast = 100
	ownMost  = 50000
)

// ownPot tabulates the amounts for every container from 1 to 500 litres: each amendment's measure per spoon
// set and its grams, where they change.
func (c *computation) ownPot() *view.OwnPot {
	out := &view.OwnPot{From: ownLeast, To: ownMost}
	for _, r := range c.rows {
		for i, m := range r.materials {
			out.Rows = append(out.Rows, c.ownRow(m, r.amounts[i]))
		}
	}
	return out
}

func (c *computation) ownRow(m *garden.Material, a units.Amount) view.OwnRow {
	hb := c.pass.Garden.Handbook
	row := view.OwnRow{Amendment: m.ID, Measures: map[string][]view.OwnStep{}}
	for _, set := range hb.Sets() {
		ends := [2][]rung{c.rungs(m, a.Low, set), c.rungs(m, a.High, set)}
		row.Measures[string(set)] = merged(ends, func(low, high rung) string {
			p := portion{amount: a}
			p.ends[0].measures = map[units.Set]measure.Measure{set: low.measure}
			p.ends[1].measures = map[units.Set]measure.Measure{set: high.measure}
			return measureText(p, set)
		})
		if set == hb.Main {
			row.Grams = merged([2][]rung{c.weighed(m, a.Low, ends[0]), c.weighed(m, a.High, ends[1])}, func(low, high rung) string {
				return view.Span(low.grams, high.grams) + " g"
			})
		}
	}
	return row
}

// A rung is a measure and its grams from a container size up.
type rung struct {
	from    int // hundredths of a litre
	measure measure.Measure
	grams   float64
}

// rungs returns the measures of one end of an amount. Below the first one the amount is too little for a
// spoon.
func (c *computation) rungs(m *garden.Material, q units.Quantity, set units.Set) []rung {
	hb := c.pass.Garden.Handbook
	per := q.Volume // for the recipe's mix
	if q.Weighed {
		d := m.Density()
		if !d.Known {
			return []rung{{from: ownLeast}}
		}
		per = units.Millilitres(units.Fill(q.Mass, d.Density()).Typical)
	}
	mix := new(big.Rat).Mul(c.mix.Rat(), big.NewRat(1, 10)) // hundredths of a litre
	all := big.NewRat(ownMost, 1)
	out := []rung{{from: ownLeast, measure: measure.Nearest(per.Times(big.NewRat(1, 1000000)), set, hb.Rounding)}}
	for _, s := range measure.Steps(set, hb.Rounding, per.Times(all.Quo(all, mix))) {
		r := rung{from: firstAt(s, per, mix), measure: s.Measure}
		if last := &out[len(out)-1]; r.from <= last.from {
			r.from = last.from
			*last = r
			continue
		}
		out = append(out, r)
	}
	return out
}

// firstAt returns the smallest container for which a step's measure is the answer, at least the smallest
// of all.
func firstAt(s measure.Step, per units.Volume, mix *big.Rat) int {
	at := new(big.Rat).Mul(s.From.Over(per), mix)
	n := new(big.Int).Quo(at.Num(), at.Denom())
	if !at.IsInt() || s.After {
		n.Add(n, big.NewInt(1))
	}
	return max(int(n.Int64()), ownLeast)
}

// weighed adds the grams: of a spooned amount what the spoons hold, which is as long as the measure; of a
// weighed one, or one too small for a spoon, whatever the printed figure is.
func (c *computation) weighed(m *garden.Material, q units.Quantity, measures []rung) []rung {
	if q.Weighed {
		return c.gramsBetween(ownLeast, ownMost+1, q.Mass.Float())
	}
	density := m.Density().Density()
	var out []rung
	for i, r := range measures {
		switch {
		case r.measure.TooSmall:
			end := ownMost + 1
			if i+1 < len(measures) {
				end = measures[i+1].from
			}
			out = append(out, c.gramsBetween(r.from, end, units.Weigh(q.Volume, density).Typical)...)
		default:
			r.grams = units.Weigh(r.measure.Volume, density).Typical
			out = append(out, r)
		}
	}
	return out
}

// gramsBetween returns where the printed grams change when they grow with the container, perMix of them
// for the recipe's mix.
func (c *computation) gramsBetween(from, end int, perMix float64) []rung {
	var out []rung
	last, mix := "", c.mix.Float()
	for n := from; n < end; n++ {
		grams := perMix * float64(n) * 10 / mix
		if text := view.Number(grams); text != last {
			last = text
			out = append(out, rung{from: n, grams: grams})
		}
	}
	return out
}

// merged walks both ends of a range together and writes a step wherever the text changes.
func merged(ends [2][]rung, text func(low, high rung) string) []view.OwnStep {
	var out []view.OwnStep
	for i, j, from := 0, 0, ownLeast; from <= ownMost; {
		if t := text(ends[0][i], ends[1][j]); len(out) == 0 || out[len(out)-1].Text != t {
			out = append(out, view.OwnStep{From: from, Text: t})
		}
		next := min(begin(ends[0], i+1), begin(ends[1], j+1))
		if i+1 < len(ends[0]) && ends[0][i+1].from == next {
			i++
		}
		if j+1 < len(ends[1]) && ends[1][j+1].from == next {
			j++
		}
		from = next
	}
	return slices.Clip(out)
}

func begin(rungs []rung, i int) int {
	if i < len(rungs) {
		return rungs[i].from
	}
	return math.MaxInt
}
