package calcblocks_test

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"

	"trug/calcblocks/kit/units"
)

// A scale is what a unit of the check files means: one of it is factor base units of its dimension, and of
// names the substance that it is said of, such as P2O5.
type scale struct {
	dimension string // volume (mL), mass (g), length (cm), area (cm2), pressure (kPa), a quotient of two, "" for a plain number, or text
	factor    *big.Rat
	of        string
}

const textual = "text"

// A word is a unit word of the check files in terms of kit/units.
type word struct {
	unit  string
	set   units.Set
	times int64
}

// unitWords is the one table from the unit words of the check files to those of kit/units.
var unitWords = map[string]word{
	"mL": {"mL", units.US, 1}, "L": {"L", units.US, 1}, "cm3": {"cm3", units.US, 1}, "m3": {"m3", units.US, 1},
	"in3": {"in3", units.US, 1}, "ft3": {"ft3", units.US, 1}, "yd3": {"yd3", units.US, 1},
	"US gal": {"us gal", units.US, 1}, "US liquid qt": {"liquid qt", units.US, 1}, "US liquid pt": {"liquid pt", units.US, 1},
	"US cup": {"cup", units.US, 1}, "US tbsp": {"tbsp", units.US, 1}, "US tsp": {"tsp", units.US, 1}, "US fl oz": {"fl oz", units.US, 1},
	"US dry qt": {"dry qt", units.US, 1}, "US dry gal": {"dry gal", units.US, 1}, "US bushel": {"bushel", units.US, 1},
	"UK gal": {"uk gal", units.US, 1}, "handful": {"handful", units.US, 1},
	"label cup": {"cup", units.Label, 1}, "label tbsp": {"tbsp", units.Label, 1}, "label tsp": {"tsp", units.Label, 1},
	"label fl oz": {"fl oz", units.Label, 1},
	"mg":          {"mg", units.US, 1}, "g": {"g", units.US, 1}, "kg": {"kg", units.US, 1}, "t": {"kg", units.US, 1000},
	"oz": {"oz", units.US, 1}, "lb": {"lb", units.US, 1}, "short ton": {"short ton", units.US, 1},
	"label oz": {"g", units.US, 28}, // 21 CFR 101.9(b)(5)(viii)
	"cm":       {"cm", units.US, 1}, "m": {"m", units.US, 1}, "in": {"in", units.US, 1}, "ft": {"ft", units.US, 1},
	"ft2": {"ft2", units.US, 1}, "m2": {"m2", units.US, 1}, "acre": {"acre", units.US, 1}, "ha": {"ha", units.US, 1},
	"kPa": {"kPa", units.US, 1}, "lb/ft2": {"psf", units.US, 1},
}

// plainUnits lists the words of plain numbers, textUnits the words that say what an output is.
var (
	plainUnits = map[string]*big.Rat{
		"1": big.NewRat(1, 1), "%": big.NewRat(1, 100), "% v/v": big.NewRat(1, 100), "ppm": big.NewRat(1, 1000000),
		"year": big.NewRat(1, 1), "month": big.NewRat(1, 1), "bags": big.NewRat(1, 1), "g/mol": big.NewRat(1, 1),
		"% N-P2O5-K2O": big.NewRat(1, 100), "s": big.NewRat(1, 1), "mpg": big.NewRat(1, 1), "pH": big.NewRat(1, 1),
		"day of year": big.NewRat(1, 1), "day": big.NewRat(1, 1), "week": big.NewRat(1, 1), "degF": big.NewRat(1, 1), "degC": big.NewRat(1, 1),
		"degF day": big.NewRat(1, 1), "degC day": big.NewRat(1, 1),
		"1:r": big.NewRat(1, 1), "units": big.NewRat(1, 1), "% dry": big.NewRat(1, 100), "% as is": big.NewRat(1, 100),
		"% of dry matter": big.NewRat(1, 100), "GBP": big.NewRat(1, 1),
		"mS/cm": big.NewRat(1, 1), "dS/m": big.NewRat(1, 1), "% per dS/m": big.NewRat(1, 100), "ppm per mS/cm": big.NewRat(1, 1000000),
	}
	textUnits = map[string]bool{
		"text": true, "class": true, "verdict": true, "flag": true, "date": true, "line": true, "method": true, "formula": true,
		"nursery class": true, "US measure": true,
	}
)

var kindNames = map[units.Kind]string{
	units.VolumeUnit: "volume", units.MassUnit: "mass", units.LengthUnit: "length", units.AreaUnit: "area", units.PressureUnit: "pressure",
}

// scaleOf reads a unit of the check files.
func scaleOf(unit string) (scale, error) {
	if textUnits[unit] {
		return scale{dimension: textual}, nil
	}
	if _, whole := unitWords[unit]; whole || plainUnits[unit] != nil {
		return simple(unit)
	}
	parts := strings.Split(unit, "/")
	out, err := simple(parts[0])
	for _, part := range parts[1:] {
		per, bad := simple(part)
		if bad != nil {
			err = bad
			break
		}
		out = out.over(per)
	}
	return out, err
}

var leadingNumber = regexp.MustCompile(`^(\d+) (.+)$`)

// simple reads a unit without a divisor: "1000 ft2", "g P2O5", "short ton at CCE 100".
func simple(unit string) (scale, error) {
	if factor, ok := plainUnits[unit]; ok {
		return scale{factor: factor}, nil
	}
	if m := leadingNumber.FindStringSubmatch(unit); m != nil {
		out, err := simple(m[2])
		n, _ := new(big.Rat).SetString(m[1])
		return scale{out.dimension, n.Mul(n, orOne(out.factor)), out.of}, err
	}
	name, of := unit, ""
	for name != "" {
		if w, ok := unitWords[name]; ok {
			u, known := units.Lookup(w.unit, w.set)
			if !known {
				return scale{}, fmt.Errorf("kit/units has no %q", w.unit)
			}
			return scale{kindNames[u.Kind], new(big.Rat).Mul(u.Factor, big.NewRat(w.times, 1)), strings.TrimSpace(of)}, nil
		}
		at := max(strings.LastIndex(name, " "), 0)
		name, of = name[:at], unit[at:]
	}
	return scale{}, fmt.Errorf("the unit %q is in no table", unit)
}

func orOne(r *big.Rat) *big.Rat {
	if r == nil {
		return big.NewRat(1, 1)
	}
	return r
}

// over returns the quotient of two scales; equal dimensions make a plain number.
func (s scale) over(per scale) scale {
	out := scale{s.dimension, new(big.Rat).Quo(s.factor, per.factor), strings.TrimSpace(s.of + " " + per.of)}
	switch {
	case per.dimension == s.dimension:
		out.dimension = ""
	case per.dimension != "":
		out.dimension = s.dimension + "/" + per.dimension
	}
	return out
}
