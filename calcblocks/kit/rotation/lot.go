package rotation

import (
	"slices"

	"trug/calcblocks/kit/diag"
)

// A lot is the mix of one pot with what has happened to it, in whatever pot.
type lot struct {
	stays map[string][]stay // by family, in the order of their beginning
	found []sighting
}

// A stay is one season of a family in a lot: plantings that begin in one year are one.
type stay struct {
	began, last int // years
	crop, pot   string
	at          diag.Position
}

// A sighting is a finding in a lot.
type sighting struct {
	Finding
	year int
	pot  string
	at   diag.Position
}

func newLot() *lot { return &lot{stays: map[string][]stay{}} }

// latest returns the stay of a family that ended last, leaving out the one that began in a year in a pot.
func (l *lot) latest(family, pot string, year int) (stay, bool) {
	var best stay
	for _, s := range l.stays[family] {
		if !(s.began == year && s.pot == pot) && s.last >= best.last {
			best = s
		}
	}
	return best, best.crop != ""
}

// add keeps a stay; of one year and pot the first counts, and of the others the two that ended last are
// enough: nothing asks for older ones.
func (l *lot) add(family string, s stay) {
	have := l.stays[family]
	for i := range have {
		if have[i].began == s.began && have[i].pot == s.pot {
			have[i].last = max(have[i].last, s.last)
			return
		}
	}
	have = append(slices.Clone(have), s)
	slices.SortStableFunc(have, func(a, b stay) int { return a.last - b.last })
	l.stays[family] = have[max(0, len(have)-3):]
}

// grow says that a crop still stood in a year: its family's stay in the pot lasts that long.
func (l *lot) grow(family, pot string, year int) {
	have := l.stays[family]
	for i := len(have) - 1; i >= 0; i-- {
		if have[i].pot == pot && have[i].began <= year {
			have[i].last = max(have[i].last, year)
			return
		}
	}
}

// see keeps a sighting; the same finding in the same pot counts from when it was last seen.
func (l *lot) see(s sighting) {
	i := slices.IndexFunc(l.found, func(have sighting) bool { return have.Name == s.Name && have.pot == s.pot })
	if i < 0 {
		l.found = append(l.found, s)
		return
	}
	if s.year >= l.found[i].year {
		l.found[i] = s
	}
}

// clone returns a lot that changes by itself.
func (l *lot) clone() *lot {
	out := newLot()
	out.take(l)
	return out
}

// take adds the story of another lot: pooled lots carry the worst of the parts (season.md, section 2).
func (l *lot) take(other *lot) {
	for family, stays := range other.stays {
		for _, s := range stays {
			l.add(family, s)
		}
	}
	for _, s := range other.found {
		l.see(s)
	}
}

// unfit returns the sighting that makes the lot unfit for use again: the newest one.
func (l *lot) unfit() (sighting, bool) {
	var out sighting
	for _, s := range l.found {
		if s.Unfit && s.year >= out.year {
			out = s
		}
	}
	return out, out.Name != ""
}
