package calcblocks_test

import (
	"math"

	"trug/calcblocks/kit/heap"
	"trug/calcblocks/kit/units"
)

var labelSolvers = []solver{
	{"label-and-dose", "analysis wanted_n", "product", func(q question) answers {
		return answers{"product": like(q, "wanted_n", bringing(q.some("wanted_n"), q.list("analysis")[0]))}
	}},
	{"label-and-dose", "analysis product", "k2o n p2o5", func(q question) answers {
		holds := analysed(q, "product", "analysis")
		return answers{"n": holds[0], "p2o5": holds[1], "k2o": holds[2]}
	}},
	{"label-and-dose", "analysis product wanted_k2o wanted_p2o5", "k2o k2o_short p2o5", func(q question) answers {
		holds := analysed(q, "product", "analysis")
		short := beyond(contained(q.some("product"), q.list("analysis")[2]), q.some("wanted_k2o"))
		return answers{"p2o5": holds[1], "k2o": holds[2], "k2o_short": like(q, "product", short)}
	}},
	{"label-and-dose", "blood_availability blood_meal_n bone_availability bone_meal_n", "available_n", func(q question) answers {
		blood := contained(q.some("blood_meal_n"), q.plain("blood_availability"))
		bone := contained(q.some("bone_meal_n"), q.plain("bone_availability"))
		return answers{"available_n": like(q, "bone_meal_n", blood+bone)}
	}},
	{"label-and-dose", "analysis_n months rate", "n n_metric product product_metric", monthlyRate},
	{"label-and-dose", "oxide_factor p p_availability", "available_p2o5", func(q question) answers {
		return answers{"available_p2o5": number(contained(q.plain("p")*q.plain("oxide_factor"), q.plain("p_availability")))}
	}},
	{"label-and-dose", "content", "analysis", func(q question) answers { return answers{"analysis": numbers(q.list("content"))} }},
	{"label-and-dose", "frass n_supplied", "n", func(q question) answers {
		return answers{"n": number(partOf(q.some("n_supplied"), q.some("frass")))}
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
		ratio := heap.Ratio(heap.Item{Weight: heap.Sure(1), Top: heap.Sure(q.plain("c")), Bottom: heap.Sure(q.plain("n"))}).Typical
		const halfOfTheLastDigit = 0.05
		return answers{"ratio_of_the_means": number(ratio), "agrees": ofFlag(math.Abs(ratio-q.plain("printed_mean_of_ratios")) <= halfOfTheLastDigit)}
	}},
}

// like answers a number of base units of the dimension that an input has.
func like(q question, input string, x float64) answer {
	return in(q.scale(q.c.given[input]).dimension, x)
}

// analysed answers what a product brings of each nutrient of an analysis.
func analysed(q question, product, analysis string) []answer {
	var out []answer
	for _, share := range q.list(analysis) {
		out = append(out, like(q, product, contained(q.some(product), share)))
	}
	return out
}

func monthlyRate(q question) answers {
	n := q.perVolume("rate") * q.plain("months")
	product := bringing(n, q.plain("analysis_n"))
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
	bone := analysed(q, "bone_meal", "bone_meal_analysis")
	blood := contained(q.perVolume("blood_meal"), q.plain("blood_meal_n"))
	out["n"] = in("mass/volume", float(bone[0].values[0])+blood)
	out["p2o5"], out["k2o"] = bone[1], bone[2]
	return out
}

// seasonNeed works as the pages do, from what the crop takes up to what must become available and then to the
// nitrogen and the weight of a meal. The page says to split a dose above the cap; in how many parts is said here.
func seasonNeed(q question) answers {
	crop := contained(q.some("fruit"), q.plain("uptake"))
	available := bringing(crop, q.plain("recovery"))
	total := bringing(available, q.plain("availability"))
	meal := bringing(total, q.plain("feather_meal_n"))
	ml := q.volume("volume").Float()
	const roundingOfTheArithmetic = 1e-9
	splits := max(math.Ceil(total/ml/q.perVolume("single_dose_cap")-roundingOfTheArithmetic), 1)
	return answers{
		"crop_n": in("mass", crop), "available_n": in("mass", available), "available_n_rate": in("mass/volume", available/ml),
		"feather_meal": in("mass", meal), "total_n": in("mass", total), "total_n_rate": in("mass/volume", total/ml),
		"over_cap": ofFlag(splits > 1), "splits": number(splits),
		"per_split": in("mass", meal/splits), "n_per_split": in("mass/volume", total/ml/splits),
	}
}
