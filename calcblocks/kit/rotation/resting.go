package rotation

import (
	"slices"
	"strings"

	"trug/calcblocks/kit/diag"
)

// Resting is a family that a pot's mix rests from, or a finding in that mix.
type Resting struct {
	Family, Name string // id and name of the family
	Crop         string // what grew last; "" for a finding
	Finding      Finding
	Pot          string // where: another pot when its old mix came here
	Year         int    // the last one
	Rest         Rest
	At           diag.Position
}

// FreeIn returns the first year in which the family may come back; ok is false when waiting is not enough or
// no interval is published.
func (r Resting) FreeIn() (year int, ok bool) {
	return r.Year + int(r.Rest.Years), r.Rest.Known && !r.Rest.Never && !r.Finding.Unfit
}

// Resting returns what the mix of a pot rests from after all that was followed: families by name, then
// findings in the order in which they were made.
func (c *Course) Resting(pot string) []Resting {
	l := c.lots[pot]
	if l == nil {
		return nil
	}
	var out []Resting
	for _, f := range c.lib.Families {
		if s, ok := l.latest(f.ID, "", 0); ok {
			out = append(out, Resting{Family: f.ID, Name: f.Name, Crop: s.crop, Pot: s.pot, Year: s.last, Rest: AfterFamily(f), At: s.at})
		}
	}
	slices.SortStableFunc(out, func(a, b Resting) int { return strings.Compare(a.Name, b.Name) })
	for _, s := range l.found {
		r := Resting{Finding: s.Finding, Pot: s.pot, Year: s.year, At: s.at}
		for _, f := range c.lib.Families {
			r.Rest = r.Rest.orLonger(AfterDisease(f, s.Name))
		}
		out = append(out, r)
	}
	return out
}
