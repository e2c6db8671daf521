// Package elements holds the atomic weights, reads chemical formulas and turns one form of a nutrient
// into another: oxide to element, compound to its parts, liming material to calcium carbonate.
package elements

// weights are the abridged atomic weights in g/mol; where the standard is an interval, the conventional
// value (IUPAC, Standard atomic weights 2013, Pure Appl. Chem. 88:265, 2016, by way of a quoting work; the
// edition of 2021, from memory, leaves them unchanged). Interval of Mg 24.304 to 24.307, of S 32.059 to 32.076.
var weights = map[string]float64{
	"H":  1.008,
	"C":  12.011,
	"N":  14.007,
	"O":  15.999,
	"Na": 22.990,
	"Mg": 24.305,
	"P":  30.974,
	"S":  32.06,
	"Cl": 35.45,
	"K":  39.098,
	"Ca": 40.078,
}

// proteinPerNitrogen is the mass of crude protein that an analysis reckons per mass of nitrogen: protein
// is taken to hold 16 % N (Virginia Cooperative Extension, SPES-201NP).
const proteinPerNitrogen = 6.25
