package recipe_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/recipe"
)

// Containers of 20 L whose surface is a round number of square metres.
const (
	flat = "trough 50 x 40 x 10 cm"  // 0.2 m2
	tall = "trough 20 x 20 x 50 cm"  // 0.04 m2
	tray = "trough 100 x 100 x 2 cm" // 1 m2
)

// A trip is one guard: what trips it, what comes just short of it, and what its text says.
type trip struct {
	name, guard string
	size        string
	over, under string // amounts for 20 L, one a line as "id: amount", and a top as "top: .."
	says        string // a part of the text
}

var trips = []trip{
	// amendments.yaml, alfalfa-meal: 5.93 g per litre of mix; x 20 L = 118.6 g. 119 g is 5.95 g/L.
	{"limit per litre", "over-limit", flat, "alfalfa-meal: 119 g", "alfalfa-meal: 118.6 g", "Alfalfa meal: 6 g per litre of mix; the usual most is 5.9."},
	// amendments.yaml, gypsum: 195 g/m2 alone; x 0.2 m2 = 39 g. 40 g is 200 g/m2.
	{"limit per square metre", "over-limit", flat, "gypsum: 40 g", "gypsum: 39 g", "Gypsum: 200 g per square metre of surface; the usual most is 195. That rule was set for garden beds"},
	// kelp-meal: 2.92 g per litre is known, so the 49 g/m2 of garden beds (9.8 g here) does not count.
	{"per litre goes before per square metre", "over-limit", flat, "kelp-meal: 58.5 g", "kelp-meal: 58.4 g", "2.93 g per litre of mix; the usual most is 2.92"},
	// amendments.yaml, worm-castings: 20 % of the mix; of 20 L 4 L, x 0.60 g/mL = 2400 g.
	{"limit by share", "over-limit", flat, "worm-castings: 2410 g", "worm-castings: 2400 g", "Worm castings: 20.1 % of the mix; the usual most is 20."},
	// judging.yaml, wood_ash: 0.64 g/L x 20 L = 12.8 g; 98 g/m2 x 0.2 m2 = 19.6 g: the smaller is 12.8 g.
	{"ash cap by volume", "ash-cap", flat, "wood-ash: 13 g", "wood-ash: 12.8 g", "13 g of wood ash is over the year's cap for this container, 12.8 g"},
	// The same in a tall pot: 98 g/m2 x 0.04 m2 = 3.92 g is smaller than 12.8 g.
	{"ash cap by surface", "ash-cap", tall, "wood-ash: 4 g", "wood-ash: 3.92 g", "4 g of wood ash is over the year's cap for this container, 3.9 g"},
	// amendments.yaml: alfalfa gives off ammonia, kelp does not.
	{"ash with nitrogen", "ash-with-nitrogen", flat, "wood-ash: 5 g\nalfalfa-meal: 20 g", "wood-ash: 5 g\nkelp-meal: 20 g", "drives ammonia out of alfalfa meal"},
	{"ash with lime", "ash-with-lime", flat, "wood-ash: 5 g\ncalcitic-lime: 5 g", "wood-ash: 5 g\ngypsum: 5 g", "Wood ash and calcitic lime both raise pH"},
	// judging.yaml, compost_limits: warn above 33 %, not without a test above 50 %.
	// amendments.yaml, worm-castings: 20 % of the mix, wherever they lie.
	{"limit by share on top", "over-limit", flat, "kelp-meal: 9 g\ntop: {compost: worm-castings, share: 21 %}", "kelp-meal: 9 g\ntop: {compost: worm-castings, share: 20 %}", "Worm castings: 21 % of the mix; the usual most is 20."},
	{"limit by share on top and in the mix", "over-limit", flat, "worm-castings: 1320 g\ntop: {compost: worm-castings, share: 10 %}", "worm-castings: 1200 g\ntop: {compost: worm-castings, share: 10 %}", "Worm castings: 21 % of the mix; the usual most is 20."},
	{"sulfur with ash", "opposed-ph", flat, "sulfur-powder: 5 g\nwood-ash: 5 g", "sulfur-powder: 5 g\ngypsum: 5 g", "works against raising it by wood ash"},
	{"much compost", "compost-share", flat, "kelp-meal: 9 g\ntop: {compost: yard-compost, share: 34 %}", "kelp-meal: 9 g\ntop: {compost: yard-compost, share: 33 %}", "Compost is 34 % of the mix; above 33 %"},
	{"too much compost", "compost-share", flat, "kelp-meal: 9 g\ntop: {compost: yard-compost, share: 51 %}", "kelp-meal: 9 g\ntop: {compost: yard-compost, volume: 6.6 L}", "Compost is 51 % of the mix. Above 50 %, test the salt"},
	// Composts among the amounts count too: 30 % on top, and 0.59 kg of yard compost is 1 L, 5 %.
	{"compost on top and in the mix", "compost-share", flat, "yard-compost: 590 g\ntop: {compost: yard-compost, share: 30 %}", "yard-compost: 295 g\ntop: {compost: yard-compost, share: 30 %}", "Compost is 35 % of the mix"},
	// judging.yaml, lime_rates: from 25 % compost on no lime without a test.
	{"lime in compost", "lime-in-compost", flat, "calcitic-lime: 5 g\ntop: {compost: yard-compost, share: 25 %}", "calcitic-lime: 5 g\ntop: {compost: yard-compost, share: 24 %}", "Add calcitic lime only when a test shows pH below 5.8"},
	{"ash in compost", "lime-in-compost", flat, "wood-ash: 5 g\ntop: {compost: yard-compost, share: 25 %}", "gypsum: 5 g\ntop: {compost: yard-compost, share: 25 %}", "Add wood ash only"},
	// judging.yaml, single_dose_n_cap: 0.5 g N per litre x 20 L = 10 g; / 12.5 % = 80 g of blood meal.
	{"fast nitrogen", "fast-nitrogen", tray, "blood-meal: 81 g", "blood-meal: 80 g", "0.51 g of fast nitrogen per litre of mix in one dose, from blood meal"},
	// Two fast meals add up: 40 g x 12.5 % + 53 g x 9.5 % = 5 + 5.035 g; with 52 g 9.94 g.
	{"fast nitrogen of two", "fast-nitrogen", tray, "blood-meal: 40 g\nfish-meal: 53 g", "blood-meal: 40 g\nfish-meal: 52 g", "from blood meal and fish meal"},
	// Cottonseed meal has no published two-week release: 200 g x 6 % = 12 g N are not fast.
	{"slow nitrogen is not fast", "fast-nitrogen", tray, "feather-meal: 81 g", "cottonseed-meal: 200 g", "from feather meal"},
	// judging.yaml, cation_balance: K2O at most 4 x MgO. Epsom salt 10 g x 9.8 % Mg x 1.65826 = 1.6251 g MgO,
	// x 4 = 6.5004 g K2O; potassium sulfate is 50 %: 13.0 g bring 6.50 g, 13.1 g 6.55 g.
	{"potash to magnesia", "potash-to-magnesia", tray, "potassium-sulfate: 13.1 g\nepsom-salt: 10 g", "potassium-sulfate: 13 g\nepsom-salt: 10 g", "The potash added (K2O) is 4 times the magnesia (MgO)"},
	// Langbeinite: 22 % K2O to 11 % Mg x 1.65826 = 18.2 % MgO, 1.2 times.
	{"potash without magnesia", "potash-to-magnesia", tray, "potassium-sulfate: 10 g", "langbeinite: 50 g", "without any magnesia"},
	// An extract is "optimum" from 150 mg/L K on: x 0.8 L x 1.2046 = 144.55 mg K2O per litre, 2.891 g in 20 L;
	// / 50 % = 5.78 g of potassium sulfate.
	{"a telling dose of potash", "potash-to-magnesia", tray, "potassium-sulfate: 5.8 g", "potassium-sulfate: 5.7 g", "without any magnesia"},
	// crops.yaml, tomato: 3 kg x 2.8 g N / 0.6 = 14.0 g; half is 7.0 g, double 28 g. Feather meal gives 12.5 % x
	// 65 % = 8.125 % over a season: 86 g bring 6.99 g, 87 g 7.07 g, 344 g 27.95 g, 345 g 28.03 g.
	{"little nitrogen for the crop", "nitrogen-short", tray, tomato + "feather-meal: 86 g", tomato + "feather-meal: 87 g", "about 7 g of nitrogen becomes available; tomato needs about 14 g here. That is less than half"},
	{"much nitrogen for the crop", "nitrogen-over", tray, tomato + "feather-meal: 345 g", tomato + "feather-meal: 344 g", "That is more than double"},
	// Without plants by the class: lettuce is a medium feeder, 0.6 g/L x 20 L = 12 g; half is 6 g. 73 g bring 5.93 g.
	{"little nitrogen for the class", "nitrogen-short", tray, "crop: lettuce\nfeather-meal: 73 g", "crop: lettuce\nfeather-meal: 74 g", "lettuce needs about 12 g here by its class"},
	// Compost counts: yard compost of 0.59 g/mL, 58 % dry of 1.5 % N, 2 % of it: 10 L firmed are 12.5 L loose,
	// 7375 g, 64.2 g N, 1.28 g available. 86 g of feather meal and that are more than half.
	{"compost counts for the crop", "nitrogen-short", flat, tomato + "feather-meal: 70 g\ntop: {compost: yard-compost, share: 10 %}", tomato + "feather-meal: 86 g\ntop: {compost: yard-compost, share: 50 %}", "less than half"},
	// judging.yaml, phosphorus: 1.5 x uptake, 3 kg x 0.6 g P2O5 x 1.5 = 2.7 g. Of steamed bone meal's 27 % total 30 %
	// is available, 8.1 %: 33 g bring 2.67 g, 34 g 2.75 g.
	{"phosphate over the need", "phosphorus-over", tray, tomato + "bone-meal-steamed: 34 g", tomato + "bone-meal-steamed: 33 g", "About 2.8 g of phosphate (P2O5) becomes available this season; 1.5 times what tomato takes up is 2.7 g"},
	// judging.yaml, phosphorus: no meal for phosphate from 20 % compost on.
	{"phosphate beside compost", "phosphorus-with-compost", flat, "bone-meal-steamed: 5 g\ntop: {compost: yard-compost, share: 20 %}", "bone-meal-steamed: 5 g\ntop: {compost: yard-compost, share: 19 %}", "Leave out bone meal"},
	// judging.yaml, compost_limits: above 30 nitrogen is tied up. Alfalfa 10 g x 2.7 % = 0.27 g N at 16; rice hulls
	// 14 g x 0.5 % = 0.07 g at 85: (4.32 + 5.95) / 0.34 = 30.2. With 13 g: 9.845 / 0.335 = 29.4.
	{"carbon ties up nitrogen", "ties-up-nitrogen", tray, "alfalfa-meal: 10 g\nrice-hulls: 14 g", "alfalfa-meal: 10 g\nrice-hulls: 13 g", "about 30.2 times their nitrogen; above 30 times"},
	// judging.yaml, salinity_use: pepper bears 1.5 + 1.0 = 2.5 mS/cm; 1 g/L of sulfate of potash is 1.75, so 28.57 g in
	// 20 L. Without a crop a mix is fine below 3.5: 40 g.
	{"salt for the crop", "salt", tray, "crop: pepper\npotassium-sulfate: 28.6 g", "crop: pepper\npotassium-sulfate: 28.5 g", "an estimated 2.5 mS/cm; pepper bears about 2.5"},
	{"salt without a crop", "salt", tray, "potassium-sulfate: 40.1 g", "potassium-sulfate: 40 g", "a mix is fine below 3.5"},
	// Zucchini bears more than the edge of "fine": that is the lower.
	{"salt and a crop that bears much", "salt", tray, "crop: summer-squash\npotassium-sulfate: 40.1 g", "crop: summer-squash\npotassium-sulfate: 40 g", "a mix is fine below 3.5"},
	// An own blend of 12 % N is as fast as a meal: 10 g / 12 % = 83.3 g.
	{"fast nitrogen of an own blend", "fast-nitrogen", tray, "meal-blend: 83.4 g", "meal-blend: 83.3 g", "from meal blend"},
}

// tomato is one plant that yields 3 kg.
const tomato = "crop: tomato\nplants: 1\nyield: 3 kg\n"

// body writes amounts and a top as a recipe for 20 L.
func body(amounts, size string) string {
	var out, top strings.Builder
	for _, line := range strings.Split(amounts, "\n") {
		if key, _, _ := strings.Cut(line, ": "); strings.Contains("top crop plants yield", key) {
			top.WriteString(line + "\n")
			continue
		}
		out.WriteString("  " + line + "\n")
	}
	return "title: T\nfor: 20 L\namounts:\n" + out.String() + top.String() + sized(size)
}

// TestGuards trips every guard on numbers, and comes just short of it.
func TestGuards(t *testing.T) {
	for _, c := range trips {
		t.Run(c.name, func(t *testing.T) {
			out := compute("us", body(c.over, c.size))
			require.Empty(t, out.Printed())
			assert.Contains(t, out.Guards(c.size), c.guard)
			assert.Contains(t, guardText(out, c.size, c.guard), c.says)
			assert.NotEmpty(t, guardSources(out, c.size, c.guard), "a guard names its source")

			out = compute("us", body(c.under, c.size))
			require.Empty(t, out.Printed())
			if c.name != "too much compost" { // there "Much compost" is next, which has the same id
				assert.NotContains(t, out.Guards(c.size), c.guard)
			}
		})
	}
}

func caution(out blocktest.Output, size, id string) data.Object {
	list, _ := out.Find(data.Slug(size) + "/cautions").(data.List)
	for _, c := range list {
		if c := c.(data.Object); c.Get("id") == data.Value(data.Text(id)) {
			return c
		}
	}
	return nil
}

func guardText(out blocktest.Output, size, id string) string {
	t, _ := caution(out, size, id).Get("text").(data.Text)
	return string(t)
}

func guardSources(out blocktest.Output, size, id string) data.List {
	l, _ := caution(out, size, id).Get("sources").(data.List)
	return l
}

// TestCompostGuardSteps: above 33 % much, above 50 % too much without a test, and the edges are within.
func TestCompostGuardSteps(t *testing.T) {
	for percent, says := range map[int]string{33: "", 34: "; above 33 %", 50: "; above 33 %", 51: "Above 50 %, test"} {
		out := compute("us", body(fmt.Sprintf("kelp-meal: 9 g\ntop: {compost: yard-compost, share: %d %%}", percent), flat))
		text := guardText(out, flat, "compost-share")
		if says == "" {
			assert.Empty(t, text)
			continue
		}
		assert.Contains(t, text, says, percent)
	}
}

// TestEdgesHoldInEverySize: a share at its edge is at its edge in every container, whatever its litres.
func TestEdgesHoldInEverySize(t *testing.T) {
	for litres := 3; litres < 200; litres += 7 {
		size := fmt.Sprintf("%d.3 L", litres)
		out := compute("us", body("calcitic-lime: 5 g\ntop: {compost: yard-compost, share: 25 %}", size))
		assert.Contains(t, out.Guards(size), "lime-in-compost", size)
		out = compute("us", body("kelp-meal: 9 g\ntop: {compost: yard-compost, share: 33 %}", size))
		assert.NotContains(t, out.Guards(size), "compost-share", size)
		out = compute("us", body("wood-ash: 1 g\nblood-meal: 80 g", size))
		assert.NotContains(t, out.Guards(size), "fast-nitrogen", size)
	}
}

// TestTooSmall: half of 1/8 tsp is 0.308 mL. 1/8 tsp for 40 L is just that for 20 L; for 41 L it is 0.3005
// mL, and 0.616 / 0.3005 = 2.05, so three pots alike make a spoon.
func TestTooSmall(t *testing.T) {
	recipeFor := func(litres int) blocktest.Output {
		return compute("us", fmt.Sprintf("title: T\nfor: %d L\namounts:\n  leaf-blend: 1/8 tsp\n%s", litres, sized("20 L")))
	}
	assert.NotContains(t, recipeFor(40).Guards("20 L"), "too-small")
	out := recipeFor(41)
	assert.Contains(t, out.Guards("20 L"), "too-small")
	// 0.300544 mL x 72 g a cup of 236.588 mL = 0.0914639 g.
	assert.Equal(t, "Leaf blend: 0.091 g is too little to measure with a spoon. Weigh it, or mix a batch for 3 pots alike and share it out.", guardText(out, "20 L", "too-small"))
	assert.InEpsilon(t, 0.0914639, out.Number("20-l/amounts/leaf-blend/grams/low"), 1e-5, "what is weighed counts as asked")
	assert.InDelta(t, 0, out.Number("20-l/amounts/leaf-blend/rounding_percent/low"), 0)
	weighed := compute("us", "title: T\nfor: 20 L\namounts:\n  leaf-blend: 0.05 g\n"+sized("20 L"))
	assert.NotContains(t, weighed.Guards("20 L"), "too-small", "an author who weighs has a balance")
}

// TestCoarseRounding: 1/8 tsp for 20 L is 0.1375 tsp for 22 L, 9.1 % more than the spoon holds, and 0.14375
// tsp for 23 L, of which 1/8 tsp is 13.0 % less. On household steps 15 L ask for 0.09375 tsp, of which
// 1/8 is 33.3 % more, and 14 L for 0.0875 tsp, 42.9 % more.
func TestCoarseRounding(t *testing.T) {
	const spoon = "title: T\nfor: 20 L\namounts:\n  leaf-blend: 1/8 tsp\n"
	assert.NotContains(t, compute("us", spoon+sized("22 L")).Guards("22 L"), "coarse-rounding")
	out := compute("us", spoon+sized("23 L"))
	assert.Contains(t, out.Guards("23 L"), "coarse-rounding")
	assert.Equal(t, "Leaf blend: the nearest spoons hold 13 % less than asked, over the 10 % that pass. Weigh it if you can.", guardText(out, "23 L", "coarse-rounding"))
	assert.InEpsilon(t, -13.0435, out.Number("23-l/amounts/leaf-blend/rounding_percent/high"), 1e-5)

	household := func(in *blocktest.Input) {
		in.Files["handbook.yaml"] = "measures: {main: us}\nrounding: household\n"
	}
	for _, size := range []string{"23 L", "15 L"} {
		assert.NotContains(t, compute("us", spoon+sized(size), household).Guards(size), "coarse-rounding", size)
	}
	out = compute("us", spoon+sized("14 L"), household)
	assert.Equal(t, "Leaf blend: the nearest spoons hold 42.9 % more than asked, over the 34 % that pass. Weigh it if you can.", guardText(out, "14 L", "coarse-rounding"))
}

// TestHowTheSizeIsKnown: one note on a container, and none where it was measured whole.
func TestHowTheSizeIsKnown(t *testing.T) {
	for size, want := range map[string][]string{
		"round 30 cm top 24 cm base 28 cm deep": {},
		flat:                                    {},
		"20 L":                                  {"assumed-shape"},
		"round 30 cm top":                       {"rough-guess"},
		"nursery class 5":                       {"nursery-class"},
	} {
		out := compute("us", body("langbeinite: 5 g", size))
		require.Empty(t, out.Printed())
		assert.Equal(t, want, out.Guards(size), size)
	}
	out := compute("us", body("langbeinite: 5 g", "nursery class 5"))
	assert.Contains(t, guardText(out, "nursery class 5", "nursery-class"), "A nursery class 5 pot holds 12.9 to 20.4 L, not so many gallons")
	assert.Contains(t, compute("us", body("langbeinite: 5 g", "round 30 cm top")).Text(), "measure to be sure")
}

// TestLimitsOfAClass: the surface is that of the pot that the amount is for. At its high end a class 5 holds
// 20.353 L; as a pot of base 0.75 and depth 0.92 its top is 33.185 cm wide, 864.9 cm2. Gypsum at 16.6 g for
// 20 L is 16.893 g there: 195.3 g/m2, over 195; at 16.5 g it is 194.1.
func TestLimitsOfAClass(t *testing.T) {
	const size = "nursery class 5"
	assert.Contains(t, compute("us", body("gypsum: 16.6 g", size)).Guards(size), "over-limit")
	assert.NotContains(t, compute("us", body("gypsum: 16.5 g", size)).Guards(size), "over-limit")
}

// TestGuardsOverCombinations names the combinations that trip, and only those.
func TestGuardsOverCombinations(t *testing.T) {
	out := compute("us", "title: T\nfor: 20 L\nsizes: ["+flat+"]\namounts:\n  alfalfa-meal: 20 g\n"+
		"  potash, one of:\n    kelp-meal: 20 g\n    wood-ash: 15 g\n    potassium-sulfate: 5 g\n"+
		"  calcium, one of:\n    gypsum: 10 g\n    calcitic-lime: 10 g\n")
	for _, c := range []struct{ potash, calcium, want string }{
		// Alfalfa 20 g x 0.29 % Mg and kelp 20 g x 0.6 %: 0.178 g Mg = 0.295 g MgO, K2O 0.48 + 0.4 = 0.88 g, 3 times.
		{"kelp-meal", "gypsum", ""},
		{"kelp-meal", "calcitic-lime", ""},
		{"wood-ash", "gypsum", "ash-cap ash-with-nitrogen"},
		{"wood-ash", "calcitic-lime", "ash-cap ash-with-nitrogen ash-with-lime"},
		// K2O 0.48 + 2.5 g over MgO 0.058 g x 1.658 = 0.096 g: 31 times; 0.5 % Mg of the lime adds 0.083 g: 17 times.
		{"potassium-sulfate", "gypsum", "potash-to-magnesia"},
		{"potassium-sulfate", "calcitic-lime", "potash-to-magnesia"},
	} {
		assert.Equal(t, c.want, strings.Join(out.Guards(flat, c.potash, c.calcium), " "), "%s, %s", c.potash, c.calcium)
	}
}

// TestWaiting: meals that give off ammonia or stop germination ask for time, and what has no nitrogen does not.
func TestWaiting(t *testing.T) {
	for amounts, want := range map[string][2]float64{
		"kelp-meal: 20 g":                          {0, 0},
		"wood-ash: 5 g":                            {0, 0}, // drives ammonia out of others, has no nitrogen itself
		"blood-meal: 10 g":                         {3, 1},
		"insect-frass: 10 g":                       {3, 1},
		"corn-gluten-meal: 10 g":                   {6, 1},
		"corn-gluten-meal: 10 g\nblood-meal: 10 g": {6, 1},
		"blood-meal: 10 g\ncorn-gluten-meal: 10 g": {6, 1},
	} {
		out := compute("us", body(amounts, flat))
		at := data.Slug(flat) + "/wait_weeks/"
		assert.Equal(t, want, [2]float64{out.Number(at + "sow"), out.Number(at + "plant")}, amounts)
	}
}

// TestCautionsOfARecipe: those that concern the materials and the work, and the combination's own.
func TestCautionsOfARecipe(t *testing.T) {
	ids := func(amounts string) []string { return compute("us", body(amounts, flat)).Cautions(flat) }
	always := []string{"legionella-in-mix", "runoff", "label-and-law"}
	assert.Equal(t, always, ids("langbeinite: 5 g"))
	assert.Equal(t, []string{"ash-caustic", "ash-origin"}, without(ids("wood-ash: 5 g"), append(always, "fast-nitrogen-seed", "metals")))
	assert.Contains(t, ids("blood-meal: 10 g"), "pets-and-meals")
	assert.Contains(t, ids("blood-meal: 10 g"), "dust")
	assert.Contains(t, ids("soybean-meal: 10 g"), "allergens")
	assert.Contains(t, ids("basalt-dust: 10 g"), "mineral-dust")
	assert.Contains(t, ids("calcitic-lime: 10 g"), "lime-kind")
	assert.NotContains(t, ids("gypsum: 10 g"), "lime-kind")
	assert.Contains(t, ids("sulfur-powder: 5 g"), "sulfur")
	assert.Contains(t, ids("soft-rock-phosphate: 5 g"), "metals")
	assert.Contains(t, ids("poultry-manure-pellets: 5 g"), "raw-manure")
	top := ids("kelp-meal: 9 g\ntop: {compost: yard-compost, share: 20 %}")
	for _, id := range []string{"lifting", "containers-food", "herbicide-residue"} {
		assert.Contains(t, top, id)
	}
	both := ids("wood-ash: 5 g\nblood-meal: 10 g")
	assert.Equal(t, 1, count(both, "ash-with-nitrogen"), "the guard says it once, with the names")
}

func without(ids, drop []string) []string {
	var out []string
	for _, id := range ids {
		if count(drop, id) == 0 {
			out = append(out, id)
		}
	}
	return out
}

func count(ids []string, id string) int {
	n := 0
	for _, have := range ids {
		if have == id {
			n++
		}
	}
	return n
}

// TestCNOfAshAndMeal: wood ash holds no nitrogen that counts, so it does not hide the ratio of the rest.
func TestCNOfAshAndMeal(t *testing.T) {
	at := data.Slug(flat) + "/c_to_n/"
	out := compute("us", body("alfalfa-meal: 20 g\nwood-ash: 5 g", flat))
	assert.InEpsilon(t, 16, out.Number(at+"low"), 1e-9, "alfalfa 16")
	// 20 g x 2.7 % = 0.54 g N at 16 and 10 g x 12.5 % = 1.25 g N at 4: (8.64 + 5) / 1.79 = 7.62011.
	out = compute("us", body("alfalfa-meal: 20 g\nfeather-meal: 10 g", flat))
	assert.InEpsilon(t, 13.64/1.79, out.Number(at+"low"), 1e-9)
	out = compute("us", body("wood-ash: 5 g", flat))
	assert.Equal(t, data.Null{}, out.Find(at+"low"), "nothing has a ratio")
}

func TestCases(t *testing.T) { blocktest.Run(t, recipe.Kind) }
