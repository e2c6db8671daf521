package balance

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
)

// Three products of one nutrient each but for the first, which brings some nitrogen along, and a grade of 24-25-4
// (University of Massachusetts Extension, Step-by-step guide from a soil test to a fertilizer rate).
const products = `
starter: {name: Starter, label: {n: 24, p2o5: 25, k2o: 4, mg: 10}, cup weighs: 200 g, packs: [{holds: 1 kg, price: 5.00}]}
bone: {name: Bone, label: {n: 3, p2o5: 15, k2o: 0, mg: 0}, cup weighs: 200 g, packs: [{holds: 1 kg, price: 5.00}]}
blood: {name: Blood, label: {n: 12, p2o5: 0, k2o: 0, mg: 0}, cup weighs: 150 g, packs: [{holds: 1 kg, price: 9.00}]}
potash: {name: Potash, label: {n: 0, p2o5: 0, k2o: 50, mg: 10}, cup weighs: 300 g, packs: [{holds: 1 kg, price: 7.00}]}
`

func compute(t require.TestingT, cupboard, body string) blocktest.Output {
	out := blocktest.Compute(Kind, blocktest.Input{ID: "b", Files: map[string]string{"cupboard.yaml": cupboard}, Body: body})
	require.Empty(t, out.Printed(), body)
	return out
}

// TestPublishedRecommendation: 3 of nitrogen from a 24-25-4 grade are 12.5 of the product, which bring 3.125
// of phosphate and 0.5 of potash, 0.5 short of the 1 that was recommended. Here in units of 10 g.
func TestPublishedRecommendation(t *testing.T) {
	out := compute(t, products, "for: 60 L\ntargets: {n: 30 g}\nfrom: [starter]\ncount: total\n")
	assert.InDelta(t, 125, out.Number("amounts/starter/asked_g"), 1e-6)
	out = compute(t, products, "for: 60 L\ntargets: {n: 30 g, p2o5: 30 to 40 g, k2o: 10 g}\nfrom: [starter]\ncount: total\n")
	b := out.Find("bands").(data.List)
	k := out.Number("amounts/starter/asked_g") * 0.04
	assert.InDelta(t, k, float64(b[2].(data.Object).Get("asked_g").(data.Number)), 1e-6)
	assert.Less(t, k, 10.0)
	assert.NotEmpty(t, b[2].(data.Object).Get("held_by"))
}

// TestInTheUsualOrder: phosphate first by the bone, the nitrogen that it leaves by the blood, potash last:
// the same amounts by hand and by the program.
func TestInTheUsualOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := float64(rapid.IntRange(40, 120).Draw(t, "n")) / 10
		p := float64(rapid.IntRange(5, 60).Draw(t, "p")) / 10
		k := float64(rapid.IntRange(5, 80).Draw(t, "k")) / 10
		bone := p / 0.15
		blood := (n - bone*0.03) / 0.12
		potash := k / 0.5
		for _, prefer := range []string{"cheapest", "closest", "fewest"} {
			out := compute(t, products, fmt.Sprintf("for: 60 L\ntargets: {n: %v g, p2o5: %v g, k2o: %v g}\nfrom: [bone, blood, potash]\ncount: total\nprefer: %s\n", n, p, k, prefer))
			assert.InDelta(t, bone, out.Number("amounts/bone/asked_g"), 1e-5)
			assert.InDelta(t, blood, out.Number("amounts/blood/asked_g"), 1e-5)
			assert.InDelta(t, potash, out.Number("amounts/potash/asked_g"), 1e-5)
		}
	})
}

// TestAvailableByHand: 100 g of available nitrogen of feather meal take content x season share.
func TestAvailableByHand(t *testing.T) {
	out := compute(t, "feather-meal: {label: {n: 12}}\n", "for: 500 L\ntargets: {n: 3 g}\nfrom: [feather-meal]\n")
	m, _ := out.Garden.Material("feather-meal")
	share := supply.Of(reference.Default(), m, reference.N, supply.Season, supply.Celsius)
	require.True(t, share.Known)
	assert.InDelta(t, 3/(0.12*share.Value.Typical), out.Number("amounts/feather-meal/asked_g"), 1e-6)
}

var pantry = []string{"alfalfa-meal", "feather-meal", "blood-meal", "fish-bone-meal", "kelp-meal", "langbeinite", "potassium-sulfate", "gypsum", "epsom-salt", "worm-castings", "crustacean-meal"}

func drawn(t *rapid.T) (body func(by int) string, litres int) {
	litres = rapid.IntRange(10, 80).Draw(t, "litres")
	n, p, k := rapid.IntRange(1, 40).Draw(t, "n"), rapid.IntRange(1, 30).Draw(t, "p"), rapid.IntRange(1, 40).Draw(t, "k")
	from := slices.Clone(pantry)[:rapid.IntRange(3, len(pantry)).Draw(t, "materials")]
	prefer := rapid.SampledFrom([]string{"cheapest", "closest"}).Draw(t, "prefer")
	return func(by int) string {
		return fmt.Sprintf("for: trough 50 x %d x 20 cm\ntargets: {n: %d to %d g, p2o5: %d to %d g, k2o: %d to %d g, ca: %d to %d g}\nfrom: [%s]\nprefer: %s\n",
			litres*by, n*by, (n+5)*by, p*by, (p+4)*by, k*by, (k+6)*by, by, 30*by, strings.Join(from, ", "), prefer)
	}, litres
}

// TestMultipliedOut: what the result says of a band is the sum over its amounts; asked amounts and measures
// keep within limits and guards.
func TestMultipliedOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body, litres := drawn(t)
		out := compute(t, "", body(1))
		fast, reached, asked := 0.0, map[reference.Nutrient]float64{}, map[reference.Nutrient]float64{}
		for _, a := range out.Find("amounts").(data.List) {
			o := a.(data.Object)
			m, _ := out.Garden.Material(string(o.Get("amendment").(data.Text)))
			grams, exact := float64(o.Get("grams").(data.Object).Get("low").(data.Number)), float64(o.Get("asked_g").(data.Number))
			if most, ok := o.Get("most_g").(data.Number); ok {
				assert.LessOrEqual(t, exact, float64(most)*(1+1e-6), m.ID)
			}
			for _, n := range []reference.Nutrient{reference.N, reference.P2O5, reference.K2O, reference.Ca} {
				held := m.Content(n).Typical / 100 * supply.Of(reference.Default(), m, n, supply.Season, supply.Celsius).Value.Typical
				reached[n] += grams * held
				asked[n] += exact * held
			}
			if m.Ref.Release.Week2.Known {
				fast += exact * m.Content(reference.N).Typical / 100
			}
		}
		assert.LessOrEqual(t, fast, 0.5*float64(litres)*(1+1e-6), "single_dose_n_cap")
		for _, b := range out.Find("bands").(data.List) {
			o := b.(data.Object)
			n := reference.Nutrient(o.Get("nutrient").(data.Text))
			number := func(key string) float64 { return float64(o.Get(key).(data.Number)) }
			assert.InDelta(t, reached[n], float64(o.Get("reached").(data.Object).Get("typical").(data.Number)), 1e-6*max(1, reached[n]))
			assert.InDelta(t, asked[n], number("asked_g"), 0.01, "but for what is too little to weigh")
			assert.InDelta(t, max(reached[n]-number("high"), 0)-max(number("low")-reached[n], 0), number("missed_by"), 1e-5*number("high"))
			assert.Equal(t, number("missed_by") != 0, len(o.Get("held_by").(data.List)) > 0, "a missed band says what is in the way")
		}
	})
}

// TestDouble: a pot twice as long with twice the targets takes twice the amounts.
func TestDouble(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body, _ := drawn(t)
		one, two := compute(t, "", body(1)), compute(t, "", body(2))
		for i, b := range one.Find("bands").(data.List) {
			asked := float64(b.(data.Object).Get("asked_g").(data.Number))
			assert.InDelta(t, 2*asked, float64(two.Find("bands").(data.List)[i].(data.Object).Get("asked_g").(data.Number)), 1e-5*max(1, asked))
		}
		for _, a := range one.Find("amounts").(data.List) {
			id := string(a.(data.Object).Get("amendment").(data.Text))
			asked := one.Number("amounts/" + id + "/asked_g")
			if asked > 1 { // less may be too little for any measure
				assert.InDelta(t, 2*asked, two.Number("amounts/"+id+"/asked_g"), 1e-4*asked, id)
			}
		}
	})
}

// TestMoreOnOfferCostsNoMore: another material on offer never makes the cheapest answer dearer where both
// meet the bands.
func TestMoreOnOfferCostsNoMore(t *testing.T) {
	body := "for: 60 L\ntargets: {n: 6 to 7 g, p2o5: 2 to 3 g, k2o: 3 to 4 g}\ncount: total\nfrom: "
	few := compute(t, products, body+"[bone, blood, potash]\n")
	all := compute(t, products, body+"[bone, blood, potash, starter]\n")
	asked := func(out blocktest.Output) float64 {
		sum := 0.0
		for _, a := range out.Find("amounts").(data.List) {
			id := string(a.(data.Object).Get("amendment").(data.Text))
			m, _ := out.Garden.Material(id)
			sum += out.Number("amounts/"+id+"/asked_g") * m.Packs[0].Price.Float() / m.Packs[0].Holds.Mass.Float()
		}
		return sum
	}
	assert.Less(t, asked(all), asked(few))
	again := compute(t, products, body+"[bone, blood, potash, starter]\n")
	assert.Equal(t, string(data.JSON(all.Data)), string(data.JSON(again.Data)))
}

// TestAshKeepsItsDistance: with ash, lime and a rich meal on offer no answer holds ash beside one of the others.
func TestAshKeepsItsDistance(t *testing.T) {
	cupboard := "wood-ash: {packs: [{holds: 1 kg, price: 0.10}]}\nblood-meal: {packs: [{holds: 1 kg, price: 9.00}]}\ncalcitic-lime: {packs: [{holds: 1 kg, price: 2.00}]}\n"
	ids := func(body string) []string {
		var out []string
		for _, a := range compute(t, cupboard, body).Find("amounts").(data.List) {
			out = append(out, string(a.(data.Object).Get("amendment").(data.Text)))
		}
		return out
	}
	from := "from: [wood-ash, blood-meal, calcitic-lime]\n"
	assert.Equal(t, []string{"blood-meal"}, ids("for: 60 L\ntargets: {n: 1 to 3 g, k2o: 8 to 9 g}\n"+from), "all of the nitrogen is more than the little potash of ash under its cap")
	assert.Equal(t, []string{"wood-ash"}, ids("for: 60 L\ntargets: {k2o: 0.5 to 2 g}\n"+from))
	assert.NotContains(t, ids("for: 60 L\ntargets: {k2o: 0.5 to 2 g}\n"), "wood-ash", "the cupboard's ash waits to be named")
}

// TestTheGuardOnFastNitrogen: three fast meals in a shallow trough, each within its own most for the surface, are held
// to 0.5 g of nitrogen per litre together.
func TestTheGuardOnFastNitrogen(t *testing.T) {
	out := compute(t, "", "for: trough 100 x 100 x 5 cm\ntargets: {n: 60 to 80 g}\nfrom: [blood-meal, feather-meal, fish-meal]\ncount: total\n")
	b := out.Find("bands").(data.List)[0].(data.Object)
	assert.InDelta(t, 25, float64(b.Get("asked_g").(data.Number)), 1e-6)
	assert.Equal(t, data.List{data.Text("guard fast-nitrogen")}, b.Get("held_by"))
}

// TestUnpricedIsNotFree: a material without a price is used only as far as the priced ones do not reach.
func TestUnpricedIsNotFree(t *testing.T) {
	cupboard := products + "free: {name: Free, label: {n: 12, p2o5: 0, k2o: 0, mg: 0}, cup weighs: 150 g}\n"
	out := compute(t, cupboard, "for: 60 L\ntargets: {n: 6 g}\nfrom: [free, blood]\ncount: total\n")
	assert.Nil(t, out.Find("amounts/free"))
	out = compute(t, cupboard, "for: 60 L\ntargets: {n: 6 g}\nfrom: [free, blood]\nlimits: {blood: 20 g}\ncount: total\n")
	assert.InDelta(t, 20, out.Number("amounts/blood/asked_g"), 1e-6)
	assert.InDelta(t, 30, out.Number("amounts/free/asked_g"), 1e-6)
	assert.EqualValues(t, "free", out.Find("cost/missing/1"))
}

// TestFewestWithoutPrices: one material that brings all is taken, prices or not, though two weigh less.
func TestFewestWithoutPrices(t *testing.T) {
	blends := "all: {name: All, label: {n: 2, p2o5: 2, k2o: 0}, cup weighs: 150 g}\nrich: {name: Rich, label: {n: 10, p2o5: 0, k2o: 0}, cup weighs: 150 g}\nphos: {name: Phos, label: {n: 0, p2o5: 10, k2o: 0}, cup weighs: 150 g}\n"
	body := "for: 60 L\ntargets: {n: 5 to 6 g, p2o5: 5 to 6 g}\ncount: total\nprefer: "
	few, light := compute(t, blends, body+"fewest\n"), compute(t, blends, body+"cheapest\n")
	assert.Len(t, few.Find("amounts"), 1)
	assert.NotNil(t, few.Find("amounts/all"))
	assert.Len(t, light.Find("amounts"), 2, "without prices the lightest")
}

// TestCropBands: without targets the bands are those of the crop's need; a target takes the place of one.
func TestCropBands(t *testing.T) {
	out := compute(t, products, "for: 60 L\ncrop: pepper\nplants: 2\nyield: 1 kg\ntargets: {k2o: 5 to 6 g}\nfrom: [bone, blood, potash]\n")
	n := out.Find("bands").(data.List)[0].(data.Object)
	// 2 plants x 1 kg x 3.3 g/kg, of which 50 to 70 % are recovered.
	assert.InDelta(t, 6.6/0.7, float64(n.Get("low").(data.Number)), 1e-6)
	assert.InDelta(t, 6.6/0.5, float64(n.Get("high").(data.Number)), 1e-6)
	k := out.Find("bands").(data.List)[2].(data.Object)
	assert.InDelta(t, 5, float64(k.Get("low").(data.Number)), 1e-9)
	assert.NotEmpty(t, out.Find("sources/own-in-yaml-5"))
}

// TestCornerThatRoundsAway is a shop that the solver once gave up on: rounding left its corner with one column
// too few.
func TestCornerThatRoundsAway(t *testing.T) {
	out := compute(t, "", "for: trough 50 x 75 x 20 cm\ntargets: {n: 13 to 18 g, p2o5: 29 to 33 g, k2o: 19 to 25 g, ca: 1 to 30 g}\nfrom: [alfalfa-meal, feather-meal, blood-meal, fish-bone-meal]\nprefer: closest\n")
	assert.NotEmpty(t, out.Find("amounts"))
}
