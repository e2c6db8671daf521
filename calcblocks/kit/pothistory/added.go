package pothistory

import (
	"slices"

	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// Added is what went into a pot in one growing year.
type Added struct {
	Year      int
	Low, High map[reference.Nutrient]dose.Sum[units.SomeMass] // g, at the low and the high end of the amounts
	Portions  [2][]dose.Portion
	Unweighed []string // ids of amendments of unknown amount, left out
	// Phosphate is what was added so far, with what it is the sum of.
	Phosphate Running
}

// Running is all P2O5 added to a mix up to and with a year, g, at the low and the high end of the amounts. What
// left with crops, water or a part of the old mix is not taken off; it begins anew where all of the mix was
// replaced.
type Running struct{ Before, Year, Total [2]dose.Sum[units.SomeMass] }

// added returns what went into a pot in the years of a scope, each computed once. Nutrients are mass x percent / 100,
// summed bound to bound (package dose); years without an addition are left out.
func (h *History) added(s Scope, pot string) []Added {
	key := addedKey{pot, s.From, s.To}
	if out, ok := h.years[key]; ok {
		return out
	}
	var out []Added
	for _, a := range h.run(pot) {
		if s.holds(a.Year) {
			a.Low, a.High = nutrients(a.Portions[0]), nutrients(a.Portions[1])
			out = append(out, a)
		}
	}
	h.years[key] = out
	return out
}

type addedKey struct {
	pot      string
	from, to int
}

func nutrients(portions []dose.Portion) map[reference.Nutrient]dose.Sum[units.SomeMass] {
	out := map[reference.Nutrient]dose.Sum[units.SomeMass]{}
	for _, n := range reference.Nutrients {
		out[n] = dose.Nutrient(portions, n)
	}
	return out
}

// run goes through a pot's additions, with phosphate so far and without the other sums.
func (h *History) run(pot string) []Added {
	var out []Added
	var run counter
	for _, e := range h.pots[pot] {
		if whole(e.Fresh) {
			run = counter{} // what went in before went out with the mix
		}
		if len(e.Portions[0])+len(e.Unweighed) == 0 {
			continue
		}
		if len(out) == 0 || out[len(out)-1].Year != h.growing(e.On) {
			out = append(out, Added{Year: h.growing(e.On)})
		}
		a := &out[len(out)-1]
		for end := range a.Portions {
			a.Portions[end] = append(a.Portions[end], e.Portions[end]...)
		}
		a.Unweighed = union(a.Unweighed, e.Unweighed)
		run.add(h.growing(e.On), e)
		a.Phosphate = run.Running
	}
	return out
}

// counter adds up phosphate.
type counter struct {
	Running
	year int
}

func (c *counter) add(year int, e facts.Event) {
	if c.year != year {
		c.Running = Running{Before: c.Total, Total: c.Total}
		c.year = year
	}
	for end, portions := range e.Portions {
		more := dose.Nutrient(portions, reference.P2O5)
		more.Missing = union(more.Missing, e.Unweighed)
		c.Year[end] = plus(c.Year[end], more)
		c.Total[end] = plus(c.Before[end], c.Year[end])
	}
}

// plus adds two sums; what either lacks stays named.
func plus(a, b dose.Sum[units.SomeMass]) dose.Sum[units.SomeMass] {
	return dose.Sum[units.SomeMass]{
		Value: a.Value.Add(b.Value), Known: a.Known || b.Known,
		Missing: union(a.Missing, b.Missing), Sources: union(a.Sources, b.Sources),
	}
}

// union joins two lists, each member once.
func union(a, b []string) []string {
	var out []string
	for _, s := range slices.Concat(a, b) {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}
