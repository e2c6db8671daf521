package vessel

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// lb/ft2 in kPa, as table R301.5 of the IRC prints it.
const psf = 0.0479

// A column of mix on 1 m2 presses with depth x density.
func TestPressure(t *testing.T) {
	for _, c := range []struct{ inches, density, psf float64 }{
		{6, 0.7, 22}, {8, 0.9, 37}, {10, 1.1, 57}, {12, 0.9, 56}, {16, 0.9, 75}, {18, 1.1, 103},
	} {
		assert.InDelta(t, c.psf, Pressure(c.inches*0.0254*c.density*1000, 1)/psf, 0.55, "%v in", c.inches)
	}
	assert.InDelta(t, 1.92, LoadCaution, 0.005)
}
