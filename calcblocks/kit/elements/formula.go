package elements

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// atoms counts the atoms of each element in a formula.
type atoms map[string]float64

func (a atoms) add(b atoms, times float64) {
	for element, n := range b {
		a[element] += n * times
	}
}

// mass returns the g/mol of the atoms. It adds in a fixed order, so that the last digit never changes.
func (a atoms) mass() float64 { return a.massBy(weights) }

// massBy returns the g/mol of the atoms by a table of atomic weights.
func (a atoms) massBy(table map[string]float64) float64 {
	sum := 0.0
	for _, element := range a.names() {
		sum += table[element] * a[element]
	}
	return sum
}

// names returns the elements in alphabetical order.
func (a atoms) names() []string {
	out := make([]string, 0, len(a))
	for element := range a {
		out = append(out, element)
	}
	slices.Sort(out)
	return out
}

// read counts the atoms of a formula such as "CaSO4.2H2O", "Mg(OH)2" or "(NH4)2SO4". A dot, or a raised dot, stands
// before water of crystallisation. The error names what cannot be read.
func read(formula string) (atoms, error) {
	all := atoms{}
	for _, piece := range strings.Split(strings.ReplaceAll(formula, "·", "."), ".") {
		r := reader{formula: formula, rest: piece}
		times := r.count()
		a, err := r.group(0)
		if err != nil {
			return nil, err
		}
		all.add(a, times)
	}
	return all, nil
}

// A reader reads one piece of a formula from left to right.
type reader struct {
	formula string
	rest    string
}

// group reads symbols and brackets up to the end, or up to the bracket that closes this depth.
func (r *reader) group(depth int) (atoms, error) {
	out := atoms{}
	for r.rest != "" && r.rest[0] != ')' {
		part, err := r.part(depth)
		if err != nil {
			return nil, err
		}
		out.add(part, r.count())
	}
	switch closed := r.rest != ""; {
	case closed != (depth > 0):
		return nil, fmt.Errorf("the brackets of formula %q do not match", r.formula)
	case len(out) == 0:
		return nil, fmt.Errorf("formula %q has an empty part", r.formula)
	case closed:
		r.rest = r.rest[1:]
	}
	return out, nil
}

// part reads one symbol or one group in brackets.
func (r *reader) part(depth int) (atoms, error) {
	if r.rest[0] == '(' {
		r.rest = r.rest[1:]
		return r.group(depth + 1)
	}
	n := 1
	for n < len(r.rest) && r.rest[n] >= 'a' && r.rest[n] <= 'z' {
		n++
	}
	symbol := r.rest[:n]
	if _, known := weights[symbol]; !known {
		return nil, fmt.Errorf("formula %q has no known element at %q", r.formula, r.rest)
	}
	r.rest = r.rest[n:]
	return atoms{symbol: 1}, nil
}

// count reads a whole number, 1 when there is none.
func (r *reader) count() float64 {
	digits := r.rest[:len(r.rest)-len(strings.TrimLeft(r.rest, "0123456789"))]
	r.rest = r.rest[len(digits):]
	n, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return 1
	}
	return n
}

// must reads a formula that the program itself names.
func must(formula string) atoms {
	a, err := read(formula)
	if err != nil {
		panic("elements: " + err.Error())
	}
	return a
}
