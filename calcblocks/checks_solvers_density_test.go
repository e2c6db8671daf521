package calcblocks_test

import "trug/calcblocks/kit/units"

var densitySolvers = []solver{
	{"density", "mass measure", "density per_cup", func(q question) answers {
		return densityAnd(q, units.Density(q.mass("mass"), q.volume("measure")))
	}},
	{"density", "bulk_density", "density per_cup", func(q question) answers {
		return densityAnd(q, believed(q.perVolume("bulk_density")))
	}},
	{"density", "bulk_density", "per_cup", func(q question) answers {
		return densityAnd(q, believed(q.perVolume("bulk_density")))
	}},
	{"density", "commodity feed_table pint_weight", "from_commodity from_pint", func(q question) answers {
		return answers{"from_commodity": in("mass/volume", q.perVolume("commodity")), "from_pint": in("mass/volume", q.perVolume("pint_weight"))}
	}},
	{"density", "per_bushel per_yard", "from_bushel from_yard", func(q question) answers {
		return answers{"from_bushel": in("mass/volume", q.perVolume("per_bushel")), "from_yard": in("mass/volume", q.perVolume("per_yard"))}
	}},
	{"density", "pint", "cups tablespoons teaspoons", same("pint", "cups", "tablespoons", "teaspoons")},
	{"density", "mass rule", "cups", func(q question) answers {
		return answers{"cups": in("volume", units.Fill(q.mass("mass"), believed(q.perVolume("rule"))).Typical)}
	}},
	{"density", "area depth mass", "per_cubic_foot per_cubic_yard", func(q question) answers {
		d := units.Density(q.mass("mass"), layer(q))
		return answers{"per_cubic_foot": in("mass/volume", d.Typical), "per_cubic_yard": in("mass/volume", d.Typical)}
	}},
}

func believed(x float64) units.SomeDensity { return units.SomeDensity{Low: x, Typical: x, High: x} }

// densityAnd answers a density in g/mL and what a US cup of it weighs.
func densityAnd(q question, d units.SomeDensity) answers {
	cup := units.US.Cup()
	return answers{
		"density": in("mass/volume", d.Typical),
		"per_cup": in("mass/volume", units.Weigh(cup, d).Typical/cup.Float()),
	}
}
