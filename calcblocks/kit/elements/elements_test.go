package elements

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/reference"
)

// Factors of Virginia Cooperative Extension, Conversion factors needed for common fertilizer calculations
// (SPES-201NP), beside those from the atomic weights. The table's whole tolerance is 0.1 %, and 0.3 % for
// calcium sulfate, which it works with older weights.
func TestConvertAgreesWithThePublishedTable(t *testing.T) {
	for _, c := range []struct {
		from, to           string
		factor, published  float64
		publishedTolerance float64
	}{
		{"P2O5", "P", 0.436429, 0.4365, 0.001},
		{"P", "P2O5", 2.291325, 2.2910, 0.001},
		{"K2O", "K", 0.830150, 0.8301, 0.001},
		{"K", "K2O", 1.204601, 1.2051, 0.001},
		{"CaO", "Ca", 0.714696, 0.7147, 0.001},
		{"Ca", "CaO", 1.399197, 1.3992, 0.001},
		{"MgO", "Mg", 0.603042, 0.6032, 0.001},
		{"Mg", "MgO", 1.658260, 1.6578, 0.001},
		{"SO4", "S", 0.333764, 0.3339, 0.001},
		{"MgCO3", "CaCO3 equivalent", 1.187077, 1.1867, 0.001},
		{"CaCO3", "CaO", 0.560288, 0.5603, 0.001},
		{"MgCO3", "MgO", 0.478028, 0.4782, 0.001},
		{"KCl", "K", 0.524467, 0.5244, 0.001},
		{"K2SO4", "K", 0.448752, 0.4487, 0.001},
		{"K2SO4", "S", 0.183986, 0.1840, 0.001},
		{"CaSO4", "Ca", 0.294401, 0.2938, 0.003},
		{"CaSO4", "S", 0.235503, 0.2350, 0.003},
		{"N", "NH3", 1.215892, 1.2158, 0.001},
		{"crude protein", "N", 1 / 6.25, 1 / 6.25, 0.001},
		{"N", "crude protein", 6.25, 6.25, 0.001},
		{"SO3", "S", 0.400465, 0.4, 0.003}, // AHDB RB209
	} {
		got := Convert(c.from, c.to)
		assert.InDelta(t, c.factor, got, 1e-6, "%s to %s", c.from, c.to)
		assert.InEpsilon(t, c.published, got, c.publishedTolerance, "%s to %s in print", c.from, c.to)
	}
}

func TestConvertThereAndBack(t *testing.T) {
	pairs := rapid.SampledFrom([][2]string{
		{"P2O5", "P"},
		{"K2O", "K"},
		{"CaO", "Ca"},
		{"MgO", "Mg"},
		{"SO3", "S"},
		{"SO4", "S"},
		{"NaCl", "Na"},
		{"NH3", "N"},
		{"(NH4)2SO4", "N"},
		{"CaCO3", "CaO"},
		{"crude protein", "N"},
	})
	rapid.Check(t, func(t *rapid.T) {
		p := pairs.Draw(t, "pair")
		x := rapid.Float64Range(1e-6, 1e6).Draw(t, "mass")
		assert.InEpsilon(t, x, x*Convert(p[0], p[1])*Convert(p[1], p[0]), 1e-12)
	})
}

// Contents of pure compounds, in percent: computed from the weights, a ceiling for traded goods.
func TestContentOfCompounds(t *testing.T) {
	for _, c := range []struct {
		part, formula string
		percent       float64
	}{
		{"Ca", "CaCO3", 40.04},
		{"Mg", "MgCO3", 28.83},
		{"Ca", "CaMg(CO3)2", 21.73},
		{"Mg", "CaMg(CO3)2", 13.18},
		{"Ca", "CaSO4.2H2O", 23.28},
		{"S", "CaSO4·2H2O", 18.62},
		{"K", "K2Mg2(SO4)3", 18.84},
		{"K2O", "K2Mg2(SO4)3", 22.70},
		{"Mg", "K2Mg2(SO4)3", 11.71},
		{"S", "K2Mg2(SO4)3", 23.18},
		{"K2O", "K2SO4", 54.06},
		{"Mg", "MgSO4.7H2O", 9.86},
		{"S", "MgSO4.7H2O", 13.01},
		{"K2O", "KCl", 63.18},
	} {
		assert.InDelta(t, c.percent, 100*Convert(c.formula, c.part), 0.006, "%s in %s", c.part, c.formula)
	}
}

func TestLimeEquivalent(t *testing.T) {
	for formula, percent := range map[string]float64{
		"CaCO3": 100, "CaO": 178.48, "Ca(OH)2": 135.08, "MgO": 248.33, "Mg(OH)2": 171.62, "MgCO3": 118.71,
		"CaMg(CO3)2": 108.55, "S": -312.18, "CaSO4.2H2O": 0, "K2Mg2(SO4)3": 0, "KCl": 0, "K2CO3": 72.42,
	} {
		assert.InDelta(t, percent, LimeEquivalent(formula), 0.006, formula)
	}
}

func TestMolarMass(t *testing.T) {
	for formula, mass := range map[string]float64{
		"H2O": 18.015, "CaSO4.2H2O": 172.164, "(NH4)2SO4": 132.134, "Mg(OH)2": 58.319, "Ca(Mg(CO3)2)": 184.399, "K": 39.098,
	} {
		a, err := read(formula)
		require.NoError(t, err, formula)
		assert.InDelta(t, mass, a.mass(), 0.0015, formula)
	}
}

func TestAtomicWeightsAreThoseOfTheReference(t *testing.T) {
	require.NotEmpty(t, weights)
	for element, weight := range weights {
		assert.Equal(t, reference.Default().Number("volumes", "atomic_weights", "values", element), weight, element)
	}
}

func TestBadFormulas(t *testing.T) {
	for formula, message := range map[string]string{
		"":           `formula "" has an empty part`,
		"CaSO4.":     `formula "CaSO4." has an empty part`,
		"Xx2":        `formula "Xx2" has no known element at "Xx2"`,
		"caO":        `formula "caO" has no known element at "caO"`,
		"Mg(OH2":     `the brackets of formula "Mg(OH2" do not match`,
		"MgOH)2":     `the brackets of formula "MgOH)2" do not match`,
		"Mg()2":      `formula "Mg()2" has an empty part`,
		"Ca CO3":     `formula "Ca CO3" has no known element at " CO3"`,
		"2":          `formula "2" has an empty part`,
		"Mg(O(H)2)3": "",
	} {
		_, err := read(formula)
		if message == "" {
			assert.NoError(t, err, formula)
			continue
		}
		assert.EqualError(t, err, message)
	}
}

func TestNamesThatMakeNoSense(t *testing.T) {
	assert.PanicsWithValue(t, "elements: CaO and K2O share no element", func() { Convert("CaO", "K2O") })
	assert.PanicsWithValue(t, `elements: formula "Qz" has no known element at "Qz"`, func() { Convert("CaO", "Qz") })
	assert.Panics(t, func() { LimeEquivalent("(NH4)2SO4") })
}

func TestReadNeverStumbles(t *testing.T) {
	piece := rapid.SampledFrom([]string{"Ca", "O", "H", "(", ")", "2", "10", ".", "·", "X", "é", "s"})
	rapid.Check(t, func(t *rapid.T) {
		formula := ""
		for _, p := range rapid.SliceOfN(piece, 0, 10).Draw(t, "pieces") {
			formula += p
		}
		a, err := read(formula)
		if err != nil {
			assert.Contains(t, err.Error(), "formula")
			return
		}
		assert.GreaterOrEqual(t, a.mass(), 1.0)
	})
}
