package calcblocks_test

import (
	"trug/calcblocks/kit/need"
)

var uptakeSolvers = []solver{
	{
		"crop-uptake", "k2o_per_t p2o5_per_t recommended_for recommended_k2o recommended_p2o5 yield",
		"k2o_rate p2o5_surplus removed_k2o removed_p2o5", potatoRemoval,
	},
	{"crop-uptake", "a b dry_matter fresh_yield harvest_index", "dry_weight n_content uptake", fieldUptake},
	{"crop-uptake", "a b dry_matter fresh_yield harvest_index", "dry_weight n_content", fieldUptake},
	{"crop-uptake", "a b dry_matter fresh_yield harvest_index", "n_content", fieldUptake},
	{"crop-uptake", "a b dry_matter fresh_yield harvest_index", "uptake", fieldUptake},
	{"crop-uptake", "mineralised recovery soil_mineral_n uptake", "need", func(q question) answers {
		given := q.some("mineralised") + q.some("soil_mineral_n")
		return answers{"need": like(q, "uptake", need.Wanting(q.some("uptake"), given, q.plain("recovery")))}
	}},
	{"crop-uptake", "need supplied", "fertiliser", func(q question) answers {
		return answers{"fertiliser": like(q, "need", need.Short(q.some("need"), q.some("supplied")))}
	}},
	{"crop-uptake", "content density depth", "amount", func(q question) answers {
		soil := q.perVolume("density") * q.cm("depth") // g on a square centimetre
		return answers{"amount": in("mass/area", need.Contained(soil, q.plain("content")))}
	}},
	{"crop-uptake", "removal yield", "content", func(q question) answers {
		var all []float64
		for _, nutrient := range q.list("removal") {
			all = append(all, need.Content(nutrient, q.some("yield")))
		}
		return answers{"content": numbers(all)}
	}},
}

// tonnesPerHectare is 1 t/ha in g/cm2, kgPerHectare 1 kg/ha.
const tonnesPerHectare, kgPerHectare = 1e6 / 1e8, 1e3 / 1e8

func fieldUptake(q question) answers {
	dry := need.DryWeight(q.some("fresh_yield")/tonnesPerHectare, q.plain("dry_matter"), q.plain("harvest_index"))
	percent := need.NitrogenContent(dry, q.plain("a"), q.plain("b"))
	return answers{
		"dry_weight": in("mass/area", dry*tonnesPerHectare), "n_content": number(percent / 100),
		"uptake": in("mass/area", need.FieldUptake(dry, percent)*kgPerHectare),
	}
}

// potatoRemoval compares what a crop carries off with a recommendation for a usual yield: potash is raised by what
// the greater yield carries off beyond that one's.
func potatoRemoval(q question) answers {
	p, k := need.Contained(q.some("yield"), q.plain("p2o5_per_t")), need.Contained(q.some("yield"), q.plain("k2o_per_t"))
	usual := need.Contained(q.some("recommended_for"), q.plain("k2o_per_t"))
	return answers{
		"removed_p2o5": like(q, "yield", p), "removed_k2o": like(q, "yield", k),
		"p2o5_surplus": like(q, "yield", need.Beyond(p, q.some("recommended_p2o5"))),
		"k2o_rate":     like(q, "yield", q.some("recommended_k2o")+need.Beyond(usual, k)),
	}
}
