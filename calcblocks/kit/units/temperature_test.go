package units

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The fixed points are those of the scales: 32 F is 0 C, 104 F is 40 C; 59 F is 15 C (NIST SP 811, B.8).
func TestReadTemperature(t *testing.T) {
	for text, want := range map[string]float64{"15 C": 15, "15C": 15, "15 °C": 15, "59 F": 15, "32 F": 0, "104 F": 40, "12.5 C": 12.5} {
		got, err := ReadTemperature(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-12, text)
	}
	for _, text := range []string{"15", "15 K", "-3 C", "60 C", "20 F", "1,5 C", "warm"} {
		_, err := ReadTemperature(text)
		var fault *Fault
		require.ErrorAs(t, err, &fault, text)
		assert.Equal(t, "bad-temperature", fault.Code)
		assert.NotEmpty(t, fault.Hints)
	}
}
