// Package solve finds the best amounts under limits: a linear program with bounded columns. It always
// answers: what cannot be met is missed by as little as can be, and the answer says by how much and what
// stands in the way. Every answer is checked by multiplying out and by its dual before it is returned. It is
// the only user of the linear-programming library.
package solve

import (
	"fmt"
	"math"
	"slices"
)

// A Problem asks for amounts x, one for each column: 0 <= x <= Most, each row's sum within Low and High,
// at the least cost. Rows of a lower rank are met before those of a higher one; cost counts after all rows.
type Problem struct {
	Columns []Column
	Rows    []Row
}

// A Column is one amount to find. Most must be finite; a column of Most 0 stays at 0. Cost is at least 0.
type Column struct{ Cost, Most float64 }

// A Row holds the sum of Of x amounts between Low and High, which may be infinite. Weight is what missing
// it by one unit counts against the other rows of its rank.
type Row struct {
	Of        []float64
	Low, High float64
	Weight    float64 // 0 counts as 1
	Rank      int
}

// An Answer holds the amounts, their cost, and what each row comes to.
type Answer struct {
	Amounts []float64
	Cost    float64
	Rows    []Reached
}

// Reached is what the sum of a row comes to and by how much it is below Low or above High. HeldBy names
// what stands in the way of a row that is missed: a limit that, were it wider, would let the row come nearer.
type Reached struct {
	Value, Short, Over float64
	HeldBy             []Hold
}

// A Hold is a limit in the way: the Most of a column, or one end of another row. The index that does not
// apply is -1.
type Hold struct {
	Column, Row int
	High        bool // of a row: its High, else its Low
}

// Missed says by how much the row is missed.
func (r Reached) Missed() float64 { return r.Short + r.Over }

// Met says whether every row of the given rank or a lower one is met.
func (a Answer) Met(p Problem, rank int) bool {
	for i, r := range a.Rows {
		if p.Rows[i].Rank <= rank && r.Missed() > 0 {
			return false
		}
	}
	return true
}

// Minimise solves a problem. Among answers of equal cost it takes the one with the least sum of x / Most
// weighted by the square roots of the primes in column order: earlier columns come first, and since those
// roots are linearly independent over the fractions no two corners tie. An error says that the problem is
// malformed or that the answer failed its own check; both are mistakes of the program.
func Minimise(p Problem) (Answer, error) {
	if err := p.check(); err != nil {
		return Answer{}, err
	}
	f := newFrame(p)
	x, err := f.inOrder(f.objectives(p))
	if err != nil {
		return Answer{}, err
	}
	a := p.answer(f.amounts(x))
	return a, p.hold(&a)
}

func (p Problem) check() error {
	for j, c := range p.Columns {
		if !(c.Cost >= 0) || !(c.Most >= 0) || math.IsInf(c.Cost+c.Most, 0) {
			return fmt.Errorf("solve: column %d costs %g and has a most of %g", j, c.Cost, c.Most)
		}
	}
	for i, r := range p.Rows {
		switch {
		case len(r.Of) != len(p.Columns):
			return fmt.Errorf("solve: row %d has %d entries for %d columns", i, len(r.Of), len(p.Columns))
		case !(r.Low <= r.High) || math.IsInf(r.Low, 1) || math.IsInf(r.High, -1):
			return fmt.Errorf("solve: row %d runs from %g to %g", i, r.Low, r.High)
		case !(r.Weight >= 0) || slices.ContainsFunc(r.Of, notFinite):
			return fmt.Errorf("solve: row %d holds what is no number", i)
		}
	}
	return nil
}

func notFinite(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) }

// near is the part of a row's size that only rounding of the arithmetic can leave.
const near = 1e-8

// answer works out from the amounts alone what the rows come to, and forgives what is rounding.
func (p Problem) answer(amounts []float64) Answer {
	a := Answer{Amounts: amounts}
	for j, c := range p.Columns {
		a.Cost += c.Cost * amounts[j]
	}
	for _, r := range p.Rows {
		value, size := 0.0, 0.0
		for j, of := range r.Of {
			value += of * amounts[j]
			size = max(size, math.Abs(of)*p.Columns[j].Most)
		}
		out := Reached{Value: value}
		if short := r.Low - value; short > near*max(size, math.Abs(r.Low)) {
			out.Short = short
		}
		if over := value - r.High; over > near*max(size, math.Abs(r.High)) {
			out.Over = over
		}
		a.Rows = append(a.Rows, out)
	}
	return a
}
