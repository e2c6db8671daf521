// Package solution is the arithmetic of liquid feed: mg of a nutrient in a litre of water (season.md,
// section 4). Exact: 1 oz in 100 US gal is 74.8915 mg/L, where print says 75.
package solution

import "math/big"

// Product returns the product in a litre for a wanted strength of a nutrient, in the unit of the strength:
// wanted / share of the nutrient.
func Product(wanted, share *big.Rat) *big.Rat { return new(big.Rat).Quo(wanted, share) }

// Stock returns the strength of the stock that an injector of 1:r thins to a wanted strength: wanted x r
// (Texas A&M, greenhouse management guide).
func Stock(wanted, r *big.Rat) *big.Rat { return new(big.Rat).Mul(wanted, r) }

// In returns the mass in a volume of feed: strength x volume.
func In(volume, strength *big.Rat) *big.Rat { return new(big.Rat).Mul(volume, strength) }
