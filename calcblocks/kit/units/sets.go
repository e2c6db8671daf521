package units

import (
	"math/big"
	"slices"
)

// A Set is a set of kitchen measures. Cups and spoons of different sets are different units.
type Set string

// The sets of kitchen measures.
const (
	US         Set = "us"
	Metric     Set = "metric"
	UK         Set = "uk"
	Australian Set = "australian"
	// Label is the set of US food labels: for label-style rounding only, never in a recipe
	// (21 CFR 101.9(b)(5)(viii)).
	Label Set = "label"
)

// Sets lists the sets that a handbook may use.
var Sets = []Set{US, Metric, UK, Australian}

// Cup returns the volume of the set's cup: US 8 fluid ounces of 1/128 gallon (NIST SP 811), metric, UK
// and Australian 250 mL (common kitchen tables; the UK cup from memory), label 240 mL (21 CFR 101.9).
func (s Set) Cup() Volume {
	switch s {
	case US:
		return Exactly[volume](product(usFlOz, rat("8")))
	case Label:
		return Exactly[volume](rat("240"))
	}
	return Exactly[volume](rat("250"))
}

// Tablespoon returns the volume of the set's tablespoon: US 1/2 fluid ounce, Australian 20 mL
// (AS 1325, from memory), else 15 mL.
func (s Set) Tablespoon() Volume {
	switch s {
	case US:
		return Exactly[volume](product(usFlOz, rat("1/2")))
	case Australian:
		return Exactly[volume](rat("20"))
	}
	return Exactly[volume](rat("15"))
}

// Teaspoon returns the volume of the set's teaspoon: US 1/6 fluid ounce, else 5 mL.
func (s Set) Teaspoon() Volume {
	if s == US {
		return Exactly[volume](product(usFlOz, rat("1/6")))
	}
	return Exactly[volume](rat("5"))
}

// FluidOunce returns the volume of the set's fluid ounce and false where the set has none.
func (s Set) FluidOunce() (Volume, bool) {
	switch s {
	case US:
		return Exactly[volume](usFlOz), true
	case UK:
		return Exactly[volume](ukFlOz), true
	case Label:
		return Exactly[volume](rat("30")), true
	}
	return Volume{}, false
}

var (
	cupWords   = []string{"cup", "cups"}
	tbspWords  = []string{"tbsp", "tbsps", "tablespoon", "tablespoons"}
	tspWords   = []string{"tsp", "tsps", "teaspoon", "teaspoons"}
	flOzWords  = []string{"fl oz", "fluid ounce", "fluid ounces"}
	handWords  = []string{"handful", "handfuls"}
	spoonWords = slices.Concat(cupWords, tbspWords, tspWords, flOzWords, handWords)
)

// unit returns the set's own unit for a cup or spoon word. A handful is 1/4 cup (common practice, no
// source).
func (s Set) unit(word string) (Unit, bool) {
	in := func(words []string) bool { return slices.Contains(words, word) }
	var v *big.Rat
	switch {
	case in(cupWords):
		v = s.Cup().Rat()
	case in(tbspWords):
		v = s.Tablespoon().Rat()
	case in(tspWords):
		v = s.Teaspoon().Rat()
	case in(handWords):
		v = product(s.Cup().Rat(), rat("1/4"))
	case in(flOzWords):
		oz, ok := s.FluidOunce()
		return Unit{VolumeUnit, oz.Rat()}, ok
	default:
		return Unit{}, false
	}
	return Unit{VolumeUnit, v}, true
}
