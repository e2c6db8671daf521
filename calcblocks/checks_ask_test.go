package calcblocks_test

import (
	"math/big"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/units"
)

// A question is one step of a check put to a solver: of lists that run in step their i-th members, of
// ranges the low or the high end.
type question struct {
	t    testing.TB
	c    check
	i    int
	high bool
}

// An answer is an output of a solver: a quantity in base units, a list of them, or a text.
type answer struct {
	dimension string
	values    []*big.Rat
	text      string
}

type answers map[string]answer

// raw returns an input's text at this step.
func (q question) raw(name string) string {
	q.t.Helper()
	in, ok := q.c.given[name]
	require.True(q.t, ok, "the solver asks for an input %q that is not there", name)
	return in.at(q.i, q.high)
}

// at returns the value of a quantity at a step: the member of a list, the end of a range, or the one value.
func (q quantity) at(i int, high bool) string {
	switch {
	case q.isRange && high:
		return q.high
	case q.isRange:
		return q.low
	case q.isList:
		return q.values[i]
	}
	return q.values[0]
}

func (q question) text(name string) string { return q.raw(name) }

// of returns the substance that an input's unit names, wants that of an output.
func (q question) of(name string) string    { return q.scale(q.c.given[name]).of }
func (q question) wants(name string) string { return q.scale(q.c.expect[name]).of }

func (q question) scale(in quantity) scale {
	q.t.Helper()
	s, err := scaleOf(in.unit)
	require.NoError(q.t, err)
	return s
}

// base returns an input in base units, exactly, and requires its dimension.
func (q question) base(name, dimension string) *big.Rat {
	q.t.Helper()
	s := q.scale(q.c.given[name])
	require.Equal(q.t, dimension, s.dimension, "the dimension of %q", name)
	return new(big.Rat).Mul(exact(q.t, q.raw(name)), s.factor)
}

// exact reads a number as the files write it: 3, 2.5, 1.0e-09, 7/24.
func exact(t testing.TB, text string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(text)
	require.True(t, ok, "%q is not a number", text)
	return r
}

func (q question) volume(name string) units.Volume {
	q.t.Helper()
	return as(units.Volume{}, q.base(name, "volume"))
}

func (q question) mass(name string) units.Mass {
	q.t.Helper()
	return as(units.Mass{}, q.base(name, "mass"))
}

// as returns r base units of the dimension of a sample.
func as[D any](_ units.Of[D], r *big.Rat) units.Of[D] { return units.Exactly[D](r) }

// cm returns a length in cm, plain a number or share, perVolume a mass per volume in g/mL.
func (q question) cm(name string) float64        { return float(q.base(name, "length")) }
func (q question) plain(name string) float64     { return float(q.base(name, "")) }
func (q question) perVolume(name string) float64 { return float(q.base(name, "mass/volume")) }

// some returns an input of any dimension in base units.
func (q question) some(name string) float64 {
	return float(q.base(name, q.scale(q.c.given[name]).dimension))
}

// list returns all members of an input whose unit heads a list, such as N-P2O5-K2O.
func (q question) list(name string) []float64 {
	q.t.Helper()
	in := q.c.given[name]
	require.True(q.t, in.isVector(), "%q is no list of nutrients", name)
	out := make([]float64, len(in.values))
	for i, v := range in.values {
		out[i] = float(new(big.Rat).Mul(exact(q.t, v), q.scale(in).factor))
	}
	return out
}

// isVector says whether a quantity is one list, rather than values that run in step.
func (q quantity) isVector() bool { return q.isSample || strings.Contains(q.unit, "N-P2O5-K2O") }

func float(r *big.Rat) float64 {
	x, _ := r.Float64()
	return x
}

func sure[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// The answers that a solver gives.
func ofVolume(v units.Volume) answer { return answer{dimension: "volume", values: []*big.Rat{v.Rat()}} }

func ofMass(m units.Mass) answer { return answer{dimension: "mass", values: []*big.Rat{m.Rat()}} }
func ofText(s string) answer     { return answer{dimension: textual, text: s} }

func ofFlag(b bool) answer {
	if b {
		return ofText("true")
	}
	return ofText("false")
}

// in returns a number of base units of a dimension: mL of "volume", g/mL of "mass/volume".
func in(dimension string, x float64) answer {
	return answer{dimension: dimension, values: []*big.Rat{rational(x)}}
}

func ratIn(dimension string, r *big.Rat) answer {
	return answer{dimension: dimension, values: []*big.Rat{r}}
}

func number(x float64) answer { return in("", x) }

func numbers(all []float64) answer {
	out := answer{}
	for _, x := range all {
		out.values = append(out.values, rational(x))
	}
	return out
}

func rational(x float64) *big.Rat {
	r := new(big.Rat).SetFloat64(x)
	if r == nil {
		panic("a solver gave a number that is not finite")
	}
	return r
}

// steps returns how many steps a check has, and whether it has a low and a high end.
func (c check) steps() (steps int, ranges bool) {
	steps = 1
	for _, group := range []map[string]quantity{c.given, c.expect} {
		for _, name := range names(group) {
			in := group[name]
			if in.isList && !in.isVector() {
				steps = max(steps, len(in.values))
			}
			ranges = ranges || in.isRange
		}
	}
	return steps, ranges
}

// uneven returns the names of lists that do not run in step.
func (c check) uneven(steps int) []string {
	var out []string
	for _, group := range []map[string]quantity{c.given, c.expect, c.printed} {
		for _, name := range names(group) {
			if in := group[name]; in.isList && !in.isVector() && len(in.values) != steps {
				out = append(out, name)
			}
		}
	}
	slices.Sort(out)
	return out
}
