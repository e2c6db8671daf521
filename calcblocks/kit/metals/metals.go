// Package metals holds how much of a metal a state's fertiliser rule bears in a product, by what the product is sold
// for. The page defers to the rule where the reader lives; this is a figure to compare a test report with.
package metals

// A Metal is a chemical symbol: Cd is cadmium.
type Metal string

// The metals of the rule.
const (
	Arsenic Metal = "As"
	Cadmium Metal = "Cd"
	Lead    Metal = "Pb"
)

// The limits of maine-fertiliser-rule (01-001 CMR 350, section 8), mg per kg of product for each 1 % that it
// guarantees, and the least percent that counts.
var (
	perPhosphate     = map[Metal]float64{Cadmium: 10, Lead: 61}
	perMicronutrient = map[Metal]float64{Arsenic: 112, Cadmium: 83, Lead: 463}
)

const leastPhosphate, leastMicronutrient = 6, 1

// OfPhosphate returns the multiplier for a product of so many percent P2O5, and the most of a metal in mg/kg; false
// where the rule names none.
func OfPhosphate(m Metal, percent float64) (multiplier, most float64, ok bool) {
	return limit(perPhosphate, m, max(percent, leastPhosphate))
}

// OfMicronutrients is OfPhosphate for a product of so many percent of micronutrients.
func OfMicronutrients(m Metal, percent float64) (multiplier, most float64, ok bool) {
	return limit(perMicronutrient, m, max(percent, leastMicronutrient))
}

func limit(per map[Metal]float64, m Metal, multiplier float64) (float64, float64, bool) {
	each, ok := per[m]
	return multiplier, each * multiplier, ok
}
