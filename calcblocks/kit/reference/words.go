package reference

import (
	"strconv"
	"strings"

	"trug/calcblocks/kit/data"
)

// notKnown is how a figure that is not known is written.
const notKnown = "not known"

// Words returns the figure as text: "2.7 % (2 to 3)", "47 to 60 %", "at most 5 %", "not known".
func (f Figure) Words() string {
	low, high := rounded(f.Low), rounded(f.High)
	switch {
	case !f.Known:
		return notKnown
	case f.OpenHigh:
		return low + f.suffix() + " or more"
	case f.OpenLow:
		return "at most " + high + f.suffix()
	case f.Low == f.High:
		return plain(f.Low) + f.suffix()
	case f.RangeOnly:
		return low + " to " + high + f.suffix()
	}
	return rounded(f.Typical) + f.suffix() + " (" + low + " to " + high + ")"
}

// suffix returns the unit with a space before it; a plain ratio, an index and a pH are written without.
func (f Figure) suffix() string {
	switch f.Unit {
	case "1", "index", "pH":
		return ""
	}
	return " " + f.Unit
}

// rounded returns a number of a range with four significant digits: no range is known better.
func rounded(x float64) string {
	four, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64) // its own output always parses
	return plain(four)
}

func plain(x float64) string { return strconv.FormatFloat(data.Six(x), 'f', -1, 64) }

// backing returns what stands behind the figure: its basis, its sources and its confidence.
func (f Figure) backing() string {
	if !f.Known {
		return f.Note
	}
	parts := []string{f.Basis, strings.Join(f.Source, ", ") + " (" + string(f.Confidence) + ")"}
	if f.Note != "" {
		parts = append(parts, f.Note)
	}
	return strings.Join(parts, "; ")
}

// value returns the figure as data, null when it is not known or an end is open.
func (f Figure) value() data.Value {
	if !f.Known {
		return data.Null{}
	}
	end := func(x float64, open bool) data.Value {
		if open {
			return data.Null{}
		}
		return data.Number(x)
	}
	out := data.Object{
		{Key: "low", Value: end(f.Low, f.OpenLow)},
		{Key: "typical", Value: end(f.Typical, f.OpenLow || f.OpenHigh)},
		{Key: "high", Value: end(f.High, f.OpenHigh)},
		{Key: "unit", Value: data.Text(f.Unit)},
		{Key: "basis", Value: data.Text(f.Basis)},
		{Key: "source", Value: data.Texts(f.Source)},
		{Key: "confidence", Value: data.Text(f.Confidence)},
	}
	if f.RangeOnly {
		out = out.With("range_only", data.Flag(true))
	}
	return out.With("note", textOrNull(f.Note))
}

func textOrNull(s string) data.Value {
	if s == "" {
		return data.Null{}
	}
	return data.Text(s)
}
