package solve

import (
	"errors"
	"fmt"
	"math"
)

const (
	zero    = 1e-10 // a part of a column's most, or of a row's size, that counts as nothing
	off     = 1e-7  // a reduced cost above which a column is off the best face
	dearest = 1e3   // what a unit off the best face costs at first; the dearest objective costs 1
)

// A stage is a solution with its dual: y prices the equations, first those of the rooms, then of the sides.
type stage struct{ x, y []float64 }

// inOrder makes objectives least one after the other. The best answers of an objective are a face: all
// whose columns of positive reduced cost are 0. The next objective looks on that face alone, which is done
// by making the other columns dear.
func (f *frame) inOrder(objectives [][]float64) ([]float64, error) {
	x := f.start()
	outside := make([]bool, f.width())
	for k, objective := range objectives {
		s, err := f.within(objective, outside)
		if err != nil {
			return nil, fmt.Errorf("solve: objective %d: %w", k+1, err)
		}
		x = s.x
		for i, d := range f.reduced(objective, outside, s.y) {
			outside[i] = outside[i] || d > off
		}
	}
	return x, nil
}

var errNoFace = errors.New("no price keeps the answer on the best face")

// within makes one objective least with the columns outside at 0.
func (f *frame) within(objective []float64, outside []bool) (stage, error) {
	for price := dearest; price <= dearest*1e6; price *= 100 {
		cost := priced(objective, outside, price)
		s, err := f.solve(cost)
		if err != nil {
			return stage{}, err
		}
		if f.inside(s.x, outside) {
			return s, nil
		}
	}
	return stage{}, errNoFace
}

func priced(objective []float64, outside []bool, price float64) []float64 {
	cost := make([]float64, len(objective))
	for i, c := range objective {
		cost[i] = c
		if outside[i] {
			cost[i] = price
		}
	}
	return cost
}

func (f *frame) inside(x []float64, outside []bool) bool {
	for i := range x {
		if outside[i] && x[i] > near {
			return false
		}
	}
	return true
}

// reduced returns each column's cost less what the equations' prices pay for it; columns outside have none.
func (f *frame) reduced(objective []float64, outside []bool, y []float64) []float64 {
	d := make([]float64, f.width())
	for i := range d {
		d[i] = objective[i]
	}
	n := len(f.cols)
	for j := range f.cols {
		d[f.t(j)] -= y[j]
		d[f.room(j)] -= y[j]
	}
	for i, s := range f.sides {
		price := y[n+i]
		for j, a := range s.of {
			d[f.t(j)] -= a * price
		}
		d[f.miss(i)] -= s.sign() * price
		d[f.spare(i)] += s.sign() * price
	}
	for i := range d {
		if outside[i] {
			d[i] = 0
		}
	}
	return d
}

// nudges are the sizes of the moves that part corners, tried in order: one may be too large for a problem
// with corners close together, another too small for the arithmetic.
var nudges = []float64{1e-7, 1e-8, 1e-6, 1e-9, 1e-5}

// solve makes one cost least and proves it: the solution fulfils every equation, the prices fulfil every
// column, and both come to the same value, so neither can be bettered (strong duality).
func (f *frame) solve(cost []float64) (stage, error) {
	s := stage{x: f.start(), y: make([]float64, len(f.cols)+len(f.sides))}
	if dot(cost, s.x) == 0 {
		return s, f.prove(cost, s)
	}
	var errs []error
	for _, nudge := range nudges {
		var err error
		if s, err = f.try(cost, nudge); err == nil {
			return s, nil
		}
		errs = append(errs, err)
	}
	return stage{}, errors.Join(errs...)
}

// try solves with one size of the moves.
func (f *frame) try(cost []float64, nudge float64) (stage, error) {
	p, flipped := f.program(cost)
	x, y, err := p.run(nudge)
	if err != nil {
		return stage{}, err
	}
	for i := range y {
		if flipped[i] {
			y[i] = -y[i]
		}
	}
	s := stage{x, y}
	return s, f.prove(cost, s)
}

// prove checks a stage by multiplying out.
func (f *frame) prove(cost []float64, s stage) error {
	if gap := f.residual(s.x); gap > near {
		return fmt.Errorf("the answer misses its equations by %g", gap)
	}
	for i, x := range s.x {
		if x < -zero {
			return fmt.Errorf("column %d of the answer is %g", i, x)
		}
	}
	dear := 1.0
	for _, c := range cost {
		dear = max(dear, c)
	}
	for i, d := range f.reduced(cost, make([]bool, len(cost)), s.y) {
		if d < -off*dear {
			return fmt.Errorf("the prices leave column %d a gain of %g", i, -d)
		}
	}
	have, bound := dot(cost, s.x), f.worth(s.y)
	if math.Abs(have-bound) > near*max(1, math.Abs(have))*dear {
		return fmt.Errorf("the answer costs %g, its dual %g", have, bound)
	}
	return nil
}

// residual is the largest miss of an equation, as a part of its right side or of 1.
func (f *frame) residual(x []float64) float64 {
	worst := 0.0
	for j := range f.cols {
		worst = max(worst, math.Abs(x[f.t(j)]+x[f.room(j)]-1))
	}
	for i, s := range f.sides {
		sum := s.sign()*(x[f.miss(i)]-x[f.spare(i)]) - s.end
		for j, a := range s.of {
			sum += a * x[f.t(j)]
		}
		worst = max(worst, math.Abs(sum)/max(1, math.Abs(s.end)))
	}
	return worst
}

// worth is the value of the dual: the right sides at their prices.
func (f *frame) worth(y []float64) float64 {
	sum := 0.0
	for j := range f.cols {
		sum += y[j]
	}
	for i, s := range f.sides {
		sum += s.end * y[len(f.cols)+i]
	}
	return sum
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
