// Package measure turns amounts into kitchen spoons and cups, and back. Everything is exact: a measure
// holds the very volume of its spoons, from which grams, nutrients and cost are computed.
package measure

import (
	"math/big"

	"trug/calcblocks/kit/units"
)

// A Rounding is the rule by which an amount becomes spoons.
type Rounding int

const (
	// Fine takes the fewest of cup, tablespoon and teaspoon terms whose error is at most 6 %.
	Fine Rounding = iota
	// Household takes the one nearest step of the federal grid (21 CFR 101.9(b)(5)).
	Household
)

func (r Rounding) String() string {
	if r == Household {
		return "household"
	}
	return "fine"
}

// ParseRounding reads "fine" or "household". Its error is a *units.Fault.
func ParseRounding(text string) (Rounding, error) {
	switch text {
	case "fine":
		return Fine, nil
	case "household":
		return Household, nil
	}
	return Fine, units.Faultf(0, "bad-rounding", "write \"fine\" or \"household\"", "%q is not a way of rounding", text)
}

// A Measure is what is scooped for a wanted volume: at most one cup, one tablespoon and one teaspoon
// term.
type Measure struct {
	Text     string           // "1 1/4 cup + 2 tbsp"
	Volume   units.Volume     // mL, exactly what the spoons hold
	Held     units.SomeVolume // that volume, to be weighed
	Error    float64          // percent: (measured - wanted) / wanted x 100
	TooSmall bool             // below half of the smallest spoon: Volume is the wanted one, to be weighed
	pieces   []piece
}

// A piece is one term of a measure as it is written: "1 1/4" and "cup".
type piece struct{ count, unit string }

// Nearest returns the measure for a wanted volume in a set's own spoons and cups. Nothing at all is
// "none"; an amount below half of 1/8 teaspoon is TooSmall and must be weighed or mixed as a batch.
func Nearest(wanted units.Volume, set units.Set, r Rounding) Measure {
	m := Spoons(wanted, set, r)
	if m.Volume.Sign() > 0 && !m.TooSmall {
		m.Error = percentOff(m.Volume, wanted)
	}
	return m
}

// Spoons is Nearest without the Error, for where nobody asks how far off a measure is.
func Spoons(wanted units.Volume, set units.Set, r Rounding) Measure {
	g := gaugeOf(set)
	w := wanted.Float() / g.inFloat
	switch {
	case wanted.Sign() <= 0:
		return Measure{Text: "none"}
	case w < float64(g.eight) && wanted.Cmp(g.least) < 0:
		return Measure{Text: "less than 1/8 tsp", Volume: wanted, Held: wanted.Certain(), TooSmall: true}
	}
	target, ok := aimAt(w)
	if !ok {
		target, ok = g.aim(wanted)
	}
	switch {
	case !ok:
		return g.finish(g.vast(wanted))
	case r == Household:
		return g.finish(g.household(target))
	}
	return g.finish(g.fine(target))
}

// finish writes a scoop out and works out its volume.
func (g *gauge) finish(s scoop) Measure {
	w := g.write(s)
	return Measure{Text: w.text, Volume: w.volume, Held: w.held, pieces: w.pieces}
}

// percentOff is (measured - wanted) / wanted x 100, exact until it is rounded to a float.
func percentOff(measured, wanted units.Volume) float64 {
	more := measured.Sub(wanted)
	if more.Sign() == 0 {
		return 0
	}
	off := more.Over(wanted)
	x, _ := off.Mul(off, hundred).Float64()
	return x
}

var hundred = big.NewRat(100, 1)

// Batch returns the smallest number of pots whose amounts together fill the smallest spoon, 1/8
// teaspoon; 1 when one pot's amount does, or when there is nothing to measure.
func Batch(wanted units.Volume, set units.Set) int {
	if wanted.Sign() <= 0 {
		return 1
	}
	n := ceil(gaugeOf(set).smallest().Over(wanted))
	if !n.IsInt64() || n.Int64() > 1<<31-1 {
		return 1<<31 - 1 // a trace that no number of pots makes measurable
	}
	return int(n.Int64())
}

func floor(r *big.Rat) *big.Int { return new(big.Int).Div(r.Num(), r.Denom()) }

func ceil(r *big.Rat) *big.Int {
	n := floor(new(big.Rat).Neg(r))
	return n.Neg(n)
}
