package calcblocks_test

import (
	"math"
	"math/big"
	"regexp"
	"strconv"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
)

var supplySolvers = []solver{
	{"organic-release", "n", "pan", func(q question) answers {
		return answers{"pan": number(contained(q.plain("n"), supply.ByNitrogen(reference.Default(), 100*q.plain("n"))))}
	}},
	{"organic-release", "n", "share", residueShare},
	{"organic-release", "n", "caution share", residueShare},
	{"organic-release", "availability total", "available", func(q question) answers {
		var out answer
		for i, total := range q.list("total") {
			out.values = append(out.values, rational(contained(total, every(q, "availability")[i])))
		}
		return answers{"available": out}
	}},
	{"organic-release", "material temperature weeks", "released_share_of_organic_n", incubation},
	{"organic-release", "material weeks", "released_share_of_organic_n", weekEight},
	{"organic-release", "n temperature weeks", "released_share_of_organic_n", mealRelease},
	{"organic-release", "temperature weeks", "released_share_of_organic_n", mealRelease},
	{"organic-release", "mass organic_n release", "n", func(q question) answers {
		return answers{"n": in("mass", contained(contained(q.some("mass"), q.plain("organic_n")), q.plain("release")))}
	}},
	{"organic-release", "a k weeks", "released", func(q question) answers {
		return answers{"released": number(q.plain("a") * supply.Released(q.some("k"), q.plain("weeks")))}
	}},
	{"organic-release", "k temperature", "half_life", func(q question) answers {
		return answers{"half_life": number(halfLife(q, q.some("k")))}
	}},
	{"organic-release", "k weeks", "n0_over_nt", func(q question) answers {
		return answers{"n0_over_nt": number(1 / supply.Released(q.some("k"), q.plain("weeks")))}
	}},
	{"organic-release", "days k", "half_life share", func(q question) answers {
		return answers{"half_life": number(halfLife(q, q.some("k"))), "share": number(supply.Released(q.some("k"), q.plain("days")))}
	}},
	{"organic-release", "cups density n release", "available_n mass total_n", func(q question) answers {
		d := q.perVolume("density")
		mass := units.Weigh(q.volume("cups"), units.SomeDensity{Low: d, Typical: d, High: d}).Typical
		n := contained(mass, q.plain("n"))
		return answers{"mass": in("mass", mass), "total_n": in("mass", n), "available_n": in("mass", contained(n, q.plain("release")))}
	}},
}

// every returns all members of an input whose values run in step.
func every(q question, name string) []float64 {
	var out []float64
	for _, text := range q.c.given[name].values {
		out = append(out, float(new(big.Rat).Mul(exact(q.t, text), q.scale(q.c.given[name]).factor)))
	}
	return out
}

// halfLife returns ln 2 / k, when the program has half of a pool out.
func halfLife(q question, k float64) float64 {
	t := math.Ln2 / k
	assert.InDelta(q.t, 0.5, supply.Released(k, t), 1e-12)
	return t
}

func residueShare(q question) answers {
	percent := 100 * q.plain("n")
	out := answers{"share": number(supply.ByNitrogen(reference.Default(), percent)), "caution": ofText("")}
	if out["share"].values[0].Sign() == 0 {
		out["caution"] = ofText("may tie up N")
	}
	return out
}

// incubations names the rows of judging.yaml (release_data) whose first percent is that of 12 weeks.
var incubations = map[string]string{"manure": "manures, 25 C", "manure compost": "manure composts", "plant compost": "plant-residue composts"}

var firstNumber = regexp.MustCompile(`\d+`)

func incubation(q question) answers {
	row, known := incubations[q.text("material")]
	require.True(q.t, known)
	text, ok := reference.Default().Text("judging", "release_data", row, "result")
	require.True(q.t, ok, row)
	percent := sure(strconv.Atoi(firstNumber.FindString(text)))
	return answers{"released_share_of_organic_n": number(float64(percent) / 100)}
}

// tested names the amendments that stand for the meals of the trial.
var tested = map[string]string{"feather meal": "feather-meal", "blood meal": "blood-meal", "fish powder": "fish-meal"}

func weekEight(q question) answers {
	require.InDelta(q.t, 8, q.plain("weeks"), 0)
	a, ok := reference.Default().Amendment(tested[q.text("material")])
	require.True(q.t, ok)
	s := supply.Of(reference.Default(), &garden.Material{ID: a.ID, Name: a.Name, Ref: a}, reference.N, supply.Week8, supply.Celsius)
	return answers{"released_share_of_organic_n": number(s.Value.Typical)}
}

// mealRelease rounds to twelve digits: the curve leads through its bounds.
func mealRelease(q question) answers {
	share := supply.Meal(reference.Default(), q.plain("temperature"), q.plain("weeks"))
	return answers{"released_share_of_organic_n": ratIn("", exact(q.t, strconv.FormatFloat(share, 'g', 12, 64)))}
}
