// Package substitute answers "no kelp? use ...": which amount of another material brings as much of what a
// material was wanted for, and what else comes along or goes missing. It is a pure function of the figures.
package substitute

import (
	"cmp"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
)

// Lime is the purpose of a liming material beside the nutrients: its lime equivalent.
const Lime reference.Nutrient = "lime"

// Purposes lists what may be kept the same.
var Purposes = []reference.Nutrient{reference.N, reference.P2O5, reference.K2O, reference.Ca, reference.Mg, Lime}

// A Worth is what a material holds of what it is wanted for, in parts of its mass: the content that becomes
// available in the season, or percent of pure CaCO3.
type Worth struct {
	Value   units.SomeShare
	Known   bool
	Why     string // why it is not known, or how the available part was found
	Sources []string
}

// Of returns the worth of a material for a purpose: content x the share that is available in a season, in a
// mix of so many C (kit/supply); for lime the lime value.
func Of(lib *reference.Library, m *garden.Material, purpose reference.Nutrient) Worth {
	if purpose == Lime {
		f := m.LimeValue()
		if !f.Known {
			return Worth{Why: "its lime value is not known"}
		}
		return Worth{Value: f.Share(), Known: true, Why: "percent of pure CaCO3", Sources: f.Source}
	}
	content := m.Content(purpose)
	share := supply.Of(lib, m, purpose, supply.Season, supply.Celsius)
	switch {
	case !content.Known:
		return Worth{Why: "how much " + purpose.Name() + " it holds is not known"}
	case content.High == 0:
		return Worth{Known: true, Why: "it holds none", Sources: content.Source}
	case !share.Known:
		return Worth{Why: share.Road}
	}
	value := units.SomeShare(units.Contain(units.Contain(certain(1), content.Share()), share.Value)) // of each gram
	return Worth{Value: value, Known: true, Why: share.Road, Sources: care.Keys(content.Source, share.Sources)}
}

// A Substitute is another material with the mass that brings as much.
type Substitute struct {
	Material   *garden.Material
	InCupboard bool
	Worth      Worth
	Mass       units.SomeMass // g: as much at the typical figures, and with the figures' own ranges
	Effects                   // of the typical mass
}

// Effects is what else changes when a mass of one material takes the place of a mass of another, at the
// typical figures.
type Effects struct {
	Brings   dose.Totals                   // what the new one brings
	Change   map[reference.Nutrient]Change // g that come along (above 0) or go missing (below)
	Lime     Change                        // g of CaCO3
	Salt     Change                        // salt index x g / 100: as g of sodium nitrate
	Cost     Change                        // minor units
	Cautions []*reference.Caution          // of the new one, less those of the old
}

// A Change is what a substitute brings more than the original; not known where either is not.
type Change struct {
	Value   float64
	Known   bool
	Missing []string // the ids that lack the figure
}

// tasks are what a grower does with an amendment.
var tasks = []string{"mixing", "spreading", "watering", "spreading-ash", "liming"}

// For returns what can stand for a mass of a material, for a purpose: the cupboard's materials in its order,
// then those of the reference, lightest first. Materials that do not bring it, or of which that is not known,
// are left out; Left names the latter. Nothing comes back when the original's own worth is not known or not
// above 0.
func For(lib *reference.Library, g *garden.Garden, m *garden.Material, mass units.SomeMass, purpose reference.Nutrient) []Substitute {
	original := Of(lib, m, purpose)
	if !original.Known || original.Value.Typical <= 0 {
		return nil
	}
	var out []Substitute
	for _, other := range others(g, m) {
		if w := Of(lib, other, purpose); w.Known && w.Value.Typical > 0 {
			out = append(out, stand(lib, m, other, mass, original, w))
		}
	}
	slices.SortStableFunc(out, func(a, b Substitute) int {
		switch {
		case a.InCupboard && b.InCupboard:
			return 0
		case a.InCupboard:
			return -1
		case b.InCupboard:
			return 1
		}
		return cmp.Compare(a.Mass.Typical, b.Mass.Typical)
	})
	return out
}

// Left returns the cupboard's materials of which it is not known whether they could stand for another.
func Left(lib *reference.Library, g *garden.Garden, m *garden.Material, purpose reference.Nutrient) []string {
	var out []string
	for _, other := range others(g, m) {
		if other.InCupboard && !Of(lib, other, purpose).Known {
			out = append(out, other.ID)
		}
	}
	return out
}

// others lists the cupboard and then the rest of the reference.
func others(g *garden.Garden, m *garden.Material) []*garden.Material {
	out := slices.Clone(g.Cupboard())
	for _, id := range g.MaterialIDs() {
		if other, ok := g.Material(id); ok && !slices.ContainsFunc(out, func(o *garden.Material) bool { return o.ID == id }) {
			out = append(out, other)
		}
	}
	return slices.DeleteFunc(out, func(o *garden.Material) bool { return o.ID == m.ID })
}

// stand works out one substitute: mass x worth / the other's worth. The range is at the ends of the three;
// a worth whose low end is not above 0 has no upper end, and the typical figure stands there.
func stand(lib *reference.Library, m, other *garden.Material, mass units.SomeMass, original, w Worth) Substitute {
	s := Substitute{Material: other, InCupboard: other.InCupboard, Worth: w}
	s.Mass = equal(mass, original.Value, w.Value)
	s.Effects = Compare(lib, m, mass.Typical, other, s.Mass.Typical)
	return s
}

// Compare works out the effects of so many grams of another material in the place of a material.
func Compare(lib *reference.Library, m *garden.Material, grams float64, other *garden.Material, otherGrams float64) Effects {
	before := dose.Add([]dose.Portion{{Material: m, Mass: certain(grams)}})
	after := dose.Add([]dose.Portion{{Material: other, Mass: certain(otherGrams)}})
	e := Effects{Brings: after, Change: map[reference.Nutrient]Change{}}
	for _, n := range reference.Nutrients {
		e.Change[n] = change(before.Added[n], after.Added[n])
	}
	e.Lime, e.Cost = change(before.Lime, after.Lime), change(before.Cost, after.Cost)
	e.Salt = salt(m, grams, other, otherGrams)
	had := care.Concerning(lib, []*garden.Material{m}, tasks)
	for _, c := range care.Concerning(lib, []*garden.Material{other}, tasks) {
		if !slices.Contains(had, c) {
			e.Cautions = append(e.Cautions, c)
		}
	}
	return e
}

func equal(mass units.SomeMass, original, w units.SomeShare) units.SomeMass {
	out := units.SomeMass{Typical: mass.Typical * original.Typical / w.Typical}
	out.Low = mass.Low * max(original.Low, 0) / w.High
	out.High = out.Typical
	if w.Low > 0 {
		out.High = mass.High * original.High / w.Low
	}
	return out
}

func certain(x float64) units.SomeMass { return units.SomeMass{Low: x, Typical: x, High: x} }

func change[T units.SomeMass | units.SomeMoney](before, after dose.Sum[T]) Change {
	c := Change{Missing: append(slices.Clone(before.Missing), after.Missing...)}
	if c.Known = len(c.Missing) == 0; c.Known {
		c.Value = units.SomeMass(after.Value).Typical - units.SomeMass(before.Value).Typical
	}
	return c
}

// salt compares by salt index, which is defined at equal weights (Rader 1943, from memory).
func salt(m *garden.Material, mass float64, other *garden.Material, otherMass float64) Change {
	var c Change
	for _, x := range []struct {
		m     *garden.Material
		grams float64
	}{{m, -mass}, {other, otherMass}} {
		if f := x.m.SaltIndex(); f.Known {
			c.Value += x.grams * f.Typical / 100
		} else {
			c.Missing = append(c.Missing, x.m.ID)
		}
	}
	c.Known = len(c.Missing) == 0
	return c
}
