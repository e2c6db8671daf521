package season_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/season"
)

// spread returns the days mean + SD x z at the even steps of the normal distribution: a sample whose mean and
// shape are known.
func spread(mean, sd float64, n int) []float64 {
	var out []float64
	for i := range n {
		f := (float64(i) + 0.5) / float64(n)
		out = append(out, mean+sd*math.Sqrt2*math.Erfinv(2*f-1))
	}
	return out
}

// TestKnownAnswer: of an even normal sample of many years the dates are those of its distribution: 10 % lies
// 1.28155 SD after the mean in spring and before it in autumn (tables of the normal distribution).
func TestKnownAnswer(t *testing.T) {
	days := spread(110, 10, 4000)
	spring := season.Sample{Side: season.Spring, Days: days, Years: len(days)}
	autumn := season.Sample{Side: season.Autumn, Days: days, Years: len(days)}
	for _, c := range []struct {
		s    season.Sample
		p    float64
		want float64
	}{{spring, 0.1, 122.8155}, {spring, 0.5, 110}, {spring, 0.9, 97.1845}, {autumn, 0.1, 97.1845}, {autumn, 0.2, 101.5838}, {autumn, 0.9, 122.8155}} {
		normal, ok := c.s.Normal(c.p)
		require.True(t, ok)
		assert.InDelta(t, c.want, normal, 0.02, "%s %g", c.s.Side, c.p)
		byOrder, ok := c.s.Empirical(c.p)
		require.True(t, ok)
		assert.InDelta(t, c.want, byOrder, 0.02, "%s %g", c.s.Side, c.p)
	}
}

// TestYearsWithoutFrost: with frost in 8 years of 10 the late date of 10 % is that of 1/8 of the years with
// frost, and there is no date that 8 years in 10 have a frost after (NOAA, freeze data: F(z) = 1 - p/q).
func TestYearsWithoutFrost(t *testing.T) {
	days := spread(100, 5, 800)
	all := season.Sample{Days: days, Years: 800}
	some := season.Sample{Days: days, Years: 1000}
	a, ok := some.Normal(0.1)
	require.True(t, ok)
	b, _ := all.Normal(0.125)
	assert.InDelta(t, b, a, 1e-9)
	late, _ := all.Normal(0.1)
	assert.Less(t, a, late, "a frost that comes less often comes late less often")
	for _, p := range []float64{0.8, 0.9} {
		_, ok = some.Normal(p)
		assert.False(t, ok, "%g", p)
		_, ok = some.Empirical(p)
		assert.False(t, ok, "%g", p)
	}
	autumn := season.Sample{Side: season.Autumn, Days: days, Years: 1000}
	early, _ := autumn.Normal(0.1)
	want, _ := season.Sample{Side: season.Autumn, Days: days, Years: 800}.Normal(0.125)
	assert.InDelta(t, want, early, 1e-9)
}

// TestNothingKnown: no frost at all, one year, no years.
func TestNothingKnown(t *testing.T) {
	for _, s := range []season.Sample{{}, {Years: 30}, {Years: 1, Days: []float64{100}}} {
		_, ok := s.Normal(0.5)
		assert.False(t, ok)
		_, ok = s.SD()
		assert.False(t, ok)
	}
	_, ok := season.Sample{Years: 30}.Mean()
	assert.False(t, ok)
	_, ok = season.Sample{}.Share()
	assert.False(t, ok)
	// Of three dates the first stands at 1/4 and the last at 3/4: the tenths lie beyond them.
	three := season.Sample{Years: 3, Days: []float64{90, 110, 100}}
	_, ok = three.Empirical(0.1)
	assert.False(t, ok)
	day, ok := three.Empirical(0.25)
	require.True(t, ok)
	assert.InDelta(t, 110, day, 1e-9)
}

func drawSample(t *rapid.T) season.Sample {
	days := rapid.SliceOfN(rapid.Float64Range(-60, 200), 12, 40).Draw(t, "days")
	side := season.Side(rapid.IntRange(0, 1).Draw(t, "side"))
	return season.Sample{Side: side, Days: days, Years: len(days) + rapid.IntRange(0, 10).Draw(t, "without")}
}

// TestOrderOfDates: in spring the date of a smaller probability is never the earlier, in autumn never the
// later, by both methods; and days shifted by a week shift the dates by a week.
func TestOrderOfDates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSample(t)
		moved := s
		moved.Days = nil
		for _, d := range s.Days {
			moved.Days = append(moved.Days, d+7)
		}
		p := rapid.Float64Range(0.02, 0.5).Draw(t, "p")
		for name, pair := range map[string][2]func(float64) (float64, bool){"normal": {s.Normal, moved.Normal}, "order": {s.Empirical, moved.Empirical}} {
			rare, ok := pair[0](p)
			often, also := pair[0](p + 0.1)
			if !ok || !also {
				continue
			}
			if s.Side == season.Spring {
				rare, often = often, rare
			}
			assert.LessOrEqual(t, rare, often+1e-9, name)
			later, _ := pair[1](p)
			first, _ := pair[0](p)
			assert.InDelta(t, first+7, later, 1e-6, name)
		}
	})
}

// outside asks SciPy for mean, SD, normal quantiles and Weibull quantiles of samples.
const outside = `
import json, sys
import numpy as np
from scipy import stats
from scipy.stats.mstats import mquantiles
out = []
for c in json.load(sys.stdin):
    d = np.array(c["days"]); q = len(d) / c["years"]
    f = [1 - p / q if c["side"] == "spring" else p / q for p in (0.1, 0.3, 0.5)]
    out.append({"mean": d.mean(), "sd": d.std(ddof=1), "normal": [stats.norm.ppf(x, d.mean(), d.std(ddof=1)) for x in f],
        "order": list(mquantiles(d, f, alphap=0, betap=0))})
print(json.dumps(out))
`

// TestOutside compares with SciPy, which CI installs.
func TestOutside(t *testing.T) {
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import scipy").Run() != nil {
		t.Skip("python3-scipy is not installed")
	}
	type asked struct {
		Days  []float64 `json:"days"`
		Years int       `json:"years"`
		Side  string    `json:"side"`
	}
	var cases []asked
	var samples []season.Sample
	for i := range 40 {
		s := season.Sample{Side: season.Side(i % 2), Years: 20 + i%7}
		for k := range 20 {
			s.Days = append(s.Days, float64((k*k*37+i*53)%61)+80)
		}
		samples, cases = append(samples, s), append(cases, asked{s.Days, s.Years, s.Side.String()})
	}
	in, err := json.Marshal(cases)
	require.NoError(t, err)
	cmd := exec.Command(python, "-c", outside)
	cmd.Stdin = bytes.NewReader(in)
	text, err := cmd.Output()
	require.NoError(t, err)
	var answers []struct {
		Mean, SD      float64
		Normal, Order []float64
	}
	require.NoError(t, json.Unmarshal(text, &answers))
	for i, s := range samples {
		mean, _ := s.Mean()
		sd, _ := s.SD()
		assert.InDelta(t, answers[i].Mean, mean, 1e-9)
		assert.InDelta(t, answers[i].SD, sd, 1e-9)
		for k, p := range []float64{0.1, 0.3, 0.5} {
			normal, ok := s.Normal(p)
			require.True(t, ok)
			assert.InDelta(t, answers[i].Normal[k], normal, 1e-7, fmt.Sprint(i, p))
			if day, ok := s.Empirical(p); ok {
				assert.InDelta(t, answers[i].Order[k], day, 1e-9, fmt.Sprint(i, p))
			}
		}
	}
}
