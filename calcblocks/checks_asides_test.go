package calcblocks_test

import (
	"fmt"
	"math"
	"math/big"
	"strings"

	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/vessel"
)

const (
	noFields    = "the pages reckon for containers, not for fields"
	noMetals    = "the pages judge no metals: they say that a test tells nothing of them"
	noBrackets  = "the pages print grams and millilitres by their own digits, not in brackets as a food label does"
	noLayers    = "the pages take a layer from the shape of its pot"
	noMolarLime = "the pages take a lime's value from its label or the reference, never from a molar mass"
)

// asides are what publications work out and no page does.
var asides = []aside{
	{solver{"factors", "caco3 molecular_weight", "equal_mass neutralising_value", limeByWeight}, noMolarLime},
	{solver{"household-rounding", "mass", "mass", bracketGrams}, noBrackets},
	{solver{"household-rounding", "as_main_unit in_brackets", "as_main_unit in_brackets", labelOunces}, noBrackets},
	{solver{"depth-and-cover", "area depth", "volume", cover("volume")}, noLayers},
	{solver{"depth-and-cover", "area depth", "cubic_feet cubic_yards volume", cover("cubic_feet", "cubic_yards", "volume")}, noLayers},
	{solver{"density", "dry_density material volume water", "mass", wateredMass}, "the weight block takes watered densities from the reference"},
	{solver{"geometry", "circumference wall", "inside_diameter", insideDiameter}, "the pages ask for inside measures"},
	{solver{"containers", "declared sold_as", "cubic_inches verdict", soldAs}, "the pages turn a class into its range, never a volume into a class"},
	{solver{"mix-test", "lime ph_from ph_to", "lime_per_unit", limePerUnit}, "the reading block takes the slope from its author or the reference"},
	{
		solver{
			"organic-release", "available_k2o available_p2o5 k2o n n_availability need_k2o need_n need_p2o5 p2o5 rate",
			"available_n k2o p2o5 still_k2o still_n still_p2o5 surplus_k2o surplus_p2o5 total_n", manureBudget,
		}, noFields,
	},
	{
		solver{
			"organic-release", "k2o k2o_availability n n_availability need_k2o need_n need_p2o5 p2o5 p2o5_availability rate",
			"available_k2o_per_t available_p2o5_per_t k2o p2o5 still_k2o still_n still_p2o5 surplus_k2o total_n", manureBudget,
		}, noFields,
	},
	{
		solver{
			"organic-release", "k2o k2o_availability n n_availability need_k2o need_n need_p2o5 p2o5 p2o5_availability rate",
			"surplus_p2o5", manureBudget,
		}, noFields,
	},
	{solver{"organic-release", "available_n k2o n need_k2o need_p2o5 p2o5 price rate", "later next_crop total_value", manureValue}, noFields},
	{
		solver{
			"organic-release", "k2o k2o_availability n n_availability need_k2o need_n need_p2o5 p2o5 p2o5_availability price rate",
			"total_value", manureValue,
		}, noFields,
	},
	{solver{"organic-release", "at_10_c at_25_c by_material", "mean", meanRelease}, "the pages take the release of a material at a temperature, not a mean of four"},
	{solver{"metals", "p2o5", "cd multiplier pb", metalsOfPhosphate}, noMetals},
	{solver{"metals", "p2o5", "cd pb", metalsOfPhosphate}, noMetals},
	{solver{"metals", "micronutrients", "multiplier pb", metalsOfMicronutrients}, noMetals},
	{
		solver{
			"crop-uptake", "k2o_per_t p2o5_per_t recommended_for recommended_k2o recommended_p2o5 yield",
			"k2o_rate p2o5_surplus removed_k2o removed_p2o5", potatoRemoval,
		}, noFields,
	},
	{solver{"crop-uptake", "a b dry_matter fresh_yield harvest_index", "dry_weight n_content uptake", fieldUptake}, noFields},
	{solver{"crop-uptake", "a b dry_matter fresh_yield harvest_index", "dry_weight n_content", fieldUptake}, noFields},
	{solver{"crop-uptake", "a b dry_matter fresh_yield harvest_index", "n_content", fieldUptake}, noFields},
	{solver{"crop-uptake", "a b dry_matter fresh_yield harvest_index", "uptake", fieldUptake}, noFields},
	{solver{"crop-uptake", "mineralised recovery soil_mineral_n uptake", "need", wantingNitrogen}, noFields},
	{solver{"crop-uptake", "need supplied", "fertiliser", stillWanted}, noFields},
}

// limeByWeight works a table of liming materials from whole molecular weights, calcium carbonate as 100: one unit
// of each takes up as much acid (University of Nebraska, Liming materials, table 4.4).
func limeByWeight(q question) answers {
	value := 100 / q.plain("molecular_weight")
	return answers{"neutralising_value": number(value), "equal_mass": in("mass", bringing(q.some("caco3"), value))}
}

// bracketGrams rounds the figure in brackets behind a household measure: whole grams from 5 up, halves from 2 to
// 5, tenths below 2; the unrounded figure chooses (21 CFR 101.9(b)(7)(ii)).
func bracketGrams(q question) answers {
	grams, steps := q.mass("mass").Rat(), int64(10)
	switch {
	case grams.Cmp(big.NewRat(5, 1)) >= 0:
		steps = 1
	case grams.Cmp(big.NewRat(2, 1)) >= 0:
		steps = 2
	}
	return answers{"mass": ofMass(as(units.Mass{}, stepped(grams, steps)))}
}

// labelOunces rounds ounces of 28 g, the label's own: to halves as the main unit and to tenths in brackets
// (21 CFR 101.9(b)(5)(iii) and (7)(iii)).
func labelOunces(q question) answers {
	ounce := as(units.Mass{}, sure(simple("label oz")).factor)
	round := func(name string, steps int64) answer {
		return ofMass(ounce.Times(stepped(q.mass(name).Over(ounce), steps)))
	}
	return answers{"as_main_unit": round("as_main_unit", 2), "in_brackets": round("in_brackets", 10)}
}

// stepped rounds to the nearest of so many steps in one, a tie up.
func stepped(x *big.Rat, steps int64) *big.Rat {
	scaled := new(big.Rat).Mul(x, big.NewRat(steps, 1))
	scaled.Add(scaled, big.NewRat(1, 2))
	whole := new(big.Int).Div(scaled.Num(), scaled.Denom())
	return new(big.Rat).SetFrac(whole, big.NewInt(steps))
}

// cover answers several outputs with the volume of a layer of even depth.
func cover(outputs ...string) func(question) answers {
	return func(q question) answers {
		out := answers{}
		for _, name := range outputs {
			out[name] = ofVolume(layer(q))
		}
		return out
	}
}

func layer(q question) units.Volume {
	return as(units.Volume{}, new(big.Rat).Mul(q.base("area", "area"), q.base("depth", "length")))
}

// wateredMass adds the water that a mix holds, of 1 g/mL, to its dry weight.
func wateredMass(q question) answers {
	watered := believed(q.perVolume("dry_density") + q.plain("water"))
	return answers{"mass": in("mass", units.Weigh(q.volume("volume"), watered).Typical)}
}

// insideDiameter takes a tape round the outside: circumference / pi - 2 x wall (plane geometry).
func insideDiameter(q question) answers {
	return answers{"inside_diameter": in("length", q.cm("circumference")/math.Pi-2*q.cm("wall"))}
}

// soldAs says where a declared volume stands among the nursery classes.
func soldAs(q question) answers {
	within, below, above := classesOf(q, q.volume("declared").Float())
	verdict := "inside class #" + within
	if sold := strings.TrimPrefix(q.text("sold_as"), "#"); within != sold {
		verdict = fmt.Sprintf("outside the class: below #%s, above #%s", above, below)
	}
	return answers{"cubic_inches": ofVolume(q.volume("declared")), "verdict": ofText(verdict)}
}

// classesOf returns the class that a volume lies in, or else the nearest ones below and above it.
func classesOf(q question, ml float64) (within, below, above string) {
	for _, name := range vessel.ClassNames() {
		v, ok := vessel.OfClass(name)
		require.True(q.t, ok)
		switch low, high := v.FillVolume(); {
		case ml > high:
			below = name
		case ml >= low:
			return name, "", ""
		default:
			return "", below, name
		}
	}
	return "", below, ""
}

func limePerUnit(q question) answers {
	rise := q.plain("ph_to") - q.plain("ph_from")
	return answers{"lime_per_unit": in("mass/volume", q.perVolume("lime")/rise)}
}

func meanRelease(q question) answers {
	sum := 0.0
	for _, x := range every(q, "by_material") {
		sum += x
	}
	return answers{"mean": number(sum / 4)}
}
