// Package dose is the pure calculation of a set of amendments in a volume of mix: what they bring, what
// they cost, how they move pH and salt. A sum that lacks a figure names what lacks it; nothing unknown
// counts as zero.
package dose

import (
	"math"
	"slices"

	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// A Portion is a mass of one material.
type Portion struct {
	Material *garden.Material
	Mass     units.SomeMass
}

// A Sum is a total with the ids of the materials that lack the figure and are left out of it. Known says
// whether any material had the figure.
type Sum[T any] struct {
	Value   T
	Known   bool
	Missing []string
	Sources []string
}

// Money returns a cost in the currency's main unit, rounded to whole minor units once, at the end.
func Money(s Sum[units.SomeMoney]) float64 { return math.Round(s.Value.Typical) / 100 }

// Totals is what a set of portions adds up to.
type Totals struct {
	Mass  units.SomeMass
	Added map[reference.Nutrient]Sum[units.SomeMass] // g; P2O5 and K2O as available, as labels state them
	CToN  Sum[units.SomeShare]                       // carbon to nitrogen by mass
	Lime  Sum[units.SomeMass]                        // g of CaCO3; negative = acid-forming
	Cost  Sum[units.SomeMoney]                       // minor units
}

// Add adds up portions.
func Add(portions []Portion) Totals {
	t := Totals{Added: map[reference.Nutrient]Sum[units.SomeMass]{}}
	for _, p := range portions {
		t.Mass = t.Mass.Add(p.Mass)
	}
	for _, n := range reference.Nutrients {
		t.Added[n] = Nutrient(portions, n)
	}
	t.CToN = carbonToNitrogen(portions)
	t.Lime = contents(portions, (*garden.Material).LimeValue)
	t.Cost = cost(portions)
	return t
}

// Nutrient returns the mass of a nutrient in portions: mass x percent / 100, bound to bound.
func Nutrient(portions []Portion, n reference.Nutrient) Sum[units.SomeMass] {
	return contents(portions, func(m *garden.Material) reference.Figure { return m.Content(n) })
}

// usualSources is how many sources a material's figures have at most, as a rule.
const usualSources = 3

func contents(portions []Portion, content func(*garden.Material) reference.Figure) Sum[units.SomeMass] {
	s := Sum[units.SomeMass]{Sources: make([]string, 0, usualSources*len(portions))}
	for _, p := range portions {
		f := content(p.Material)
		if !f.Known {
			s.Missing = append(s.Missing, p.Material.ID)
			continue
		}
		s.Known = true
		s.Value = s.Value.Add(units.Contain(p.Mass, f.Share()))
		s.Sources = append(s.Sources, f.Source...)
	}
	return s
}

func cost(portions []Portion) Sum[units.SomeMoney] {
	s := Sum[units.SomeMoney]{Missing: []string{}}
	for _, p := range portions {
		c, ok := p.Material.Price(p.Mass)
		if !ok {
			s.Missing = append(s.Missing, p.Material.ID)
			continue
		}
		s.Known = true
		s.Value = s.Value.Add(c)
	}
	return s
}

// nitrogenIn is a material's nitrogen with its ratio of carbon to nitrogen.
type nitrogenIn struct{ n, ratio [3]float64 } // low, typical, high

// carbonToNitrogen returns sum(N x ratio) / sum(N), a mean of ratios weighted by nitrogen. Materials
// without nitrogen bring none of either and do not count; nor does one that usually has none and whose
// ratio nobody gives.
func carbonToNitrogen(portions []Portion) Sum[units.SomeShare] {
	var s Sum[units.SomeShare]
	var parts []nitrogenIn
	for _, p := range portions {
		n, ratio := p.Material.Content(reference.N), p.Material.CToN()
		if n.Known && (n.High == 0 || n.Typical == 0 && !ratio.Known) {
			continue
		}
		if !n.Known || !ratio.Known {
			s.Missing = append(s.Missing, p.Material.ID)
			continue
		}
		mass := units.Contain(p.Mass, n.Share())
		parts = append(parts, nitrogenIn{
			[3]float64{mass.Low, mass.Typical, mass.High}, [3]float64{ratio.Low, ratio.Typical, ratio.High},
		})
		s.Sources = append(s.Sources, ratio.Source...)
	}
	if len(parts) == 0 || len(s.Missing) > 0 {
		return s
	}
	s.Known = true
	s.Value = units.SomeShare{
		Low: extremeRatio(parts, 0), Typical: weighted(parts, 1, func(p nitrogenIn) float64 { return p.n[1] }), High: extremeRatio(parts, 2),
	}
	return s
}

// weighted returns the mean of the ratios at one end, weighted by nitrogen.
func weighted(parts []nitrogenIn, end int, n func(nitrogenIn) float64) float64 {
	carbon, nitrogen := 0.0, 0.0
	for _, p := range parts {
		carbon += n(p) * p.ratio[end]
		nitrogen += n(p)
	}
	return carbon / nitrogen
}

// extremeRatio returns the least (end 0) or greatest (end 2) weighted mean. It rises in each ratio; in
// each nitrogen it rises where that ratio is above the mean, so at the extreme the nitrogen of the
// materials on one side of a threshold stands at one end and the rest at the other: every threshold is
// tried.
func extremeRatio(parts []nitrogenIn, end int) float64 {
	sorted := slices.Clone(parts)
	slices.SortStableFunc(sorted, func(a, b nitrogenIn) int {
		if a.ratio[end] < b.ratio[end] {
			return -1
		}
		return 1
	})
	best := weighted(sorted, end, func(p nitrogenIn) float64 { return p.n[1] })
	for cut := range len(sorted) + 1 {
		carbon, nitrogen := 0.0, 0.0
		for i, p := range sorted {
			n := p.n[0]
			if (i < cut) == (end == 0) {
				n = p.n[2]
			}
			carbon += n * p.ratio[end]
			nitrogen += n
		}
		if nitrogen == 0 {
			continue
		}
		if r := carbon / nitrogen; (end == 0) == (r < best) {
			best = r
		}
	}
	return best
}
