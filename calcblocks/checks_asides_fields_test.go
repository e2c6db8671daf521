package calcblocks_test

import "math"

// manureBudget credits all phosphate and potash, as the print does, and of the nitrogen what is available.
func manureBudget(q question) answers {
	out := answers{}
	rate := q.some("rate")
	put := func(name string, x float64) { out[name] = like(q, "rate", x) }
	n := contained(rate, q.plain("n"))
	available := contained(n, q.plain("n_availability"))
	put("total_n", n)
	put("available_n", available)
	put("still_n", beyond(available, q.some("need_n")))
	for _, name := range []string{"p2o5", "k2o"} {
		got, need := contained(rate, q.plain(name)), q.some("need_"+name)
		put(name, got)
		put("still_"+name, beyond(got, need))
		put("surplus_"+name, beyond(need, got))
		if _, ok := q.c.given[name+"_availability"]; ok {
			out["available_"+name+"_per_t"] = number(contained(q.plain(name), q.plain(name+"_availability")))
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
		n = contained(contained(rate, q.plain("n")), q.plain("n_availability"))
	}
	p, k := contained(rate, q.plain("p2o5")), contained(rate, q.plain("k2o"))
	later := beyond(q.some("need_p2o5"), p) + beyond(q.some("need_k2o"), k)
	perArea := func(x float64) answer { return in(q.scale(q.c.expect["total_value"]).dimension, x*price) }
	return answers{"total_value": perArea(n + p + k), "later": perArea(later), "next_crop": perArea(n + p + k - later)}
}

// tonnesPerHectare is 1 t/ha in g/cm2, kgPerHectare 1 kg/ha.
const tonnesPerHectare, kgPerHectare = 1e6 / 1e8, 1e3 / 1e8

// fieldUptake is what whole plants hold, after rb209-6 (table 6.27): the dry plant from the fresh yield, its
// percent of nitrogen, a (1 + b exp(-0.26 W)) of W t/ha, which falls as plants grow, and kg/ha of nitrogen.
func fieldUptake(q question) answers {
	dry := q.some("fresh_yield") / tonnesPerHectare * q.plain("dry_matter") / q.plain("harvest_index")
	percent := q.plain("a") * (1 + q.plain("b")*math.Exp(-0.26*dry))
	return answers{
		"dry_weight": in("mass/area", dry*tonnesPerHectare), "n_content": number(percent / 100),
		"uptake": in("mass/area", 10*dry*percent*kgPerHectare),
	}
}

// wantingNitrogen is what a crop needs beside what the ground gives: (uptake - given) / recovery. The form that
// rb209-6 prints has signs that would let the ground's nitrogen raise the need.
func wantingNitrogen(q question) answers {
	given := q.some("mineralised") + q.some("soil_mineral_n")
	return answers{"need": like(q, "uptake", bringing(beyond(given, q.some("uptake")), q.plain("recovery")))}
}

func stillWanted(q question) answers {
	return answers{"fertiliser": like(q, "need", beyond(q.some("supplied"), q.some("need")))}
}

// potatoRemoval compares what a crop carries off with a recommendation for a usual yield: potash is raised by what
// the greater yield carries off beyond that one's.
func potatoRemoval(q question) answers {
	p, k := contained(q.some("yield"), q.plain("p2o5_per_t")), contained(q.some("yield"), q.plain("k2o_per_t"))
	usual := contained(q.some("recommended_for"), q.plain("k2o_per_t"))
	return answers{
		"removed_p2o5": like(q, "yield", p), "removed_k2o": like(q, "yield", k),
		"p2o5_surplus": like(q, "yield", beyond(p, q.some("recommended_p2o5"))),
		"k2o_rate":     like(q, "yield", q.some("recommended_k2o")+beyond(usual, k)),
	}
}

// The limits of maine-fertiliser-rule (01-001 CMR 350, section 8), mg/kg of product for each 1 % that it
// guarantees, and the least percent that counts.
const (
	cadmiumPerPhosphate, leadPerPhosphate, leastPhosphate = 10.0, 61.0, 6.0
	leadPerMicronutrient, leastMicronutrient              = 463.0, 1.0
)

func metalsOfPhosphate(q question) answers {
	times := max(100*q.plain("p2o5"), leastPhosphate)
	return answers{"multiplier": number(times), "cd": number(cadmiumPerPhosphate * times / 1e6), "pb": number(leadPerPhosphate * times / 1e6)}
}

func metalsOfMicronutrients(q question) answers {
	times := max(100*q.plain("micronutrients"), leastMicronutrient)
	return answers{"multiplier": number(times), "pb": number(leadPerMicronutrient * times / 1e6)}
}
