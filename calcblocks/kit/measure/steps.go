package measure

import (
	"math/big"
	"slices"
	"sort"
	"sync"

	"trug/calcblocks/kit/units"
)

// A Step is one measure of a set with the wanted volumes for which Nearest returns it: from From, or from
// just above it when After is set, up to the next step.
type Step struct {
	From      units.Volume
	FromFloat float64 // mL, From as nearly as a float tells it
	After     bool
	Measure   Measure
}

// Begins says whether the step's measure, or that of a later step, is the one for a wanted volume.
func (s Step) Begins(wanted units.Volume) bool {
	order := wanted.Cmp(s.From)
	return order > 0 || order == 0 && !s.After
}

// Steps returns the measures of a set in rising order, from the smallest that is scooped to the one for a
// volume. A measure never shrinks while the wanted volume grows: one with fewer terms comes in when it is 6 %
// above the wanted volume and goes out when it is 6 % below, so what stands before it is smaller and what
// follows larger; among those with as many terms the nearest is taken. So each is the answer for one span
// of volumes, and its ends are found by halving.
func Steps(set units.Set, r Rounding, upTo units.Volume) []Step {
	found, _ := ladders.LoadOrStore(ladderKey{set, r}, &ladder{gauge: gaugeOf(set), rounding: r})
	return found.(*ladder).climb(upTo)
}

type ladderKey struct {
	set units.Set
	r   Rounding
}

var ladders sync.Map // of *ladder by ladderKey

// A ladder is the steps of a set worked out so far.
type ladder struct {
	gauge    *gauge
	rounding Rounding
	mutex    sync.Mutex
	steps    []Step
	last     *big.Rat // where the last step begins, in grains
}

func (l *ladder) climb(upTo units.Volume) []Step {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	if l.last == nil {
		l.add(big.NewRat(l.gauge.eight, 2), false) // below half of the smallest spoon nothing is scooped
	}
	for l.steps[len(l.steps)-1].From.Cmp(upTo) <= 0 {
		l.add(l.change())
	}
	later := sort.Search(len(l.steps)-1, func(i int) bool { return !l.steps[i+1].Begins(upTo) })
	return l.steps[: later+1 : later+1]
}

func (l *ladder) add(from *big.Rat, after bool) {
	inside := from
	if after {
		inside = justAbove(from)
	}
	m := l.gauge.finish(l.answer(inside))
	m.Error = percentOff(m.Volume, l.volume(inside))
	begin := l.volume(from)
	l.steps, l.last = append(l.steps, Step{begin, begin.Float(), after, m}), from
}

func (l *ladder) volume(grains *big.Rat) units.Volume {
	return asVolume(new(big.Rat).Mul(grains, l.gauge.grain))
}

// answer is the scoop for a wanted number of grains.
func (l *ladder) answer(wanted *big.Rat) scoop {
	t, _ := l.gauge.aim(l.volume(wanted))
	return l.scoop(t)
}

// whole is the answer for a whole number of grains, worked out without fractions.
func (l *ladder) whole(n int64) scoop {
	return l.scoop(target{quarters: 4 * n, low: ((100-bound)*n + 99) / 100, high: (100 + bound) * n / 100})
}

func (l *ladder) scoop(t target) scoop {
	if l.rounding == Household {
		return l.gauge.household(t)
	}
	return l.gauge.fine(t)
}

// change returns where the answer just above the last step ends, and whether the next one holds only above
// that place: whole grains are halved first, then the few places inside one grain are tried.
func (l *ladder) change() (*big.Rat, bool) {
	now := l.answer(justAbove(l.last)).grains
	same := func(s scoop) bool { return s.grains.Cmp(now) == 0 }
	low := floor(l.last).Int64()
	high := low + 1
	for step := int64(1); same(l.whole(high)); step *= 2 {
		low, high = high, high+step
	}
	for high-low > 1 {
		if middle := (low + high) / 2; same(l.whole(middle)) {
			low = middle
		} else {
			high = middle
		}
	}
	for _, place := range places(low, high) {
		if place.Cmp(l.last) > 0 && !same(l.answer(place)) {
			return place, false
		}
		if place.Cmp(l.last) > 0 && !same(l.answer(justAbove(place))) {
			return place, true
		}
	}
	return big.NewRat(high, 1), false
}

// justAbove is nearer to a place than any two places are to each other: those are multiples of 1/4982
// grain.
func justAbove(w *big.Rat) *big.Rat { return new(big.Rat).Add(w, big.NewRat(1, 10000)) }

// places lists, in rising order, where an answer can change between two neighbouring whole grains: at or
// just above a whole or a half grain, where the nearer of two changes sides, and where a whole number of
// grains comes within the bound (6 % above) or leaves it (6 % below).
func places(low, high int64) []*big.Rat {
	out := []*big.Rat{big.NewRat(low, 1), big.NewRat(2*low+1, 2), big.NewRat(high, 1)}
	one := big.NewRat(1, 1)
	for _, part := range []*big.Rat{new(big.Rat).Add(one, boundShare), new(big.Rat).Sub(one, boundShare)} {
		first := floor(new(big.Rat).Mul(big.NewRat(low, 1), part)).Int64()
		for n := first; n <= first+2; n++ {
			place := new(big.Rat).Quo(big.NewRat(n, 1), part)
			if place.Cmp(out[0]) > 0 && place.Cmp(big.NewRat(high, 1)) < 0 {
				out = append(out, place)
			}
		}
	}
	slices.SortFunc(out, (*big.Rat).Cmp)
	return out
}
