package units

import (
	"math/big"
	"slices"
	"strings"
)

// A Kind is what a unit measures.
type Kind int

// The kinds of unit and their base units.
const (
	VolumeUnit       Kind = iota // mL
	MassUnit                     // g
	LengthUnit                   // cm
	AreaUnit                     // cm2
	PressureUnit                 // kPa
	ShareUnit                    // 1
	ConductivityUnit             // mS/cm
)

func (k Kind) String() string {
	return [...]string{"a volume", "a mass", "a length", "an area", "a pressure", "a share", "an EC"}[k]
}

// A Unit is a unit of measure: one of it is Factor base units of its kind, exactly.
type Unit struct {
	Kind   Kind
	Factor *big.Rat
}

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("units: bad factor " + s)
	}
	return r
}

func product(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }

// Exact factors. US customary units rest on the inch of 2.54 cm and the gallon of 231 cubic inches, the
// dry quart on the bushel of 2150.42 cubic inches, the pound is 453.59237 g, the UK gallon 4.54609 L
// (NIST Special Publication 811, appendix B; NIST Handbook 44, appendix C; UCUM).
var (
	inch    = rat("2.54")
	foot    = product(inch, rat("12"))
	yard    = product(foot, rat("3"))
	cubicIn = product(product(inch, inch), inch)
	cubicFt = product(cubicIn, rat("1728"))
	usGal   = product(cubicIn, rat("231"))
	usFlOz  = product(usGal, rat("1/128"))
	bushel  = product(cubicIn, rat("2150.42"))
	ukGal   = rat("4546.09")
	ukFlOz  = product(ukGal, rat("1/160"))
	pound   = rat("453.59237")
	ounce   = product(pound, rat("1/16"))
	sqFoot  = product(foot, foot)
	// standard gravity 9.80665 m/s2 (NIST SP 811): lb/ft2 in kPa = 0.45359237 kg x g / 0.09290304 m2 / 1000
	psf = product(product(pound, rat("9.80665")), new(big.Rat).Quo(rat("1/100"), sqFoot))
)

type row struct {
	unit  Unit
	words []string
}

func entry(k Kind, factor *big.Rat, words ...string) row { return row{Unit{k, factor}, words} }

// rows lists every unit word but the spoons and cups, which depend on the set. Words are lower case.
var rows = []row{
	entry(VolumeUnit, rat("1"), "ml", "millilitre", "millilitres", "milliliter", "milliliters", "cm3"),
	entry(VolumeUnit, rat("10"), "cl", "centilitre", "centilitres", "centiliter", "centiliters"),
	entry(VolumeUnit, rat("100"), "dl", "decilitre", "decilitres", "deciliter", "deciliters"),
	entry(VolumeUnit, rat("1000"), "l", "litre", "litres", "liter", "liters"),
	entry(VolumeUnit, rat("1000000"), "m3", "cu m", "cubic metre", "cubic metres", "cubic meter", "cubic meters"),
	entry(VolumeUnit, cubicIn, "cu in", "in3", "cubic inch", "cubic inches"),
	entry(VolumeUnit, cubicFt, "cu ft", "ft3", "cubic foot", "cubic feet"),
	entry(VolumeUnit, product(cubicFt, rat("27")), "cu yd", "yd3", "cubic yard", "cubic yards"),
	entry(VolumeUnit, usGal, "gal", "gallon", "gallons", "us gal", "us gallon", "us gallons"),
	entry(VolumeUnit, product(usGal, rat("1/4")), "liquid qt", "liquid quart", "liquid quarts"),
	entry(VolumeUnit, product(usGal, rat("1/8")), "liquid pt", "liquid pint", "liquid pints"),
	entry(VolumeUnit, bushel, "bushel", "bushels"),
	entry(VolumeUnit, product(bushel, rat("1/4")), "peck", "pecks"),
	entry(VolumeUnit, product(bushel, rat("1/8")), "dry gal", "dry gallon", "dry gallons"),
	entry(VolumeUnit, product(bushel, rat("1/32")), "dry qt", "dry quart", "dry quarts"),
	entry(VolumeUnit, product(bushel, rat("1/64")), "dry pt", "dry pint", "dry pints"),
	entry(VolumeUnit, ukGal, "uk gal", "uk gallon", "uk gallons"),
	entry(VolumeUnit, product(ukGal, rat("1/4")), "uk qt", "uk quart", "uk quarts"),
	entry(VolumeUnit, product(ukGal, rat("1/8")), "uk pt", "uk pint", "uk pints"),
	entry(MassUnit, rat("1/1000"), "mg", "milligram", "milligrams"),
	entry(MassUnit, rat("1"), "g", "gram", "grams"),
	entry(MassUnit, rat("1000"), "kg", "kilogram", "kilograms", "kilo", "kilos"),
	entry(MassUnit, rat("1000000"), "tonne", "tonnes"),
	entry(MassUnit, ounce, "oz", "ounce", "ounces"),
	entry(MassUnit, pound, "lb", "lbs", "pound", "pounds"),
	entry(MassUnit, product(pound, rat("2000")), "short ton", "short tons"),
	entry(LengthUnit, rat("1/10"), "mm", "millimetre", "millimetres", "millimeter", "millimeters"),
	entry(LengthUnit, rat("1"), "cm", "centimetre", "centimetres", "centimeter", "centimeters"),
	entry(LengthUnit, rat("100"), "m", "metre", "metres", "meter", "meters"),
	entry(LengthUnit, inch, "in", "inch", "inches"),
	entry(LengthUnit, foot, "ft", "foot", "feet"),
	entry(LengthUnit, yard, "yd", "yard", "yards"),
	entry(AreaUnit, rat("1"), "cm2"),
	entry(AreaUnit, rat("10000"), "m2", "sq m"),
	entry(AreaUnit, rat("100000000"), "ha", "hectare", "hectares"),
	entry(AreaUnit, product(inch, inch), "in2", "sq in"),
	entry(AreaUnit, sqFoot, "ft2", "sq ft"),
	entry(AreaUnit, product(sqFoot, rat("43560")), "acre", "acres"),
	entry(PressureUnit, rat("1"), "kpa"),
	entry(PressureUnit, psf, "psf", "lb/sq ft"),
	entry(ShareUnit, rat("1/100"), "%", "percent", "per cent"),
	entry(ConductivityUnit, rat("1"), "ms/cm", "ds/m", "mmho/cm", "mmhos/cm"),
	entry(ConductivityUnit, rat("1/1000"), "us/cm", "µs/cm", "μs/cm"), // micro sign and Greek mu
}

var byWord = func() map[string]Unit {
	words := map[string]Unit{}
	for _, r := range rows {
		for _, w := range r.words {
			words[w] = r.unit
		}
	}
	return words
}()

// Lookup returns the unit that word names in a handbook that uses set; spoons and cups differ by set.
// Case does not matter, but "ML" is refused: it could be a megalitre.
func Lookup(word string, set Set) (Unit, bool) {
	if word == "ML" || word == "Ml" {
		return Unit{}, false
	}
	word = strings.Join(strings.Fields(strings.ToLower(word)), " ")
	if u, ok := byWord[word]; ok {
		return u, true
	}
	for _, forced := range Sets {
		if rest, found := strings.CutPrefix(word, string(forced)+" "); found {
			return forced.unit(rest)
		}
	}
	return set.unit(word)
}

// words returns every unit word of the given kinds, sorted, for hints.
func words(kinds []Kind) []string {
	var out []string
	if slices.Contains(kinds, VolumeUnit) {
		out = slices.Clone(spoonWords)
	}
	for w, u := range byWord {
		if slices.Contains(kinds, u.Kind) {
			out = append(out, w)
		}
	}
	slices.Sort(out)
	return out
}
