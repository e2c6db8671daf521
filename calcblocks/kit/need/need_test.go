package need_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/need"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

var lib = reference.Default()

func grams(n float64) reference.Figure {
	return reference.Figure{Known: true, Low: n, Typical: n, High: n}
}

// TestBands: 2 plants of 3 kg that take up 2.8 g N and 1 g P2O5 a kilogram hold 16.8 g N and 6 g P2O5. The recovery
// of 0.6 makes 28 g of the nitrogen; of phosphate 10 g are more than 1.5 times the uptake, 9 g.
func TestBands(t *testing.T) {
	crop := &reference.Crop{Uptake: map[reference.Nutrient]reference.Figure{reference.N: grams(2.8), reference.P2O5: grams(1)}}
	bands := need.Bands(lib, crop, 2, units.SomeMass{Low: 3000, Typical: 3000, High: 3000})
	require.Len(t, bands, len(need.Nutrients))
	n, p, k := bands[0], bands[1], bands[2]
	assert.InDelta(t, 16.8, n.Uptake.Typical, 1e-9)
	assert.InDelta(t, 28, n.Need.Typical, 1e-9)
	assert.InDelta(t, 6, p.Uptake.Typical, 1e-9)
	assert.InDelta(t, 9, p.Need.Typical, 1e-9)
	assert.False(t, k.Known)
	assert.Equal(t, "no uptake of potash is known for it", k.Why)
}

// TestBandsWithoutAYield: the crop's own kilograms stand in; without them nothing is known.
func TestBandsWithoutAYield(t *testing.T) {
	crop := &reference.Crop{Yield: grams(3), Uptake: map[reference.Nutrient]reference.Figure{reference.N: grams(2.8)}}
	assert.InDelta(t, 14, need.Bands(lib, crop, 1, units.SomeMass{})[0].Need.Typical, 1e-9)
	crop.Yield = reference.Figure{}
	assert.Equal(t, "no yield is known for it: write yours", need.Bands(lib, crop, 1, units.SomeMass{})[0].Why)
}

// TestWeeks: a lettuce is done when it is mature, a tomato bears to the end.
func TestWeeks(t *testing.T) {
	assert.Equal(t, 9, need.Weeks(&reference.Crop{Family: "asteraceae", DaysToMaturity: grams(60)}, 20), "60 days are 8.6 weeks")
	assert.Equal(t, 20, need.Weeks(&reference.Crop{Family: "asteraceae", DaysToMaturity: grams(300)}, 20))
	assert.Equal(t, 20, need.Weeks(&reference.Crop{Family: "solanaceae", DaysToMaturity: grams(60)}, 20))
	assert.Equal(t, 20, need.Weeks(nil, 20))
}

// TestDrawn: nothing at the start, half at the middle, all at the end, alike on both sides, and never backwards.
func TestDrawn(t *testing.T) {
	for part, want := range map[float64]float64{-1: 0, 0: 0, 0.5: 0.5, 1: 1, 2: 1} {
		assert.InDelta(t, want, need.Drawn(part), 1e-12, part)
	}
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0, 1).Draw(t, "a")
		b := rapid.Float64Range(a, 1).Draw(t, "b")
		assert.LessOrEqual(t, need.Drawn(a), need.Drawn(b)+1e-12)
		assert.InDelta(t, 1, need.Drawn(a)+need.Drawn(1-a), 1e-12)
	})
}
