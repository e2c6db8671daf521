package units

import "math/big"

// The crossings between dimensions: the review list of the whole arithmetic.

var thousand = big.NewRat(1000, 1)

// Weigh returns the mass of a volume of material: volume x density.
func Weigh(v Volume, d SomeDensity) SomeMass {
	return Belief[mass](d.Scale(v.Float()))
}

// Fill returns the volume that a mass of material takes: mass / density.
func Fill(m Mass, d SomeDensity) SomeVolume {
	grams := m.Float()
	return Corners[volume](func(x []float64) float64 { return grams / x[0] }, d)
}

// Density returns the density of a level cup that weighs m and holds cup.
func Density(m Mass, cup Volume) SomeDensity {
	x := m.Float() / cup.Float()
	return SomeDensity{x, x, x}
}

// Contain returns what a material holds of a nutrient: mass x share of mass.
func Contain(m SomeMass, content SomeShare) SomeMass {
	return cornersOfTwo[mass](m.ends(), content.ends(), multiplied)
}

// Spread returns the dose of a mass in a volume of mix: mass / litres.
func Spread(m SomeMass, mix Volume) SomeDose {
	return Belief[massDose](m.Scale(1000 / mix.Float()))
}

// Need returns the mass of a dose in a volume of mix: dose x litres.
func Need(d MassDose, mix Volume) Mass {
	return Mass{new(big.Rat).Quo(new(big.Rat).Mul(d.Rat(), mix.Rat()), thousand)}
}

// NeedVolume returns the volume of a dose by volume in a volume of mix.
func NeedVolume(d VolumeDose, mix Volume) Volume {
	return Volume{new(big.Rat).Quo(new(big.Rat).Mul(d.Rat(), mix.Rat()), thousand)}
}

// Cost returns the price of a mass at the price of a pack.
func Cost(m SomeMass, price Money, holds Mass) SomeMoney {
	return Belief[money](m.Scale(price.Float() / holds.Float()))
}

// CostByVolume returns the price of a mass at the price of a pack sold by volume, whose mass is believed.
func CostByVolume(m SomeMass, price Money, holds SomeMass) SomeMoney {
	minor := price.Float()
	return cornersOfTwo[money](m.ends(), holds.ends(), func(grams, pack float64) float64 { return grams * minor / pack })
}

// WeighSome returns the mass of a believed volume of material: volume x density.
func WeighSome(v SomeVolume, d SomeDensity) SomeMass {
	return cornersOfTwo[mass](v.ends(), d.ends(), multiplied)
}

// Recover returns what must become available so that a crop takes up m: m / recovered share.
func Recover(m SomeMass, recovered SomeShare) SomeMass {
	return cornersOfTwo[mass](m.ends(), recovered.ends(), divided)
}

// Part returns which part of a whole a mass is: mass / whole.
func Part(m, whole SomeMass) SomeShare {
	return cornersOfTwo[share](m.ends(), whole.ends(), divided)
}
