package calcblocks_test

import (
	"fmt"
	"slices"
	"strings"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/elements"
	"trug/calcblocks/kit/extract"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/reading"
	"trug/calcblocks/recipe"
)

// readingSolvers ask the block itself where a check tells a whole reading.
var readingSolvers = []solver{
	{"mix-test", "ec method", "class", func(q question) answers {
		return answers{"class": classIn(read(q, "method: "+q.text("method"), "ec: "+q.raw("ec")), "ec")}
	}},
	{"mix-test", "concentration method nutrient", "class", func(q question) answers {
		key := strings.ReplaceAll(q.text("nutrient"), "-", "_")
		return answers{"class": classIn(read(q, "method: "+q.text("method"), key+": "+q.raw("concentration")), key)}
	}},
	{"mix-test", "ec_1_2", "pour_through sme", func(q question) answers {
		out := read(q, "method: 1:2", "ec: "+q.raw("ec_1_2"))
		return answers{"sme": number(out.Number("ec/sme")), "pour_through": number(out.Number("ec/pour_through"))}
	}},
	{"mix-test", "ec factor", "salts", func(q question) answers {
		return answers{"salts": number(extract.DissolvedSalts(q.plain("ec"), q.plain("factor")))}
	}},
	{"mix-test", "crop ece slope threshold", "relative_yield", func(q question) answers {
		row := []string{"salinity_table", "rows", q.text("crop")}
		lib := reference.Default()
		assert.InDelta(q.t, lib.Number("judging", append(row, "a")...), q.plain("threshold"), 1e-12, "the table's threshold")
		assert.InDelta(q.t, lib.Number("judging", append(row, "b")...)/100, q.plain("slope"), 1e-12, "the table's slope")
		return relativeYield(q)
	}},
	{"mix-test", "ece slope threshold", "relative_yield", relativeYield},
	{"mix-test", "base_ec compost_ec limit", "compost_share", func(q question) answers {
		return answers{"compost_share": number(extract.ShareBySalt(q.plain("base_ec"), q.plain("compost_ec"), q.plain("limit")))}
	}},
	{"mix-test", "cce lime_per_unit ph target volume", "lime", func(q question) answers {
		out := read(
			q, "ph: "+q.raw("ph"), "target: "+q.raw("target"), "container: "+q.raw("volume")+" L",
			"lime rate: "+q.raw("lime_per_unit")+" g/L", "lime value: "+q.raw("cce")+" %",
		)
		return answers{"lime": in("mass", out.Number("lime_g"))}
	}},
	{"mix-test", "ash ratio", "limestone", func(q question) answers {
		return answers{"limestone": in("mass", bringing(q.some("ash"), q.plain("ratio")))}
	}},
	{"mix-test", "lime_rate ratio", "ash_rate", func(q question) answers {
		return answers{"ash_rate": like(q, "lime_rate", contained(q.some("lime_rate"), q.plain("ratio")))}
	}},
	{"mix-test", "lime_equivalence lime_rate", "ash_rate", func(q question) answers {
		return answers{"ash_rate": like(q, "lime_rate", bringing(q.some("lime_rate"), q.plain("lime_equivalence")))}
	}},
	{"mix-test", "k2o mgo", "caution ratio", potashAgainstMagnesia},
	{"mix-test", "n_from_meal use", "caution", mealInSeedMix},

	{"leaching", "applied drained", "fraction", func(q question) answers {
		out := read(q, "ph: 6", "applied: "+q.raw("applied")+" L", "drained: "+q.raw("drained")+" L")
		return answers{"fraction": number(out.Number("leaching/fraction_percent") / 100)}
	}},
	{"leaching", "demand leaching_requirement", "applied drained fraction", func(q question) answers {
		return leached(q.plain("demand"), q.plain("leaching_requirement"))
	}},
	{"leaching", "demand irrigation_ec threshold", "applied drained leaching_requirement", func(q question) answers {
		share, ok := extract.LeachingRequirement(q.plain("irrigation_ec"), q.plain("threshold"))
		require.True(q.t, ok)
		out := leached(q.plain("demand"), share)
		out["leaching_requirement"] = number(share)
		return out
	}},
	{"leaching", "pot", "water", func(q question) answers {
		out := read(q, "method: sme", "ec: 4", "container: "+litres(q, "pot"))
		return answers{"water": in("volume", 1000*out.Number("flush_litres"))}
	}},
}

// read computes a reading block of some lines.
func read(q question, lines ...string) blocktest.Output {
	q.t.Helper()
	out := blocktest.Compute(reading.Kind, blocktest.Input{Body: strings.Join(lines, "\n") + "\n"})
	require.Empty(q.t, out.Printed())
	return out
}

func classIn(out blocktest.Output, key string) answer {
	class, _ := out.Find("classes/" + key).(data.Text)
	return ofText(string(class))
}

func relativeYield(q question) answers {
	return answers{"relative_yield": number(extract.Yield(q.plain("ece"), q.plain("threshold"), 100*q.plain("slope")) / 100)}
}

// leached turns a demand and a share that drains into what is given and what drains.
func leached(demand, share float64) answers {
	applied := extract.Applied(demand, share)
	return answers{"applied": number(applied), "drained": number(applied - demand), "fraction": number(extract.LeachingFraction(applied-demand, applied))}
}

// potashAgainstMagnesia asks a recipe with a blend of so much of both.
func potashAgainstMagnesia(q question) answers {
	k2o, mgo := q.some("k2o"), q.some("mgo")
	const grams = 100
	label := fmt.Sprintf("blend: {name: Blend, label: {n: 0, p2o5: 0, k2o: %g, mg: %.9f}, cup weighs: 200 g}\n", k2o, mgo*elements.Convert("MgO", "Mg"))
	out := blocktest.Compute(recipe.Kind, blocktest.Input{
		ID: "check", Files: map[string]string{"cupboard.yaml": label},
		Body: fmt.Sprintf("title: Check\nfor: 10 L\nsizes: [10 L]\namounts:\n  blend: %d g\n", grams),
	})
	require.Empty(q.t, out.Printed())
	added := func(key string) float64 { return out.Number("10-l/added_g/" + key + "/low") }
	return answers{
		"ratio":   number(added("k2o") / (added("mg") * elements.Convert("Mg", "MgO"))),
		"caution": ofFlag(slices.Contains(out.Cautions("10 L"), "potash-to-magnesia")),
	}
}

// mealInSeedMix asks a recipe of blood meal in a peat mix of 0.2 kg a litre: what brings so much nitrogen is not
// for sowing.
func mealInSeedMix(q question) answers {
	require.Equal(q.t, "sowing", q.text("use"))
	meal, ok := reference.Default().Amendment("blood-meal")
	require.True(q.t, ok)
	const kgPerLitre = 0.2
	grams := 10 * kgPerLitre * 1000 * q.plain("n_from_meal") / meal.AsIs(reference.N).Share().Typical
	out := blocktest.Compute(recipe.Kind, blocktest.Input{ID: "check", Body: fmt.Sprintf("title: Check\nfor: 10 L\nsizes: [10 L]\namounts:\n  blood-meal: %.6f g\n", grams)})
	require.Empty(q.t, out.Printed())
	return answers{"caution": ofFlag(slices.Contains(out.Cautions("10 L"), "fast-nitrogen-seed"))}
}
