// Package liming is the arithmetic of changing the pH of a mix by test (nutrition.md, section 5).
package liming

// Rise returns the pH units from one pH up to another, never below 0.
func Rise(from, to float64) float64 { return max(to-from, 0) }

// Dose returns the grams of a liming material for a volume of mix: litres x pH units x grams of pure fine
// limestone for each unit and litre, over the material's lime value as a share of pure CaCO3 (dose =
// limestone dose x 100 / CCE, derived).
func Dose(litres, units, gramsPerUnit, limeValue float64) float64 {
	return litres * units * gramsPerUnit / limeValue
}

// A Fraction is a share of the mass of a lime within one size class, and how much of that works by day 7.
type Fraction struct{ Share, Works float64 }

// Works returns the share of a lime that works by day 7: the sum of mass share x factor (Huang and others,
// 2007, second-hand). The rest works later.
func Works(fractions ...Fraction) float64 {
	sum := 0.0
	for _, f := range fractions {
		sum += f.Share * f.Works
	}
	return sum
}

// Sulfur returns the grams of elemental sulfur whose acid undoes a mass of CaCO3, grams: 3.12 g of CaCO3 for
// each gram of pure sulfur, by the atomic weights.
func Sulfur(carbonate, carbonatePerSulfur, purity float64) float64 {
	return carbonate / carbonatePerSulfur / purity
}
