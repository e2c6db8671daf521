package solve

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// blend makes a random blend: materials with contents, limits and prices, nutrients with bands. Every other
// one can be met by construction: its bands surround what some amounts bring. It has columns of zeros,
// columns of equal content and cost, rows of zeros and rows that repeat others.
func blend(seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 2027))
	n, m := 1+r.IntN(9), 1+r.IntN(5)
	var p Problem
	for range n {
		p.Columns = append(p.Columns, Column{Cost: round(r.Float64()), Most: round(0.05 + 10*r.Float64())})
	}
	for range m {
		p.Rows = append(p.Rows, randomRow(r, n))
	}
	p.twist(r)
	amounts := make([]float64, len(p.Columns))
	for j, c := range p.Columns {
		if r.IntN(3) > 0 {
			amounts[j] = c.Most * r.Float64()
		}
	}
	for i := range p.Rows {
		p.Rows[i].band(r, amounts, seed%2 == 0)
	}
	return p
}

func round(x float64) float64 { return math.Round(1000*x) / 1000 }

func randomRow(r *rand.Rand, n int) Row {
	row := Row{Of: make([]float64, n)}
	for j := range row.Of {
		if r.IntN(3) > 0 {
			row.Of[j] = round(r.Float64() * 0.15)
		}
		if r.IntN(12) == 0 {
			row.Of[j] = -row.Of[j]
		}
	}
	return row
}

// twist makes zero, repeated and equal-cost columns, and zero and repeated rows.
func (p *Problem) twist(r *rand.Rand) {
	n, m := len(p.Columns), len(p.Rows)
	if a, b := r.IntN(n), r.IntN(n); r.IntN(3) == 0 {
		p.Columns[b].Cost = p.Columns[a].Cost
		for i := range p.Rows {
			p.Rows[i].Of[b] = p.Rows[i].Of[a]
		}
	}
	if z := r.IntN(n); r.IntN(4) == 0 {
		for i := range p.Rows {
			p.Rows[i].Of[z] = 0
		}
	}
	if r.IntN(4) == 0 {
		p.Columns[r.IntN(n)].Most = 0
	}
	if r.IntN(4) == 0 {
		p.Rows = append(p.Rows, Row{Of: append([]float64(nil), p.Rows[r.IntN(m)].Of...)})
	}
	if r.IntN(8) == 0 {
		p.Rows = append(p.Rows, Row{Of: make([]float64, n)})
	}
}

// band sets the ends of a row: round what the amounts bring, or anywhere.
func (row *Row) band(r *rand.Rand, amounts []float64, within bool) {
	at := dot(row.Of, amounts)
	width := r.Float64() * 0.5
	if !within {
		at += r.Float64() * 0.8
	}
	row.Low, row.High = math.Floor(1000*(at-width*r.Float64()))/1000, math.Ceil(1000*(at+width*r.Float64()))/1000
	switch r.IntN(6) {
	case 0:
		row.Low = math.Inf(-1)
	case 1:
		row.High = math.Inf(1)
	}
	if within && row.Low > dot(row.Of, amounts) || row.High < row.Low {
		panic("the band does not hold its amounts")
	}
}

// model writes a problem in the LP format of the outside solver.
func (p Problem) model() string {
	var b strings.Builder
	terms := func(of func(int) float64) {
		for j := range p.Columns {
			fmt.Fprintf(&b, " %+.17g x%d", of(j), j)
		}
	}
	b.WriteString("Minimize\n cost:")
	terms(func(j int) float64 { return p.Columns[j].Cost })
	b.WriteString("\nSubject To\n")
	for i, r := range p.Rows {
		for _, end := range []struct {
			name, sign string
			at         float64
		}{{"low", ">=", r.Low}, {"high", "<=", r.High}} {
			if !math.IsInf(end.at, 0) {
				fmt.Fprintf(&b, " %s%d:", end.name, i)
				terms(func(j int) float64 { return r.Of[j] })
				fmt.Fprintf(&b, " %s %.17g\n", end.sign, end.at)
			}
		}
	}
	b.WriteString(" any:")
	terms(func(int) float64 { return 1 })
	b.WriteString(" >= 0\nBounds\n")
	for j, c := range p.Columns {
		fmt.Fprintf(&b, " 0 <= x%d <= %.17g\n", j, c.Most)
	}
	return b.String() + "End\n"
}

// outside solves a problem with GLPK: feasible says whether there is an answer, cost what it costs. Its
// exit code is 0 even when there is none; the status letters tell.
func outside(t *testing.T, dir string, p Problem) (cost float64, feasible bool) {
	t.Helper()
	model, answer := filepath.Join(dir, "blend.lp"), filepath.Join(dir, "blend.out")
	require.NoError(t, os.WriteFile(model, []byte(p.model()), 0o600))
	text, err := exec.Command("glpsol", "--lp", model, "--nopresol", "-w", answer).CombinedOutput()
	require.NoError(t, err, string(text))
	out, err := os.ReadFile(answer)
	require.NoError(t, err, string(text))
	for _, line := range strings.Split(string(out), "\n") {
		if f := strings.Fields(line); len(f) == 7 && f[0] == "s" {
			cost, err = strconv.ParseFloat(f[6], 64)
			require.NoError(t, err, line)
			require.Contains(t, []string{"f", "n", "i"}, f[4], line)
			return cost, f[4] == "f"
		}
	}
	t.Fatalf("no status in %s\n%s", out, text)
	return 0, false
}

// TestBlends: a thousand blends come out as GLPK has them.
func TestBlends(t *testing.T) {
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Skip("glpsol is not installed")
	}
	const blends, hands = 1000, 4
	for hand := range hands {
		t.Run(fmt.Sprint(hand), func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			met := 0
			for seed := hand; seed < blends; seed += hands {
				if compare(t, dir, uint64(seed)) {
					met++
				}
			}
			assert.Greater(t, met, blends/hands/10, "some can be met")
		})
	}
}

func compare(t *testing.T, dir string, seed uint64) bool {
	t.Helper()
	p := blend(seed)
	cost, feasible := outside(t, dir, p)
	a, err := Minimise(p)
	require.NoError(t, err, "blend %d", seed)
	require.Equal(t, feasible, a.Met(p, 0), "blend %d: %+v", seed, a)
	if seed%2 == 0 {
		require.True(t, feasible, "blend %d was made to be met", seed)
	}
	if feasible {
		require.InDelta(t, cost, a.Cost, 1e-6*max(1, cost), "blend %d", seed)
	}
	again, err := Minimise(blend(seed))
	require.NoError(t, err)
	require.Equal(t, a, again, "blend %d comes out the same twice", seed)
	return feasible
}
