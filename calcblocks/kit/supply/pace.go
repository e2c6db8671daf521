package supply

import (
	"math"

	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// Released returns the part of a pool that is out after a time by first-order release: 1 - exp(-k t). k and t are of
// one unit of time.
func Released(k, t float64) float64 { return -math.Expm1(-k * t) }

// Meal returns the share of the organic nitrogen of a meal of 11 to 16 % N that is out after so many weeks
// at so many C: A (1 - exp(-k t)), A and k linear between 10 and 25 C. A is the share of week 8 and k that which
// leads through the share of week 2 (judging.yaml, release_model, derived from the bounds of
// hartz-johnstone-2006). Above 25 C that of 25 C is taken; below 10 C the pace halves with
// each 10 C, and below 4 C nothing is released (rb209-6).
func Meal(lib *reference.Library, celsius, weeks float64) float64 {
	return mealShare(lib, celsius) * Released(mealPace(lib, celsius)*cold(lib, celsius), weeks)
}

var meals = []string{"release_model", "meals"}

// mealRow returns a figure of the meals: row "0" is that of 10 C, row "1" that of 25 C.
func mealRow(lib *reference.Library, row, key string) float64 {
	return lib.Number("judging", meals[0], meals[1], "rows", row, key)
}

// mealShare returns A at a temperature.
func mealShare(lib *reference.Library, celsius float64) float64 {
	return between(lib, celsius, func(row string) float64 { return mealRow(lib, row, "A") })
}

// mealPace returns k at a temperature not below the coolest test, per week.
func mealPace(lib *reference.Library, celsius float64) float64 {
	return between(lib, celsius, func(row string) float64 {
		return -math.Log1p(-mealRow(lib, row, "wk2")/mealRow(lib, row, "A")) / 2
	})
}

// between interpolates between the two temperatures of the tests.
func between(lib *reference.Library, celsius float64, at func(row string) float64) float64 {
	cool, warm := mealRow(lib, "0", "temp_c"), mealRow(lib, "1", "temp_c")
	part := (min(max(celsius, cool), warm) - cool) / (warm - cool)
	return at("0")*(1-part) + at("1")*part
}

// cold returns the factor on a pace below the coolest test: Q10 2, and nil below 4 C.
func cold(lib *reference.Library, celsius float64) float64 {
	below := func(key string) float64 { return lib.Number("judging", meals[0], meals[1], "below_10_c", key) }
	coolest := mealRow(lib, "0", "temp_c")
	switch {
	case celsius < below("nil_below_c"):
		return 0
	case celsius < coolest:
		return math.Pow(below("q10"), (celsius-coolest)/10)
	}
	return 1
}

// pace is the rate constant of a material that has no weekly figures, per week: k low, typical, high.
type pace struct {
	k       [3]float64
	full    [3]float64 // k at the same temperature but not below the coolest test: what a full season has
	road    string
	sources []string
}

// residue is the pace of meals and residues: the share of 28 days in that of the season (gale-2006) is out
// after 4 to 6 weeks (pnw636), and it hardly feels temperature (the Q10 of the meals).
func residue(lib *reference.Library, celsius float64) pace {
	early := beyond(lib, "share_28_days")
	mostly := -math.Log1p(-early.Typical / beyond(lib, "share_season").Typical)
	warmth := mealPace(lib, celsius) / mealPace(lib, Celsius)
	p := pace{road: "toward its season figure by first order, derived"}
	for i, weeks := range [3]float64{6, 5, 4} {
		p.full[i] = mostly / weeks * warmth
		p.k[i] = p.full[i] * cold(lib, celsius)
	}
	p.sources = union(early.Source, lib.Must("judging", "pan_rules", "by_n_percent", "points", "0", "share").Source)
	return p
}

// slow is the pace of composts: k of soils at 35, 25 and 15 C (queensland-n), between them by the factor
// that leads from one to the next, beyond them by the Q10 of 1.8.
func slow(lib *reference.Library, celsius float64) pace {
	k := SlowPace(lib, celsius)
	whole := SlowPace(lib, max(celsius, mealRow(lib, "0", "temp_c")))
	return pace{
		k: [3]float64{k, k, k}, full: [3]float64{whole, whole, whole},
		road: "toward its season figure by first order at the pace of composts, derived", sources: slowPool(lib, "k at 35, 25, 15 C, per week", "values", "0").Source,
	}
}

func slowPool(lib *reference.Library, path ...string) reference.Figure {
	return lib.Must("judging", append([]string{"release_model", "slow_pool"}, path...)...)
}

// SlowPace returns the rate constant of compost and old mix at a temperature, per week (queensland-n); nil
// below 4 C (rb209-6).
func SlowPace(lib *reference.Library, celsius float64) float64 {
	value := func(i string) float64 {
		return slowPool(lib, "k at 35, 25, 15 C, per week", "values", i).Typical
	}
	q10 := slowPool(lib, "Q10 between the tabulated values", "pick").Typical
	switch k35, k25, k15 := value("0"), value("1"), value("2"); {
	case celsius < lib.Number("judging", meals[0], meals[1], "below_10_c", "nil_below_c"):
		return 0
	case celsius > 35:
		return k35 * math.Pow(q10, (celsius-35)/10)
	case celsius > 25:
		return k25 * math.Pow(k35/k25, (celsius-25)/10)
	case celsius > 15:
		return k15 * math.Pow(k25/k15, (celsius-15)/10)
	default:
		return k15 * math.Pow(q10, (celsius-15)/10)
	}
}

// out returns the part of the season's release that is out by a week, at the three paces.
func (p pace) out(weeks float64) [3]float64 {
	var parts [3]float64
	for i, k := range p.k {
		parts[i] = min(Released(k, min(weeks, SeasonWeeks))/Released(p.full[i], SeasonWeeks), 1)
	}
	return parts
}

// toward returns a season's share as far as a pace has brought it. A negative end is a tie-up: it is deepest
// at the fast pace.
func (p pace) toward(season units.SomeShare, weeks float64) units.SomeShare {
	out := p.out(weeks)
	low := season.Low * out[0]
	if season.Low < 0 {
		low = season.Low * out[2]
	}
	high := season.High * out[2]
	if season.High < 0 {
		high = season.High * out[0]
	}
	return units.SomeShare{Low: low, Typical: season.Typical * out[1], High: high}
}
