package calcblocks_test

var uptakeSolvers = []solver{
	{"crop-uptake", "content density depth", "amount", func(q question) answers {
		soil := q.perVolume("density") * q.cm("depth") // g on a square centimetre
		return answers{"amount": in("mass/area", contained(soil, q.plain("content")))}
	}},
	{"crop-uptake", "removal yield", "content", func(q question) answers {
		var all []float64
		for _, nutrient := range q.list("removal") {
			all = append(all, partOf(nutrient, q.some("yield")))
		}
		return answers{"content": numbers(all)}
	}},
}
