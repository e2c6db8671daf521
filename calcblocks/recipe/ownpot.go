package recipe

import (
	"math"
	"math/big"
	"slices"
	"sort"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/vessel"
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
	out := &view.OwnPot{From: ownLeast, To: ownMost, Base: vessel.AssumedBase, Height: vessel.AssumedDepth, Top: c.ownTop()}
	for _, r := range c.rows {
		for i, m := range r.materials {
			out.Rows = append(out.Rows, c.ownRow(m, r.amounts[i]))
		}
	}
	return out
}

// ownTop tells how much compost goes on top of any container: of what layer answers for one.
func (c *computation) ownTop() *view.OwnTop {
	if c.compost == nil || !c.top.measured() {
		return nil
	}
	out := &view.OwnTop{Name: care.InWords(c.compost), Loose: c.looseFor(1).Typical / 1000}
	switch {
	case c.top.depth != nil:
		out.Depth, out.Text = c.top.depth.Float(), c.top.text+" deep"
	case c.top.share != nil:
		out.Share, out.Text = c.top.share.Float(), c.top.text+" of the mix"
	default:
		out.Share, out.Text = c.top.volume.Float()/c.mix.Float(), c.top.text+" to "+c.mixText+" of mix"
	}
	return out
}

func (c *computation) ownRow(m *garden.Material, a units.Amount) view.OwnRow {
	hb := c.pass.Garden.Handbook
	row := view.OwnRow{Amendment: m.ID, Measures: map[string][]view.OwnStep{}}
	for _, set := range hb.Sets() {
		low := c.rungs(m, a.Low, set)
		high := low
		if a.Range {
			high = c.rungs(m, a.High, set)
		}
		row.Measures[string(set)] = merged(low, high, func(low, high rung) string { return amountText(a, *low.measure, *high.measure) })
		if set == hb.Main {
			row.Grams = c.ownGrams(m, a, low, high)
		}
	}
	return row
}

func (c *computation) ownGrams(m *garden.Material, a units.Amount, low, high []rung) []view.OwnStep {
	least := c.weighed(m, a.Low, low)
	most := least
	if a.Range {
		most = c.weighed(m, a.High, high)
	}
	return merged(least, most, func(low, high rung) string { return view.Span(low.grams, high.grams) + " g" })
}

// A rung is a measure and its grams from a container size up.
type rung struct {
	from    int // hundredths of a litre
	measure *measure.Measure
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
			return []rung{{from: ownLeast, measure: &measure.Measure{}}}
		}
		per = units.Millilitres(units.Fill(q.Mass, d.Density()).Typical)
	}
	mix := new(big.Rat).Mul(c.mix.Rat(), big.NewRat(1, 10)) // hundredths of a litre
	all := big.NewRat(ownMost, 1)
	steps := measure.Steps(set, hb.Rounding, per.Times(all.Quo(all, mix)))
	out := make([]rung, 1, len(steps)+1)
	trace := measure.Nearest(per.Times(big.NewRat(1, 1000000)), set, hb.Rounding)
	out[0] = rung{from: ownLeast, measure: &trace}
	perMix, _ := new(big.Rat).Quo(mix, per.Rat()).Float64()
	for i := range steps {
		r := rung{from: firstAt(&steps[i], per, mix, perMix), measure: &steps[i].Measure}
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
// of all: in hundredths of a litre the next whole number above From / per x mix, in floats where those leave no
// doubt of it. perMix is mix / per.
func firstAt(s *measure.Step, per units.Volume, mix *big.Rat, perMix float64) int {
	if x := s.FromFloat * perMix; math.Abs(x-math.Round(x)) > 1e-6 && x < 1e6 {
		return max(int(math.Ceil(x)), ownLeast)
	}
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
	out := make([]rung, 0, len(measures))
	for i, r := range measures {
		switch {
		case r.measure.TooSmall:
			end := ownMost + 1
			if i+1 < len(measures) {
				end = measures[i+1].from
			}
			out = append(out, c.gramsBetween(r.from, end, units.Weigh(q.Volume, density).Typical)...)
		default:
			r.grams = units.WeighSome(r.measure.Held, density).Typical
			out = append(out, r)
		}
	}
	return out
}

// gramsBetween returns where the printed grams change when they grow with the container, perMix of them
// for the recipe's mix. A change is about as far from the last as that from the one before.
func (c *computation) gramsBetween(from, end int, perMix float64) []rung {
	mix := c.mix.Float()
	grams := func(n int) float64 { return perMix * float64(n) * 10 / mix }
	var out []rung
	for n, step := from, 1; n < end; {
		out = append(out, rung{from: n, grams: grams(n)})
		printed := view.Rounded(grams(n))
		last := n // that prints alike
		for last+step < end && view.Rounded(grams(last+step)) == printed {
			last, step = last+step, 2*step
		}
		next := last + 1 + sort.Search(min(step, end-last)-1, func(i int) bool { return view.Rounded(grams(last+1+i)) != printed })
		n, step = next, next-n
	}
	return out
}

// merged walks both ends of a range together and writes a step wherever the text changes.
func merged(lows, highs []rung, text func(low, high rung) string) []view.OwnStep {
	out := make([]view.OwnStep, 0, len(lows))
	for i, j, from := 0, 0, ownLeast; from <= ownMost; {
		if t := text(lows[i], highs[j]); len(out) == 0 || out[len(out)-1].Text != t {
			out = append(out, view.OwnStep{From: from, Text: t})
		}
		next := min(begin(lows, i+1), begin(highs, j+1))
		if i+1 < len(lows) && lows[i+1].from == next {
			i++
		}
		if j+1 < len(highs) && highs[j+1].from == next {
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
