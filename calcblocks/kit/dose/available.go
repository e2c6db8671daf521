package dose

import (
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
)

// Available returns the mass of a nutrient in portions that a crop can take up by a time, in a mix of so many
// C: mass x content x share, summed bound to bound. A tie-up counts against it. A material whose content or
// share is not known is missing.
func Available(lib *reference.Library, portions []Portion, n reference.Nutrient, at supply.When, celsius float64) Sum[units.SomeMass] {
	return sumOf(portions, n, func(p Portion) supply.Share { return supply.Of(lib, p.Material, n, at, celsius) })
}

// Released returns the nitrogen that portions have made available by the end of each week, from week 0 on.
func Released(lib *reference.Library, portions []Portion, celsius float64, weeks int) []Sum[units.SomeMass] {
	curves := map[string][]supply.Share{}
	for _, p := range portions {
		curves[p.Material.ID] = supply.Curve(lib, p.Material, celsius, weeks)
	}
	out := make([]Sum[units.SomeMass], weeks+1)
	for w := range out {
		out[w] = sumOf(portions, reference.N, func(p Portion) supply.Share { return curves[p.Material.ID][w] })
	}
	return out
}

// sumOf adds up the shares of a nutrient.
func sumOf(portions []Portion, n reference.Nutrient, share func(Portion) supply.Share) Sum[units.SomeMass] {
	s := Sum[units.SomeMass]{Sources: make([]string, 0, usualSources*len(portions))}
	for _, p := range portions {
		content := p.Material.Content(n)
		if content.Known && content.High == 0 {
			s.Known = true // it brings nothing, whatever its share
			continue
		}
		part := share(p)
		if !content.Known || !part.Known {
			s.Missing = append(s.Missing, p.Material.ID)
			continue
		}
		s.Known = true
		s.Value = s.Value.Add(units.Contain(units.Contain(p.Mass, content.Share()), part.Value))
		s.Sources = append(append(s.Sources, content.Source...), part.Sources...)
	}
	return s
}
