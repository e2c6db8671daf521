package ph_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/ph"
	"trug/calcblocks/kit/reference"
)

var grid = ph.Published(reference.Default())

// TestShape: four doses of lime, two shares of compost, a pH for each pair, and a source.
func TestShape(t *testing.T) {
	assert.Equal(t, []float64{0, 1.2, 2.4, 3.6}, grid.Lime)
	assert.Equal(t, []float64{0, 40}, grid.Compost)
	require.Len(t, grid.PH, 2)
	assert.Len(t, grid.PH[0], 4)
	assert.Len(t, grid.PH[1], 4)
	assert.Equal(t, []string{"taylor-2016"}, grid.Sources)
}

// TestCorners: the printed values come back as they are; nutrition.md tells of 5.9 at 25 % compost and no lime.
func TestCorners(t *testing.T) {
	for j, compost := range grid.Compost {
		for i, lime := range grid.Lime {
			got, ok := grid.At(lime, compost)
			require.True(t, ok)
			assert.InDelta(t, grid.PH[j][i], got, 1e-12)
		}
	}
	got, ok := grid.At(0, 25)
	require.True(t, ok)
	assert.InDelta(t, 5.9, got, 0.05)
}

// TestRises: more lime or more compost never lowers the pH, within a cell it is linear, and it stays between
// the least and the greatest printed.
func TestRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lime, compost := rapid.Float64Range(0, 3.6).Draw(t, "lime"), rapid.Float64Range(0, 40).Draw(t, "compost")
		more := rapid.Float64Range(lime, 3.6).Draw(t, "more lime")
		richer := rapid.Float64Range(compost, 40).Draw(t, "more compost")
		a, ok := grid.At(lime, compost)
		require.True(t, ok)
		b, ok := grid.At(more, richer)
		require.True(t, ok)
		assert.LessOrEqual(t, a, b+1e-12)
		assert.GreaterOrEqual(t, a, 4.5)
		assert.LessOrEqual(t, b, 7.1)
		left, _ := grid.At(lime, 0)
		right, _ := grid.At(lime, 40)
		assert.InDelta(t, left+(right-left)*compost/40, a, 1e-9, "linear between the columns")
	})
}

// TestOutside: beyond the grid there is no estimate.
func TestOutside(t *testing.T) {
	lime, compost := grid.Most()
	for _, c := range [][2]float64{{lime + 1e-9, 10}, {-0.1, 10}, {1, compost + 1e-9}, {1, -1}} {
		_, ok := grid.At(c[0], c[1])
		assert.False(t, ok, c)
	}
	_, ok := grid.At(lime, compost)
	assert.True(t, ok, "the edge belongs to it")
}

// TestSlope: the slope of the reference, 2.25 g per litre for a unit without compost.
func TestSlope(t *testing.T) {
	low, _ := grid.At(0, 0)
	high, _ := grid.At(3.6, 0)
	want := reference.Default().Number("judging", "ph_lime_compost_grid", "derived_slopes", "lime_g_per_l_per_ph_without_compost")
	assert.InDelta(t, want, 3.6/(high-low), 0.005)
}
