package builder

import (
	"math"
	"math/big"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/units"
)

// A claim is what a figure's number is, for comparing with what an author wrote: both ends in base units of
// its kind, and again as they are printed.
type claim struct {
	low, high, printedLow, printedHigh float64
	unit                               units.Unit // of a number that is written without one
	known                              bool       // a unit word can be held against the figure's unit
	money, spooned                     bool
}

// disagrees says whether the author's text holds a number that is not the figure's. A text without a number
// says nothing. Numbers of another dimension ("for 20 L") are passed over where one of the figure's own stands
// beside them; a text of the block must stand in the author's as it is.
func disagrees(written string, f figure, hb garden.Handbook) bool {
	if !strings.ContainsAny(written, "0123456789¼½¾⅓⅔⅛⅜⅝⅞") {
		return false
	}
	if c, ok := claimOf(f, hb); ok {
		if strings.Contains(f.unit, " ") {
			written = strings.ReplaceAll(written, f.unit, "") // "oz in 100 US gallons" is no number of its own
		}
		return !c.agrees(quantitiesIn(written, setOf(f.Path, hb.Main), hb.Currency))
	}
	if strings.Contains(plainly(written), plainly(f.text)) {
		return false
	}
	from, to, ok := daysOf(f.Value)
	return !ok || !agreesWithDays(written, from, to)
}

func plainly(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// setOf is the set of spoons that a path names, else the main one.
func setOf(path string, main units.Set) units.Set {
	for _, set := range units.Sets {
		if slices.Contains(strings.Split(path, "/"), string(set)) {
			return set
		}
	}
	return main
}

// claimOf returns the claim of a number, a span or a measure.
func claimOf(f figure, hb garden.Handbook) (claim, bool) {
	if low, high, ok := ends(f.Value); ok {
		return numberClaim(low, high, f.unit, hb), true
	}
	low, high := f.text, f.text
	if o, ok := f.Value.(data.Object); ok {
		low, high = measured(o, hb.Main)
	}
	set := setOf(f.Path, hb.Main)
	a, errLow := measure.Volume(low, set)
	b, errHigh := measure.Volume(high, set)
	terms := quantitiesIn(low, set, hb.Currency)
	if errLow != nil || errHigh != nil || len(terms) == 0 {
		return claim{}, false
	}
	x, y := a.Float(), b.Float()
	return claim{low: x, high: y, printedLow: x, printedHigh: y, unit: terms[0].unit, known: true, spooned: terms[0].factor() < litre}, true
}

// bare is the unit of numbers without one, and of units that have no word, such as weeks.
var bare = units.Unit{Kind: -1, Factor: big.NewRat(1, 1)}

func numberClaim(low, high float64, unit string, hb garden.Handbook) claim {
	u, known := units.Lookup(unit, hb.Main)
	if !known {
		u = bare
	}
	factor, _ := u.Factor.Float64()
	printed := func(x float64) float64 {
		y, _ := strconv.ParseFloat(digits(x, unit, hb.Currency), 64) // what we print is a number
		return y * factor
	}
	return claim{low * factor, high * factor, printed(low), printed(high), u, known, unit == hb.Currency, false}
}

// agrees holds what was written against the claim.
func (c claim) agrees(all []quantity) bool {
	own := c.own(all)
	if len(own) == 0 {
		return false
	}
	if len(own) == 2 && own[1].ends {
		return c.agreesAsRange(own[0], own[1])
	}
	return !slices.ContainsFunc(own, func(q quantity) bool { return !c.holds(q) })
}

// own returns the numbers that speak of the figure: those in its dimension, else those without a unit.
func (c claim) own(all []quantity) []quantity {
	var own, plain []quantity
	for _, q := range all {
		switch unitless := q.unit.Kind == bare.Kind; {
		case c.money && q.money:
			q.unit = bare
			own = append(own, q)
		case c.known && q.unit.Kind == c.unit.Kind && !(c.spooned && q.factor() >= litre):
			own = append(own, q)
		case unitless && !q.money, !c.known && !c.money && !q.money: // "65 mg per litre" has no word of its own
			q.unit = c.unit
			plain = append(plain, q)
		}
	}
	if len(own) == 0 {
		own = plain
	}
	return own
}

// litre is the least unit, in mL, that says how large a pot is and not how much goes in by the spoon.
const litre = 1000

// agreesAsRange holds a written range against both ends.
func (c claim) agreesAsRange(a, b quantity) bool {
	return near(a.value(), c.low, c.printedLow, a.slack(c.spooned)) && near(b.value(), c.high, c.printedHigh, b.slack(c.spooned))
}

func near(x, exact, printed, slack float64) bool {
	return math.Abs(x-exact) <= slack || math.Abs(x-printed) <= slack
}

// holds says whether a written number lies within the claim. "0.57 less" says as much as -0.57.
func (c claim) holds(q quantity) bool {
	low, high, slack := min(c.low, c.printedLow), max(c.high, c.printedHigh), q.slack(c.spooned)
	within := func(x float64) bool { return low-slack <= x && x <= high+slack }
	return within(q.value()) || within(-q.value())
}

// A quantity is a number of the author's with the unit behind it.
type quantity struct {
	number     float64
	half       float64 // of the last digit written, in the same unit; 0 for a fraction
	unit       units.Unit
	money      bool
	cents      bool
	ends       bool // the upper end of a range that the quantity before it begins
	spent      bool // added to the one before it
	start, end int  // in the text
}

func (q quantity) factor() float64 {
	factor, _ := q.unit.Factor.Float64()
	return factor
}

func (q quantity) value() float64 { return q.number * q.factor() }

// slack is how far a number may lie from the figure: half of its last digit, a twentieth for a fraction. Spoons are
// counted, so that only what arises from rounding factors is left there.
func (q quantity) slack(spooned bool) float64 {
	switch {
	case spooned:
		return 0.005 * math.Abs(q.value())
	case q.half == 0:
		return 0.05 * math.Abs(q.value())
	}
	return q.half*q.factor() + 1e-9*math.Abs(q.value())
}

const glyphs = "¼½¾⅓⅔⅛⅜⅝⅞"

var fractionOf = map[string]string{
	"¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}

// writtenNumber is a whole with a fraction, a fraction, a number with separated thousands, a decimal.
var writtenNumber = regexp.MustCompile(`(\d+)[ \x{a0}](\d+/\d+)|(\d*)[ \x{a0}]?([` + glyphs + `])|(\d+/\d+)|(\d{1,3}(?:[,'’ \x{a0}\x{2009}\x{202f}]\d{3})+\b(?:\.\d+)?)|(\d+(?:[.,]\d+)?)`)

var (
	notDigit    = regexp.MustCompile(`[^\d.]`)
	rangeGap    = regexp.MustCompile(`(?i)^\s*(?:to|up to|–|—|-)\s*$`)
	andGap      = regexp.MustCompile(`(?i)^\s*(?:and|or)\s*$`)
	sumGap      = regexp.MustCompile(`(?i)^\s*(?:\+|&|and|plus|)\s*$`)
	minus       = regexp.MustCompile(`(?:^|[\s(])[-−]$`)
	unitWords   = regexp.MustCompile(`^[\s\x{a0}\x{202f}-]*([\p{L}%µμ°][\p{L}/]*(?: [\p{L}/]+){0,2})`)
	betweenWord = regexp.MustCompile(`(?i)\bbetween\s*$`)
	moneyMark   = regexp.MustCompile(`[$€£¥]\s*$`)
	moneyWord   = regexp.MustCompile(`(?i)^\s*(?:[$€£¥]|dollars?\b|euros?\b|pounds?\b)`)
	centWord    = regexp.MustCompile(`(?i)^\s*(?:¢|cents?\b|pence\b|penny\b)`)
)

// quantitiesIn reads the numbers of a text with the units behind them. A number in front of "to" takes the unit
// behind it, and terms of one measure are added up.
func quantitiesIn(text string, set units.Set, currency string) []quantity {
	var out []quantity
	for _, at := range writtenNumber.FindAllStringSubmatchIndex(text, -1) {
		q := readNumber(text, at)
		if minus.MatchString(text[:q.start]) {
			q.number = -q.number
		}
		q.readUnit(text, set, currency)
		out = append(out, q)
	}
	for i := len(out) - 1; i > 0; i-- {
		join(text, out, i)
	}
	return slices.DeleteFunc(out, func(q quantity) bool { return q.spent })
}

// join ties a quantity to the one before it: as the other end of a range, as a term of a sum, or by the unit that
// stands behind both.
func join(text string, all []quantity, i int) {
	a, b := &all[i-1], &all[i]
	gap := text[a.end:max(a.end, b.start)]
	smaller := a.unit.Kind == b.unit.Kind && a.unit.Kind != bare.Kind && b.unit.Factor.Cmp(a.unit.Factor) < 0
	if smaller && !b.ends && sumGap.MatchString(gap) {
		a.number, a.end, b.spent = (a.value()+b.value())/a.factor(), b.end, true
		return
	}
	b.ends = rangeGap.MatchString(gap) || andGap.MatchString(gap) && betweenWord.MatchString(text[:a.start])
	if a.unit.Kind == bare.Kind && !a.money && (b.ends || andGap.MatchString(gap)) {
		a.unit, a.money = b.unit, b.money
		if b.cents {
			a.inCents()
		}
	}
}

// readNumber reads what writtenNumber found.
func readNumber(text string, at []int) quantity {
	part := func(n int) string {
		if at[2*n] < 0 {
			return ""
		}
		return text[at[2*n]:at[2*n+1]]
	}
	q := quantity{unit: bare, start: at[0], end: at[1]}
	whole, fraction := part(1)+part(3), part(2)+fractionOf[part(4)]+part(5)
	if fraction != "" {
		q.number = ratio(whole) + ratio(fraction)
		return q
	}
	digits := strings.ReplaceAll(part(7), ",", ".") + notDigit.ReplaceAllString(part(6), "")
	_, decimals, _ := strings.Cut(digits, ".")
	q.number, q.half = ratio(digits), 0.5*math.Pow(10, -float64(len(decimals)))
	return q
}

// ratio reads "3", "0.5", "3/4"; "" and a fraction of nothing are 0.
func ratio(s string) float64 {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		return 0
	}
	x, _ := r.Float64()
	return x
}

func (q *quantity) inCents() { q.cents, q.number, q.half = true, q.number/100, q.half/100 }

// readUnit reads the unit behind a number, or that it is money. "in" is hardly ever an inch in prose.
func (q *quantity) readUnit(text string, set units.Set, currency string) {
	before, rest := text[:q.start], text[q.end:]
	switch {
	case centWord.MatchString(rest):
		q.money = true
		q.inCents()
		return
	case moneyMark.MatchString(before), moneyWord.MatchString(rest),
		strings.HasSuffix(strings.TrimSpace(before), currency), strings.HasPrefix(strings.TrimSpace(rest), currency):
		q.money = true
	}
	m := unitWords.FindStringSubmatch(rest)
	if m == nil {
		return
	}
	for words := m[1]; words != ""; words, _, _ = cutLast(words) {
		if u, ok := units.Lookup(words, set); ok && words != "in" {
			q.unit = u
			q.end += strings.Index(rest, m[1]) + len(words)
			return
		}
		if !strings.Contains(words, " ") {
			return
		}
	}
}
