package solve

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// A program is a linear program in the library's form: minimise cost x of matrix x = right, x >= 0, from a
// start whose columns are an identity, so that the library never looks for one by itself. It is the
// library's matrix too, and counts how often it is read: the library's rule against cycling has holes, and
// it cannot be stopped in another way.
type program struct {
	rows, cols int
	entries    []float64
	right      []float64
	cost       []float64
	basis      []int
	reads      int
}

func newProgram(rows, cols int) *program {
	return &program{
		rows: rows, cols: cols, entries: make([]float64, rows*cols),
		right: make([]float64, rows), cost: make([]float64, cols), basis: make([]int, rows),
	}
}

// Dims, At and T make a program a matrix.
func (p *program) Dims() (int, int) { return p.rows, p.cols }

// At returns an entry. It panics when the library reads too often, which it does only in a circle: a step
// reads a few columns, and no answer takes more than some steps for each row.
func (p *program) At(row, col int) float64 {
	if p.reads++; p.reads > 200*p.rows*p.rows+20*p.rows*p.cols {
		panic(errCircle)
	}
	return p.entries[row*p.cols+col]
}

// T returns the transpose.
func (p *program) T() mat.Matrix { return mat.Transpose{Matrix: p} }

func (p *program) set(row, col int, x float64) { p.entries[row*p.cols+col] = x }

// flip turns the signs of a row.
func (p *program) flip(row int) {
	for i := row * p.cols; i < (row+1)*p.cols; i++ {
		p.entries[i] = -p.entries[i]
	}
	p.right[row] = -p.right[row]
}

var (
	errLibrary = errors.New("the library failed")
	errCircle  = errors.New("the library goes in a circle")
	errCorner  = errors.New("the library's answer is no corner")
)

// library has the library solve the program with other right sides. It panics on what it takes for a mistake
// of the caller.
func (p *program) library(right []float64) (x []float64, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%w: %v", errLibrary, r)
		}
	}()
	p.reads = 0
	_, x, err = lp.Simplex(p.cost, p, right, 1e-10, p.basis)
	return x, err
}

// corner returns the columns above 0 at the best corner. The right sides are moved a little, each by
// another part of nudge (Charnes 1952): then no two corners fall together, the library cannot go in circles,
// and exactly one column for each row is above 0.
func (p *program) corner(nudge float64) ([]int, error) {
	right := make([]float64, p.rows)
	for i, prime := range primes(p.rows) {
		right[i] = p.right[i] + nudge/math.Sqrt(float64(prime))
	}
	x, err := p.library(right)
	if err != nil {
		return nil, err
	}
	return p.independent(x)
}

// independent returns as many columns as there are rows, none of them a sum of the others: those that are
// largest in x first, then those of the start, whose columns are an identity. Where rounding leaves one column
// above 0 too many, or one too few, that still is a corner; whether it is the best one, the prices prove.
func (p *program) independent(x []float64) ([]int, error) {
	order := make([]int, 0, p.cols+p.rows)
	for j, v := range x {
		if v > 0 {
			order = append(order, j)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(x[b], x[a]) })
	var basis []int
	var directions [][]float64 // of the chosen columns, at right angles to each other
	for _, j := range append(order, p.basis...) {
		if d, ok := p.apart(j, directions); ok && len(basis) < p.rows {
			basis, directions = append(basis, j), append(directions, d)
		}
	}
	if len(basis) != p.rows {
		return nil, errCorner
	}
	slices.Sort(basis)
	return basis, nil
}

// apart returns what is left of a column beside the given directions, of length 1, and whether that is more
// than rounding (Gram and Schmidt, twice over).
func (p *program) apart(col int, directions [][]float64) ([]float64, bool) {
	d := make([]float64, p.rows)
	for i := range d {
		d[i] = p.entries[i*p.cols+col]
	}
	whole := floats.Norm(d, 2)
	for range 2 {
		for _, e := range directions {
			floats.AddScaled(d, -floats.Dot(d, e), e)
		}
	}
	left := floats.Norm(d, 2)
	if left <= 1e-9*whole {
		return nil, false
	}
	floats.Scale(1/left, d)
	return d, true
}

// run returns the best answer and its prices: those of the corner, worked out with the right sides as they
// are.
func (p *program) run(nudge float64) (x, y []float64, err error) {
	basis, err := p.corner(nudge)
	if err != nil {
		return nil, nil, err
	}
	of := mat.NewDense(p.rows, p.rows, nil)
	cost := mat.NewVecDense(p.rows, nil)
	for k, j := range basis {
		cost.SetVec(k, p.cost[j])
		for i := range p.rows {
			of.Set(i, k, p.entries[i*p.cols+j])
		}
	}
	var amounts, prices mat.VecDense
	if err := errors.Join(amounts.SolveVec(of, mat.NewVecDense(p.rows, p.right)), prices.SolveVec(of.T(), cost)); err != nil {
		return nil, nil, err
	}
	x = make([]float64, p.cols)
	for k, j := range basis {
		x[j] = amounts.AtVec(k)
	}
	return x, prices.RawVector().Data, nil
}

// program writes the frame as a program. flipped tells the rows whose signs were turned for the start.
func (f *frame) program(cost []float64) (p *program, flipped []bool) {
	n := len(f.cols)
	p = newProgram(n+len(f.sides), f.width())
	flipped = make([]bool, p.rows)
	copy(p.cost, cost)
	for j := range f.cols {
		p.set(j, f.t(j), 1)
		p.set(j, f.room(j), 1)
		p.right[j], p.basis[j] = 1, f.room(j)
	}
	for i, s := range f.sides {
		row := n + i
		for j, a := range s.of {
			p.set(row, f.t(j), a)
		}
		p.set(row, f.miss(i), s.sign())
		p.set(row, f.spare(i), -s.sign())
		p.right[row], p.basis[row] = s.end, f.startColumn(i)
		if p.entries[row*p.cols+p.basis[row]] < 0 {
			p.flip(row)
			flipped[row] = true
		}
	}
	return p, flipped
}
