package data

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// TestNumberAsTheLibraryWritesIt: six digits are placed as strconv places them.
func TestNumberAsTheLibraryWritesIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-9.99, 9.99).Draw(t, "digits")*math.Pow(10, float64(rapid.IntRange(-9, 17).Draw(t, "power"))) + 0 // no -0
		want := strconv.FormatFloat(Six(x), 'f', -1, 64)
		if a := math.Abs(Six(x)); a > 0 && a < 1e-6 || a >= 1e15 {
			want = strconv.FormatFloat(Six(x), 'g', 6, 64)
		}
		assert.Equal(t, want, number(x))
	})
	for x, want := range map[float64]string{
		0: "0", math.Copysign(0, -1): "0", 999999.5: "1000000", 9.999999e-7: "0.000001", -0.000012345678: "-0.0000123457", 1e6: "1000000", 12.5: "12.5",
	} {
		assert.Equal(t, want, number(x))
	}
}
