package measure

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/units"
)

// TestAimInFloats: where floats are sure of a target it is the exact one, also right beside the places where a
// target turns: whole and half grains and the bound of 6 %.
func TestAimInFloats(t *testing.T) {
	sure := 0
	rapid.Check(t, func(t *rapid.T) {
		g := gaugeOf(rapid.SampledFrom(units.Sets).Draw(t, "set"))
		grains := big.NewRat(rapid.Int64Range(1, 2e6).Draw(t, "halves"), 2)
		if part := rapid.SampledFrom([]*big.Rat{nil, big.NewRat(94, 100), big.NewRat(106, 100)}).Draw(t, "part"); part != nil {
			grains.Quo(grains, part)
		}
		grains.Add(grains, big.NewRat(rapid.Int64Range(-3e6, 3e6).Draw(t, "beside"), 1e12))
		wanted := asVolume(grains.Mul(grains, g.grain))
		got, ok := aimAt(wanted.Float() / g.inFloat)
		if !ok {
			return
		}
		sure++
		want, within := g.aim(wanted)
		assert.True(t, within)
		assert.Equal(t, want, got, "%s", wanted.Rat().FloatString(12))
	})
	assert.NotZero(t, sure)
}

// TestSpoonsIsNearest: but for the error.
func TestSpoonsIsNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := rapid.SampledFrom(units.Sets).Draw(t, "set")
		r := rapid.SampledFrom([]Rounding{Fine, Household}).Draw(t, "rounding")
		wanted := units.Millilitres(rapid.Float64Range(0, 3000).Draw(t, "mL"))
		near, spoons := Nearest(wanted, set, r), Spoons(wanted, set, r)
		near.Error = 0
		assert.Equal(t, near, spoons)
	})
}
