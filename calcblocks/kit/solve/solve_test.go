package solve

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var none = math.Inf(1)

func solved(t require.TestingT, p Problem) Answer {
	a, err := Minimise(p)
	require.NoError(t, err)
	return a
}

// TestByHand: 3 of nutrient 1 and 2 of nutrient 2. A brings 0.5 and 0, B 0.25 and 0.25 per unit. By B alone the
// second needs 8 units, which bring 2 of the first; the missing 1 costs 2 units of A: 2 x 1 + 8 x 1.5 = 14.
func TestByHand(t *testing.T) {
	p := Problem{
		Columns: []Column{{Cost: 1, Most: 20}, {Cost: 1.5, Most: 20}},
		Rows:    []Row{{Of: []float64{0.5, 0.25}, Low: 3, High: none}, {Of: []float64{0, 0.25}, Low: 2, High: 2.5}},
	}
	a := solved(t, p)
	assert.InDeltaSlice(t, []float64{2, 8}, a.Amounts, 1e-9)
	assert.InDelta(t, 14, a.Cost, 1e-9)
	assert.True(t, a.Met(p, 0))
	assert.InDelta(t, 3, a.Rows[0].Value, 1e-9)
}

// TestWhatIsInTheWay: the most of a column, the high end of another row, or nothing that could help.
func TestWhatIsInTheWay(t *testing.T) {
	a := solved(t, Problem{
		Columns: []Column{{1, 4}, {1, 10}},
		Rows:    []Row{{Of: []float64{0.5, 0}, Low: 3, High: none}, {Of: []float64{0, 1}, Low: 1, High: none}},
	})
	assert.InDelta(t, 1, a.Rows[0].Short, 1e-9)
	assert.Equal(t, []Hold{{Column: 0, Row: -1}}, a.Rows[0].HeldBy)
	assert.Zero(t, a.Rows[1].Missed())
	assert.Empty(t, a.Rows[1].HeldBy)

	a = solved(t, Problem{
		Columns: []Column{{1, 100}},
		Rows:    []Row{{Of: []float64{0.5}, Low: 3, High: none, Rank: 1}, {Of: []float64{0.1}, Low: math.Inf(-1), High: 0.4}},
	})
	assert.InDelta(t, 1, a.Rows[0].Short, 1e-9)
	assert.Zero(t, a.Rows[1].Missed(), "the lower rank is kept")
	assert.Equal(t, []Hold{{Column: -1, Row: 1, High: true}}, a.Rows[0].HeldBy)

	a = solved(t, Problem{Columns: []Column{{1, 100}}, Rows: []Row{{Of: []float64{0}, Low: 3, High: none}}})
	assert.InDelta(t, 3, a.Rows[0].Short, 1e-9)
	assert.Empty(t, a.Rows[0].HeldBy, "no column brings any")
}

// TestRanks: a wish of a higher rank moves the answer only where the lower rank leaves room.
func TestRanks(t *testing.T) {
	p := Problem{
		Columns: []Column{{1, 10}},
		Rows:    []Row{{Of: []float64{1}, Low: 2, High: 4}, {Of: []float64{1}, Low: 7, High: 7, Rank: 1}},
	}
	a := solved(t, p)
	assert.InDelta(t, 4, a.Amounts[0], 1e-9)
	assert.InDelta(t, 3, a.Rows[1].Short, 1e-9)
	assert.True(t, a.Met(p, 0))
	assert.False(t, a.Met(p, 1))
	assert.Equal(t, []Hold{{Column: -1, Row: 0, High: true}}, a.Rows[1].HeldBy)
}

// TestTies: of equal columns the first is taken, whatever the order of the rows.
func TestTies(t *testing.T) {
	rows := []Row{{Of: []float64{0.1, 0.1, 0.1}, Low: 1, High: 2}, {Of: []float64{0.2, 0.2, 0.2}, Low: 1, High: none}}
	columns := []Column{{2, 20}, {2, 20}, {2, 20}}
	want := []float64{10, 0, 0}
	assert.InDeltaSlice(t, want, solved(t, Problem{columns, rows}).Amounts, 1e-9)
	assert.InDeltaSlice(t, want, solved(t, Problem{columns, []Row{rows[1], rows[0]}}).Amounts, 1e-9)
	free := solved(t, Problem{[]Column{{0, 20}, {0, 20}}, []Row{{Of: []float64{1, 1}, Low: 1, High: 3}}})
	assert.InDeltaSlice(t, []float64{1, 0}, free.Amounts, 1e-9, "what costs nothing is still not used for nothing")
}

func TestEmpty(t *testing.T) {
	assert.Equal(t, Answer{Amounts: []float64{}}, solved(t, Problem{}))
	a := solved(t, Problem{Rows: []Row{{Low: 1, High: 2}}})
	assert.InDelta(t, 1, a.Rows[0].Short, 1e-9)
}

func TestMalformed(t *testing.T) {
	for _, p := range []Problem{
		{Columns: []Column{{-1, 1}}},
		{Columns: []Column{{1, none}}},
		{Columns: []Column{{math.NaN(), 1}}},
		{Columns: []Column{{1, 1}}, Rows: []Row{{Of: nil, Low: 0, High: 1}}},
		{Columns: []Column{{1, 1}}, Rows: []Row{{Of: []float64{1}, Low: 2, High: 1}}},
		{Columns: []Column{{1, 1}}, Rows: []Row{{Of: []float64{math.NaN()}, Low: 0, High: 1}}},
	} {
		_, err := Minimise(p)
		require.ErrorContains(t, err, "solve: ")
	}
}

// TestAWrongAnswerIsFound: the proof does not take an answer or a price that is off.
func TestAWrongAnswerIsFound(t *testing.T) {
	p := Problem{Columns: []Column{{1, 20}, {1.5, 20}}, Rows: []Row{{Of: []float64{0.5, 0.25}, Low: 3, High: none}}}
	f := newFrame(p)
	cost := f.objectives(p)[1]
	fixed := priced(cost, []bool{false, false, false, false, true, false}, dearest)
	s, err := f.solve(fixed)
	require.NoError(t, err)
	for i := range s.x {
		wrong := stage{append([]float64(nil), s.x...), s.y}
		wrong.x[i] += 1e-4
		require.ErrorContains(t, f.prove(fixed, wrong), "misses its equations")
	}
	for i := range s.y {
		for _, by := range []float64{-1, 1} {
			wrong := stage{s.x, append([]float64(nil), s.y...)}
			wrong.y[i] += by
			require.Error(t, f.prove(fixed, wrong), "price %d", i)
		}
	}
	worse := stage{x: append([]float64(nil), s.x...), y: s.y}
	worse.x[0], worse.x[2], worse.x[5] = 1, 0, worse.x[5]+(1-s.x[0])*f.sides[0].of[0]
	require.ErrorContains(t, f.prove(fixed, worse), "its dual", "an answer that fulfils everything but costs more")
}

// TestScaling: twice the need within twice the limits is twice the amounts; other units of money change
// nothing.
func TestScaling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := blend(uint64(rapid.IntRange(0, 5000).Draw(t, "seed")))
		by := rapid.SampledFrom([]float64{0.01, 0.5, 2, 60}).Draw(t, "by")
		q := Problem{}
		for _, c := range p.Columns {
			q.Columns = append(q.Columns, Column{c.Cost * 100, c.Most * by})
		}
		for _, r := range p.Rows {
			q.Rows = append(q.Rows, Row{Of: r.Of, Low: r.Low * by, High: r.High * by})
		}
		a, b := solved(t, p), solved(t, q)
		assert.InDelta(t, a.Cost*100*by, b.Cost, 1e-6*max(1, b.Cost))
		for j := range a.Amounts {
			assert.InDelta(t, a.Amounts[j]*by, b.Amounts[j], 1e-5*max(0.01, p.Columns[j].Most*by))
		}
		for i := range a.Rows {
			assert.InDelta(t, a.Rows[i].Missed()*by, b.Rows[i].Missed(), 1e-6*by)
		}
	})
}

// TestWideningWhatHolds: a missed row comes nearer when all that is said to be in its way is wider; where
// nothing is said to be, it stays where it is however wide the limits.
func TestWideningWhatHolds(t *testing.T) {
	held, free := 0, 0
	for seed := uint64(1); seed < 120; seed += 2 {
		p := blend(seed)
		a := solved(t, p)
		for i, r := range a.Rows {
			switch {
			case r.Missed() < 1e-6:
				assert.Empty(t, r.HeldBy)
			case len(r.HeldBy) > 0:
				held++
				assert.Less(t, alone(t, p, a, i, r.HeldBy), r.Missed()*(1-1e-5), "blend %d, row %d", seed, i)
			default:
				free++
				assert.InDelta(t, r.Missed(), alone(t, p, a, i, p.ends(i)), 1e-6, "blend %d, row %d", seed, i)
			}
		}
	}
	assert.Greater(t, held, 20)
	assert.Greater(t, free, 5)
}

// alone returns by how much one row is missed when some limits are a tenth wider and the other rows are held
// to what they reached.
func alone(t *testing.T, p Problem, a Answer, row int, ends []Hold) float64 {
	q := p.noWorseThan(a)
	q.Rows[row] = p.Rows[row]
	q.Rows[row].Rank = 1
	q.Columns = append([]Column(nil), p.Columns...)
	for _, h := range ends {
		switch {
		case h.Column >= 0:
			q.Columns[h.Column].Most *= 1.1
		case h.High:
			q.Rows[h.Row].High += 0.1
		default:
			q.Rows[h.Row].Low -= 0.1
		}
	}
	return solved(t, q).Rows[row].Missed()
}
