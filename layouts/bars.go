package layouts

import (
	"math"
	"strings"
	"unicode/utf8"

	"trug/calcblocks/kit/view"
)

// The sheet that bars are drawn on, in units near a pixel on a phone.
const (
	barsWidth = 300.0
	barsRow   = 42.0
	barsText  = 42 // runes that fit on one line
)

// barsModel is a chart and the same numbers as a table.
type barsModel struct {
	here
	Title, Unit string
	Box         string
	Floor       string // where the rows end
	Ticks       []notch
	Rows        []barModel
	Wanted      bool // some row has a wanted band
}

type notch struct{ X, Text, Anchor, Line string }

// barModel is one span.
type barModel struct {
	Label, Text   string
	Short         string // the text where it fits beside the label
	TextY         string
	BarY, BandY   string
	Stem          string // length of the line from nothing to the low end
	X, Width      string
	BandX, BandW  string
	Low, High     string
	Span, Wanted  string
	Enough, Point bool
}

func (p printer) bars(v view.Bars) barsModel {
	m := barsModel{here: p.here("bars"), Title: v.Title, Unit: v.Unit}
	step, most := axis(v.Rows)
	x := func(value float64) float64 { return 2 + (barsWidth-6)*min(max(value, 0), most)/most }
	for i, row := range v.Rows {
		bar := drawBar(row, float64(i)*barsRow, x)
		m.Wanted = m.Wanted || bar.Wanted != ""
		m.Rows = append(m.Rows, bar)
	}
	floor := float64(len(v.Rows)) * barsRow
	m.Floor = spot(floor)
	m.Box = "0 0 " + spot(barsWidth) + " " + spot(floor+20)
	for value := 0.0; value <= most+step/2; value += step {
		m.Ticks = append(m.Ticks, notch{spot(x(value)), digits(value), anchorAt(value, most), spot(floor)})
	}
	return m
}

// anchorAt keeps the text of the first and last mark on the sheet.
func anchorAt(value, most float64) string {
	switch {
	case value == 0:
		return "start"
	case value >= most*0.99:
		return "end"
	}
	return "middle"
}

func drawBar(row view.Bar, top float64, x func(float64) float64) barModel {
	low, high := finite(row.Low), finite(row.High)
	b := barModel{
		Label: row.Label, Text: row.Text,
		TextY: spot(top + 14), BarY: spot(top + 23), BandY: spot(top + 19),
		X: spot(x(low)), Width: spot(max(x(high)-x(low), 3)), Stem: spot(x(low) - 2),
		Low: digits(low), High: digits(high), Span: span(low, high), Point: low == high,
	}
	if utf8.RuneCountInString(row.Label+row.Text) < barsText {
		b.Short = row.Text
	}
	if b.Text == "" {
		b.Short = b.Span
	}
	if need := row.Need; need != nil {
		from, to := finite(need.Low), finite(need.High)
		b.BandX, b.BandW, b.Wanted = spot(x(from)), spot(max(x(to)-x(from), 3)), span(from, to)
		b.Enough = high >= from && low <= to
	}
	return b
}

func span(low, high float64) string {
	a, b := digits(low), digits(high)
	if a == b {
		return a
	}
	return strings.Join([]string{a, b}, " to ")
}

// axis returns the distance of the marks, 1, 2 or 5 times a power of ten, and the last mark.
func axis(rows []view.Bar) (step, most float64) {
	for _, row := range rows {
		most = max(most, finite(row.High))
		if row.Need != nil {
			most = max(most, finite(row.Need.High))
		}
	}
	if most <= 0 {
		return 1, 1
	}
	rough := most / 4
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	for _, times := range []float64{1, 2, 5, 10} {
		step = times * power
		if step >= rough {
			break
		}
	}
	return step, step * math.Ceil(most/step-1e-9)
}

func finite(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return x
}
