package measure

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"

	"trug/calcblocks/kit/units"
)

// The cases follow 21 CFR 101.9(b)(5) and (b)(7): the rule's own example (2.5 tbsp), ties at every change
// of step, and steps that stay.
func TestHouseholdGrid(t *testing.T) {
	for _, c := range []struct {
		wanted, text, teaspoons string
	}{
		{"2.5 tbsp", "3 tbsp", "9"},
		{"1.5 tsp", "2 tsp", "2"},
		{"2.5 tsp", "1 tbsp", "3"},
		{"3.4 tbsp", "3 tbsp", "9"},
		{"3.5 tbsp", "1/4 cup", "12"},
		{"3.6 tbsp", "1/4 cup", "12"},
		{"0.29 cup", "1/4 cup", "12"},
		{"7/24 cup", "1/3 cup", "16"},
		{"0.1875 tsp", "1/4 tsp", "1/4"},
		{"0.375 tsp", "1/2 tsp", "1/2"},
		{"0.625 tsp", "3/4 tsp", "3/4"},
		{"0.875 tsp", "1 tsp", "1"},
		{"0.125 tsp", "1/8 tsp", "1/8"},
		{"0.75 tsp", "3/4 tsp", "3/4"},
		{"2 tsp", "2 tsp", "2"},
		{"4 tsp", "1 1/3 tbsp", "4"},
		{"4.5 tsp", "1 1/2 tbsp", "9/2"},
		{"5 tsp", "1 2/3 tbsp", "5"},
		{"9 tsp", "3 tbsp", "9"},
		{"16 tsp", "1/3 cup", "16"},
		{"20 tsp", "1/2 cup", "24"},
		{"32 tsp", "2/3 cup", "32"},
		{"48 tsp", "1 cup", "48"},
		{"54 tsp", "1 1/4 cup", "60"},
		{"53 tsp", "1 cup", "48"},
		{"62 tsp", "1 1/3 cup", "64"},
		{"68 tsp", "1 1/2 cup", "72"},
		{"82 tsp", "1 3/4 cup", "84"},
		{"90 tsp", "2 cup", "96"},
		{"0.07 tsp", "1/8 tsp", "1/8"},
	} {
		m := Nearest(of(t, units.Label, c.wanted), units.Label, Household)
		assert.Equal(t, c.text, m.Text, c.wanted)
		assert.Equal(t, c.teaspoons, m.Volume.Over(units.Label.Teaspoon()).RatString(), c.wanted)
	}
}

// Every set keeps to its own cup and spoons.
func TestHouseholdInEachSet(t *testing.T) {
	for _, c := range []struct {
		set          units.Set
		wanted, text string
		ml           string
	}{
		{units.US, "1/3 cup", "1/3 cup", "78.8627455"},
		{units.Metric, "56 mL", "1/4 cup", "62.5"},
		{units.Metric, "53 mL", "3 tbsp", "45"},
		{units.Australian, "15 mL", "1 tbsp", "20"}, // half way from 2 tsp
		{units.Australian, "61.25 mL", "1/4 cup", "62.5"},
		{units.UK, "100 mL", "1/3 cup", "83.3333333"},
	} {
		m := Nearest(of(t, c.set, c.wanted), c.set, Household)
		assert.Equal(t, c.text, m.Text, "%s %s", c.set, c.wanted)
		want, _ := new(big.Rat).SetString(c.ml)
		float, _ := want.Float64()
		assert.InDelta(t, float, m.Volume.Float(), 1e-6)
	}
}

// The worst rounding of the grid is a third, between 1 and 2 tsp.
func TestHouseholdWorstError(t *testing.T) {
	m := Nearest(of(t, units.Label, "1.5 tsp"), units.Label, Household)
	assert.InDelta(t, 33.3333, m.Error, 1e-3)
	for n := int64(16); n <= 3000; n++ { // 1/8 tsp to about half a cup, in steps of 1/128 tsp
		wanted := units.Label.Teaspoon().Times(big.NewRat(n, 128))
		m := Nearest(wanted, units.Label, Household)
		assert.LessOrEqual(t, m.Error, 33.34, "%d/128 tsp", n)
		assert.GreaterOrEqual(t, m.Error, -33.34, "%d/128 tsp", n)
	}
}
