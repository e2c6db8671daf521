package units

import (
	"math/big"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A Parser reads values as an author writes them. Set is the handbook's main set of kitchen measures.
type Parser struct{ Set Set }

// A Quantity is an exact volume or an exact mass.
type Quantity struct {
	Volume  Volume
	Mass    Mass
	Weighed bool // it is a mass
}

// An Amount is one quantity, or a range of two of the same kind: two decisions, both exact. For a
// single quantity Low and High are equal.
type Amount struct {
	Low, High Quantity
	Range     bool
	Text      string
}

// A Rate is a dose per volume of mix, by mass or by volume.
type Rate struct {
	Mass    MassDose
	Volume  VolumeDose
	Weighed bool
}

// measured is a number of some unit.
type measured struct {
	value *big.Rat // in base units
	kind  Kind
}

// Amount reads "1/2 cup", "35 g", "a handful", "1/2 to 1 cup", "2 tbsp to 1/4 cup".
func (p Parser) Amount(text string) (Amount, error) {
	low, high, isRange, f := p.span(text, VolumeUnit, MassUnit)
	if f != nil {
		return Amount{}, f
	}
	return Amount{quantity(low), quantity(high), isRange, strings.TrimSpace(text)}, nil
}

// Quantity reads a single amount, such as "2 kg": what a bag holds is no range.
func (p Parser) Quantity(text string) (Quantity, error) {
	m, f := p.single(text, VolumeUnit, MassUnit)
	if f != nil {
		return Quantity{}, f
	}
	return quantity(m), nil
}

// Volume reads a single volume such as "20 L".
func (p Parser) Volume(text string) (Volume, error) {
	m, f := p.single(text, VolumeUnit)
	if f != nil {
		return Volume{}, f
	}
	return Exactly[volume](m.value), nil
}

// Mass reads a single mass such as "2 kg".
func (p Parser) Mass(text string) (Mass, error) {
	m, f := p.single(text, MassUnit)
	if f != nil {
		return Mass{}, f
	}
	return Exactly[mass](m.value), nil
}

// Length reads a single length such as "5 cm".
func (p Parser) Length(text string) (Length, error) {
	m, f := p.single(text, LengthUnit)
	if f != nil {
		return Length{}, f
	}
	return Exactly[length](m.value), nil
}

// Share reads "25 %": above 0 and at most 100 %. A bare fraction is refused.
func (p Parser) Share(text string) (Share, error) {
	m, f := p.single(text, ShareUnit)
	if f != nil {
		return Share{}, f
	}
	if m.value.Cmp(rat("1")) > 0 {
		return Share{}, Faultf(0, "share-over-100", "write a share from above 0 to 100 %", "%s is more than the whole", quoted(strings.TrimSpace(text)))
	}
	return Exactly[share](m.value), nil
}

// Shares reads one share or a range of two: "60 %", "60 to 70 %". For one the two ends are equal.
func (p Parser) Shares(text string) (low, high Share, err error) {
	from, to, _, f := p.span(text, ShareUnit)
	if f != nil {
		return low, high, f
	}
	if to.value.Cmp(rat("1")) > 0 {
		return low, high, Faultf(0, "share-over-100", "write shares from above 0 to 100 %", "%s is more than the whole", quoted(strings.TrimSpace(text)))
	}
	return Exactly[share](from.value), Exactly[share](to.value), nil
}

// EC reads an electrical conductivity such as "2.1 mS/cm" or "2100 µS/cm".
func (p Parser) EC(text string) (EC, error) {
	m, f := p.single(text, ConductivityUnit)
	if f != nil {
		return EC{}, f
	}
	return Exactly[ec](m.value), nil
}

var perWord = regexp.MustCompile(`\s*(?:/|\s[pP][eE][rR]\s)\s*`)

const rateSample = `"3 g/L"`

// Rate reads a dose per volume of mix: "3 g/L", "5 lb/cu yd", "2 tbsp/gal".
func (p Parser) Rate(text string) (Rate, error) {
	text = plainSpaces(text)
	value, rest, f := counted(text, rateSample)
	if f != nil {
		return Rate{}, f
	}
	at := perWord.FindStringIndex(rest)
	if at == nil {
		return Rate{}, Faultf(0, "no-rate", "write a dose per volume of mix, such as "+rateSample, "%s is not a dose", quoted(strings.TrimSpace(text)))
	}
	start := utf8.RuneCountInString(text) - utf8.RuneCountInString(rest)
	top, f := p.unit(rest[:at[0]], start, VolumeUnit, MassUnit)
	if f != nil {
		return Rate{}, f.asDose()
	}
	per, f := p.unit(rest[at[1]:], start+utf8.RuneCountInString(rest[:at[1]]), VolumeUnit)
	if f != nil {
		return Rate{}, f.asDose()
	}
	litres := new(big.Rat).Quo(per.Factor, thousand)
	dose := new(big.Rat).Quo(product(value, top.Factor), litres)
	if top.Kind == MassUnit {
		return Rate{Mass: Exactly[massDose](dose), Weighed: true}, nil
	}
	return Rate{Volume: Exactly[volumeDose](dose)}, nil
}

// asDose turns the examples of a fault in one unit of a dose into a dose.
func (f *Fault) asDose() *Fault {
	switch f.Code {
	case "no-unit", "wrong-dimension", "no-range-here", "no-dose-here", "two-quantities":
		f.Hints = []string{"write a dose per volume of mix, such as " + rateSample}
	case "unknown-unit":
		f.Hints[0] = strings.Replace(f.Hints[0], examples([]Kind{VolumeUnit, MassUnit}), rateSample, 1)
		f.Hints[0] = strings.Replace(f.Hints[0], examples([]Kind{VolumeUnit}), rateSample, 1)
	}
	return f
}

func quantity(m measured) Quantity {
	if m.kind == MassUnit {
		return Quantity{Mass: Exactly[mass](m.value), Weighed: true}
	}
	return Quantity{Volume: Exactly[volume](m.value)}
}

var toWord = regexp.MustCompile(` +[tT][oO] +`)

// span reads a quantity or a range of two; the unit may be left out before "to".
func (p Parser) span(text string, kinds ...Kind) (low, high measured, isRange bool, f *Fault) {
	text = plainSpaces(text)
	at := toWord.FindStringIndex(text)
	if at == nil {
		low, f = p.single(text, kinds...)
		return low, low, false, f
	}
	after := utf8.RuneCountInString(text[:at[1]])
	if high, f = p.single(text[at[1]:], kinds...); f != nil {
		return low, high, true, f.At(after)
	}
	if low, f = p.lowEnd(text[:at[0]], text[at[1]:], kinds); f != nil {
		return low, high, true, f
	}
	return low, high, true, inOrder(text, low, high)
}

// lowEnd reads the part before "to", which may lean on the unit of the part after it.
func (p Parser) lowEnd(before, after string, kinds []Kind) (measured, *Fault) {
	value, rest, f := counted(before, examples(kinds))
	if f == nil && strings.TrimSpace(rest) == "" {
		_, unitText, _ := counted(after, "")
		unit, _ := p.unit(unitText, 0, kinds...)
		return measured{product(value, unit.Factor), unit.Kind}, nil
	}
	return p.single(before, kinds...)
}

func inOrder(text string, low, high measured) *Fault {
	text = strings.TrimSpace(text)
	if low.kind != high.kind {
		return Faultf(0, "mixed-range", "write both ends as volumes or both as masses", "%s runs from %s to %s", quoted(text), low.kind, high.kind)
	}
	if low.value.Cmp(high.value) >= 0 {
		return Faultf(0, "range-order", "write the lower end first", "%s does not rise", quoted(text))
	}
	return nil
}

// single reads one number with one unit of the wanted kinds.
func (p Parser) single(text string, kinds ...Kind) (measured, *Fault) {
	text = plainSpaces(text)
	value, rest, f := counted(text, examples(kinds))
	if f != nil {
		return measured{}, f
	}
	if strings.TrimSpace(rest) == "" {
		return measured{}, Faultf(0, "no-unit", "write a unit, such as "+examples(kinds), "%s has no unit", quoted(strings.TrimSpace(text)))
	}
	offset := utf8.RuneCountInString(text) - utf8.RuneCountInString(rest)
	unit, f := p.unit(rest, offset, kinds...)
	if f != nil {
		return measured{}, f
	}
	return measured{product(value, unit.Factor), unit.Kind}, nil
}

// plainSpaces turns the blanks that a text processor leaves, such as one that does not break, into plain
// ones, character for character.
func plainSpaces(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		return r
	}, text)
}

var article = regexp.MustCompile(`^[aA][nN]? +`)

// counted reads the number before a unit and returns what follows it; "a" and "an" are one. The sample is
// a value such as is wanted, for the hint.
func counted(text, sample string) (*big.Rat, string, *Fault) {
	trimmed := strings.TrimLeft(text, " ")
	lead := len(text) - len(trimmed)
	if m := article.FindString(trimmed); m != "" {
		return rat("1"), trimmed[len(m):], nil
	}
	value, rest, f := number(trimmed)
	if f != nil {
		return nil, "", f.At(lead)
	}
	if value == nil && strings.ContainsRune("“”„‘’", firstRune(trimmed)) {
		return nil, "", Faultf(lead, "curly-quote", "take the quotes away, or write straight ones", "%s starts with a curly quote", quoted(strings.TrimSpace(text)))
	}
	if value == nil {
		return nil, "", Faultf(lead, "no-number", "write a number and a unit, such as "+sample, "%s does not start with a number", quoted(strings.TrimSpace(text)))
	}
	return value, strings.TrimLeft(rest, " "), nil
}

func firstRune(s string) rune {
	r, _ := utf8.DecodeRuneInString(s)
	return r
}

// unit reads a unit of one of the wanted kinds; offset is its place in the whole text.
func (p Parser) unit(text string, offset int, kinds ...Kind) (Unit, *Fault) {
	word := strings.Join(strings.Fields(text), " ")
	if word == "" {
		return Unit{}, Faultf(offset, "no-unit", "write a unit, such as "+examples(kinds), "a unit is missing")
	}
	unit, ok := Lookup(word, p.Set)
	if !ok {
		return Unit{}, p.unknownUnit(word, offset, kinds)
	}
	if !slices.Contains(kinds, unit.Kind) {
		hint := "write " + examples(kinds)
		if unit.Factor == ounce && kinds[0] == VolumeUnit {
			hint = "write \"fl oz\" for fluid ounces"
		}
		return Unit{}, Faultf(offset, "wrong-dimension", hint, "%s is %s; %s is needed", quoted(word), unit.Kind, list(kinds))
	}
	return unit, nil
}
