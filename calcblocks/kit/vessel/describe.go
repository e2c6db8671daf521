package vessel

import (
	"fmt"
	"strconv"
	"strings"
)

// lengthUnit is the unit that an author's lengths are shown in; the zero value is cm.
type lengthUnit struct {
	name string
	cm   float64
}

// length returns a length in cm as text in the author's unit.
func (v Vessel) length(cm float64) string {
	if v.unit.name == "" {
		return short(cm, 1) + " cm"
	}
	return short(cm/v.unit.cm, 2) + " " + v.unit.name
}

// short returns a number with at most so many decimals and no closing zeros.
func short(x float64, decimals int) string {
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// litres returns mL as litres, to about three digits.
func litres(ml float64) string {
	switch {
	case ml < 10e3:
		return short(ml/1000, 2)
	case ml < 100e3:
		return short(ml/1000, 1)
	}
	return short(ml/1000, 0)
}

// Describe returns the vessel in words, in the author's unit of length: "round, 30 cm across the top,
// 24 cm at the base, 28 cm deep".
func (v Vessel) Describe() string {
	switch {
	case v.Class != "":
		return fmt.Sprintf("nursery class %s, %s to %s L", v.Class, litres(v.Measured[0]), litres(v.Measured[1]))
	case v.isMeasured():
		return litres(v.Measured[1]) + " L"
	case v.RoughGuess:
		return fmt.Sprintf("round, %s across the top, the rest a rough guess", v.length(v.TopLength))
	}
	text := v.top() + v.base() + ", " + v.length(v.Depth) + " deep"
	if v.Fill != 0 && v.Fill < v.Depth {
		text += ", filled to " + v.length(v.Fill)
	}
	return text
}

func (v Vessel) top() string {
	switch v.Shape {
	case Trough:
		return fmt.Sprintf("trough, %s at the top", v.across(v.TopLength, v.TopWidth))
	case Oval:
		return fmt.Sprintf("oval, %s at the top", v.across(v.TopLength, v.TopWidth))
	}
	return fmt.Sprintf("round, %s across the top", v.length(v.TopLength))
}

func (v Vessel) base() string {
	if v.Shape == Round {
		return ", " + v.length(v.BaseLength) + " at the base"
	}
	if v.BaseLength == v.TopLength && v.BaseWidth == v.TopWidth {
		return ""
	}
	return ", " + v.across(v.BaseLength, v.BaseWidth) + " at the base"
}

func (v Vessel) across(length, width float64) string {
	first := strings.TrimSuffix(strings.TrimSuffix(v.length(length), v.unit.name), "cm")
	return strings.TrimSpace(first) + " × " + v.length(width)
}

// known says what is known of a vessel whose shape is assumed.
func (v Vessel) known() string {
	switch {
	case v.Class != "":
		return "its nursery class"
	case v.RoughGuess:
		return "its top diameter"
	}
	return "its volume"
}
