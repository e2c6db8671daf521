package vessel

import (
	"strconv"
	"strings"

	"trug/calcblocks/kit/units"
)

// What a container, or a batch of mix, holds at least and at most, in mL: a cell of a seed tray, and more than any
// bed. Beyond them a number is a slip, and measures in cups would run into the millions.
const (
	leastHeld = 1.0
	mostHeld  = 100_000_000.0
)

// Size returns a reader of volumes of containers and of batches of mix. Its error is a *units.Fault.
func Size(p units.Parser) func(string) (units.Volume, error) {
	return func(text string) (units.Volume, error) {
		v, err := p.Volume(text)
		if err != nil {
			return v, err
		}
		if f := checkHeld(text, v.Float()); f != nil {
			return v, f
		}
		return v, nil
	}
}

func checkHeld(text string, ml float64) *units.Fault {
	if ml >= leastHeld && ml <= mostHeld {
		return nil
	}
	what := "more than any container holds"
	if ml < leastHeld {
		what = "less than any container holds"
	}
	hint := "write from " + strconv.Itoa(leastHeld) + " mL to " + strconv.Itoa(mostHeld/1000) + " L; check the number and its unit"
	return units.Faultf(0, "size-out-of-range", hint, "%q is %s", strings.TrimSpace(text), what)
}
