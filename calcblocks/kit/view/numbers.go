package view

import (
	"math"
	"strconv"
	"strings"
)

// Number prints a figure for people: three significant digits at most, two below ten, no more than the
// analyses behind it bear. What is there is not printed as 0, unless no reader could weigh or see it.
func Number(x float64) string { return trim(Rounded(x)) }

// least is the smallest figure that is printed: a twentieth of a milligram where the unit is the gram. Smaller ones are
// mostly the last bits of a sum.
const least = 0.00005

// Rounded returns the figure that Number prints.
func Rounded(x float64) float64 {
	switch a := math.Abs(x); {
	case a < least:
		return 0
	case a < 10:
		return significant(x, 2)
	}
	return significant(x, 3)
}

func significant(x float64, digits int) float64 {
	if x == 0 {
		return 0
	}
	scale := tenTo(digits - 1 - int(math.Floor(math.Log10(math.Abs(x)))))
	return math.Round(x*scale) / scale
}

// tens are the powers of ten that figures are rounded by, from 10^-20 on.
var tens = func() (all [41]float64) {
	for i := range all {
		all[i] = math.Pow(10, float64(i-20))
	}
	return all
}()

func tenTo(n int) float64 {
	if -20 <= n && n <= 20 {
		return tens[n+20]
	}
	return math.Pow(10, float64(n))
}

func trim(x float64) string {
	if x == math.Trunc(x) && math.Abs(x) < 1e6 {
		return strconv.Itoa(int(x))
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// Span prints "low to high", or one number when both print alike. The ends are put in rising order.
func Span(low, high float64) string {
	if low > high {
		low, high = high, low
	}
	a, b := Rounded(low), Rounded(high)
	if a == b {
		return trim(a)
	}
	return trim(a) + " to " + trim(b)
}

// And joins words as a sentence does: "a, b and c".
func And(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// Exact prints a figure of a working to four significant digits, so that a reader can check the sum.
func Exact(x float64) string {
	if x == 0 {
		return "0"
	}
	return trim(significant(x, max(4, 1+int(math.Log10(math.Abs(x))))))
}

// Apart prints two figures that are compared, with as many digits as tell them apart: "2.34" and "2.3".
// Figures that only rounding of the arithmetic tells apart print alike.
func Apart(a, b float64) (string, string) {
	x, y := Number(a), Number(b)
	for digits := 3; x == y && digits <= 9; digits++ {
		if p, q := significant(a, digits), significant(b, digits); p != q {
			return trim(p), trim(q)
		}
	}
	return x, y
}

// Capital returns text with its first letter large.
func Capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// Small returns text with its first letter small.
func Small(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
