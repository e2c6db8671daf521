// Package need is what a crop needs of each nutrient over a season, and how much of it by which week.
package need

import (
	"slices"

	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// Nutrients lists those for which crops have an uptake, in the order of a label.
var Nutrients = []reference.Nutrient{reference.N, reference.P2O5, reference.K2O, reference.Ca, reference.Mg}

// A Band is what plants need of one nutrient over a season, in g that must become available.
type Band struct {
	Nutrient reference.Nutrient
	Need     units.SomeMass // g
	Uptake   units.SomeMass // g that the crop holds at the end
	PerKg    reference.Figure
	Yield    units.SomeMass // g a plant
	Known    bool
	Why      string   // why it is not known
	Sources  []string // keys of the bibliography
}

// Bands returns what so many plants need of each of Nutrients: uptake x yield x plants / recovery
// (nutrition.md, section 3). The recovery is that of nitrogen, rb209-6, and stands in for the others. Of
// phosphate at most 1.5 times the uptake is wanted (section 7), since a mix holds little of it. yield is g
// a plant; the zero yield takes the crop's own figure. Each band is in proportion to the plants.
func Bands(lib *reference.Library, crop *reference.Crop, plants float64, yield units.SomeMass) []Band {
	out := make([]Band, len(Nutrients))
	for i, n := range Nutrients {
		out[i] = band(lib, crop, n, plants, yield)
	}
	return out
}

func band(lib *reference.Library, crop *reference.Crop, n reference.Nutrient, plants float64, yield units.SomeMass) Band {
	b := Band{Nutrient: n, PerKg: crop.Uptake[n], Yield: yield}
	switch {
	case !b.PerKg.Known:
		b.Why = "no uptake of " + n.Name() + " is known for it"
		return b
	case yield.Typical == 0 && !crop.Yield.Known:
		b.Why = "no yield is known for it: write yours"
		return b
	case yield.Typical == 0:
		b.Yield = units.SomeMass{Low: crop.Yield.Low * 1000, Typical: crop.Yield.Typical * 1000, High: crop.Yield.High * 1000}
		b.Sources = crop.Yield.Source
	}
	recovery := Recovery(lib)
	perKg := units.SomeShare{Low: b.PerKg.Low / 1000, Typical: b.PerKg.Typical / 1000, High: b.PerKg.High / 1000}
	b.Known = true
	b.Uptake = units.Contain(b.Yield, perKg).Scale(plants)
	b.Need = units.Recover(b.Uptake, units.SomeShare{Low: recovery.Low, Typical: recovery.Typical, High: recovery.High})
	b.Sources = keys(b.Sources, b.PerKg.Source, recovery.Source)
	if n == reference.P2O5 {
		most := MostPhosphate(lib)
		b.Need = atMost(b.Need, b.Uptake.Scale(most.Typical))
		b.Sources = keys(b.Sources, most.Source)
	}
	return b
}

// Recovery returns the share of what becomes available that a container crop takes up, 0.6 of nitrogen.
func Recovery(lib *reference.Library) reference.Figure {
	return lib.Must("judging", "nitrogen_targets", "recovery")
}

// MostPhosphate returns how many times its uptake a crop's season may have of available phosphate: 1.5.
func MostPhosphate(lib *reference.Library) reference.Figure {
	return lib.Must("judging", "phosphorus", "season_available_p2o5_max_times_uptake")
}

func atMost(m, limit units.SomeMass) units.SomeMass {
	return units.SomeMass{Low: min(m.Low, limit.Low), Typical: min(m.Typical, limit.Typical), High: min(m.High, limit.High)}
}

func keys(lists ...[]string) []string {
	out := slices.Concat(lists...)
	slices.Sort(out)
	return slices.Compact(out)
}

// A Class is what feeders of one kind get of available nitrogen over a season, g per litre of mix.
type Class struct {
	Name               string // light, medium, heavy
	Low, Typical, High float64
	Sources            []string
}

// ClassOf returns the class of a crop, for a check of the need and for crops whose need is not known
// (judging.yaml, nitrogen_targets). The edges are those between the classes; heavy ends at the top of its
// published range and light begins at half of its target (this program's own choice).
func ClassOf(lib *reference.Library, crop *reference.Crop) (Class, bool) {
	at := func(path ...string) reference.Figure {
		return lib.Must("judging", append([]string{"nitrogen_targets"}, path...)...)
	}
	target, ok := lib.At("judging", "nitrogen_targets", crop.Feeder, "g_per_l")
	if !ok {
		return Class{}, false
	}
	c := Class{Name: crop.Feeder, Typical: target.Typical, Sources: target.Source}
	switch crop.Feeder {
	case "light":
		c.Low, c.High = target.Typical/2, at("classes_by_need", "light_below").Typical
	case "medium":
		medium := at("classes_by_need", "medium")
		c.Low, c.High = medium.Low, medium.High
	default:
		c.Low, c.High = at("classes_by_need", "heavy_above").Typical, at("heavy", "range").High
	}
	return c, true
}
