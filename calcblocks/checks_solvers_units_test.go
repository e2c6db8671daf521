package calcblocks_test

import (
	"math/big"

	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/units"
)

// same answers outputs with an input unchanged: the units of both sides do the work.
func same(input string, outputs ...string) func(question) answers {
	return func(q question) answers {
		out := answers{}
		for _, name := range outputs {
			s := q.scale(q.c.given[input])
			out[name] = ratIn(s.dimension, q.base(input, s.dimension))
		}
		return out
	}
}

// labelMeasures answers the measures of a food label.
func labelMeasures(q question) answers {
	out := answers{"ounce": ofMass(q.mass("ounce"))}
	for _, name := range []string{"teaspoon", "tablespoon", "cup", "fluid_ounce"} {
		out[name] = ofVolume(q.volume(name))
	}
	return out
}

var unitSolvers = []solver{
	{"units", "amount", "volume", same("amount", "volume")},
	{"units", "amount", "mass", same("amount", "mass")},
	{"units", "amount", "area", same("amount", "area")},
	{"units", "amount", "dry_gallons liquid_gallons", same("amount", "dry_gallons", "liquid_gallons")},
	{"units", "amount", "tablespoons teaspoons", same("amount", "tablespoons", "teaspoons")},
	{"units", "declared", "volume", same("declared", "volume")},
	{"units", "content", "content", same("content", "content")},
	{"units", "load", "load", same("load", "load")},
	{"units", "load", "mass_per_area pressure", loadAsMass},
	{"units", "cup fluid_ounce ounce tablespoon teaspoon", "cup fluid_ounce ounce tablespoon teaspoon", labelMeasures},

	{"household-rounding", "amount", "measure teaspoons", householdMeasure},
	{"household-rounding", "amount", "rounding_error", householdError},
	{"household-rounding", "cup fluid_ounce ounce tablespoon teaspoon", "cup fluid_ounce ounce tablespoon teaspoon", labelMeasures},
}

// loadAsMass reads a load in lb/ft2 as a pressure, and as the pounds that lie on the square foot.
func loadAsMass(q question) answers {
	pounds, feet := sure(simple("lb")), sure(simple("ft2"))
	mass := new(big.Rat).Mul(exact(q.t, q.raw("load")), pounds.over(feet).factor)
	return answers{
		"pressure":      ratIn("pressure", q.base("load", "pressure")),
		"mass_per_area": ratIn("mass/area", mass),
	}
}

func household(q question) measure.Measure {
	return measure.Nearest(q.volume("amount"), units.Label, measure.Household)
}

func householdMeasure(q question) answers {
	m := household(q)
	return answers{"measure": ofText(m.Text), "teaspoons": ofVolume(m.Volume)}
}

func householdError(q question) answers {
	return answers{"rounding_error": number(household(q).Error / 100)}
}
