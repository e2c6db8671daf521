package feed

import (
	"math/big"
	"regexp"
	"strings"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

// strength is how much of a nutrient a litre of feed should hold: two decisions for a range.
type strength struct {
	low, high *big.Rat // mg/L
	isRange   bool
	nutrient  nutrient
	at        *form.Node
}

var (
	lastWord = regexp.MustCompile(`^(.*\S)\s+([A-Za-z][A-Za-z0-9]*)$`)
	ppmWord  = regexp.MustCompile(`(?i)\bppm\b`)
	toWord   = regexp.MustCompile(`(?i) +to +`)
	unitText = regexp.MustCompile(`^[\d./ ½¼¾⅓⅔⅛⅜⅝⅞]*(.*)$`)
)

const sample = "write it like \"100 mg/L N\" or \"50 to 100 mg/L N\""

// readStrength reads "100 mg/L N", "50 to 100 ppm N", "0.1 g/L K2O". In water 1 ppm is 1 mg/L, as growers use
// the word. Its error is a *units.Fault.
func readStrength(values units.Parser, text string) (strength, error) {
	m := lastWord.FindStringSubmatch(text)
	if m == nil {
		return strength{}, units.Faultf(0, "bad-strength", sample, "%q does not say how much of which nutrient", text)
	}
	n, ok := nutrientCalled(m[2])
	if !ok {
		return strength{}, units.Faultf(len([]rune(text))-len([]rune(m[2])), "unknown-nutrient", "write one of "+strings.Join(symbols(), ", ")+" behind the strength, as in \"100 mg/L N\"", "%q is not a nutrient of a label", m[2])
	}
	s := strength{nutrient: n}
	amount := ppmWord.ReplaceAllString(m[1], "mg/L")
	ends := toWord.Split(amount, 2)
	var err error
	if s.high, err = perLitre(values, ends[len(ends)-1]); err != nil {
		return s, err
	}
	s.low = s.high
	if len(ends) == 1 {
		return s, nil
	}
	s.isRange = true
	if unit := unitText.FindStringSubmatch(ends[1]); unitText.FindStringSubmatch(ends[0])[1] == "" {
		ends[0] = strings.TrimSpace(ends[0]) + " " + unit[1]
	}
	if s.low, err = perLitre(values, ends[0]); err != nil {
		return s, err
	}
	if s.low.Cmp(s.high) >= 0 {
		return s, units.Faultf(0, "range-order", "write the lower end first", "%q does not rise", text)
	}
	return s, nil
}

// perLitre reads a mass in a volume of water, in mg/L.
func perLitre(values units.Parser, text string) (*big.Rat, error) {
	rate, err := values.Rate(text)
	if fault, ok := err.(*units.Fault); ok && fault != nil {
		fault.Hints = []string{sample}
		return nil, fault
	}
	if !rate.Weighed {
		return nil, units.Faultf(0, "bad-strength", sample, "%q is not a mass in a volume of water", strings.TrimSpace(text))
	}
	return new(big.Rat).Mul(rate.Mass.Rat(), big.NewRat(1000, 1)), nil
}
