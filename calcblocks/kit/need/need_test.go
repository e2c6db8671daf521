package need

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestProductAndContainedAreInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wanted := rapid.Float64Range(0.001, 1e6).Draw(t, "wanted")
		content := rapid.Float64Range(0.0001, 1).Draw(t, "content")
		product := Product(wanted, content)
		assert.InEpsilon(t, wanted, Contained(product, content), 1e-12)
		assert.InEpsilon(t, content, Content(wanted, product), 1e-12)
	})
}

func TestShort(t *testing.T) {
	assert.Equal(t, 0.5, Short(1, 0.5))
	assert.Zero(t, Short(1, 3))
}

func TestAvailable(t *testing.T) {
	assert.InDelta(t, 0.6467, Available(Part{0.7333, 0.7}, Part{0.2667, 0.5}), 1e-4)
	assert.Zero(t, Available())
}

func TestOfSeason(t *testing.T) {
	s := OfSeason(3, 2.8, 0.6, 0.12, 0.65)
	assert.InDelta(t, 8.4, s.Crop, 1e-9)
	assert.InDelta(t, 14, s.Available, 1e-9)
	assert.InDelta(t, 21.538, s.Total, 1e-3)
	assert.InDelta(t, 179.487, s.Product, 1e-3)
}

func TestSplits(t *testing.T) {
	assert.Equal(t, 3, Splits(1.08, 0.5))
	assert.Equal(t, 2, Splits(1, 0.5), "a dose at the cap is allowed")
	assert.Equal(t, 3, Splits(0.1+0.2, 0.1), "rounding of the arithmetic makes no part")
	assert.Equal(t, 1, Splits(0, 0.5))
}

func TestNoSplitPassesTheCap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dose := rapid.Float64Range(0, 100).Draw(t, "dose")
		limit := rapid.Float64Range(0.01, 10).Draw(t, "cap")
		n := Splits(dose, limit)
		assert.LessOrEqual(t, dose/float64(n), limit*(1+1e-8))
		if n > 1 {
			assert.Greater(t, dose/float64(n-1), limit)
		}
	})
}

func TestCarbonToNitrogen(t *testing.T) {
	assert.InDelta(t, 14.5, CarbonToNitrogen(22.19, 1.53), 0.005)
}
