package swap

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
)

// TestEdgesOfTheUsualMost: the grams that the spoons hold against each sort of limit (amendments.yaml), in a trough of 100 x
// 50 cm whose length or depth is a thousandth more or less than the limit asks: 0.59 g of langbeinite a litre; 195 g of blood
// meal on a square metre; of wood ash 0.64 g a litre and 98 g a square metre, whichever is less; 2.92 g of kelp a litre and
// not the 49 g a square metre of beds; worm castings a fifth of the mix, at 0.6 g/mL 120 g a litre.
func TestEdgesOfTheUsualMost(t *testing.T) {
	const litre, square = "trough 100 x 50 x %.6f cm", "trough %.6f x 50 x 200 cm"
	for _, c := range []struct {
		id, same, trough string
		centimetres      func(grams float64) float64
	}{
		{"langbeinite", "k2o", litre, func(g float64) float64 { return g / 0.59 / 5 }},
		{"kelp-meal", "k2o", litre, func(g float64) float64 { return g / 2.92 / 5 }},
		{"wood-ash", "k2o", "trough 100 x 50 x %.6f cm", func(g float64) float64 { return g / 0.64 / 5 }},
		{"wood-ash", "k2o", square, func(g float64) float64 { return g / 98 * 1e4 / 50 }},
		{"blood-meal", "n", square, func(g float64) float64 { return g / 195 * 1e4 / 50 }},
		{"worm-castings", "n", litre, func(g float64) float64 { return g / (0.2 * 600) / 5 }},
	} {
		body := "instead of: even-blend\namount: 2 to 5 g\nsame: " + c.same + "\nfrom: [" + c.id + "]\nfor: "
		at := "substitutes/" + c.id + "/"
		cm := c.centimetres(compute(t, body+"100 L\n").Number(at + "grams/high"))
		for _, side := range []float64{0.999, 1.001} {
			out := compute(t, body+fmt.Sprintf(c.trough, side*cm)+"\n")
			assert.Equal(t, data.Flag(side < 1), out.Find(at+"over_usual_most"), "%s in %v of %s", c.id, side*cm, c.trough)
		}
	}
}

// TestSaltInTheMix: a gram of sulfate of potash in a litre adds 1.5 to 2.0 mS/cm (judging.yaml, ec_per_gram_salt); of a
// range its high end counts, as light and as heavy as the spoons may hold it.
func TestSaltInTheMix(t *testing.T) {
	out := compute(t, "instead of: even-blend\namount: 10 to 50 g\nsame: k2o\nfrom: [potassium-sulfate]\nfor: 2 L\n")
	at := "substitutes/potassium-sulfate/"
	salt, _ := reference.Default().Amendment("potassium-sulfate")
	millilitres := out.Number(at+"grams/high") / salt.Density.Typical // millilitres in the spoons
	assert.InEpsilon(t, 1.5*millilitres*salt.Density.Low/2, out.Number(at+"ec_added_ms_cm/low"), 1e-9)
	assert.InEpsilon(t, 2.0*millilitres*salt.Density.High/2, out.Number(at+"ec_added_ms_cm/high"), 1e-9)
}

// TestUsesOfASwap: the cupboard page learns of the original, and of what the cupboard or the author's list offers; not of
// the whole catalogue.
func TestUsesOfASwap(t *testing.T) {
	used := func(body string) (ids []string) {
		for _, f := range compute(t, body).Facts {
			ids = append(ids, f.(facts.Use).Amendment)
		}
		return ids
	}
	const body = "instead of: even-blend\namount: 1 cup\nsame: k2o\n"
	assert.Equal(t, []string{"even-blend", "half-blend", "kelp-meal"}, used(body))
	assert.Equal(t, []string{"even-blend", "langbeinite"}, used(body+"from: [langbeinite]\n"))
}

// TestAFaultStopsTheSwap: whatever else is known.
func TestAFaultStopsTheSwap(t *testing.T) {
	for _, body := range []string{
		"instead of: marble\namount: 1 cup\nsame: k2o\nfor: 20 L\n", "instead of: even-blend\namount: 1 cup\nsame: k2o\nfor: marble\n",
		"instead of: even-blend\namount: 1 cup\nsame: k2o\nfrom: [marble]\n", "instead of: even-blend\namount: 1 cup\nsame: gold\n",
		"instead of: even-blend\namount: much\nsame: k2o\n", "instead of: even-blend\namount: 1 cup\nsame: k2o\nfrom: [even-blend, half-blend]\n",
	} {
		out := blocktest.Compute(Kind, blocktest.Input{Files: map[string]string{"cupboard.yaml": cupboard}, Body: body})
		assert.NotEmpty(t, out.Faults, body)
		assert.Nil(t, out.Data, body)
	}
	require.NotNil(t, compute(t, "instead of: even-blend\namount: 1 cup\nsame: k2o\n").Data)
}

func with(files map[string]string, body string) blocktest.Output {
	return blocktest.Compute(Kind, blocktest.Input{ID: "s", Body: body, Files: files})
}

func flat(out blocktest.Output) string { return strings.Join(strings.Fields(out.Text()), " ") }

// TestTheCupboardIsSiftedToo: for the calcium of 2 teaspoons of gypsum, 9.9 mL x 0.85 g/mL x 22 %, feather meal and kelp take over ten times the
// weight or bring far more nitrogen and potash; at hand or not, that is no swap. A list of the author's is offered as it is.
func TestTheCupboardIsSiftedToo(t *testing.T) {
	const shelf = "feather-meal: {packs: [{holds: 1 kg, price: 8.00}]}\nkelp-meal: {packs: [{holds: 1 kg, price: 9.00}]}\ncalcitic-lime: {}\n"
	body := "instead of: gypsum\namount: 2 tsp\nsame: ca\n"
	out := with(map[string]string{"cupboard.yaml": shelf}, body)
	require.Empty(t, out.Printed())
	before, after, found := strings.Cut(flat(out), "more bring it too, but only with over 10 times the weight of gypsum or with over 3 times as much of another main nutrient as is kept:")
	require.True(t, found)
	assert.NotContains(t, before, "Feather meal")
	assert.Contains(t, before, "Calcitic lime")
	assert.Contains(t, after, "feather meal of the cupboard (")
	assert.Contains(t, after, "insect frass (black soldier fly, mealworm) (", "a name is not cut inside its brackets")
	listed := with(map[string]string{"cupboard.yaml": shelf}, body+"from: [feather-meal]\n")
	assert.NotContains(t, flat(listed), "bring it too")
	assert.Contains(t, flat(listed), "As much brings one of these")
	alone := with(map[string]string{"cupboard.yaml": shelf}, "instead of: langbeinite\namount: 5 g\nsame: mg\n")
	require.Empty(t, alone.Printed())
	assert.Contains(t, flat(alone), "bring")
}

// TestARangeSaysWhichEnd: cost and what else changes are of the high end, and the page says so; of one amount there is
// nothing to say.
func TestARangeSaysWhichEnd(t *testing.T) {
	files := map[string]string{"cupboard.yaml": "langbeinite: {packs: [{holds: 1 kg, price: 7.50}]}\n"}
	ranged := with(files, "instead of: wood-ash\namount: 55 to 110 g\nsame: k2o\n")
	assert.Contains(t, flat(ranged), "Cost is at the high end, instead of 110 g of wood ash.")
	assert.Contains(t, flat(ranged), "All of it is at the high end, instead of 110 g of wood ash.")
	one := with(files, "instead of: wood-ash\namount: 110 g\nsame: k2o\n")
	assert.NotContains(t, flat(one), "high end")
	assert.InDelta(t, one.Number("substitutes/langbeinite/cost"), ranged.Number("substitutes/langbeinite/cost"), 1e-9)
}

// TestCoarseMeasureOfASwap: what spoons or a tenth of a gram miss by more than 10 % is named as in a recipe, and nothing
// closer is; 1 g of ash brings 0.06 g of potash, as 0.12 g of sulfate of potash of 50 %, and 0.1 g is 16.7 % less.
func TestCoarseMeasureOfASwap(t *testing.T) {
	seen := map[bool]int{}
	for _, amount := range []string{"0.5 g", "1 g", "2 g", "5 g", "9 g", "20 g", "50 g", "80 g", "110 g", "200 g"} {
		out := with(nil, "instead of: wood-ash\namount: "+amount+"\nsame: k2o\nfrom: [potassium-sulfate]\n")
		require.Empty(t, out.Printed())
		coarse := math.Abs(out.Number("substitutes/potassium-sulfate/rounding_percent/high")) > 10
		assert.Equal(t, coarse, slices.Contains(out.Cautions(""), "coarse-rounding"), amount)
		seen[coarse]++
	}
	assert.Greater(t, min(seen[true], seen[false]), 1)
	small := with(nil, "instead of: wood-ash\namount: 1 g\nsame: k2o\nfrom: [potassium-sulfate]\n")
	assert.Contains(t, flat(small), "0.1 g, the nearest step of a kitchen scale, is 16.7 % less")
}
