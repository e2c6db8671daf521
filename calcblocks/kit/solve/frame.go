package solve

import (
	"math"
	"slices"
)

// A frame is the problem in equations whose start is known, so that it can always be solved. Amounts are
// parts of their most, t = x / Most, and each row is divided by its largest entry:
//
//	t_j + room_j = 1
//	sum a_ij t_j + short_i - spare_i = low_i
//	sum a_ij t_j + spare_i - over_i  = high_i
//
// A row with both ends gives two equations.
type frame struct {
	cols  []int // columns of the problem that may be above 0
	most  []float64
	sides []side
	n     int // columns of the problem
}

// A side is one end of a row. Its two own columns are the miss (short or over) and the spare.
type side struct {
	row   int
	high  bool
	of    []float64
	end   float64
	scale float64 // what the row was divided by
}

// The columns of a frame, in this order: t of each used column, its room, then the miss and the spare of
// each side.
func (f *frame) t(j int) int     { return j }
func (f *frame) room(j int) int  { return len(f.cols) + j }
func (f *frame) miss(i int) int  { return 2*len(f.cols) + 2*i }
func (f *frame) spare(i int) int { return 2*len(f.cols) + 2*i + 1 }
func (f *frame) width() int      { return 2*len(f.cols) + 2*len(f.sides) }

func newFrame(p Problem) *frame {
	f := &frame{n: len(p.Columns)}
	for j, c := range p.Columns {
		if c.Most > 0 {
			f.cols, f.most = append(f.cols, j), append(f.most, c.Most)
		}
	}
	for i, r := range p.Rows {
		of := make([]float64, len(f.cols))
		for k, j := range f.cols {
			of[k] = r.Of[j] * f.most[k]
		}
		f.addSides(i, r, of)
	}
	return f
}

// addSides adds the ends of a row that something could miss: sums of nothing negative are never below 0.
func (f *frame) addSides(i int, r Row, of []float64) {
	scale := 0.0
	for _, a := range of {
		scale = max(scale, math.Abs(a))
	}
	if scale == 0 {
		scale = 1
	}
	scaled := make([]float64, len(of))
	for k := range of {
		scaled[k] = of[k] / scale
	}
	negative := slices.ContainsFunc(of, func(a float64) bool { return a < 0 })
	if !math.IsInf(r.Low, -1) && (negative || r.Low > 0) {
		f.sides = append(f.sides, side{i, false, scaled, r.Low / scale, scale})
	}
	if !math.IsInf(r.High, 1) {
		f.sides = append(f.sides, side{i, true, scaled, r.High / scale, scale})
	}
}

// start is the solution with every amount at 0.
func (f *frame) start() []float64 {
	x := make([]float64, f.width())
	for j := range f.cols {
		x[f.room(j)] = 1
	}
	for i, s := range f.sides {
		x[f.startColumn(i)] = math.Abs(s.end)
	}
	return x
}

// startColumn is the column of a side that is above 0 when all amounts are 0: the miss of a low end above
// 0, or of a high end below 0; else the spare.
func (f *frame) startColumn(i int) int {
	if s := f.sides[i]; (s.end > 0) != s.high && s.end != 0 {
		return f.miss(i)
	}
	return f.spare(i)
}

// sign is +1 for the miss of a low end and the spare of a high end, which raise the side's sum.
func (s side) sign() float64 {
	if s.high {
		return -1
	}
	return 1
}

// amounts turns a solution into amounts of the problem.
func (f *frame) amounts(x []float64) []float64 {
	out := make([]float64, f.n)
	for k, j := range f.cols {
		if t := min(max(x[f.t(k)], 0), 1); t > zero {
			out[j] = t * f.most[k]
		}
	}
	return out
}

// objectives are the costs to make least, one after the other: misses by rank, the problem's cost, and the
// rule for ties.
func (f *frame) objectives(p Problem) [][]float64 {
	var ranks []int
	for _, r := range p.Rows {
		ranks = append(ranks, r.Rank)
	}
	slices.Sort(ranks)
	var out [][]float64
	for _, rank := range slices.Compact(ranks) {
		out = append(out, f.missing(p, func(s side) bool { return p.Rows[s.row].Rank == rank }))
	}
	return append(out, f.cost(p), f.ties())
}

// cost is the problem's own cost.
func (f *frame) cost(p Problem) []float64 {
	cost := make([]float64, f.width())
	for k, j := range f.cols {
		cost[f.t(k)] = p.Columns[j].Cost * f.most[k]
	}
	return unit(cost)
}

// missing is the cost of missing the rows of some sides.
func (f *frame) missing(p Problem, counts func(side) bool) []float64 {
	cost := make([]float64, f.width())
	for i, s := range f.sides {
		weight := p.Rows[s.row].Weight
		if weight == 0 {
			weight = 1
		}
		if counts(s) {
			cost[f.miss(i)] = weight * s.scale
		}
	}
	return unit(cost)
}

// ties is the rule among answers of equal cost. The roots of different primes are linearly independent over
// the fractions (Besicovitch 1940), so that no two corners with fractions for coordinates weigh the same.
func (f *frame) ties() []float64 {
	cost := make([]float64, f.width())
	for k, prime := range primes(len(f.cols)) {
		cost[f.t(k)] = math.Sqrt(float64(prime))
	}
	return unit(cost)
}

func primes(n int) []int {
	var out []int
	for k := 2; len(out) < n; k++ {
		if !slices.ContainsFunc(out, func(p int) bool { return k%p == 0 }) {
			out = append(out, k)
		}
	}
	return out
}

// unit scales costs so that the largest is 1.
func unit(cost []float64) []float64 {
	if most := slices.Max(append([]float64{0}, cost...)); most > 0 {
		for i := range cost {
			cost[i] /= most
		}
	}
	return cost
}
