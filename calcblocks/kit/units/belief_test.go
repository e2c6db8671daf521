package units

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func part(x []float64) float64 { return x[0] / (x[0] + x[1]) }

// A belief that a formula uses twice does not widen the answer: bound to bound would give 0.286..0.800.
func TestCornersDoNotWidenARepeatedBelief(t *testing.T) {
	a, b := Belief[mass]{2, 3, 4}, Belief[mass]{3, 3, 3}
	got := Corners[share](part, a, b)
	assert.InDelta(t, 0.400, got.Low, 5e-4)
	assert.InDelta(t, 0.500, got.Typical, 5e-4)
	assert.InDelta(t, 0.571, got.High, 5e-4)
}

func TestCornersFallingFormula(t *testing.T) {
	got := Corners[volume](func(x []float64) float64 { return 100 / x[0] }, SomeDensity{0.4, 0.5, 0.8})
	assert.Equal(t, SomeVolume{125, 200, 250}, got)
}

func TestCornersTakeFourBeliefsAtMost(t *testing.T) {
	one := Belief[mass]{1, 1, 1}
	assert.Panics(t, func() { Corners[mass](part, one, one, one, one, one) })
	sum := Corners[mass](func(x []float64) float64 { return x[0] + x[1] + x[2] + x[3] }, one, one, one, one)
	assert.Equal(t, Belief[mass]{4, 4, 4}, sum)
}

// Whatever values the beliefs really have, the answer lies within the corners.
func TestCornersHoldEveryInside(t *testing.T) {
	belief := func(t *rapid.T, name string) (SomeMass, float64) {
		low := rapid.Float64Range(0.1, 10).Draw(t, name+" low")
		high := low + rapid.Float64Range(0, 10).Draw(t, name+" span")
		inside := low + (high-low)*rapid.Float64Range(0, 1).Draw(t, name+" where")
		return Belief[mass]{low, (low + high) / 2, high}, inside
	}
	rapid.Check(t, func(t *rapid.T) {
		a, inA := belief(t, "a")
		b, inB := belief(t, "b")
		got := Corners[share](part, a, b)
		x := part([]float64{inA, inB})
		require.GreaterOrEqual(t, x, got.Low-1e-12)
		require.LessOrEqual(t, x, got.High+1e-12)
		require.LessOrEqual(t, got.Low, got.Typical)
		require.LessOrEqual(t, got.Typical, got.High)
	})
}

func TestBeliefArithmetic(t *testing.T) {
	a, b := Belief[mass]{1, 2, 4}, Belief[mass]{10, 20, 30}
	assert.Equal(t, Belief[mass]{11, 22, 34}, a.Add(b))
	assert.Equal(t, Belief[mass]{2, 4, 8}, a.Scale(2))
	assert.Equal(t, Belief[mass]{-4, -2, -1}, a.Scale(-1))
}

func TestCrossings(t *testing.T) {
	cup := US.Cup()
	grams := Exactly[mass](big.NewRat(18, 1))
	density := Density(Exactly[mass](big.NewRat(72, 1)), cup)
	quarter := cup.Times(big.NewRat(1, 4))
	assert.InDelta(t, 18, Weigh(quarter, density).Typical, 1e-9, "a quarter of a cup that weighs 72 g")
	assert.InDelta(t, quarter.Float(), Fill(grams, density).Typical, 1e-9, "and back")
	assert.Equal(t, SomeMass{0.5, 1, 2}, WeighSome(SomeVolume{1, 2, 4}, SomeDensity{0.5, 0.5, 0.5}))
	assert.InDelta(t, 0.54, Contain(grams.Certain(), SomeShare{0.03, 0.03, 0.03}).Typical, 1e-12)

	mix := Exactly[volume](big.NewRat(20000, 1))
	assert.Equal(t, SomeDose{0.5, 1, 2}, Spread(SomeMass{10, 20, 40}, mix))
	assert.Equal(t, "60", Need(Exactly[massDose](big.NewRat(3, 1)), mix).Rat().RatString())
	assert.Equal(t, "200", NeedVolume(Exactly[volumeDose](big.NewRat(10, 1)), mix).Rat().RatString())

	price, holds := Exactly[money](big.NewRat(1200, 1)), Exactly[mass](big.NewRat(2000, 1))
	assert.InDelta(t, 10.8, Cost(grams.Certain(), price, holds).Typical, 1e-9, "18 g of 2 kg for 12.00")
	byVolume := CostByVolume(grams.Certain(), price, SomeMass{1000, 2000, 4000})
	assert.InDeltaSlice(t, []float64{5.4, 10.8, 21.6}, []float64{byVolume.Low, byVolume.Typical, byVolume.High}, 1e-9)
}

func TestExactArithmetic(t *testing.T) {
	third := Exactly[volume](big.NewRat(1, 3))
	var zero Volume
	assert.Equal(t, "1", third.Add(third).Add(third).Rat().RatString())
	assert.Zero(t, third.Sub(third).Cmp(zero))
	assert.Equal(t, "1/3", third.Over(Exactly[volume](big.NewRat(1, 1))).RatString())
	assert.Equal(t, 1, third.Sign())
	third.Rat().SetInt64(7)
	assert.Equal(t, "1/3", third.Rat().RatString(), "what Rat returns is the caller's own")
}

func TestMillilitres(t *testing.T) {
	assert.Equal(t, "20000", Millilitres(19999.9999999999).Rat().RatString())
	assert.Equal(t, "0.333333000", Millilitres(1.0/3).Rat().FloatString(9), "to a nanolitre")
	assert.InEpsilon(t, 1e18, Millilitres(1e18).Float(), 1e-12, "a volume beyond what whole nanolitres count")
	assert.Panics(t, func() { Millilitres(math.NaN()) })
}
