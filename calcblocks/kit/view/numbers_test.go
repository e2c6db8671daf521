package view_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"trug/calcblocks/kit/view"
)

// TestApart: figures that are compared print with the digits that tell them apart, and alike only where nothing but the
// last bits does.
func TestApart(t *testing.T) {
	for _, c := range []struct {
		a, b float64
		x, y string
	}{
		{3.1, 2.3, "3.1", "2.3"},
		{2.34, 2.3, "2.34", "2.3"},
		{2.3000001, 2.3, "2.3000001", "2.3"},
		{2.3000000000000003, 2.3, "2.3", "2.3"},
		{100.1, 100, "100.1", "100"},
		{0, 0.001, "0", "0.001"},
		{5, 5, "5", "5"},
	} {
		x, y := view.Apart(c.a, c.b)
		assert.Equal(t, [2]string{c.x, c.y}, [2]string{x, y}, "%v and %v", c.a, c.b)
	}
}
