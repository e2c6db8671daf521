package units

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestEC: 1 mS/cm = 1 dS/m = 1 mmho/cm = 1000 µS/cm, by the prefixes.
func TestEC(t *testing.T) {
	for text, want := range map[string]float64{
		"2.1 mS/cm": 2.1, "2.1 dS/m": 2.1, "2100 µS/cm": 2.1, "2100 μS/cm": 2.1, "2100 uS/cm": 2.1, "2.1mmho/cm": 2.1, "1/2 mS/cm": 0.5,
	} {
		x, err := Parser{Set: US}.EC(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, x.Float(), 1e-15, text)
	}
	for text, code := range map[string]string{
		"2.1": "no-unit", "2,1 mS/cm": "decimal-comma", "2 g": "wrong-dimension", "0 mS/cm": "zero-amount", "2.1 mS": "unknown-unit",
	} {
		_, err := Parser{Set: US}.EC(text)
		var fault *Fault
		require.ErrorAs(t, err, &fault, text)
		assert.Equal(t, code, fault.Code, text)
	}
}

// TestShares: one share or a range, each within the whole.
func TestShares(t *testing.T) {
	for text, want := range map[string][2]float64{"60 %": {0.6, 0.6}, "60 to 70 %": {0.6, 0.7}, "4.5 % to 5 %": {0.045, 0.05}, "100 %": {1, 1}} {
		low, high, err := Parser{Set: US}.Shares(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want[0], low.Float(), 1e-15, text)
		assert.InDelta(t, want[1], high.Float(), 1e-15, text)
	}
	for text, code := range map[string]string{"60 to 101 %": "share-over-100", "70 to 60 %": "range-order", "0.6": "no-unit", "60-70 %": "dash-for-range"} {
		_, _, err := Parser{Set: US}.Shares(text)
		var fault *Fault
		require.ErrorAs(t, err, &fault, text)
		assert.Equal(t, code, fault.Code, text)
	}
}
