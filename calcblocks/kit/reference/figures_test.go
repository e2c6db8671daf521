package reference

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/sources"
)

func TestEveryFigure(t *testing.T) {
	l := Default()
	seen := 0
	for path, f := range l.Figures() {
		seen++
		assert.Empty(t, f.lacks(), "%s: %+v", path, f)
		for _, key := range f.Source {
			_, ok := l.Source(key)
			assert.True(t, ok, "%s: no source %q", path, key)
		}
	}
	assert.Greater(t, seen, 2400, "the walk reaches the figures of every file")
}

// The check must reject a figure that lacks any one of the five.
func TestCheckRejectsAFigureWithOneRemoved(t *testing.T) {
	whole := Default().Amendments[0].Analysis[N]
	require.Empty(t, whole.lacks())
	for lack, remove := range map[string]func(*Figure){
		"range":      func(f *Figure) { f.Low, f.High = math.NaN(), math.NaN() },
		"unit":       func(f *Figure) { f.Unit = "" },
		"basis":      func(f *Figure) { f.Basis = "" },
		"source":     func(f *Figure) { f.Source = nil },
		"confidence": func(f *Figure) { f.Confidence = "" },
	} {
		f := whole
		remove(&f)
		assert.Equal(t, lack, f.lacks())
	}
}

func TestCheckRejectsWhatIsNoRange(t *testing.T) {
	whole := Default().Amendments[0].Analysis[N]
	for _, low := range []float64{whole.High + 1, math.Inf(-1)} {
		f := whole
		f.Low = low
		assert.Equal(t, "range", f.lacks())
	}
	f := whole
	f.High = 0 // as if it had never been read
	assert.Equal(t, "range", f.lacks())
	f = whole
	f.Source = []string{""}
	assert.Equal(t, "source", f.lacks())
	f = whole
	f.Confidence = "sure"
	assert.Equal(t, "confidence", f.lacks())
}

func TestFillReadsWhatIsPublished(t *testing.T) {
	no, x := ends{}, func(v float64) ends { return ends{v, true} }
	for name, c := range map[string]struct {
		low, typical, high ends
		want               Figure
	}{
		"all three":    {x(1), x(2), x(4), Figure{Known: true, Low: 1, Typical: 2, High: 4}},
		"one value":    {no, x(3), no, Figure{Known: true, Low: 3, Typical: 3, High: 3}},
		"a range":      {x(2), no, x(6), Figure{Known: true, Low: 2, Typical: 4, High: 6, RangeOnly: true}},
		"open above":   {x(5), no, no, Figure{Known: true, Low: 5, Typical: 5, High: 5, RangeOnly: true, OpenHigh: true}},
		"open below":   {no, no, x(5), Figure{Known: true, Low: 5, Typical: 5, High: 5, RangeOnly: true, OpenLow: true}},
		"nothing":      {no, no, no, Figure{}},
		"a plain zero": {no, x(0), no, Figure{Known: true}},
	} {
		var f Figure
		f.fill(c.low, c.typical, c.high)
		assert.Equal(t, c.want, f, name)
	}
}

func TestShareAndDensity(t *testing.T) {
	percent := Figure{Known: true, Low: 2, Typical: 2.7, High: 3, Unit: "%"}
	assert.InDelta(t, 0.027, percent.Share().Typical, 1e-15)
	assert.InDelta(t, 0.02, percent.Share().Low, 1e-15)
	assert.InDelta(t, 0.6, Figure{Known: true, Low: 0.5, Typical: 0.6, High: 0.7, Unit: "1"}.Share().Typical, 1e-15)
	cup := Default().Amendments[0].Density.Density()
	assert.Equal(t, 0.3, cup.Typical)
	assert.Panics(t, func() { Figure{Unit: "%"}.Share() }, "not known is never zero")
	assert.Panics(t, func() { percent.Density() }, "a percent is no density")
	assert.Panics(t, func() { Figure{Known: true, Unit: "g/L"}.Share() })
}

func TestConfidenceOrder(t *testing.T) {
	f := Figure{Known: true, Confidence: sources.Checked}
	assert.Equal(t, sources.FromMemory, f.asWeakAs(sources.FromMemory).Confidence)
	f.Confidence = sources.FromMemory
	assert.Equal(t, sources.FromMemory, f.asWeakAs(sources.Checked).Confidence, "never stronger")
	assert.False(t, slices.Contains(confidences, sources.OwnMeasurement), "the reference holds no measurement of the grower")
}
