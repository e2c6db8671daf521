package recipe_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/view"
)

const (
	class      = "nursery class 5"
	largestEnd = "20.352733488 L" // 1242 cubic inches of 16.387064 mL (volumes.yaml)
)

// TestAClassSpeaksAtItsLargestEnd: the second road: a class is judged as a pot that holds as much as its larger end, of which
// the shape is the same.
func TestAClassSpeaksAtItsLargestEnd(t *testing.T) {
	more := []trip{
		{name: "potash with compost", over: "potassium-sulfate: 40 g\nepsom-salt: 10 g\ntop: {compost: yard-compost, share: 10 %}"},
		{name: "phosphate with compost", over: tomato + "bone-meal-steamed: 34 g\ntop: {compost: yard-compost, share: 10 %}"},
		{name: "compost short of the crop", over: tomato + "feather-meal: 60 g\ntop: {compost: yard-compost, share: 20 %}"},
	}
	for _, c := range append(slices.Clone(trips), more...) {
		for _, amounts := range []string{c.over, c.under} {
			if amounts == "" {
				continue
			}
			ranged, fixed := compute("us", body(amounts, class)), compute("us", body(amounts, largestEnd))
			require.Empty(t, ranged.Printed()+fixed.Printed(), c.name)
			own := func(id string) bool { return id == "nursery-class" || id == "assumed-shape" }
			want := slices.DeleteFunc(fixed.Guards(largestEnd), own)
			assert.Equal(t, want, slices.DeleteFunc(ranged.Guards(class), own), "%s: %s", c.name, amounts)
			for _, id := range want {
				if c.name != "limit per litre" { // 119 g in 20 L are 5.95 g/L, which prints as 5.9 or 6
					assert.Equal(t, guardText(fixed, largestEnd, id), guardText(ranged, class, id), "%s: %s", c.name, amounts)
				}
			}
		}
	}
}

// TestTheAuthorsHighEndCounts: a range of which the high end trips a guard of TestGuards trips it.
func TestTheAuthorsHighEndCounts(t *testing.T) {
	for amounts, guard := range map[string]string{
		tomato + "feather-meal: 100 to 345 g":                                   "nitrogen-over",
		tomato + "bone-meal-steamed: 10 to 34 g":                                "phosphorus-over",
		"worm-castings: 1000 to 2410 g":                                         "over-limit",
		"alfalfa-meal: 20 to 119 g":                                             "over-limit",
		"wood-ash: 3 to 13 g":                                                   "ash-cap",
		"blood-meal: 20 to 81 g":                                                "fast-nitrogen",
		"potassium-sulfate: 20 to 40.1 g":                                       "salt",
		"yard-compost: 100 to 590 g\ntop: {compost: yard-compost, share: 30 %}": "compost-share",
	} {
		size := tray
		if strings.Contains(amounts, "top") || guard == "over-limit" || guard == "ash-cap" {
			size = flat
		}
		assert.Contains(t, compute("us", body(amounts, size)).Guards(size), guard, amounts)
	}
}

// TestSpoonsAtEitherEnd: 1/8 US teaspoon holds 0.616115 mL: less than half of it is too little, 0.93 mL lies between it and
// 1/4, a third from either; the worse end of a range counts.
func TestSpoonsAtEitherEnd(t *testing.T) {
	for amount, guard := range map[string]string{
		"0.2 mL to 1 tsp": "too-small", "1/8 tsp to 0.93 mL": "coarse-rounding", "0.93 mL to 1/2 tsp": "coarse-rounding", "1/8 tsp to 1 tsp": "",
		"0.562 mL": "", "0.558 mL": "coarse-rounding",
	} {
		guards := compute("us", body("gypsum: "+amount, "20 L")).Guards("20 L")
		for _, id := range []string{"too-small", "coarse-rounding"} {
			assert.Equal(t, id == guard, slices.Contains(guards, id), "%s %s", amount, id)
		}
	}
}

// TestPhosphateOfTheCompost: what the text adds up is what the amendments and the compost make available, however little the
// compost is.
func TestPhosphateOfTheCompost(t *testing.T) {
	for _, share := range []string{"10 %", "1 %"} {
		out := compute("us", body(tomato+"bone-meal-steamed: 40 g\ntop: {compost: yard-compost, share: "+share+"}", flat))
		at := data.Slug(flat) + "/"
		bone, compost := 40*0.081, out.Number(at+"compost/available_g/p2o5/high")
		text := guardText(out, flat, "phosphorus-over")
		assert.Contains(t, text, "About "+view.Number(bone+compost)+" g of phosphate", share)
		assert.Contains(t, text, ", "+view.Number(compost)+" g of it from the compost", share)
	}
	alone := compute("us", body(tomato+"bone-meal-steamed: 40 g", flat))
	assert.NotContains(t, guardText(alone, flat, "phosphorus-over"), "from the compost")
}

// TestPotashAndWhatIsKnown: 10 g of sulfate of potash bring 5 g K2O, and 3 g of Epsom salt 3 x 9.8 % x 1.65826 = 0.4875 g MgO,
// 10.3 times. Where of one material no magnesium is known nothing is said.
func TestPotashAndWhatIsKnown(t *testing.T) {
	out := compute("us", body("potassium-sulfate: 10 g\nepsom-salt: 3 g", tray))
	assert.Contains(t, guardText(out, tray, "potash-to-magnesia"), "is 10.3 times the magnesia (MgO)")
	assert.NotContains(t, compute("us", body("potassium-sulfate: 13.1 g\nmeal-blend: 10 g", tray)).Guards(tray), "potash-to-magnesia")
}

// TestMoreEdges: a beet bears 4.0 + 1.0 mS/cm, more than the 3.5 of a mix that is fine (crops.yaml; judging.yaml); a blend of
// 3 % N is no fast meal; composts among the amounts are all of the compost where none lies on top: of 20 L 24 % is 4.8 L, at
// 0.59 g/mL 2832 g.
func TestMoreEdges(t *testing.T) {
	for amounts, guards := range map[string]map[string]bool{
		"crop: beet\npotassium-sulfate: 40.1 g":    {"salt": true},
		"crop: beet\npotassium-sulfate: 40 g":      {"salt": false},
		"leaf-blend: 400 g":                        {"fast-nitrogen": false},
		"calcitic-lime: 5 g\nyard-compost: 2832 g": {"lime-in-compost": false},
		"calcitic-lime: 5 g\nyard-compost: 2950 g": {"lime-in-compost": true},
	} {
		found := compute("us", body(amounts, tray)).Guards(tray)
		for id, speaks := range guards {
			assert.Equal(t, speaks, slices.Contains(found, id), "%s: %s", amounts, id)
		}
	}
}
