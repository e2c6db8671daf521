package solve

import (
	"math"
	"math/bits"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestFewestByHand: two cheap columns bring one nutrient each, a dear one brings both.
func TestFewestByHand(t *testing.T) {
	p := Problem{
		Columns: []Column{{1, 10}, {1, 10}, {9, 10}, {9, 10}},
		Rows:    []Row{{Of: []float64{1, 0, 1, 1}, Low: 2, High: 8}, {Of: []float64{0, 1, 1, 1}, Low: 2, High: 8}},
	}
	assert.InDeltaSlice(t, []float64{2, 2, 0, 0}, solved(t, p).Amounts, 1e-9)
	a, err := Fewest(p)
	require.NoError(t, err)
	assert.InDeltaSlice(t, []float64{0, 0, 2, 0}, a.Amounts, 1e-9, "of equal ones the first")
	p.Columns[2].Most = 1.5
	p.Columns[3].Most = 1.5
	a, err = Fewest(p)
	require.NoError(t, err)
	assert.InDeltaSlice(t, []float64{2, 2, 0, 0}, a.Amounts, 1e-9, "neither suffices alone; of two columns the cheapest two")
}

// TestFewestAgainstEverySet tries every set of columns of a small blend by itself.
func TestFewestAgainstEverySet(t *testing.T) {
	fewer := 0
	for seed := range uint64(150) {
		p := blend(seed)
		if len(p.Columns) > 6 {
			continue // 2^9 sets take too long
		}
		best := solved(t, p)
		count, cost := everySet(t, p, best)
		a, err := Fewest(p)
		require.NoError(t, err, "blend %d", seed)
		require.Equal(t, count, used(a.Amounts), "blend %d", seed)
		require.InDelta(t, cost, a.Cost, 1e-6*max(1, cost), "blend %d", seed)
		for i := range a.Rows {
			require.LessOrEqual(t, a.Rows[i].Missed(), best.Rows[i].Missed()+1e-6, "blend %d", seed)
		}
		if used(a.Amounts) < used(best.Amounts) {
			fewer++
		}
		again, err := Fewest(p)
		require.NoError(t, err)
		require.Equal(t, a, again)
	}
	assert.Greater(t, fewer, 5, "some get by with fewer than the cheapest")
}

func everySet(t *testing.T, p Problem, best Answer) (count int, cost float64) {
	q := p.noWorseThan(best)
	count, cost = math.MaxInt, math.Inf(1)
	for set := range 1 << len(p.Columns) {
		if bits.OnesCount(uint(set)) > count {
			continue
		}
		sub := Problem{Columns: append([]Column(nil), q.Columns...), Rows: q.Rows}
		for j := range sub.Columns {
			if set>>j&1 == 0 {
				sub.Columns[j].Most = 0
			}
		}
		if a := solved(t, sub); a.Met(sub, 0) {
			if n := used(a.Amounts); n < count || n == count && a.Cost < cost {
				count, cost = n, a.Cost
			}
		}
	}
	return count, cost
}
