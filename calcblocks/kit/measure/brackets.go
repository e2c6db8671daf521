package measure

import "math/big"

// BracketGrams rounds grams or millilitres as the figure in brackets behind a household measure: whole
// numbers from 5 up, halves from 2 to 5, tenths below 2; the unrounded figure chooses the class, and a
// tie goes up (21 CFR 101.9(b)(7)(ii)).
func BracketGrams(g *big.Rat) *big.Rat {
	switch {
	case g.Cmp(big.NewRat(5, 1)) >= 0:
		return steps(g, 1)
	case g.Cmp(big.NewRat(2, 1)) >= 0:
		return steps(g, 2)
	}
	return steps(g, 10)
}

// Ounces rounds ounces to half-ounce steps, for ounces as the main unit; a tie goes up
// (21 CFR 101.9(b)(5)(iii)).
func Ounces(oz *big.Rat) *big.Rat { return steps(oz, 2) }

// BracketOunces rounds ounces to tenths, for ounces in brackets; a tie goes up
// (21 CFR 101.9(b)(7)(iii)).
func BracketOunces(oz *big.Rat) *big.Rat { return steps(oz, 10) }

// steps rounds to the nearest 1/n, a tie up.
func steps(x *big.Rat, n int64) *big.Rat {
	scaled := new(big.Rat).Mul(x, big.NewRat(n, 1))
	whole := floor(scaled.Add(scaled, big.NewRat(1, 2)))
	return new(big.Rat).SetFrac(whole, big.NewInt(n))
}
