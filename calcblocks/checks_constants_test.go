package calcblocks_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/elements"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/vessel"
)

// Packages of pure arithmetic hold a few figures of their own. They are those of the reference.

func TestNurseryClassesAreThoseOfTheReference(t *testing.T) {
	known := 0
	for _, c := range reference.Default().Containers {
		if c.Kind == reference.NurseryClass {
			known++
		}
	}
	require.Len(t, vessel.ClassNames(), known)
	for _, name := range vessel.ClassNames() {
		v, ok := vessel.OfClass(name)
		require.True(t, ok)
		c, ok := reference.Default().Container("nursery-class-" + name)
		require.True(t, ok, name)
		low, high := v.FillVolume()
		assert.InEpsilon(t, c.Volume.Low, low/1000, 1e-9, name)
		assert.InEpsilon(t, c.Volume.High, high/1000, 1e-9, name)
	}
}

func TestFactorsAreThoseOfTheReference(t *testing.T) {
	for _, pair := range [][2]string{
		{"P2O5", "P"},
		{"P", "P2O5"},
		{"K2O", "K"},
		{"K", "K2O"},
		{"CaO", "Ca"},
		{"Ca", "CaO"},
		{"MgO", "Mg"},
		{"Mg", "MgO"},
		{"SO4", "S"},
		{"SO3", "S"},
		{"MgCO3", "CaCO3 equivalent"},
		{"CaCO3", "CaO"},
		{"MgCO3", "MgO"},
		{"KCl", "K"},
		{"K2SO4", "K"},
		{"K2SO4", "S"},
		{"CaSO4", "Ca"},
		{"CaSO4", "S"},
		{"N", "NH3"},
	} {
		printed := reference.Default().Number("volumes", "element_factors", "factors", pair[0]+" to "+pair[1], "factor")
		assert.InDelta(t, printed, elements.Convert(pair[0], pair[1]), 1e-6, "%s to %s", pair[0], pair[1])
	}
	for _, formula := range []string{"CaO", "Ca(OH)2", "MgO", "Mg(OH)2", "MgCO3", "CaMg(CO3)2", "CaCO3"} {
		printed := reference.Default().Number("volumes", "pure_compounds", "lime_equivalent_percent", formula)
		assert.InDelta(t, printed, elements.LimeEquivalent(formula), 0.006, formula)
	}
}

func TestPlanningValuesAreThoseOfTheReference(t *testing.T) {
	number := reference.Default().Number
	psf, known := units.Lookup("psf", units.US)
	require.True(t, known)
	assert.InEpsilon(t, number("volumes", "footprint_load", "compare_with_lb_per_ft2")*float(psf.Factor), vessel.LoadCaution, 1e-12)
	assert.Equal(t, number("volumes", "measure_sets", "us-label", "oz_g"), float(sure(simple("label oz")).factor))
}
