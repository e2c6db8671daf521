package facts

import (
	"time"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// Reading is what a test said of the mix of a pot. Only a reading lets old mix count as a supply of
// nutrients, and only for what it names.
type Reading struct {
	At     diag.Position
	Block  string             // id of the block, "" for none
	Pot    string             // id, "" when the mix is in no pot of the pot file
	On     time.Time          // zero = not told
	Method string             // sme, pour-through, 1:2, 1:5
	MgPerL map[string]float64 // elements in the extract by key: no3_n, nh4_n, p, k, ca, mg, na, cl, b ...
	// Soluble is grams of a nutrient dissolved in a litre of mix, as labels state it, from the water that a
	// saturated mix holds. It is there for the saturated media extract alone; a nutrient that was not tested is
	// missing, which is not zero.
	Soluble map[reference.Nutrient]units.SomeDose
	Sources []string // keys of what Soluble rests on besides the reading itself
}

func (Reading) fact() {}
