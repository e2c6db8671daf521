package metals

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestFloors: below 6 % phosphate and 1 % micronutrients the least percent counts, above it the product's own.
func TestFloors(t *testing.T) {
	for percent, want := range map[float64]float64{0: 60, 3: 60, 6: 60, 7: 70, 17: 170} {
		multiplier, most, ok := OfPhosphate(Cadmium, percent)
		assert.True(t, ok)
		assert.Equal(t, want, most, percent)
		assert.Equal(t, want/10, multiplier, percent)
	}
	_, most, ok := OfMicronutrients(Lead, 2)
	assert.True(t, ok)
	assert.Equal(t, 926.0, most)
	_, _, ok = OfPhosphate(Arsenic, 20)
	assert.False(t, ok, "not known is no limit of zero")
}
