package blocktest_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
)

func TestRedo(t *testing.T) {
	for sum, want := range map[string][2]float64{
		"2 g x (3 + 4) / 7 % = 200 g":               {200, 200},
		"10 - 2 - 3 + 1 = 6 L":                      {6, 6},
		"8 / 2 / 2 x 3 = 6":                         {6, 6},
		"5 (4 to 6) g x -10 (-12 to -8) % = -0.5 g": {-0.5, -0.5},
		"12 g / 4, the salt index, / 10 L x 2 mS/cm = 0.7 (0.5 to 0.8) mS/cm": {0.6, 0.7},
		"pi / 4 x 2 x 2 = 3.142 mL": {math.Pi, 3.142},
		"0 = 0 g CaCO3":             {0, 0},
	} {
		got, printed, err := blocktest.Redo(sum)
		require.NoError(t, err, sum)
		assert.InDelta(t, want[0], got, 1e-12, sum)
		assert.InDelta(t, want[1], printed, 1e-12, sum)
	}
}

func TestRedoRefuses(t *testing.T) {
	for _, sum := range []string{"2 + 2", "2 + = 4", "(2 + 2 = 4", "2 2 = 4", "amount x 0.5 = 4 g", "2 = g"} {
		_, _, err := blocktest.Redo(sum)
		assert.Error(t, err, sum)
	}
}
