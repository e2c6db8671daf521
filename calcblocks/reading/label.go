package reading

import (
	"trug/calcblocks/kit/elements"
	"trug/calcblocks/kit/reference"
)

// labelled returns the nutrient of a label in which an element of the sheet counts, and the factor: both forms
// of nitrogen, and P and K as their oxides by the atomic weights.
func labelled(key string) (n reference.Nutrient, factor float64, ok bool) {
	switch key {
	case "no3_n", "nh4_n":
		return reference.N, 1, true
	case "p":
		return reference.P2O5, elements.Convert("P", "P2O5"), true
	case "k":
		return reference.K2O, elements.Convert("K", "K2O"), true
	case "ca":
		return reference.Ca, 1, true
	case "mg":
		return reference.Mg, 1, true
	case "s":
		return reference.S, 1, true
	}
	return "", 0, false
}
