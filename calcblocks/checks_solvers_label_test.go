package calcblocks_test

import (
	"math"

	"trug/calcblocks/kit/need"
	"trug/calcblocks/kit/units"
)

var labelSolvers = []solver{
	{"label-and-dose", "analysis wanted_n", "product", func(q question) answers {
		return answers{"product": like(q, "wanted_n", need.Product(q.some("wanted_n"), q.list("analysis")[0]))}
	}},
	{"label-and-dose", "analysis product", "k2o n p2o5", func(q question) answers {
		holds := contained(q, "product", "analysis")
		return answers{"n": holds[0], "p2o5": holds[1], "k2o": holds[2]}
	}},
	{"label-and-dose", "analysis product wanted_k2o wanted_p2o5", "k2o k2o_short p2o5", func(q question) answers {
		holds := contained(q, "product", "analysis")
		short := need.Short(q.some("wanted_k2o"), need.Contained(q.some("product"), q.list("analysis")[2]))
		return answers{"p2o5": holds[1], "k2o": holds[2], "k2o_short": like(q, "product", short)}
	}},
	{"label-and-dose", "blood_availability blood_meal_n bone_availability bone_meal_n", "available_n", func(q question) answers {
		blood := need.Part{Total: q.some("blood_meal_n"), Available: q.plain("blood_availability")}
		bone := need.Part{Total: q.some("bone_meal_n"), Available: q.plain("bone_availability")}
		return answers{"available_n": like(q, "bone_meal_n", need.Available(blood, bone))}
	}},
	{"label-and-dose", "analysis_n months rate", "n n_metric product product_metric", monthlyRate},
	{"label-and-dose", "oxide_factor p p_availability", "available_p2o5", func(q question) answers {
		p2o5 := need.Part{Total: q.plain("p") * q.plain("oxide_factor"), Available: q.plain("p_availability")}
		return answers{"available_p2o5": number(need.Available(p2o5))}
	}},
	{"label-and-dose", "content", "analysis", func(q question) answers { return answers{"analysis": numbers(q.list("content"))} }},
	{"label-and-dose", "frass n_supplied", "n", func(q question) answers {
		return answers{"n": number(need.Content(q.some("n_supplied"), q.some("frass")))}
	}},
	{"label-and-dose", "blood_meal blood_meal_n bone_meal bone_meal_analysis limestone", "blood_meal bone_meal k2o limestone n p2o5", mealMix},
	{"label-and-dose", "amounts mix", "dose mix_volume", func(q question) answers {
		amount := sure(units.Parser{Set: units.US}.Amount(q.text("amounts")))
		mix := q.volume("mix")
		return answers{"mix_volume": ofVolume(mix), "dose": ratIn("", amount.Low.Volume.Over(mix))}
	}},
	{
		"label-and-dose", "availability feather_meal_n fruit recovery single_dose_cap uptake volume",
		"available_n available_n_rate crop_n feather_meal n_per_split over_cap per_split splits total_n total_n_rate", seasonNeed,
	},
	{"label-and-dose", "c n printed_mean_of_ratios", "agrees ratio_of_the_means", func(q question) answers {
		ratio := need.CarbonToNitrogen(q.plain("c"), q.plain("n"))
		const halfOfTheLastDigit = 0.05
		return answers{"ratio_of_the_means": number(ratio), "agrees": ofFlag(math.Abs(ratio-q.plain("printed_mean_of_ratios")) <= halfOfTheLastDigit)}
	}},
}

// like answers a number of base units of the dimension that an input has.
func like(q question, input string, x float64) answer {
	return in(q.scale(q.c.given[input]).dimension, x)
}

// contained answers what a product brings of each nutrient of an analysis.
func contained(q question, product, analysis string) []answer {
	var out []answer
	for _, share := range q.list(analysis) {
		out = append(out, like(q, product, need.Contained(q.some(product), share)))
	}
	return out
}

func monthlyRate(q question) answers {
	n := q.perVolume("rate") * q.plain("months")
	product := need.Product(n, q.plain("analysis_n"))
	return answers{
		"n": in("mass/volume", n), "n_metric": in("mass/volume", n),
		"product": in("mass/volume", product), "product_metric": in("mass/volume", product),
	}
}

func mealMix(q question) answers {
	out := answers{}
	for _, name := range []string{"blood_meal", "bone_meal", "limestone"} {
		out[name] = in("mass/volume", q.perVolume(name))
	}
	bone := contained(q, "bone_meal", "bone_meal_analysis")
	blood := need.Contained(q.perVolume("blood_meal"), q.plain("blood_meal_n"))
	out["n"] = in("mass/volume", float(bone[0].values[0])+blood)
	out["p2o5"], out["k2o"] = bone[1], bone[2]
	return out
}

func seasonNeed(q question) answers {
	s := need.OfSeason(q.some("fruit")/1000, q.plain("uptake")*1000, q.plain("recovery"), q.plain("feather_meal_n"), q.plain("availability"))
	ml := q.volume("volume").Float()
	splits := need.Splits(s.Total/ml, q.perVolume("single_dose_cap"))
	return answers{
		"crop_n": in("mass", s.Crop), "available_n": in("mass", s.Available), "available_n_rate": in("mass/volume", s.Available/ml),
		"feather_meal": in("mass", s.Product), "total_n": in("mass", s.Total), "total_n_rate": in("mass/volume", s.Total/ml),
		"over_cap": ofFlag(splits > 1), "splits": number(float64(splits)),
		"per_split": in("mass", s.Product/float64(splits)), "n_per_split": in("mass/volume", s.Total/ml/float64(splits)),
	}
}
