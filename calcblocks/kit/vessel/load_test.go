package vessel

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// lb/ft2 in kPa, as table R301.5 of the IRC prints it.
const psf = 0.0479

func TestFootprintLoad(t *testing.T) {
	for _, c := range []struct{ inches, density, psf float64 }{
		{6, 0.7, 22}, {8, 0.9, 37}, {10, 1.1, 57}, {12, 0.9, 56}, {16, 0.9, 75}, {18, 1.1, 103},
	} {
		assert.InDelta(t, c.psf, FootprintLoad(c.inches*2.54, c.density)/psf, 0.55, "%v in", c.inches)
	}
	assert.InDelta(t, 1.92, LoadCaution, 0.005)
}

// Peat and pine bark of a porometer: International Journal of Agronomy 2012:978528, table 1.
func TestWateredDensity(t *testing.T) {
	assert.InDelta(t, 0.98, WateredDensity(0.11, 0.87), 1e-12)
	assert.InDelta(t, 0.66, WateredDensity(0.18, 0.48), 1e-12)
}
