// Package units holds quantities as distinct types by dimension, their exact unit factors and the value
// grammar of blocks. A decision (Of) is exact: what is scooped. A belief (Belief) is low, typical, high:
// what an analysis or a density says. Adding cups to grams, or a dose where a density is due, does not
// compile; the few crossings between dimensions are the functions of crossing.go.
package units

import (
	"math"
	"math/big"
)

// The dimensions and their base units.
type (
	volume     struct{} // mL
	mass       struct{} // g
	length     struct{} // cm
	area       struct{} // cm2
	massDose   struct{} // g per litre of mix
	volumeDose struct{} // mL per litre of mix
	density    struct{} // g/mL
	share      struct{} // 1
	money      struct{} // minor units of the handbook's currency
	ec         struct{} // mS/cm
)

// Exact quantities, one line per dimension.
type (
	Volume     = Of[volume]     // mL
	Mass       = Of[mass]       // g
	Length     = Of[length]     // cm
	Area       = Of[area]       // cm2
	MassDose   = Of[massDose]   // g/L
	VolumeDose = Of[volumeDose] // mL/L
	Share      = Of[share]      // 1; 25 % is 1/4
	Money      = Of[money]      // minor units
	EC         = Of[ec]         // mS/cm, electrical conductivity
)

// Believed quantities, one line per dimension.
type (
	SomeVolume  = Belief[volume]   // mL
	SomeMass    = Belief[mass]     // g
	SomeDose    = Belief[massDose] // g/L
	SomeDensity = Belief[density]  // g/mL
	SomeShare   = Belief[share]    // 1
	SomeMoney   = Belief[money]    // minor units
	SomeEC      = Belief[ec]       // mS/cm
)

// Of is an exact quantity of dimension D in D's base unit. The zero Of is zero.
type Of[D any] struct{ rat *big.Rat }

// Exactly returns the quantity of r base units.
func Exactly[D any](r *big.Rat) Of[D] { return Of[D]{new(big.Rat).Set(r)} }

// Millilitres returns a volume that came from geometry or a density. It is exact to a nanolitre, finer
// than any measure, so that a size written as "20 L" stays 20 L and its fractions stay short.
func Millilitres(x float64) Volume {
	r := new(big.Rat).SetFloat64(x)
	if r == nil {
		panic("units: a volume must be finite")
	}
	if math.Abs(x) < 1e12 { // beyond, the float itself is coarser
		r.SetFrac64(int64(math.Round(x*1e6)), 1e6)
	}
	return Volume{r}
}

// Rat returns the quantity in base units.
func (q Of[D]) Rat() *big.Rat {
	if q.rat == nil {
		return new(big.Rat)
	}
	return new(big.Rat).Set(q.rat)
}

// read returns the quantity in base units to be read, not changed: Rat copies.
func (q Of[D]) read() *big.Rat {
	if q.rat == nil {
		return zero
	}
	return q.rat
}

var zero = new(big.Rat)

// Float returns the quantity in base units, rounded to a float.
func (q Of[D]) Float() float64 {
	x, _ := q.read().Float64()
	return x
}

// Add returns q + p.
func (q Of[D]) Add(p Of[D]) Of[D] { return Of[D]{new(big.Rat).Add(q.read(), p.read())} }

// Sub returns q - p.
func (q Of[D]) Sub(p Of[D]) Of[D] { return Of[D]{new(big.Rat).Sub(q.read(), p.read())} }

// Times returns q scaled by a plain ratio.
func (q Of[D]) Times(ratio *big.Rat) Of[D] { return Of[D]{new(big.Rat).Mul(q.read(), ratio)} }

// Over returns the plain ratio q / p; p must not be zero.
func (q Of[D]) Over(p Of[D]) *big.Rat { return new(big.Rat).Quo(q.read(), p.read()) }

// Cmp compares q and p: -1, 0 or +1.
func (q Of[D]) Cmp(p Of[D]) int { return q.read().Cmp(p.read()) }

// Sign returns -1, 0 or +1.
func (q Of[D]) Sign() int { return q.read().Sign() }

// Certain returns the quantity as a belief without doubt.
func (q Of[D]) Certain() Belief[D] {
	x := q.Float()
	return Belief[D]{x, x, x}
}
