package vessel_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/vessel"
)

// TestVolumeSum: whatever the shape and the height, the printed measures give the volume to four digits.
func TestVolumeSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := rapid.Float64Range(5, 60).Draw(t, "base")
		v := vessel.Vessel{
			Shape: vessel.Shape(rapid.IntRange(0, 2).Draw(t, "shape")), BaseLength: base, BaseWidth: base,
			TopLength: base * rapid.SampledFrom([]float64{1, 1.1, 1.35, 2}).Draw(t, "widens"), Depth: rapid.Float64Range(5, 80).Draw(t, "depth"),
		}
		v.TopWidth = v.TopLength
		if v.Shape != vessel.Round {
			v.BaseWidth, v.TopWidth = v.BaseWidth/2, v.TopWidth/2
		}
		height := rapid.Float64Range(0.1, 90).Draw(t, "height")
		got, _, err := blocktest.Redo(v.VolumeSum(height) + " = 0")
		require.NoError(t, err)
		assert.InEpsilon(t, v.VolumeAt(height), got, 5e-4)
	})
}

// TestAcrossSum: 20 of 28 cm up, a pot from 24 to 30 cm is 24 + 6 x 20 / 28 = 28.286 cm across.
func TestAcrossSum(t *testing.T) {
	v := vessel.Vessel{Shape: vessel.Round, BaseLength: 24, BaseWidth: 24, TopLength: 30, TopWidth: 30, Depth: 28}
	assert.Equal(t, "24 + (30 - 24) x height / 28", v.AcrossSum())
	got, _, err := blocktest.Redo("24 + (30 - 24) x 20 / 28 = 0")
	require.NoError(t, err)
	assert.InDelta(t, v.LengthAt(20), got, 1e-9)
	box := vessel.Vessel{Shape: vessel.Trough, BaseLength: 60, BaseWidth: 14, TopLength: 60, TopWidth: 20, Depth: 18}
	assert.Equal(t, "60 by 14 + (20 - 14) x height / 18", box.AcrossSum())
	assert.Equal(t, "18 / 6 x (60 x 14 + 4 x 60 x 17 + 60 x 20)", box.VolumeSum(18))
	box.BaseWidth = 20
	assert.Equal(t, "60 by 20", box.AcrossSum())
	assert.Equal(t, "15 x 60 x 20", box.VolumeSum(15))
	assert.Equal(t, box.VolumeSum(18), box.VolumeSum(99), fmt.Sprintf("the rim is as high as it goes: %v", box.Depth))
}
