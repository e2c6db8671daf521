package feed_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/feed"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/reference"
)

func TestCases(t *testing.T) { blocktest.Run(t, feed.Kind) }

func compute(body string) blocktest.Output {
	return blocktest.Compute(feed.Kind, blocktest.Input{Body: body})
}

// TestMultipliesBack: the product in the can holds the nutrient that the can is to have, whatever the label,
// the strength and the can; twice the can takes twice the product, and half the label twice.
func TestMultipliesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 9))
	for range 500 {
		n, mg, litres := 1+r.IntN(30), 10+r.IntN(240), 1+r.IntN(40)
		body := func(n, litres int) string {
			return fmt.Sprintf("product: %d-%d-3\nstrength: %d mg/L N\ncan: %d L\n", n, n, mg, litres)
		}
		out := compute(body(n, litres))
		grams := out.Number("product_g")
		require.InEpsilon(t, float64(mg*litres)/1000, grams*float64(n)/100, 1e-12)
		require.InEpsilon(t, 2*grams, compute(body(n, 2*litres)).Number("product_g"), 1e-12)
		require.InEpsilon(t, 2*grams, compute(fmt.Sprintf("product: %g-0-3\nstrength: %d mg/L N\ncan: %d L\n", float64(n)/2, mg, litres)).Number("product_g"), 1e-12)
		require.InEpsilon(t, 0.436428, out.Number("mg_per_l/p")/out.Number("mg_per_l/p2o5"), 1e-4)
	}
}

// TestUnitsOfStrength: the same strength in other words, and by the ounce.
func TestUnitsOfStrength(t *testing.T) {
	want := compute("product: 20-20-20\nstrength: 100 mg/L N\ncan: 10 L\n").Number("product_g")
	for _, strength := range []string{"100 ppm N", "0.1 g/L N", "100 mg/L n", "100 PPM N", "1/10 g/L N"} {
		assert.InEpsilon(t, want, compute("product: 20-20-20\nstrength: "+strength+"\ncan: 10 L\n").Number("product_g"), 1e-12, strength)
	}
	// 1 oz of N in 100 gal = 74.8915 mg/L
	assert.InEpsilon(t, 74.8915, compute("product: 50-0-0\nstrength: 1 oz/gal N\ncan: 10 L\n").Number("strength/mg_per_l")/100, 1e-5)
	p := compute("product: 20-20-20\nstrength: 87.2856 mg/L P\ncan: 10 L\n")
	assert.InEpsilon(t, 10, p.Number("product_g"), 1e-4, "200 mg/L P2O5 is 87.29 mg/L P")
}

// TestNoSpoonWithoutDensity: neither a dry nor a liquid product gets a spoon unless its weight by volume is
// known, and it says so.
func TestNoSpoonWithoutDensity(t *testing.T) {
	for _, form := range []string{"dry", "liquid"} {
		body := "product: 5-1-1\nform: " + form + "\nstrength: 100 mg/L N\ncan: 10 L\n"
		out := compute(body)
		assert.IsType(t, data.Null{}, out.Find("measure"))
		assert.Contains(t, out.Cautions(""), "no-spoon")
		assert.Contains(t, out.Text(), "no spoon is given")
		out = compute(body + "density: 1.15 kg/L\n")
		assert.NotContains(t, out.Cautions(""), "no-spoon")
		assert.NotNil(t, out.Find("measure/us/low"))
	}
	liquid := blocktest.Compute(feed.Kind, blocktest.Input{Body: "product: kelp-meal\nform: liquid\nstrength: 10 mg/L N\ncan: 1 L\n"})
	assert.Contains(t, liquid.Cautions(""), "no-spoon", "the density of the meal is not that of a liquid made of it")
}

// TestRangesOfTheReference: no content within its range leaves the least and the most of the feed.
func TestRangesOfTheReference(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for _, id := range []string{"kelp-meal", "fish-meal", "alfalfa-meal", "poultry-manure-pellets"} {
		a, _ := reference.Default().Amendment(id)
		out := compute("product: " + id + "\nstrength: 75 mg/L N\ncan: 10 L\n")
		require.Empty(t, out.Printed())
		perLitre := out.Number("g_per_l")
		for key, nutrient := range map[string]reference.Nutrient{"n": reference.N, "p2o5": reference.P2O5, "k2o": reference.K2O} {
			f := a.AsIs(nutrient)
			for range 1000 {
				mg := perLitre * 10 * (f.Low + r.Float64()*(f.High-f.Low))
				if mg < out.Number("mg_per_l/"+key+"/least")-1e-9 || mg > out.Number("mg_per_l/"+key+"/most")+1e-9 {
					t.Fatalf("%s %s: %v is outside", id, key, mg)
				}
			}
		}
	}
}

// TestGuards: above 250 mg/L N it speaks, at 250 not; a liquid is never taken as all salt.
func TestGuards(t *testing.T) {
	body := func(mg string) string { return "product: 20-20-20\nstrength: " + mg + " mg/L N\ncan: 10 L\n" }
	assert.NotContains(t, compute(body("250")).Cautions(""), "strong-feed")
	assert.Contains(t, compute(body("251")).Cautions(""), "strong-feed")
	assert.Contains(t, compute(body("200 to 251")).Cautions(""), "strong-feed", "the high end counts")
	assert.NotContains(t, compute(body("100")).Cautions(""), "not-all-dissolves")
	liquid := compute(body("100") + "form: liquid\n")
	assert.Contains(t, liquid.Cautions(""), "not-all-dissolves")
	assert.Zero(t, liquid.Number("ec_added_ms_cm/low"))
	assert.InEpsilon(t, 0.5*1.6, liquid.Number("ec_added_ms_cm/high"), 1e-12)
}

// TestAskedCan: a reader's container takes the place of the can.
func TestAskedCan(t *testing.T) {
	in := blocktest.Input{Body: "product: 20-20-20\nstrength: 200 mg/L N\ncan: 10 L\n", For: "5 L"}
	assert.InEpsilon(t, 5, blocktest.Compute(feed.Kind, in).Number("product_g"), 1e-9)
}

// TestFaultsOfStrength: each slip at its character.
func TestFaultsOfStrength(t *testing.T) {
	for strength, code := range map[string]string{
		"100": "bad-strength", "100 mg/L": "bad-strength", "100 mg N": "no-rate", "0 mg/L N": "zero-amount", "100-150 mg/L N": "dash-for-range",
		"150 to 100 mg/L N": "range-order", "5 mL/L N": "bad-strength", "100 mg/L Fe": "unknown-nutrient", "300 g/L N": "too-strong", "100 mg/kg N": "wrong-dimension",
	} {
		out := compute("product: 20-20-20\nstrength: " + strength + "\ncan: 10 L\n")
		if assert.Len(t, out.Faults, 1, strength) {
			assert.Equal(t, code, out.Faults[0].Code, strength)
			assert.Equal(t, 2, out.Faults[0].At.Line)
			assert.NotEmpty(t, out.Faults[0].Hints, strength)
		}
		assert.Nil(t, out.Data, strength)
	}
}
