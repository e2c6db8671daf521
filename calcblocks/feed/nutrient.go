package feed

import (
	"strings"

	"trug/calcblocks/kit/elements"
	"trug/calcblocks/kit/reference"
)

// nutrient is one that a strength may name: as the label states it, or as the element in an oxide.
type nutrient struct {
	key, symbol string
	label       reference.Nutrient // what the label states
	factor      float64            // mass of this one in a mass of the label's
}

// nutrients lists them in the order of the result. The elements of the oxides follow from the atomic weights:
// P is 0.4364 of P2O5, K 0.8302 of K2O.
var nutrients = []nutrient{
	{"n", "N", reference.N, 1},
	{"p2o5", "P2O5", reference.P2O5, 1},
	{"k2o", "K2O", reference.K2O, 1},
	{"p", "P", reference.P2O5, elements.Convert("P2O5", "P")},
	{"k", "K", reference.K2O, elements.Convert("K2O", "K")},
	{"ca", "Ca", reference.Ca, 1},
	{"mg", "Mg", reference.Mg, 1},
	{"s", "S", reference.S, 1},
}

func nutrientCalled(word string) (nutrient, bool) {
	for _, n := range nutrients {
		if strings.EqualFold(n.symbol, word) {
			return n, true
		}
	}
	return nutrient{}, false
}

func symbols() []string {
	var out []string
	for _, n := range nutrients {
		out = append(out, n.symbol)
	}
	return out
}
