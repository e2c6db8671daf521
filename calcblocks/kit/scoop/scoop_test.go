package scoop_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/scoop"
	"trug/calcblocks/kit/units"
)

var shelf = blocktest.Open(map[string]string{"cupboard.yaml": `
half-blend: {name: Half blend, label: {n: 4}, cup weighs: 118.29411825 g}
`}, &diag.List{})

func material(t require.TestingT, id string) *garden.Material {
	m, ok := shelf.Material(id)
	require.True(t, ok, id)
	return m
}

// TestOf: the half blend weighs 0.5 g/mL, so a US cup of 236.588 mL holds 118.294 g.
func TestOf(t *testing.T) {
	m := material(t, "half-blend")
	s := scoop.Of(m, 118.29411825, shelf.Handbook)
	assert.Equal(t, "1 cup", s.Text(units.US))
	assert.InDelta(t, 118.29411825, s.Mass.Typical, 1e-9)
	assert.InDelta(t, 0, s.Error(), 1e-9)
	assert.Equal(t, "1 cup", s.Amount(units.US))
	s = scoop.Of(m, 100, shelf.Handbook)
	assert.InDelta(t, 0.5*s.Volume.Float(), s.Mass.Typical, 1e-9)
	assert.InDelta(t, s.Mass.Typical-100, s.Error(), 1e-9)
	small := scoop.Of(m, 0.04, shelf.Handbook)
	assert.True(t, small.Weighed, "below half of 1/8 tsp")
	assert.Equal(t, "0 g", small.Amount(units.US))
	weighed := scoop.Of(m, 0.14, shelf.Handbook)
	assert.True(t, weighed.Weighed)
	assert.Equal(t, "0.1 g", weighed.Amount(units.US))
}

// TestNear: what is written down is read again as the same measure, and the nearest stands first.
func TestNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hb := shelf.Handbook
		hb.Also = nil
		hb.Main = rapid.SampledFrom(units.Sets).Draw(t, "set")
		hb.Rounding = rapid.SampledFrom([]measure.Rounding{measure.Fine, measure.Household}).Draw(t, "rounding")
		m := material(t, rapid.SampledFrom([]string{"half-blend", "kelp-meal", "alfalfa-meal", "langbeinite"}).Draw(t, "material"))
		grams := rapid.Float64Range(0.5, 900).Draw(t, "grams")
		all := scoop.Near(m, grams, 5, hb)
		require.NotEmpty(t, all)
		require.LessOrEqual(t, len(all), 5)
		for i, s := range all {
			if s.Weighed {
				assert.InDelta(t, grams, s.Mass.Typical, 0.5)
				continue
			}
			read, err := units.Parser{Set: hb.Main}.Amount(s.Amount(hb.Main))
			require.NoError(t, err, s.Amount(hb.Main))
			assert.Zero(t, read.Low.Volume.Cmp(s.Volume), s.Amount(hb.Main))
			assert.Equal(t, s.Text(hb.Main), measure.Nearest(read.Low.Volume, hb.Main, hb.Rounding).Text)
			assert.GreaterOrEqual(t, math.Abs(s.Error()), math.Abs(all[0].Error())-1e-9, "the nearest stands first, not %d", i)
		}
		if hb.Rounding == measure.Fine && grams > 20 { // smaller spoons are coarser
			assert.LessOrEqual(t, math.Abs(all[0].Error()), 25+1e-9, "within a quarter of what was asked")
		}
	})
}

func TestAmountWritesSums(t *testing.T) {
	m := material(t, "half-blend")
	hb := shelf.Handbook
	s := scoop.Near(m, 0.5*236.5882365*(1+0.125), 1, hb)[0] // 1 cup + 2 tbsp
	assert.Equal(t, "1 cup + 2 tbsp", s.Text(units.US))
	assert.Equal(t, "1 1/8 cup", s.Amount(units.US))
}
