package calcblocks_test

import (
	"fmt"
	"math/big"
)

// agree returns nil when an answer lies within the tolerance of what is expected at a step, and else what is
// wrong. Numbers are compared as exact fractions, in the unit of the expectation.
func agree(got answer, want quantity, tol tolerance, i int, high bool) error {
	s, err := scaleOf(want.unit)
	if err != nil {
		return err
	}
	if got.dimension != s.dimension {
		return fmt.Errorf("it is a %q and not a %q", got.dimension, s.dimension)
	}
	switch {
	case s.dimension == textual:
		return sameText(got.text, want.at(i, high), tol)
	case want.isBound:
		return between(got.in(s)[0], want)
	case want.isVector():
		return eachNear(got.in(s), want.values, tol)
	}
	return eachNear(got.in(s), []string{want.at(i, high)}, tol)
}

// in returns an answer's numbers in a unit.
func (a answer) in(s scale) []*big.Rat {
	out := make([]*big.Rat, len(a.values))
	for i, v := range a.values {
		out[i] = new(big.Rat).Quo(v, s.factor)
	}
	return out
}

func sameText(got, want string, tol tolerance) error {
	if tol.kind != "exact" {
		return fmt.Errorf("a text has no tolerance but exact")
	}
	if got != want {
		return fmt.Errorf("it is %q and not %q", got, want)
	}
	return nil
}

func eachNear(got []*big.Rat, want []string, tol tolerance) error {
	if len(got) != len(want) {
		return fmt.Errorf("it has %d members and not %d", len(got), len(want))
	}
	for i := range got {
		if err := near(got[i], want[i], tol); err != nil {
			return err
		}
	}
	return nil
}

func near(got *big.Rat, want string, tol tolerance) error {
	expected, ok := new(big.Rat).SetString(want)
	if !ok {
		return fmt.Errorf("%q is not a number", want)
	}
	allowed, err := tol.around(expected)
	if err != nil {
		return err
	}
	off := new(big.Rat).Sub(got, expected)
	if off.Abs(off).Cmp(allowed) > 0 {
		return fmt.Errorf("it is %s and not %s within %s %s", shown(got), want, tol.kind, tol.value)
	}
	return nil
}

// around returns how far an answer may lie from an expected number.
func (t tolerance) around(expected *big.Rat) (*big.Rat, error) {
	if t.kind == "exact" {
		return new(big.Rat), nil
	}
	r, ok := new(big.Rat).SetString(t.value)
	switch {
	case !ok || r.Sign() < 0:
		return nil, fmt.Errorf("the tolerance %q %q is no number", t.kind, t.value)
	case t.kind == "relative":
		r.Mul(r, new(big.Rat).Abs(expected))
	}
	return r, nil
}

// between checks a bound, ends included.
func between(got *big.Rat, want quantity) error {
	least, ok := new(big.Rat).SetString(want.atLeast)
	most, ok2 := new(big.Rat).SetString(want.atMost)
	if !ok || !ok2 {
		return fmt.Errorf("%q to %q is no bound", want.atLeast, want.atMost)
	}
	if got.Cmp(least) < 0 || got.Cmp(most) > 0 {
		return fmt.Errorf("it is %s, outside %s to %s", shown(got), want.atLeast, want.atMost)
	}
	return nil
}

func shown(r *big.Rat) string { return r.FloatString(9) }
