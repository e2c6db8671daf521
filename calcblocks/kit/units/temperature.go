package units

import (
	"math/big"
	"regexp"
)

var temperatureText = regexp.MustCompile(`^(\d+(?:\.\d+)?) ?°?([CF])$`)

// ReadTemperature reads "15 C" or "59 F" into degrees Celsius: C = (F - 32) x 5/9, which is exact. A mix that
// freezes or cooks is refused.
func ReadTemperature(text string) (float64, error) {
	m := temperatureText.FindStringSubmatch(text)
	if m == nil {
		return 0, Faultf(0, "bad-temperature", "write degrees with their scale, such as \"15 C\" or \"59 F\"", "%s is not a temperature", quoted(text))
	}
	x := rat(m[1])
	if m[2] == "F" {
		x = x.Mul(x.Sub(x, rat("32")), big.NewRat(5, 9))
	}
	celsius, _ := x.Float64()
	if celsius < 0 || celsius > 40 {
		return 0, Faultf(0, "bad-temperature", "write what the mix has in the season, from 0 to 40 C (32 to 104 F)", "%s is no temperature of a mix in use", quoted(text))
	}
	return celsius, nil
}
