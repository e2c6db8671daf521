package liming_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"trug/calcblocks/kit/elements"
	"trug/calcblocks/kit/liming"
)

// TestDose: by hand, 20 L x 1 unit x 2.5 g/L = 50 g of pure lime, 62.5 g at 80 %.
func TestDose(t *testing.T) {
	assert.InDelta(t, 50, liming.Dose(20, liming.Rise(5.2, 6.2), 2.5, 1), 1e-9)
	assert.InDelta(t, 62.5, liming.Dose(20, 1, 2.5, 0.8), 1e-9)
	assert.Zero(t, liming.Dose(20, liming.Rise(6.3, 6.2), 2.5, 1))
}

// TestWorks: half between 0.25 and 0.85 mm (0.40) and half below 0.075 mm (1): 0.7.
func TestWorks(t *testing.T) {
	assert.InDelta(t, 0.7, liming.Works(liming.Fraction{0.5, 0.4}, liming.Fraction{0.5, 1}), 1e-12)
}

// TestSulfurByFormula: sulfur that undoes CaCO3, against the lime equivalent of S by its atomic weight.
func TestSulfurByFormula(t *testing.T) {
	perSulfur := -elements.LimeEquivalent("S") / 100
	assert.InEpsilon(t, 100/perSulfur/0.9, liming.Sulfur(100, 3.12, 0.9), 1e-3)
}
