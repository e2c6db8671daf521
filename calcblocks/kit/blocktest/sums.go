package blocktest

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	ranges  = regexp.MustCompile(`\(-?[\d.]+ to -?[\d.]+\)`)
	units   = regexp.MustCompile(`g/mL|kg/L|g/kg|g/L|mS/cm|mg/L`)
	symbols = regexp.MustCompile(`\d+(?:\.\d+)?|[A-Za-z][A-Za-z0-9]*|[-+/()%]`)
)

// Redo does a printed sum again, "2 g x (3 + 4) / 7 % = 200 g": what comes of it at the typical figures, and what is
// printed as its result. Ranges in brackets, units and words count for nothing; pi and the percent sign do.
func Redo(sum string) (got, printed float64, err error) {
	left, right, ok := strings.Cut(sum, " = ")
	if !ok {
		return 0, 0, fmt.Errorf("no result in %q", sum)
	}
	if got, err = reckon(left); err != nil {
		return 0, 0, err
	}
	p := parserOf(right)
	printed = p.signed()
	return got, printed, p.err
}

func reckon(text string) (float64, error) {
	p := parserOf(text)
	x := p.sum()
	if p.err == nil && len(p.rest) > 0 {
		p.err = fmt.Errorf("%q is left over of %q", p.rest, text)
	}
	return x, p.err
}

// A parser reads a sum symbol by symbol.
type parser struct {
	rest []string
	err  error
}

func parserOf(text string) *parser {
	p := &parser{}
	for _, s := range symbols.FindAllString(units.ReplaceAllString(ranges.ReplaceAllString(text, ""), ""), -1) {
		if word := s[0] >= 'A'; !word || s == "x" || s == "pi" {
			p.rest = append(p.rest, s)
		}
	}
	return p
}

func (p *parser) next(symbols ...string) string {
	for _, s := range symbols {
		if len(p.rest) > 0 && p.rest[0] == s {
			p.rest = p.rest[1:]
			return s
		}
	}
	return ""
}

func (p *parser) sum() float64 {
	x := p.product()
	for op := p.next("+", "-"); op != ""; op = p.next("+", "-") {
		if y := p.product(); op == "+" {
			x += y
		} else {
			x -= y
		}
	}
	return x
}

func (p *parser) product() float64 {
	x := p.signed()
	for op := p.next("x", "/"); op != ""; op = p.next("x", "/") {
		if y := p.signed(); op == "x" {
			x *= y
		} else {
			x /= y
		}
	}
	return x
}

func (p *parser) signed() float64 {
	if p.next("-") != "" {
		return -p.signed()
	}
	x := p.number()
	if p.next("%") != "" {
		x /= 100
	}
	return x
}

func (p *parser) number() float64 {
	switch {
	case p.next("(") != "":
		x := p.sum()
		if p.next(")") == "" {
			p.err = fmt.Errorf("a bracket stays open before %q", p.rest)
		}
		return x
	case p.next("pi") != "":
		return math.Pi
	case len(p.rest) == 0:
		p.err = fmt.Errorf("a number is missing at the end")
		return 0
	}
	x, err := strconv.ParseFloat(p.rest[0], 64)
	if err != nil {
		p.err = err
	}
	p.rest = p.rest[1:]
	return x
}
