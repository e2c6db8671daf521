package layouts

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/view"
)

// Whatever the values are, all of them lie between the first and the last mark, and the marks are few.
func TestDotsAxisHoldsAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-1e6, 1e6).Draw(t, "low")
		high := low + rapid.Float64Range(0, 1e6).Draw(t, "width")
		step, from, to := dotsAxis([]view.Dot{{Values: []float64{low, high}, Mean: (low + high) / 2}})
		assert.LessOrEqual(t, from, low+step*1e-6)
		assert.GreaterOrEqual(t, to, high-step*1e-6)
		marks := (to - from) / step
		assert.InDelta(t, math.Round(marks), marks, 1e-6)
		assert.LessOrEqual(t, marks, 6.01)
		assert.GreaterOrEqual(t, marks, 0.99)
	})
	step, from, to := dotsAxis(nil)
	assert.Equal(t, [3]float64{1, 0, 1}, [3]float64{step, from, to})
	_, from, to = dotsAxis([]view.Dot{{Values: []float64{4}, Mean: 4, Interval: &view.Band{Low: 1, High: 9}}})
	assert.LessOrEqual(t, from, 1.0)
	assert.GreaterOrEqual(t, to, 9.0, "the interval is on the sheet")
}

// Dots and lines stay on the sheet, also where all values are alike.
func TestDotsStayOnTheSheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-1000, 1000), 1, 40).Draw(t, "values")
		if rapid.Bool().Draw(t, "alike") {
			for i := range values {
				values[i] = values[0]
			}
		}
		m := printer{made: map[string]int{}}.dots(view.Dots{Rows: []view.Dot{{Label: "a", Values: values, Mean: values[0]}}})
		require.Len(t, m.Rows[0].Dots, len(values))
		for _, d := range m.Rows[0].Dots {
			x, err := strconv.ParseFloat(d.X, 64)
			require.NoError(t, err)
			y, err := strconv.ParseFloat(d.Y, 64)
			require.NoError(t, err)
			assert.GreaterOrEqual(t, x, dotSize)
			assert.LessOrEqual(t, x, barsWidth-dotSize)
			assert.GreaterOrEqual(t, y, 18.0, "below the label")
			assert.LessOrEqual(t, y, dotsRow)
		}
	})
}

// Three equal values stand on three lanes, values apart on one.
func TestDotsDoNotHideOneAnother(t *testing.T) {
	same := func(x float64) float64 { return x }
	assert.Equal(t, []float64{0, -dotLane, dotLane}, lanes([]float64{50, 50, 50}, same))
	assert.Equal(t, []float64{0, 0, 0}, lanes([]float64{50, 60, 70}, same))
}

func TestTickText(t *testing.T) {
	for _, c := range []struct {
		value, step float64
		want        string
	}{{0.30000000000000004, 0.1, "0.3"}, {1e-17, 0.1, "0"}, {math.Copysign(0, -1), 1, "0"}, {1500, 500, "1500"}, {2.5, 0.5, "2.5"}, {-20, 10, "-20"}} {
		assert.Equal(t, c.want, tickText(c.value, c.step))
	}
}
