package layouts

import (
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/view"
)

var drawnNumber = regexp.MustCompile(`-?\d+(\.\d+)?`)

func drawn(t require.TestingT, path string) []float64 {
	var out []float64
	for _, text := range drawnNumber.FindAllString(path, -1) {
		x, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		out = append(out, x)
	}
	return out
}

// However the figures lie, negative too, every point is on the plot, and what is more is never drawn lower.
func TestChartStaysOnItsPlot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := view.Chart{Across: "week", Lines: []view.Line{{Label: "a"}, {Label: "b"}}}
		n := rapid.IntRange(2, 12).Draw(t, "places")
		for i := range n {
			v.At = append(v.At, float64(i*i))
			low := rapid.Float64Range(-100, 1e4).Draw(t, "low")
			middle := low + rapid.Float64Range(0, 1e3).Draw(t, "middle")
			v.Lines[0].Points = append(v.Lines[0].Points, view.Point{Low: low, Typical: middle, High: middle * 1.1})
			v.Lines[1].Points = append(v.Lines[1].Points, view.Point{Low: middle, Typical: middle, High: middle})
		}
		m := printer{made: map[string]int{}}.chart(v)
		require.Len(t, m.Lines, 2)
		for _, c := range m.Lines {
			for i, x := range append(drawn(t, c.Line), drawn(t, c.Area)...) {
				if i%2 == 0 {
					assert.GreaterOrEqual(t, x, chartLeft-0.1)
					assert.LessOrEqual(t, x, chartRight+0.1)
					continue
				}
				assert.GreaterOrEqual(t, x, chartTop-0.1)
				assert.LessOrEqual(t, x, chartBottom+0.1)
			}
		}
		line := drawn(t, m.Lines[1].Line)
		for i := range n - 1 {
			rises := v.Lines[1].Points[i+1].Typical > v.Lines[1].Points[i].Typical
			assert.True(t, !rises || line[2*i+3] <= line[2*i+1])
		}
		assert.Len(t, m.Rows, n, "the table has every place")
		assert.LessOrEqual(t, len(m.Up), 7)
	})
}

// TestChartWords: strokes tell the lines apart without colour, and only a line with a range is shaded.
func TestChartWords(t *testing.T) {
	m := printer{made: map[string]int{}}.chart(sampleChart())
	assert.Equal(t, [2]string{"solid", "dashed"}, [2]string{m.Lines[0].Stroke, m.Lines[1].Stroke})
	assert.NotEmpty(t, m.Lines[0].Area)
	assert.Empty(t, m.Lines[1].Area)
	assert.Equal(t, "0.5, from 0.4 to 0.62", m.Lines[0].Says)
	assert.Equal(t, "0.7", m.Lines[1].Says)
	assert.Equal(t, []string{"0.2", "0.1 to 0.3", "0.01"}, m.Rows[1].Cells)
	flat := printer{made: map[string]int{}}.chart(view.Chart{At: []float64{0, 1}, Lines: []view.Line{{Points: []view.Point{{}, {}}}}})
	assert.Len(t, flat.Rows, 2, "nothing at all is drawn as nothing")
}
