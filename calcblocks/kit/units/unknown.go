package units

import (
	"regexp"
	"slices"
	"strings"

	"trug/calcblocks/kit/diag"
)

// A confusion is a word that growers use as a unit and that could be several, or is not one here.
type confusion struct {
	words []string
	code  string
	why   string // what it could be
	hint  string
}

var confusions = []confusion{
	{[]string{"ml"}, "unknown-unit", "could be a megalitre", `write "mL"`},
	{[]string{"qt", "qts", "quart", "quarts"}, "bare-quart", "could be a dry or a liquid quart", `write "dry qt" (1.101 L, as on a bag of mix) or "liquid qt" (0.946 L)`},
	{[]string{"pt", "pts", "pint", "pints"}, "bare-pint", "could be a dry, a liquid or a UK pint", `write "dry pt" (0.551 L), "liquid pt" (0.473 L) or "uk pt" (0.568 L)`},
	{[]string{"t"}, "bare-t", "could be a tablespoon, a teaspoon or a tonne", `write "tbsp", "tsp" or "tonne"`},
	{[]string{"ton", "tons"}, "bare-ton", "could be a short ton or a tonne", `write "short ton" (907 kg) or "tonne" (1000 kg)`},
	{[]string{"c"}, "unknown-unit", "is not a unit", `write "cup"`},
	{[]string{"tbs", "tbl", "tblsp", "tbsp."}, "unknown-unit", "is not a unit", `write "tbsp"`},
	{[]string{"gm", "gms", "gr", "grs"}, "unknown-unit", "is not a unit", `write "g"`},
	{[]string{"ltr", "ltrs", "lit"}, "unknown-unit", "is not a unit", `write "L"`},
	{[]string{`"`, "”", "″", "''"}, "unknown-unit", "is not a unit", `write "in" for inches`},
	{[]string{"'", "’", "′"}, "unknown-unit", "is not a unit", `write "ft" for feet`},
}

// unknownUnit says what is wrong with a unit that Lookup does not know.
func (p Parser) unknownUnit(word string, offset int, kinds []Kind) *Fault {
	lower := strings.ToLower(word)
	if f := notOneQuantity(word, lower, offset, kinds); f != nil {
		return f
	}
	set, rest := p.Set, lower
	for _, forced := range Sets {
		if after, found := strings.CutPrefix(lower, string(forced)+" "); found {
			set, rest = forced, after
		}
	}
	if slices.Contains(flOzWords, rest) {
		return Faultf(offset, "no-fluid-ounce", `write "us fl oz", "uk fl oz" or millilitres`, "the %s set has no fluid ounce", set)
	}
	for _, c := range confusions {
		if slices.Contains(c.words, rest) {
			return Faultf(offset, c.code, c.hint, "%s %s", quoted(word), c.why)
		}
	}
	return Faultf(offset, "unknown-unit", unitHint(lower, rest, kinds), "unknown unit %s", quoted(word))
}

var more = regexp.MustCompile(`\d|` + glyph)

// notOneQuantity says what is wrong when something else than a unit follows the number: a range in a place
// for one value, a range with a dash, a dose, a sum or a second number.
func notOneQuantity(word, lower string, offset int, kinds []Kind) *Fault {
	switch first := []rune(word)[0]; {
	case lower == "to":
		return Faultf(offset, "half-range", "write both ends, such as \"1/2 to 1 cup\"", "the range has no upper end")
	case strings.Contains(" "+lower, " to "):
		return Faultf(offset, "no-range-here", "write one value, such as "+examples(kinds), "a range is not taken here")
	case strings.ContainsRune("-−–—", first), dashed.MatchString(word):
		return Faultf(offset, "dash-for-range", "write a range with \"to\", such as \"1/2 to 1 cup\"", "%s is not a unit", quoted(word))
	case strings.Contains(word, "+"):
		return Faultf(offset, "two-quantities", "write the sum as one number and one unit", "%s is a sum", quoted(word))
	case more.MatchString(lower) && !powered.MatchString(lower):
		return Faultf(offset, "two-quantities", "write one number and one unit, such as "+examples(kinds), "%s holds a second number", quoted(word))
	case perWord.MatchString(word):
		return Faultf(offset, "no-dose-here", "write "+examples(kinds), "%s is a dose; %s is needed", quoted(word), list(kinds))
	}
	return nil
}

var (
	dashed  = regexp.MustCompile(`\s[-−–—]\s`)
	powered = regexp.MustCompile(`^[a-z]+[23]$`) // cm2, in3: a unit with its power
)

// capital is how the litres are best written.
var capital = map[string]string{"l": "L", "ml": "mL", "cl": "cL", "dl": "dL"}

// nearest returns the unit word that a slip of the hand turned into word, or "". Words of two letters are
// near to half of all units: there only a letter too many is taken for a slip.
func nearest(word string, known []string) string {
	switch runes := []rune(word); {
	case len(runes) > 2:
		return diag.Closest(word, known)
	case len(runes) == 2 && slices.Contains(known, string(runes[:1])):
		return string(runes[:1])
	}
	return ""
}

// unitHint returns the unit that word was meant to be, or else examples.
func unitHint(word, rest string, kinds []Kind) string {
	for _, imperial := range []string{"imperial ", "imp "} {
		if after, found := strings.CutPrefix(word, imperial); found {
			return "write " + quoted("uk "+after)
		}
	}
	if near := nearest(rest, words(kinds)); near != "" {
		if written, ok := capital[near]; ok {
			near = written
		}
		return "did you mean " + quoted(strings.TrimSuffix(word, rest)+near) + "?"
	}
	return "write a value such as " + examples(kinds)
}

func list(kinds []Kind) string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = k.String()
	}
	return strings.Join(names, " or ")
}

// examples names a value of each kind, for hints.
func examples(kinds []Kind) string {
	samples := map[Kind]string{VolumeUnit: `"1/2 cup"`, MassUnit: `"35 g"`, LengthUnit: `"5 cm"`, ShareUnit: `"25 %"`, ConductivityUnit: `"2.1 mS/cm"`}
	if len(kinds) == 1 && kinds[0] == VolumeUnit {
		return `"20 L"`
	}
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = samples[k]
	}
	return strings.Join(out, " or ")
}
