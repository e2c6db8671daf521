package swap

import (
	"fmt"
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
