package dose_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
)

func heap(t require.TestingT, grams map[string]float64, ids ...string) []dose.Portion {
	g := blocktest.Open(nil, &diag.List{})
	var out []dose.Portion
	for _, id := range ids {
		m, ok := g.Material(id)
		require.True(t, ok, id)
		x := grams[id]
		out = append(out, dose.Portion{Material: m, Mass: units.SomeMass{Low: x, Typical: x, High: x}})
	}
	return out
}

// TestAvailableByHand: 100 g of feather meal at 11.7, 12.5, 13.5 % N, 55, 65, 75 % of it in a season, and 200 g of
// alfalfa at 2, 2.7, 3 % and 25, 40, 45 %.
func TestAvailableByHand(t *testing.T) {
	lib := reference.Default()
	parts := heap(t, map[string]float64{"feather-meal": 100, "alfalfa-meal": 200}, "feather-meal", "alfalfa-meal", "gypsum")
	s := dose.Available(lib, parts, reference.N, supply.Season, supply.Celsius)
	assert.True(t, s.Known)
	assert.Empty(t, s.Missing, "gypsum has no nitrogen, which is known")
	assert.InDelta(t, 11.7*0.55+4*0.25, s.Value.Low, 1e-9)
	assert.InDelta(t, 12.5*0.65+5.4*0.40, s.Value.Typical, 1e-9)
	assert.InDelta(t, 13.5*0.75+6*0.45, s.Value.High, 1e-9)
	weeks := dose.Released(lib, parts, supply.Celsius, 20)
	assert.Zero(t, weeks[0].Value)
	assert.InDelta(t, s.Value.Typical, weeks[20].Value.Typical, 1e-9)
	assert.Equal(t, []string{"eggshell-ground"}, dose.Available(lib, heap(t, nil, "eggshell-ground"), reference.N, supply.Season, supply.Celsius).Missing)
}

// TestMoreNeverLowersTheSupply: more of an amendment brings more of each nutrient that is available at each time,
// or less where it ties up.
func TestMoreNeverLowersTheSupply(t *testing.T) {
	lib := reference.Default()
	rapid.Check(t, func(t *rapid.T) {
		id := rapid.SampledFrom(lib.AmendmentIDs()).Draw(t, "amendment")
		some := rapid.Float64Range(0, 500).Draw(t, "grams")
		more := some + rapid.Float64Range(0, 500).Draw(t, "more grams")
		for _, n := range reference.Nutrients {
			for _, at := range supply.Times {
				base := heap(t, map[string]float64{"feather-meal": 50, id: some}, "feather-meal", id)
				rich := heap(t, map[string]float64{"feather-meal": 50, id: more}, "feather-meal", id)
				if id == "feather-meal" {
					base, rich = base[1:], rich[1:]
				}
				a, b := dose.Available(lib, base, n, at, supply.Celsius).Value, dose.Available(lib, rich, n, at, supply.Celsius).Value
				share := supply.Of(lib, rich[len(rich)-1].Material, n, at, supply.Celsius).Value
				for _, end := range [][3]float64{{a.Low, b.Low, share.Low}, {a.Typical, b.Typical, share.Typical}, {a.High, b.High, share.High}} {
					if end[2] >= 0 {
						assert.GreaterOrEqual(t, end[1], end[0]-1e-9)
					} else {
						assert.LessOrEqual(t, end[1], end[0]+1e-9)
					}
				}
			}
		}
	})
}

// TestBoxOfTheSupply: 10,000 mixes whose masses, contents and shares lie anywhere within their ranges, the share of
// yard compost negative too, never leave the reported range.
func TestBoxOfTheSupply(t *testing.T) {
	lib := reference.Default()
	parts := heap(t, nil, "feather-meal", "yard-compost", "malted-barley")
	for i := range parts {
		parts[i].Mass = units.SomeMass{Low: 80, Typical: 100, High: 130}
	}
	reported := dose.Available(lib, parts, reference.N, supply.Week8, supply.Celsius).Value
	var x [9]float64
	for range 10000 {
		got := 0.0
		for i, p := range parts {
			for j := range 3 {
				x[3*i+j] = math.Mod(x[3*i+j]+math.Sqrt([9]float64{2, 3, 5, 7, 11, 13, 17, 19, 23}[3*i+j]), 1)
			}
			content, share := p.Material.Content(reference.N).Share(), supply.Of(lib, p.Material, reference.N, supply.Week8, supply.Celsius).Value
			at := func(low, high, x float64) float64 { return low + x*(high-low) }
			got += at(80, 130, x[3*i]) * at(content.Low, content.High, x[3*i+1]) * at(share.Low, share.High, x[3*i+2])
		}
		assert.GreaterOrEqual(t, got, reported.Low-1e-9)
		assert.LessOrEqual(t, got, reported.High+1e-9)
	}
}
