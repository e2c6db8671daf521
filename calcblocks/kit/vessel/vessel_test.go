package vessel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/units"
)

// anyVessel draws a vessel of any shape whose base is at most as wide as its top.
func anyVessel(t *rapid.T) Vessel {
	top := rapid.Float64Range(1, 200)
	share := rapid.Float64Range(0, 1)
	v := Vessel{
		Shape:     rapid.SampledFrom([]Shape{Round, Trough, Oval}).Draw(t, "shape"),
		TopLength: top.Draw(t, "length"),
		Depth:     rapid.Float64Range(1, 150).Draw(t, "depth"),
	}
	v.TopWidth = v.TopLength
	v.BaseLength = v.TopLength * share.Draw(t, "taper")
	v.BaseWidth = v.BaseLength
	if v.Shape != Round {
		v.TopWidth = top.Draw(t, "width")
		v.BaseWidth = v.TopWidth * share.Draw(t, "width taper")
	}
	return v
}

func TestPartFillsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyVessel(t)
		b := rapid.Float64Range(0, v.Depth).Draw(t, "b")
		a := rapid.Float64Range(0, b).Draw(t, "a")
		whole := v.VolumeAt(b)
		assert.InDelta(t, whole, v.VolumeAt(a)+v.Between(a, b), 1e-9*max(whole, 1))
	})
}

// The closed form against slices: two roads to the same volume.
func TestVolumeIsTheSumOfSlices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyVessel(t)
		const slices = 2000
		sum, dh := 0.0, v.Depth/slices
		for i := range slices {
			sum += v.AreaAt((float64(i)+0.5)*dh) * dh
		}
		assert.InEpsilon(t, sum, v.VolumeAt(v.Depth), 1e-6)
	})
}

func TestHeightOfIsTheInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyVessel(t)
		v.BaseLength, v.BaseWidth = max(v.BaseLength, v.TopLength/20), max(v.BaseWidth, v.TopWidth/20)
		if v.Shape == Round {
			v.BaseWidth = v.BaseLength
		}
		h := rapid.Float64Range(0, v.Depth).Draw(t, "height")
		assert.InDelta(t, h, v.HeightOf(v.VolumeAt(h)), 1e-9)
	})
}

func TestHeightOfAtTheEnds(t *testing.T) {
	v := round(30, 24, 28)
	assert.InDelta(t, 0, v.HeightOf(0), 1e-9)
	assert.Equal(t, 28.0, v.HeightOf(1e9), "more than it holds")
	assert.Equal(t, v.VolumeAt(28), v.VolumeAt(99), "above the rim")
	assert.Zero(t, Vessel{}.VolumeAt(5), "the zero vessel holds nothing")
}

func TestEqualEndsAreACylinder(t *testing.T) {
	v := round(24, 24, 20)
	assert.InEpsilon(t, math.Pi/4*24*24*20, v.VolumeAt(20), 1e-12)
	assert.InEpsilon(t, math.Pi/4*24*24*7, v.VolumeAt(7), 1e-12)
}

// The cylinder of the mean diameter is low by 3.57 % where the base is half of the top.
func TestMeanDiameterIsNotTheVolume(t *testing.T) {
	tapered, mean := round(30, 15, 20), round(22.5, 22.5, 20)
	assert.InDelta(t, -3.57, (mean.VolumeAt(20)/tapered.VolumeAt(20)-1)*100, 0.01)
}

func TestLevelFallIsNotAShareOfTheFill(t *testing.T) {
	v, err := round(30, 24, 28).WithFill(25)
	require.NoError(t, err)
	fill, _ := v.FillVolume()
	assert.InDelta(t, v.VolumeAt(25)-v.VolumeAt(22), v.LevelFall(3), 1e-9)
	assert.Greater(t, v.LevelFall(3), fill*3/25, "the wider part falls first")
	assert.InDelta(t, fill, v.LevelFall(40), 1e-9, "it cannot fall below the base")
}

func TestWidthsAtAHeight(t *testing.T) {
	v := Vessel{Shape: Trough, TopLength: 60, TopWidth: 20, BaseLength: 54, BaseWidth: 14, Depth: 18}
	assert.Equal(t, 54.0, v.LengthAt(0))
	assert.Equal(t, 57.0, v.LengthAt(9))
	assert.Equal(t, 17.0, v.WidthAt(9))
	assert.Equal(t, 57.0*17, v.AreaAt(9))
	assert.Equal(t, 20.0, v.WidthAt(99))
}

func TestBareVolumeIsDrawnWithTheAssumedShape(t *testing.T) {
	litres, err := units.Parser{Set: units.US}.Volume("20 L")
	require.NoError(t, err)
	v := Of(litres)
	assert.True(t, v.Assumed)
	assert.False(t, v.RoughGuess)
	assert.InEpsilon(t, 20000, v.VolumeAt(v.Depth), 1e-12)
	top, base, height, fill := v.Front()
	assert.InEpsilon(t, 0.75, base/top, 1e-12)
	assert.InEpsilon(t, 0.92, height/top, 1e-12)
	assert.Equal(t, height, fill)
	low, high := v.FillVolume()
	assert.Equal(t, []float64{20000, 20000}, []float64{low, high})
}

func TestFill(t *testing.T) {
	v := round(38, 30, 34)
	low, high := v.FillVolume()
	assert.Equal(t, low, high)
	brim, _ := v.BrimVolume()
	assert.Equal(t, brim, low, "without a fill line it is filled to the rim")

	filled, err := v.WithFill(31)
	require.NoError(t, err)
	low, _ = filled.FillVolume()
	assert.Equal(t, v.VolumeAt(31), low)
	brim, _ = filled.BrimVolume()
	assert.Equal(t, v.VolumeAt(34), brim)
	assert.Zero(t, v.Fill, "the vessel itself stays as it was")
}

func TestFillIsRefused(t *testing.T) {
	guess, err := Parse("round 12 in top", units.Parser{Set: units.US})
	require.NoError(t, err)
	class, _ := OfClass("5")
	for _, c := range []struct {
		vessel  Vessel
		fill    float64
		code    string
		message string
	}{
		{round(38, 30, 34), 35, "fill-above-rim", "a fill of 35 cm is above the rim, which is 34 cm above the base"},
		{round(38, 30, 34), 0, "zero-amount", "a fill must be above the base"},
		{round(38, 30, 34), math.NaN(), "zero-amount", "a fill must be above the base"},
		{guess, 20, "fill-without-shape", "a fill needs the inside measures of the container, and only its top diameter is known"},
		{class, 20, "fill-without-shape", "a fill needs the inside measures of the container, and only its nursery class is known"},
		{Of(units.Volume{}), 20, "fill-without-shape", "a fill needs the inside measures of the container, and only its volume is known"},
	} {
		_, err := c.vessel.WithFill(c.fill)
		var fault *units.Fault
		require.ErrorAs(t, err, &fault)
		assert.Equal(t, c.code, fault.Code)
		assert.Equal(t, c.message, fault.Message)
		assert.NotEmpty(t, fault.Hints)
	}
}

func TestNurseryClassIsARange(t *testing.T) {
	v, ok := OfClass("5")
	require.True(t, ok)
	low, high := v.FillVolume()
	assert.InDelta(t, 12.86e3, low, 6)
	assert.InDelta(t, 20.35e3, high, 6)
	assert.InDelta(t, (low+high)/2, v.VolumeAt(v.Depth), 1e-6)
	small, large := v.Ends()
	assert.InDelta(t, low, small.VolumeAt(small.Depth), 1e-6)
	assert.InDelta(t, high, large.VolumeAt(large.Depth), 1e-6)
	assert.Equal(t, "5", large.Class)
	whole := round(30, 24, 28)
	a, b := whole.Ends()
	assert.Equal(t, []Vessel{whole, whole}, []Vessel{a, b})
}
