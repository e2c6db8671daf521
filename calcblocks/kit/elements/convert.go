package elements

import "fmt"

// Convert returns the mass of one form that matches a mass of 1 of another, by way of the element that
// both hold: P2O5 to P, K to K2O, SO4 to S, N to NH3, CaSO4.2H2O to the Ca in it. Oxygen, hydrogen and, where another
// element is shared, carbon do not count. Two names have a rule of their own: "CaCO3 equivalent", see
// LimeEquivalent, and "crude protein", 6.25 times the nitrogen. The atomic weights are those of IUPAC; a
// printed factor may differ in the fourth digit. Names are those of the program's own code: one that cannot
// be read, or a pair that shares no element, panics. The pages convert phosphorus, potassium and magnesium; that it
// reads any formula holds the factors and the lime values of the reference against the atomic weights in tests.
func Convert(from, to string) float64 {
	switch {
	case to == "CaCO3 equivalent":
		return LimeEquivalent(from) / 100
	case from == "crude protein":
		return Convert("N", to) / proteinPerNitrogen
	case to == "crude protein":
		return Convert(from, "N") * proteinPerNitrogen
	}
	return ConvertBy(weights, from, to)
}

// ConvertBy returns what Convert does for two formulas by another table of atomic weights, in g/mol by symbol,
// so that tests can show how far two tables differ.
func ConvertBy(table map[string]float64, from, to string) float64 {
	a, b := must(from), must(to)
	key := shared(a, b)
	if key == "" {
		panic(fmt.Sprintf("elements: %s and %s share no element", from, to))
	}
	return b.massBy(table) / b[key] * a[key] / a.massBy(table)
}

// shared returns the element by which two forms are matched. Metals, phosphorus, sulfur, chlorine and
// nitrogen come before carbon, so that CaCO3 is matched with CaO by its calcium.
func shared(a, b atoms) string {
	for _, element := range []string{"P", "K", "Ca", "Mg", "Na", "S", "Cl", "N", "C"} {
		if a[element] > 0 && b[element] > 0 {
			return element
		}
	}
	return ""
}

// LimeEquivalent returns how much acid a pure compound takes up as percent of what an equal mass of CaCO3
// does, from its formula: each Ca and Mg two acid, each K and Na one, less two for each S, as sulfate or as
// sulfur that turns into it, and one for each Cl. It is 100 for CaCO3, 248.33 for MgO, 0 for gypsum and
// -312.2 for sulfur, which is 3.12 kg of CaCO3 undone by 1 kg of S. Nitrogen and phosphorus take part in
// other ways, so a formula with either panics, as does one that cannot be read.
func LimeEquivalent(formula string) float64 {
	a := must(formula)
	if a["N"] > 0 || a["P"] > 0 {
		panic("elements: the lime equivalent of " + formula + " does not follow from its formula")
	}
	pairs := a["Ca"] + a["Mg"] + (a["K"]+a["Na"])/2 - a["S"] - a["Cl"]/2
	return 100 * pairs * must("CaCO3").mass() / a.mass()
}
