package feed_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/feed"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// TestEveryNutrientOfTheLabel: 1 g in a litre, for 100 mg/L N of 10 %, holds ten mg for each percent of the label; the
// strength may be set by each of them. The oxides by atomic weights (elements): P = 0.4364 P2O5, K = 0.8302 K2O.
func TestEveryNutrientOfTheLabel(t *testing.T) {
	const product = "product: {label: {n: 10, p2o5: 5, k2o: 8, ca: 12, mg: 3 %, s: 4.5}}\ncan: 1 L\nstrength: "
	out := compute(product + "100 mg/L N\n")
	require.Empty(t, out.Printed())
	for key, mg := range map[string]float64{"n": 100, "p2o5": 50, "k2o": 80, "ca": 120, "mg": 30, "s": 45} {
		assert.InEpsilon(t, mg, out.Number("mg_per_l/"+key), 1e-12, key)
	}
	assert.InEpsilon(t, 0.4364*50, out.Number("mg_per_l/p"), 1e-4)
	assert.InEpsilon(t, 0.8302*80, out.Number("mg_per_l/k"), 1e-4)
	for _, strength := range []string{"50 mg/L P2O5", "80 mg/L K2O", "120 mg/L Ca", "30 mg/L Mg", "45 mg/L S"} {
		assert.InEpsilon(t, 1, compute(product+strength+"\n").Number("product_g"), 1e-12, strength)
	}
}

// TestOneNutrientIsALabel: a bag may state one nutrient alone; what it does not state is not known, by the spoon
// either, and a label without any is missing.
func TestOneNutrientIsALabel(t *testing.T) {
	out := compute("product: {n: 46, cup weighs: 160 g}\nstrength: 92 mg/L N\ncan: 10 L\n")
	require.Empty(t, out.Printed())
	assert.InEpsilon(t, 2, out.Number("product_g"), 1e-12, "0.2 g in a litre")
	for _, key := range []string{"mg_per_l/ca", "spooned_mg_per_l/ca", "mg_per_l/p"} {
		assert.IsType(t, data.Null{}, out.Find(key), key)
	}
	// by weight alone there is no spoon: 160 g is a US cup of 236.588 mL, so 2 g are 2.9574 mL and 1/2 tsp, 2.4645 mL of
	// 0.6763 g/mL hold 1.6667 g: 16.667 g/100 L x 46 % = 76.67 mg/L
	assert.InEpsilon(t, 0.46*1000*1.0/6, out.Number("spooned_mg_per_l/n"), 1e-9)
	named := compute("product: {name: Fish feed, n: 2}\nstrength: 100 mg/L N\ncan: 1 L\n")
	assert.Equal(t, data.Text("Liquid feed: Fish feed"), named.Find("title"))
	for _, body := range []string{"product: {name: Nothing}\n", "product: {label: {}}\n"} {
		nothing := compute(body + "strength: 100 mg/L N\ncan: 10 L\n")
		require.Len(t, nothing.Faults, 1, body)
		assert.Nil(t, nothing.Data)
	}
}

// TestWhereALabelIsWrong: the figures of a label come to the whole at most, each is a percent, and the fault stands
// at the figure.
func TestWhereALabelIsWrong(t *testing.T) {
	for product, fault := range map[string]struct {
		code   string
		column int
	}{
		"50-30-20":                   {},
		"100-0-0":                    {},
		"50-30-20.1":                 {"label-over-100", 10},
		"{n: 101}":                   {"bad-percent", 14},
		"{n: much}":                  {"bad-percent", 14},
		"{label: banana}":            {"bad-label", 18},
		"{n: 5, density: 5}":         {"bad-density", 26},
		"{n: 5, density: 0 kg/L}":    {"zero-amount", 26},
		"{n: 5, density: 5 mL/L}":    {"bad-density", 26},
		"{n: 5, density: 0.1 kg/L}":  {},
		"{n: 5, density: 0.09 kg/L}": {"bad-density", 26},
		"{n: 5, density: 3 kg/L}":    {},
		"{n: 5, density: 3.1 kg/L}":  {"bad-density", 26},
		"{n: 5, density: 1 kg/L, cup weighs: 200 g}": {"density-and-cup", 46},
	} {
		out := compute("product: " + product + "\nstrength: 100 mg/L N\ncan: 10 L\n")
		if fault.code == "" {
			assert.Empty(t, out.Printed(), product)
			continue
		}
		if assert.Len(t, out.Faults, 1, product) {
			assert.Equal(t, fault.code, out.Faults[0].Code, product)
			assert.Equal(t, fault.column, out.Faults[0].At.Column, product)
		}
	}
	long := compute("product: {n: 5, density: 0 kg/L}\nstrength: 100 mg/L N\ncan: 10 L\n")
	assert.Equal(t, []string{"write it like \"1.15 kg/L\", or weigh a cup: \"cup weighs: 272 g\""}, long.Faults[0].Hints, "a density and not a dose")
}

// TestNoMoreThanTheProductHolds: a litre of half nitrogen takes at most 500 g/L of it, in its high end too.
func TestNoMoreThanTheProductHolds(t *testing.T) {
	for strength, tooStrong := range map[string]bool{"500 g/L N": false, "501 g/L N": true, "300 g/L N": false, "400 to 501 g/L N": true} {
		out := compute("product: 50-0-0\nstrength: " + strength + "\ncan: 1 L\n")
		assert.Equal(t, tooStrong, len(out.Faults) == 1, strength)
	}
}

// TestSaltOfADryFeed: 0.5 g/L of a salt at 1.4 to 1.6 mS/cm for each gram (judging.yaml, salinity_use).
func TestSaltOfADryFeed(t *testing.T) {
	out := compute("product: 20-20-20\nstrength: 100 mg/L N\ncan: 10 L\n")
	assert.InEpsilon(t, 0.7, out.Number("ec_added_ms_cm/low"), 1e-12)
	assert.InEpsilon(t, 0.8, out.Number("ec_added_ms_cm/high"), 1e-12)
}

// TestWhatDissolves: of the reference's materials the salts do: with a salt index, the hazard of salt and no carbon.
// Fish meal has carbon, and gypsum does not burn.
func TestWhatDissolves(t *testing.T) {
	for id, strength := range map[string]string{"epsom-salt": "Mg", "potassium-sulfate": "K2O", "langbeinite": "K2O"} {
		out := compute("product: " + id + "\nstrength: 20 mg/L " + strength + "\ncan: 10 L\n")
		require.Empty(t, out.Printed())
		assert.NotContains(t, out.Cautions(""), "not-all-dissolves", id)
		assert.Positive(t, out.Number("ec_added_ms_cm/low"), id)
	}
	for id, strength := range map[string]string{"fish-meal": "N", "gypsum": "Ca", "kelp-meal": "K2O"} {
		out := compute("product: " + id + "\nstrength: 20 mg/L " + strength + "\ncan: 10 L\n")
		require.Empty(t, out.Printed())
		assert.Contains(t, out.Cautions(""), "not-all-dissolves", id)
		assert.Zero(t, out.Number("ec_added_ms_cm/low"), id)
	}
}

// TestRulesOnPhosphorus: they concern whoever puts phosphorus on, however little, and nobody else.
func TestRulesOnPhosphorus(t *testing.T) {
	for product, speaks := range map[string]bool{"20-0.1-20": true, "20-0-20": false, "{n: 20}": false} {
		out := compute("product: " + product + "\nstrength: 100 mg/L N\ncan: 10 L\n")
		require.Empty(t, out.Printed())
		assert.Equal(t, speaks, contains(out.Cautions(""), "phosphorus-rules"), product)
	}
}

func contains(all []string, one string) bool {
	for _, s := range all {
		if s == one {
			return true
		}
	}
	return false
}

// TestWhereAStrengthIsWrong: the fault stands at the word, and two ends are all that a range has.
func TestWhereAStrengthIsWrong(t *testing.T) {
	for strength, fault := range map[string]struct {
		code   string
		column int
	}{
		"100":                     {"bad-strength", 11},
		"5 mL/L N":                {"bad-strength", 11},
		"150 to 100 mg/L N":       {"range-order", 11},
		"100 to 100 mg/L N":       {"range-order", 11},
		"100 mg/L Fe":             {"unknown-nutrient", 20},
		"50 to 100 to 150 mg/L N": {"unknown-unit", 0},
	} {
		out := compute("product: 20-20-20\nstrength: " + strength + "\ncan: 10 L\n")
		if assert.Len(t, out.Faults, 1, strength) && fault.column > 0 {
			assert.Equal(t, fault.code, out.Faults[0].Code, strength)
			assert.Equal(t, fault.column, out.Faults[0].At.Column, strength)
		}
		assert.Nil(t, out.Data, strength)
	}
}

// TestAMealIsNoLiquidFeed: alfalfa meal for 100 mg/L N takes 100 / 2.8 % = 3571 mg a litre, x 200 = 714 g in a litre of stock,
// which at 0.32 g/mL are 2.2 L: no such stock, and the page says that a meal does not dissolve.
func TestAMealIsNoLiquidFeed(t *testing.T) {
	meal, _ := reference.Default().Amendment("alfalfa-meal")
	n, d := meal.AsIs(reference.N).Typical, meal.Density.Typical
	out := compute("product: alfalfa-meal\nstrength: 100 mg/L N\ncan: 1000 L\ninjector: 1:200\n")
	require.Empty(t, out.Printed())
	grams := 100 / n * 100 * 200 / 1000
	assert.InEpsilon(t, grams, out.Number("stock/g_per_l"), 1e-9)
	text := strings.Join(strings.Fields(out.Text()), " ")
	assert.Contains(t, text, "Most of alfalfa meal settles and does not dissolve")
	assert.Contains(t, text, "It does not dissolve: let it settle and strain it")
	assert.NotContains(t, text, "until it is gone")
	assert.Contains(t, text, fmt.Sprintf("A litre of stock would take %s g, %s L, of alfalfa meal", view.Number(grams), view.Number(grams/d/1000)))
	assert.Contains(t, out.Cautions(""), "thick-stock")
}

// TestThickStock: a litre of stock takes less than a litre of the product by its cup of 1 g/mL, and less than a kilogram
// where nobody weighed one: 999 and 1000 mg/L N of a feed of 10 % at 1:100.
func TestThickStock(t *testing.T) {
	for mg, thick := range map[string]bool{"999": false, "1000": true} {
		for _, weighed := range []string{"", "density: 1 kg/L\n"} {
			out := compute("product: 10-0-0\nstrength: " + mg + " mg/L N\ninjector: 1:100\n" + weighed)
			require.Empty(t, out.Printed())
			assert.Equal(t, thick, contains(out.Cautions(""), "thick-stock"), mg+weighed)
			assert.Contains(t, strings.Join(strings.Fields(out.Text()), " "), "the stock is stronger than what dissolves")
		}
	}
	light := compute("product: 10-0-0\nstrength: 600 mg/L N\ninjector: 1:100\ndensity: 0.5 kg/L\n")
	assert.Contains(t, light.Cautions(""), "thick-stock", "600 g are 1.2 L")
}

// TestSaltOfABlend: whether a blend of the cupboard is all salt nobody tells, so that its salt is the most.
func TestSaltOfABlend(t *testing.T) {
	out := blocktest.Compute(feed.Kind, blocktest.Input{Body: "product: court-blend\nstrength: 100 mg/L N\ncan: 10 L\n", Files: map[string]string{
		"cupboard.yaml": "court-blend: {name: Court blend, label: {n: 20}, cup weighs: 200 g}\n",
	}})
	require.Empty(t, out.Printed())
	assert.Zero(t, out.Number("ec_added_ms_cm/low"))
	assert.InEpsilon(t, 0.5*1.6, out.Number("ec_added_ms_cm/high"), 1e-12)
	assert.Contains(t, strings.Join(strings.Fields(out.Text()), " "), "at most about 0.8 mS/cm")
}

// TestNoNitrogenNoTable: a feed without nitrogen is held against no published strength of nitrogen.
func TestNoNitrogenNoTable(t *testing.T) {
	for product, shown := range map[string]bool{"0-10-10": false, "{k2o: 10}": false, "1-10-10": true} {
		out := compute("product: " + product + "\nstrength: 100 mg/L K2O\ncan: 10 L\n")
		require.Empty(t, out.Printed())
		assert.Equal(t, shown, strings.Contains(out.Text(), "Published strengths"), product)
	}
}
