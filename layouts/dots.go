package layouts

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/view"
)

// The sheet that dots are drawn on, in units near a pixel on a phone. Values that would lie on one another
// are set on lanes above and below their line; the mean and its interval stand below them.
const (
	dotsRow  = 66.0
	dotsLine = 34.0 // from the top of a row to its values
	dotsMean = 53.0 // from the top of a row to its mean
	dotSize  = 3.5
	dotLane  = 8.0
	dotLanes = 3
)

// dotsModel is a dot plot and the same numbers as a table.
type dotsModel struct {
	here
	Title, Unit, Percent string
	Box, Floor           string
	Ticks                []notch
	Rows                 []dotModel
	Lined                bool // some row has an interval
}

// dotModel is one group.
type dotModel struct {
	Label, Text, Short string
	TextY              string
	Dots               []point
	Diamond, Line      string // paths of the mean and of its interval
	Mean, Span         string
	Values             string
	Count              int
}

type point struct{ X, Y string }

func (p printer) dots(v view.Dots) dotsModel {
	m := dotsModel{here: p.here("dots"), Title: v.Title, Unit: v.Unit, Percent: digits(v.Percent)}
	step, from, to := dotsAxis(v.Rows)
	x := func(value float64) float64 {
		return 8 + (barsWidth-16)*(min(max(finite(value), from), to)-from)/(to-from)
	}
	for i, row := range v.Rows {
		m.Lined = m.Lined || row.Interval != nil
		m.Rows = append(m.Rows, drawDots(row, float64(i)*dotsRow, x))
	}
	floor := float64(len(v.Rows)) * dotsRow
	m.Floor = spot(floor)
	m.Box = "0 0 " + spot(barsWidth) + " " + spot(floor+20)
	for i := range int(math.Round((to-from)/step)) + 1 {
		value := from + float64(i)*step
		m.Ticks = append(m.Ticks, notch{spot(x(value)), tickText(value, step), anchorAt(value-from, to-from), spot(floor)})
	}
	return m
}

// tickText writes a mark of an axis to the digits of its step; what is nothing but rounding is 0.
func tickText(value, step float64) string {
	if math.Abs(value) < step/1000 {
		return "0"
	}
	decimals := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	return fmt.Sprintf("%.*f", decimals, value)
}

// dotsAxis returns the distance of the marks, 1, 2 or 5 times a power of ten, and the first and last mark,
// between which all lies. It need not start at zero.
func dotsAxis(rows []view.Dot) (step, from, to float64) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, row := range rows {
		all := row.Values // their mean lies between them
		if row.Interval != nil {
			all = append(slices.Clip(all), row.Interval.Low, row.Interval.High)
		}
		for _, x := range all {
			low, high = min(low, finite(x)), max(high, finite(x))
		}
	}
	switch {
	case low > high:
		return 1, 0, 1
	case high-low <= 1e-9*max(math.Abs(low), math.Abs(high)):
		half := max(math.Abs(high)/2, 0.5)
		low, high = low-half, high+half
	}
	step = niceStep((high - low) / 4)
	return step, step * math.Floor(low/step+1e-9), step * math.Ceil(high/step-1e-9)
}

// niceStep returns the least of 1, 2 or 5 times a power of ten that is at least rough.
func niceStep(rough float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	for _, times := range []float64{1, 2, 5} {
		if times*power >= rough*(1-1e-9) {
			return times * power
		}
	}
	return 10 * power
}

func drawDots(row view.Dot, top float64, x func(float64) float64) dotModel {
	middle := top + dotsMean
	d := dotModel{Label: row.Label, Text: row.Text, TextY: spot(top + 14), Count: len(row.Values), Span: "too few for one"}
	if len([]rune(row.Label+row.Text)) < barsText {
		d.Short = row.Text
	}
	lane := lanes(row.Values, x)
	var values []string
	for i, value := range row.Values {
		d.Dots = append(d.Dots, point{spot(x(value)), spot(top + dotsLine + lane[i])})
		values = append(values, strconv.FormatFloat(data.Six(finite(value)), 'f', -1, 64)) // as it was written down
	}
	d.Values = strings.Join(values, ", ")
	if len(row.Values) == 0 {
		d.Mean, d.Span = "none", "none"
		return d
	}
	d.Mean = digits(row.Mean)
	at := x(row.Mean)
	d.Diamond = fmt.Sprintf("M%s %sl5 7-5 7-5-7z", spot(at), spot(middle-7))
	if row.Interval != nil {
		low, high := x(row.Interval.Low), x(row.Interval.High)
		d.Line = fmt.Sprintf("M%[1]s %[3]sv12M%[2]s %[3]sv12M%[1]s %[4]sH%[2]s", spot(low), spot(high), spot(middle-6), spot(middle))
		d.Span = span(row.Interval.Low, row.Interval.High)
	}
	return d
}

// lanes returns how far below its line each value is drawn: in the first lane where the dot
// touches none before it, else in the last.
func lanes(values []float64, x func(float64) float64) []float64 {
	offsets := make([]float64, 0, dotLanes)
	for i := range dotLanes {
		offset := dotLane * math.Ceil(float64(i)/2)
		if i%2 == 1 {
			offset = -offset
		}
		offsets = append(offsets, offset)
	}
	out := make([]float64, len(values))
	for i, value := range values {
		out[i] = offsets[dotLanes-1]
		for _, offset := range offsets {
			if free(values[:i], out, x, value, offset) {
				out[i] = offset
				break
			}
		}
	}
	return out
}

func free(before, lane []float64, x func(float64) float64, value, offset float64) bool {
	for i, other := range before {
		if lane[i] == offset && math.Abs(x(other)-x(value)) < 2*dotSize {
			return false
		}
	}
	return true
}
