package units

// Belief is a quantity of dimension D as far as it is known: low, typical and high, in base units.
type Belief[D any] struct{ Low, Typical, High float64 }

// Add returns the sum of independent beliefs: bound to bound.
func (b Belief[D]) Add(c Belief[D]) Belief[D] {
	return Belief[D]{b.Low + c.Low, b.Typical + c.Typical, b.High + c.High}
}

// Scale returns the belief times a plain factor; a negative one swaps the ends.
func (b Belief[D]) Scale(x float64) Belief[D] {
	if x < 0 {
		return Belief[D]{b.High * x, b.Typical * x, b.Low * x}
	}
	return Belief[D]{b.Low * x, b.Typical * x, b.High * x}
}

// ends returns the figures in the order low, typical, high.
func (b Belief[D]) ends() [3]float64 { return [3]float64{b.Low, b.Typical, b.High} }

// An Input is one belief that a formula of Corners reads; every Belief is one.
type Input interface{ ends() [3]float64 }

// Corners evaluates a formula that rises or falls in each of at most four beliefs at all their ends, so
// that a belief used twice does not widen the answer: a/(a+b) with a in 2..4 and b = 3 is 0.4..0.571.
func Corners[D any](formula func(x []float64) float64, inputs ...Input) Belief[D] {
	if len(inputs) > 4 {
		panic("units: a formula over more than four beliefs needs a bound of its own")
	}
	x := make([]float64, len(inputs))
	for i, in := range inputs {
		x[i] = in.ends()[1]
	}
	typical := formula(x)
	out := Belief[D]{typical, typical, typical}
	for corner := range 1 << len(inputs) {
		for i, in := range inputs {
			x[i] = in.ends()[2*(corner>>i&1)]
		}
		y := formula(x)
		out.Low, out.High = min(out.Low, y), max(out.High, y)
	}
	return out
}

// cornersOfTwo is Corners for the two beliefs of a crossing, which every amount goes through many times.
func cornersOfTwo[D any](a, b [3]float64, formula func(x, y float64) float64) Belief[D] {
	typical := formula(a[1], b[1])
	w, x, y, z := formula(a[0], b[0]), formula(a[2], b[0]), formula(a[0], b[2]), formula(a[2], b[2])
	return Belief[D]{min(typical, w, x, y, z), typical, max(typical, w, x, y, z)}
}

func multiplied(x, y float64) float64 { return x * y }
func divided(x, y float64) float64    { return x / y }
