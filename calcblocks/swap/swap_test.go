package swap

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
)

func TestCases(t *testing.T) { blocktest.Run(t, Kind) }

const cupboard = `
even-blend: {name: Even blend, label: {n: 4, p2o5: 4, k2o: 4, ca: 1, mg: 1, s: 1}, cup weighs: 118 g, packs: [{holds: 1 kg, price: 6.00}]}
half-blend: {name: Half blend, label: {n: 2, p2o5: 2, k2o: 2, ca: 3, mg: 0.5, s: 1}, cup weighs: 118 g, packs: [{holds: 1 kg, price: 2.00}]}
kelp-meal: {cup weighs: 152 g, packs: [{holds: 2 kg, price: 14.00}]}
`

func compute(t require.TestingT, body string) blocktest.Output {
	out := blocktest.Compute(Kind, blocktest.Input{Files: map[string]string{"cupboard.yaml": cupboard}, Body: body})
	require.Empty(t, out.Printed(), body)
	return out
}

// TestByHand: two cups of the half blend hold as much potash as one of the even blend, and bring 5 g more Ca; they
// cost 236 x 0.2 - 118 x 0.6 cents.
func TestByHand(t *testing.T) {
	out := compute(t, "instead of: even-blend\namount: 1 cup\nsame: k2o\n")
	assert.InDelta(t, 118, out.Number("grams/low"), 1e-9)
	assert.InDelta(t, 118*0.04, out.Number("basis_g/high"), 1e-9)
	at := "substitutes/half-blend/"
	assert.InDelta(t, 236, out.Number(at+"grams/low"), 1e-9)
	assert.EqualValues(t, "2 cup", out.Find(at+"measure/us/low"))
	assert.InDelta(t, 236*0.03, out.Number(at+"also_g/ca"), 1e-9)
	assert.InDelta(t, 236*0.03-118*0.01, out.Number(at+"change_g/ca"), 1e-9)
	assert.InDelta(t, 0, out.Number(at+"change_g/mg"), 1e-9)
	assert.InDelta(t, 0.47, out.Number(at+"cost"), 1e-9)
	assert.InDelta(t, -0.24, out.Number(at+"cost_change"), 1e-9, "47.2 - 70.8 cents, rounded once")
	assert.Equal(t, data.Null{}, out.Find(at+"lime_equivalent_g"))
	assert.Equal(t, data.Flag(true), out.Find(at+"in_cupboard"))
	assert.Equal(t, data.Flag(false), out.Find("substitutes/langbeinite/in_cupboard"), "the catalogue is offered too")
}

// TestSwapBack is the second road: what the swap asks for, swapped back, is the amount again.
func TestSwapBack(t *testing.T) {
	milligrams := func(x float64) string { return strconv.FormatFloat(math.Round(x*1e4)/1e4, 'f', -1, 64) }
	rapid.Check(t, func(t *rapid.T) {
		grams := rapid.IntRange(5, 500).Draw(t, "grams")
		ids := []string{"even-blend", "half-blend", "kelp-meal", "langbeinite", "potassium-sulfate"}
		a, b := rapid.SampledFrom(ids).Draw(t, "a"), rapid.SampledFrom(ids).Draw(t, "b")
		if a == b {
			t.Skip("one material")
		}
		out := compute(t, "instead of: "+a+"\namount: "+fmt.Sprint(grams)+" g\nsame: k2o\nfrom: ["+b+"]\n")
		asked := out.Number("substitutes/" + b + "/asked_g/low")
		back := compute(t, "instead of: "+b+"\namount: "+milligrams(asked)+" g\nsame: k2o\nfrom: ["+a+"]\n")
		assert.InEpsilon(t, float64(grams), back.Number("substitutes/"+a+"/asked_g/low"), 1e-3)
	})
}

// TestDouble: twice the amount takes twice the substitute, and a range gives both ends.
func TestDouble(t *testing.T) {
	out := compute(t, "instead of: kelp-meal\namount: 1 to 2 cup\nsame: k2o\nfrom: [langbeinite]\n")
	at := "substitutes/langbeinite/asked_g/"
	assert.InEpsilon(t, 2*out.Number(at+"low"), out.Number(at+"high"), 1e-12)
	assert.LessOrEqual(t, out.Number(at+"least"), out.Number(at+"low"))
	assert.GreaterOrEqual(t, out.Number(at+"most"), out.Number(at+"high"))
	one := compute(t, "instead of: kelp-meal\namount: 1 cup\nsame: k2o\nfrom: [langbeinite]\n")
	assert.InEpsilon(t, one.Number(at+"high"), out.Number(at+"low"), 1e-12)
}

// TestOverItsMost: langbeinite has a usual most of 0.59 g per litre.
func TestOverItsMost(t *testing.T) {
	body := "instead of: potassium-sulfate\namount: 10 g\nsame: k2o\nfrom: [langbeinite]\nfor: "
	small, large := compute(t, body+"20 L\n"), compute(t, body+"100 L\n")
	assert.Equal(t, data.Flag(true), small.Find("substitutes/langbeinite/over_usual_most"), "about 23 g in 20 L")
	assert.Contains(t, small.Cautions(""), "over-limit")
	assert.Equal(t, data.Flag(false), large.Find("substitutes/langbeinite/over_usual_most"))
	ratio := small.Number("substitutes/langbeinite/ec_added_ms_cm/low") / large.Number("substitutes/langbeinite/ec_added_ms_cm/low")
	assert.InDelta(t, 5, ratio, 1e-9)
}

// TestLime: of two limes the weaker takes more; sulfur is none.
func TestLime(t *testing.T) {
	out := compute(t, "instead of: dolomitic-lime\namount: 100 g\nsame: lime\n")
	assert.InDelta(t, 105, out.Number("basis_g/low"), 1e-9)
	assert.InEpsilon(t, 105/0.95, out.Number("substitutes/calcitic-lime/asked_g/low"), 1e-9)
	assert.Nil(t, out.Find("substitutes/sulfur-powder"))
	assert.Nil(t, out.Find("substitutes/gypsum"), "gypsum leaves the pH alone")
}
