package units

import (
	"math/big"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// glyphs are the fractions that have a character of their own.
var glyphs = map[string]string{
	"¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}

const glyph = `[¼½¾⅓⅔⅛⅜⅝⅞]`

var (
	mixedNumber   = regexp.MustCompile(`^(\d+) +(\d+)/(\d+)`)
	glyphNumber   = regexp.MustCompile(`^(?:(\d+) *)?(` + glyph + `)`)
	fraction      = regexp.MustCompile(`^(\d+)/(\d+)`)
	decimalNumber = regexp.MustCompile(`^\d+(?:\.\d+)?`)
)

// A slip is a way of writing numbers that is refused, with the reason and the better way.
type slip struct {
	shape *regexp.Regexp
	code  string
	// why gets the whole text and the parts that the shape caught, and returns message and hint.
	why func(text string, m []string) (string, string)
}

var slips = []slip{
	{regexp.MustCompile(`^[-−–]\s*(?:[\d.]|` + glyph + `)`), "negative-amount", func(t string, _ []string) (string, string) {
		return quoted(t) + " is negative", "write an amount above zero"
	}},
	{regexp.MustCompile(`^(\d+)\s*[-−–—]\s*(\d+/\d+)`), "dash-in-number", func(_ string, m []string) (string, string) {
		return quoted(m[0]) + " is not a number", "write " + quoted(m[1]+" "+m[2])
	}},
	{regexp.MustCompile(`^([\d./]+|` + glyph + `)\s*[-−–—]\s*([\d./]+|` + glyph + `)`), "dash-for-range", func(t string, m []string) (string, string) {
		return quoted(m[0]) + " is not a number", "write a range with \"to\": " + quoted(m[1]+" to "+m[2]+t[len(m[0]):])
	}},
	{regexp.MustCompile(`^(\d+)(?:\s*[⁄∕]\s*|\s+/\s*|\s*/\s+)(\d+)`), "odd-fraction", func(_ string, m []string) (string, string) {
		return quoted(m[0]) + " is not a fraction", "write " + quoted(m[1]+"/"+m[2])
	}},
	{regexp.MustCompile(`^\d+(?:,\d{3}){2,}`), "decimal-comma", func(_ string, m []string) (string, string) {
		return quoted(m[0]) + " has commas", "write " + quoted(strings.ReplaceAll(m[0], ",", ""))
	}},
	{regexp.MustCompile(`^([1-9]\d*),(\d{3})(?:\D|$)`), "decimal-comma", func(_ string, m []string) (string, string) {
		point := strings.TrimRight(strings.TrimRight(m[1]+"."+m[2], "0"), ".")
		return quoted(m[1]+","+m[2]) + " has a comma", "write " + quoted(m[1]+m[2]) + " or, if the comma was a decimal point, " + quoted(point)
	}},
	{regexp.MustCompile(`^(\d+),(\d+)`), "decimal-comma", func(_ string, m []string) (string, string) {
		return quoted(m[0]) + " has a decimal comma", "write a decimal point: " + quoted(m[1]+"."+m[2])
	}},
	{regexp.MustCompile(`^\d+(?:\.\d+)?[eE][+-]?\d+`), "exponent", func(_ string, m []string) (string, string) {
		return quoted(m[0]) + " is written with an exponent", "write the number out, such as \"1000\""
	}},
	{regexp.MustCompile(`^\d+(?:\.\d+){2,}`), "two-points", func(_ string, m []string) (string, string) {
		return quoted(m[0]) + " has more than one point", "write at most one decimal point and no thousands separator"
	}},
	{regexp.MustCompile(`^([1-9]\d*)\.000(?:\D|$)`), "ambiguous-thousands", func(_ string, m []string) (string, string) {
		return quoted(m[1]+".000") + " could be " + m[1] + " or " + m[1] + " thousand", "write " + quoted(m[1]) + " or " + quoted(m[1]+"000")
	}},
	{regexp.MustCompile(`^\.\d+`), "leading-point", func(_ string, m []string) (string, string) {
		return quoted(m[0]) + " starts with a point", "write " + quoted("0"+m[0])
	}},
	{regexp.MustCompile(`^(\d+)\.(?:\D|$)`), "trailing-point", func(_ string, m []string) (string, string) {
		return quoted(m[1]+".") + " ends with a point", "write " + quoted(m[1])
	}},
	{regexp.MustCompile(`^\d+(?:_\d+)+`), "underscore", func(_ string, m []string) (string, string) {
		return quoted(m[0]) + " has an underscore", "write " + quoted(strings.ReplaceAll(m[0], "_", ""))
	}},
	{regexp.MustCompile(`^0+(\d+(?:\.\d+)?)`), "leading-zero", func(_ string, m []string) (string, string) {
		return quoted(m[0]) + " starts with a zero", "write " + quoted(m[1])
	}},
	{regexp.MustCompile(`^(\d+):(\d+)`), "ratio", func(_ string, m []string) (string, string) {
		return quoted(m[0]) + " is a ratio, not a number", "write a number and a unit"
	}},
}

// quoted puts a text in quotes that it does not hold itself.
func quoted(s string) string {
	if strings.Contains(s, `"`) {
		return "'" + s + "'"
	}
	return `"` + s + `"`
}

// mostDigits is how many digits in a row a number may have: a computed one has up to 17. Beyond lies nothing that
// anybody measures, and what is computed from it would leave the range of numbers.
const mostDigits = 20

var longNumber = regexp.MustCompile(`^[\d.,/_ ]*?(\d{` + strconv.Itoa(mostDigits+1) + `,})`)

// number reads the number that text starts with and returns it with the rest of the text. The number
// must be above zero.
func number(text string) (*big.Rat, string, *Fault) {
	if m := longNumber.FindStringSubmatchIndex(text); m != nil {
		most := strconv.Itoa(mostDigits)
		return nil, "", Faultf(m[2], "long-number", "write at most "+most+" digits", "%s has more than %s digits in a row", quoted(text[m[2]:m[2]+mostDigits]+"…"), most)
	}
	for _, s := range slips {
		if m := s.shape.FindStringSubmatch(text); m != nil {
			message, hint := s.why(text, m)
			return nil, "", Faultf(0, s.code, hint, "%s", message)
		}
	}
	r, n, f := plainNumber(text)
	if f != nil {
		return nil, "", f
	}
	if n > 0 && r.Sign() == 0 {
		return nil, "", Faultf(0, "zero-amount", "write an amount above zero, or leave the line out", "%s is zero", quoted(text))
	}
	return r, text[n:], nil
}

// plainNumber returns the number at the start of text and its length in bytes, 0 when there is none.
func plainNumber(text string) (*big.Rat, int, *Fault) {
	if m := mixedNumber.FindStringSubmatch(text); m != nil {
		r, f := divide(m[2], m[3], utf8.RuneCountInString(m[0])-len(m[2])-1-len(m[3]))
		return sum(rat(m[1]), r), len(m[0]), f
	}
	if m := glyphNumber.FindStringSubmatch(text); m != nil {
		r := rat(glyphs[m[2]])
		if m[1] != "" {
			r = sum(rat(m[1]), r)
		}
		return r, len(m[0]), nil
	}
	if m := fraction.FindStringSubmatch(text); m != nil {
		r, f := divide(m[1], m[2], 0)
		return r, len(m[0]), f
	}
	if m := decimalNumber.FindString(text); m != "" {
		return rat(m), len(m), nil
	}
	return nil, 0, nil
}

func sum(a, b *big.Rat) *big.Rat {
	if b == nil {
		return a
	}
	return new(big.Rat).Add(a, b)
}

func divide(top, bottom string, offset int) (*big.Rat, *Fault) {
	if strings.Trim(bottom, "0") == "" {
		return nil, Faultf(offset, "zero-divisor", "write a fraction such as \"1/2\"", "%s divides by zero", quoted(top+"/"+bottom))
	}
	return new(big.Rat).Quo(rat(top), rat(bottom)), nil // one by one: in "1/010" the library would take 010 for eight
}
