// Package need is the arithmetic of a fertiliser label: how much of a product brings a wanted nutrient, what
// a product brings, what a crop needs over a season and in how many parts it may be given. Shares are parts
// of 1, so 12 % is 0.12; masses and doses may be in any unit, the same for what goes in and what comes out.
// The formulas are mass balances, derived; figures come from the caller.
package need

import "math"

// Product returns how much of a product brings a wanted amount of a nutrient: wanted / content.
func Product(wanted, content float64) float64 { return wanted / content }

// Contained returns what an amount of a product brings of a nutrient: product x content.
func Contained(product, content float64) float64 { return product * content }

// Content returns the share of a nutrient in a product that supplied so much of it: nutrient / product.
func Content(nutrient, product float64) float64 { return nutrient / product }

// Short returns by how much an amount falls short of what is wanted, 0 when it does not.
func Short(wanted, got float64) float64 { return max(wanted-got, 0) }

// A Part is one source of a nutrient: how much of it in all, and the share that becomes available.
type Part struct{ Total, Available float64 }

// Available returns the amount that becomes available from several sources together.
func Available(parts ...Part) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p.Total * p.Available
	}
	return sum
}

// A Season is what a crop needs of a nutrient from one material over a season.
type Season struct {
	Crop      float64 // g that the crop takes up: yield x uptake
	Available float64 // g that must become available: crop / recovery
	Product   float64 // g of the material: available / (content x availability)
	Total     float64 // g of the nutrient in the material, available or not
}

// OfSeason returns the need of a crop of a yield in kg that takes up so many g of a nutrient per kg and
// recovers a share of what becomes available, met with a material of a content and an availability.
func OfSeason(yield, uptake, recovery, content, availability float64) Season {
	s := Season{Crop: yield * uptake}
	s.Available = s.Crop / recovery
	s.Total = s.Available / availability
	s.Product = Product(s.Total, content)
	return s
}

// nearly is the part of a dose that only rounding of the arithmetic can leave: a billionth of the limit.
const nearly = 1e-9

// Splits returns the number of equal parts in which a dose must be given so that none of them passes a
// limit: the least whole number of at least dose / limit, and at least 1.
func Splits(dose, limit float64) int {
	return max(int(math.Ceil(dose/limit-nearly)), 1)
}

// CarbonToNitrogen returns the ratio of a material's carbon to its nitrogen, both in the same unit. The
// mean of the ratios of many samples is another figure: it does not follow from their mean contents.
func CarbonToNitrogen(c, n float64) float64 { return c / n }
