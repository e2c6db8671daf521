package trial_test

import (
	"encoding/json"
	"math"
	"math/big"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/trial"
)

// python is Debian's own, for which the package python3-scipy is; another may not have it.
const python = "/usr/bin/python3"

// script answers every case of its input: Welch, equal spreads, pairs, the interval of a mean, a critical t.
const script = `
import json, sys
from scipy import stats
def var(x): return stats.tvar(x) / len(x)
out = []
for c in json.load(sys.stdin):
    a, b, level = c["a"], c["b"], c["level"]
    n, m = len(a), len(b)
    w, pooled = stats.ttest_ind(a, b, equal_var=False), stats.ttest_ind(a, b)
    df = (var(a) + var(b)) ** 2 / (var(a) ** 2 / (n - 1) + var(b) ** 2 / (m - 1))
    ci = stats.t.interval(level, df, loc=stats.tmean(a) - stats.tmean(b), scale=(var(a) + var(b)) ** 0.5)
    k = min(n, m)
    off = [x - y for x, y in zip(a[:k], b[:k])]
    pair = stats.ttest_rel(a[:k], b[:k])
    pci = stats.t.interval(level, k - 1, loc=stats.tmean(off), scale=stats.sem(off))
    mean = stats.t.interval(level, n - 1, loc=stats.tmean(a), scale=stats.sem(a))
    out.append([w.statistic, df, w.pvalue, ci[0], ci[1], pooled.statistic, pooled.pvalue,
        pair.statistic, pair.pvalue, pci[0], pci[1], mean[0], mean[1], stats.t.ppf(0.5 + level / 2, df)])
json.dump([[float(x) for x in row] for row in out], sys.stdout)
`

type sampled struct {
	A     []float64 `json:"a"`
	B     []float64 `json:"b"`
	Level float64   `json:"level"`
}

// randomSamples returns pairs of samples of two to thirty values, unlike in size, place and spread.
func randomSamples(n int) []sampled {
	r := rand.New(rand.NewPCG(7, 11))
	group := func(place, spread float64) []float64 {
		out := make([]float64, 2+r.IntN(29))
		for i := range out {
			out[i] = math.Round((place+spread*r.NormFloat64())*1000) / 1000
		}
		return out
	}
	levels := []float64{0.5, 0.8, 0.9, 0.95, 0.99}
	var out []sampled
	for range n {
		place := 1000 * r.Float64()
		spread := math.Pow(10, 3*r.Float64()-1)
		out = append(out, sampled{group(place, spread), group(place+2*spread*r.NormFloat64(), spread*math.Pow(10, 2*r.Float64()-1)), levels[r.IntN(len(levels))]})
	}
	return out
}

func fractions(values []float64) []*big.Rat {
	var out []*big.Rat
	for _, x := range values {
		out = append(out, new(big.Rat).SetFloat64(x))
	}
	return out
}

// TestAgainstSciPy holds 200 random samples against an established statistics program.
func TestAgainstSciPy(t *testing.T) {
	if err := exec.Command(python, "-c", "import scipy").Run(); err != nil {
		t.Skip("needs Debian's python3-scipy")
	}
	cases := randomSamples(200)
	in, err := json.Marshal(cases)
	require.NoError(t, err)
	cmd := exec.Command(python, "-c", script)
	cmd.Stdin = strings.NewReader(string(in))
	var wrong strings.Builder
	cmd.Stderr = &wrong
	text, err := cmd.Output()
	require.NoError(t, err, wrong.String())
	var want [][]float64
	require.NoError(t, json.Unmarshal(text, &want))
	require.Len(t, want, len(cases))
	for i, c := range cases {
		assertNear(t, want[i], answersOf(c), c)
	}
}

// answersOf answers a case in the order of the script.
func answersOf(c sampled) []float64 {
	a, b := trial.Summarise(fractions(c.A)), trial.Summarise(fractions(c.B))
	w := trial.Welch(a, b, c.Level)
	pooled, _ := trial.Pooled(a, b, c.Level)
	n := min(len(c.A), len(c.B))
	var off []*big.Rat
	for i := range n {
		off = append(off, new(big.Rat).Sub(fractions(c.A)[i], fractions(c.B)[i]))
	}
	pair := trial.Paired(trial.Summarise(off), c.Level)
	low, high := trial.MeanInterval(a, c.Level)
	return []float64{w.T, w.DF, w.P, w.Low, w.High, pooled.T, pooled.P, pair.T, pair.P, pair.Low, pair.High, low, high, trial.CriticalT(w.DF, c.Level)}
}

// assertNear compares to eight digits. An end of an interval may lie near zero, so it is compared to eight
// digits of the interval's width.
func assertNear(t *testing.T, want, got []float64, c sampled) {
	t.Helper()
	require.Len(t, got, len(want))
	width := map[int]float64{3: want[4] - want[3], 4: want[4] - want[3], 9: want[10] - want[9], 10: want[10] - want[9]}
	for i := range want {
		assert.InDelta(t, want[i], got[i], 1e-8*math.Max(width[i], math.Abs(want[i])), "figure %d of %v", i, c)
	}
}
