package calcblocks_test

import (
	"math/big"
	"regexp"
	"strconv"

	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/metals"
	"trug/calcblocks/kit/need"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
)

var supplySolvers = []solver{
	{
		"organic-release", "available_k2o available_p2o5 k2o n n_availability need_k2o need_n need_p2o5 p2o5 rate",
		"available_n k2o p2o5 still_k2o still_n still_p2o5 surplus_k2o surplus_p2o5 total_n", manureBudget,
	},
	{
		"organic-release", "k2o k2o_availability n n_availability need_k2o need_n need_p2o5 p2o5 p2o5_availability rate",
		"available_k2o_per_t available_p2o5_per_t k2o p2o5 still_k2o still_n still_p2o5 surplus_k2o total_n", manureBudget,
	},
	{
		"organic-release", "k2o k2o_availability n n_availability need_k2o need_n need_p2o5 p2o5 p2o5_availability rate",
		"surplus_p2o5", manureBudget,
	},
	{"organic-release", "available_n k2o n need_k2o need_p2o5 p2o5 price rate", "later next_crop total_value", manureValue},
	{
		"organic-release", "k2o k2o_availability n n_availability need_k2o need_n need_p2o5 p2o5 p2o5_availability price rate",
		"total_value", manureValue,
	},
	{"organic-release", "n", "pan", func(q question) answers {
		return answers{"pan": number(supply.PoundsPerTon(reference.Default(), 100*q.plain("n")) / 2000)}
	}},
	{"organic-release", "n", "share", residueShare},
	{"organic-release", "n", "caution share", residueShare},
	{"organic-release", "availability total", "available", func(q question) answers {
		var out answer
		for i, total := range q.list("total") {
			out.values = append(out.values, rational(need.Available(need.Part{Total: total, Available: every(q, "availability")[i]})))
		}
		return answers{"available": out}
	}},
	{"organic-release", "material temperature weeks", "released_share_of_organic_n", incubation},
	{"organic-release", "material weeks", "released_share_of_organic_n", weekEight},
	{"organic-release", "n temperature weeks", "released_share_of_organic_n", mealRelease},
	{"organic-release", "temperature weeks", "released_share_of_organic_n", mealRelease},
	{"organic-release", "at_10_c at_25_c by_material", "mean", func(q question) answers {
		sum := 0.0
		for _, x := range every(q, "by_material") {
			sum += x
		}
		return answers{"mean": number(sum / 4)}
	}},
	{"organic-release", "mass organic_n release", "n", func(q question) answers {
		n := need.Part{Total: need.Contained(q.some("mass"), q.plain("organic_n")), Available: q.plain("release")}
		return answers{"n": in("mass", need.Available(n))}
	}},
	{"organic-release", "a k weeks", "released", func(q question) answers {
		return answers{"released": number(q.plain("a") * supply.Released(q.some("k"), q.plain("weeks")))}
	}},
	{"organic-release", "k temperature", "half_life", func(q question) answers {
		return answers{"half_life": number(supply.HalfLife(q.some("k")))}
	}},
	{"organic-release", "k weeks", "n0_over_nt", func(q question) answers {
		return answers{"n0_over_nt": number(1 / supply.Released(q.some("k"), q.plain("weeks")))}
	}},
	{"organic-release", "days k", "half_life share", func(q question) answers {
		return answers{"half_life": number(supply.HalfLife(q.some("k"))), "share": number(supply.Released(q.some("k"), q.plain("days")))}
	}},
	{"organic-release", "cups density n release", "available_n mass total_n", func(q question) answers {
		d := q.perVolume("density")
		mass := units.Weigh(q.volume("cups"), units.SomeDensity{Low: d, Typical: d, High: d}).Typical
		n := need.Contained(mass, q.plain("n"))
		return answers{"mass": in("mass", mass), "total_n": in("mass", n), "available_n": in("mass", need.Contained(n, q.plain("release")))}
	}},
	{"metals", "p2o5", "cd multiplier pb", metalsOfPhosphate},
	{"metals", "p2o5", "cd pb", metalsOfPhosphate},
	{"metals", "micronutrients", "multiplier pb", func(q question) answers {
		times, lead, ok := metals.OfMicronutrients(metals.Lead, 100*q.plain("micronutrients"))
		require.True(q.t, ok)
		return answers{"multiplier": number(times), "pb": number(lead / 1e6)}
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

// manureBudget credits all phosphate and potash, as the print does, and of the nitrogen what is available.
func manureBudget(q question) answers {
	out := answers{}
	rate := q.some("rate")
	put := func(name string, x float64) { out[name] = like(q, "rate", x) }
	n := need.Contained(rate, q.plain("n"))
	available := need.Available(need.Part{Total: n, Available: q.plain("n_availability")})
	put("total_n", n)
	put("available_n", available)
	put("still_n", need.Short(q.some("need_n"), available))
	for _, name := range []string{"p2o5", "k2o"} {
		got := need.Contained(rate, q.plain(name))
		put(name, got)
		put("still_"+name, need.Short(q.some("need_"+name), got))
		put("surplus_"+name, need.Beyond(q.some("need_"+name), got))
		if _, ok := q.c.given[name+"_availability"]; ok {
			out["available_"+name+"_per_t"] = number(need.Contained(q.plain(name), q.plain(name+"_availability")))
		}
	}
	return out
}

// manureValue prices what is available of the nitrogen and all phosphate and potash; what the next crop does not
// need is worth something later.
func manureValue(q question) answers {
	rate, price := q.some("rate"), q.some("price")
	n := 0.0
	if _, ok := q.c.given["available_n"]; ok {
		n = q.some("available_n")
	} else {
		n = need.Available(need.Part{Total: need.Contained(rate, q.plain("n")), Available: q.plain("n_availability")})
	}
	p, k := need.Contained(rate, q.plain("p2o5")), need.Contained(rate, q.plain("k2o"))
	later := need.Beyond(q.some("need_p2o5"), p) + need.Beyond(q.some("need_k2o"), k)
	perArea := func(x float64) answer { return in(q.scale(q.c.expect["total_value"]).dimension, x*price) }
	return answers{"total_value": perArea(n + p + k), "later": perArea(later), "next_crop": perArea(n + p + k - later)}
}

func residueShare(q question) answers {
	percent := 100 * q.plain("n")
	out := answers{"share": number(supply.ByNitrogen(reference.Default(), percent)), "caution": ofText("")}
	if supply.TiesUp(percent) {
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

func metalsOfPhosphate(q question) answers {
	times, cadmium, ok := metals.OfPhosphate(metals.Cadmium, 100*q.plain("p2o5"))
	_, lead, known := metals.OfPhosphate(metals.Lead, 100*q.plain("p2o5"))
	require.True(q.t, ok && known)
	return answers{"multiplier": number(times), "cd": number(cadmium / 1e6), "pb": number(lead / 1e6)}
}
