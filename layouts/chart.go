package layouts

import (
	"math"
	"strings"

	"trug/calcblocks/kit/view"
)

// The sheet that a chart is drawn on, in units near a pixel on a phone: the plot stands right of the marks of
// the upright axis and above those of the other.
const (
	chartLeft   = 38.0
	chartRight  = 292.0
	chartTop    = 8.0
	chartBottom = 158.0
	chartBox    = "0 0 300 194"
)

// strokes names how the lines are drawn, in order; the style sheet has a class for each.
var strokes = []string{"solid", "dashed", "dotted"}

// chartModel is a chart and the same numbers as a table.
type chartModel struct {
	here
	Title, Unit, Across string
	Box                 string
	Up, Along           []mark // of the upright axis, of the axis along the foot
	Lines               []curve
	Rows                []chartRow
	Ranged              bool // some line has an area
}

// mark is a mark of an axis with its line across the plot.
type mark struct{ X, Y, Text, Anchor, Line string }

// curve is one line with its area.
type curve struct {
	Label, Stroke string
	Key           string // the stroke at the head of a sentence
	Line, Area    string // paths; "" = no area
	Says          string // where it ends, for screen readers
	Ranged        bool
}

// chartRow is one place, with the figures of every line.
type chartRow struct {
	At    string
	Cells []string
}

func (p printer) chart(v view.Chart) chartModel {
	m := chartModel{here: p.here("chart"), Title: v.Title, Unit: v.Unit, Across: v.Across, Box: chartBox}
	if len(v.At) < 2 {
		return m
	}
	x, y := m.axes(v)
	for i, l := range v.Lines[:min(len(v.Lines), len(strokes))] {
		c := drawCurve(v, l, x, y)
		c.Stroke, c.Key = strokes[i], capital(strokes[i])
		m.Ranged = m.Ranged || c.Ranged
		m.Lines = append(m.Lines, c)
	}
	for i, at := range v.At {
		m.Rows = append(m.Rows, tableRow(v, i, at))
	}
	return m
}

// axes marks both axes and returns where figures lie on the sheet.
func (m *chartModel) axes(v view.Chart) (x, y func(float64) float64) {
	least, most := v.Ends()
	step := niceStep(max(finite(most)-finite(least), 1e-9) / 4)
	from, to := step*math.Floor(finite(least)/step+1e-9), step*math.Ceil(finite(most)/step-1e-9)
	to = max(to, from+step)
	y = func(value float64) float64 {
		return chartBottom - (chartBottom-chartTop)*(min(max(finite(value), from), to)-from)/(to-from)
	}
	for i := range int(math.Round((to-from)/step)) + 1 {
		value := from + float64(i)*step
		m.Up = append(m.Up, mark{Y: spot(y(value)), Text: tickText(value, step)})
	}
	first, last := v.At[0], v.At[len(v.At)-1]
	x = func(at float64) float64 { return chartLeft + (chartRight-chartLeft)*(at-first)/(last-first) }
	along := niceStep((last - first) / 5)
	for value := along * math.Ceil(first/along-1e-9); value <= last+along*1e-9; value += along {
		m.Along = append(m.Along, mark{X: spot(x(value)), Text: tickText(value, along), Anchor: "middle", Line: spot(chartBottom)})
	}
	return x, y
}

// drawCurve draws a line through its typical figures, and the area from its low to its high ones.
func drawCurve(v view.Chart, l view.Line, x, y func(float64) float64) curve {
	c := curve{Label: l.Label, Ranged: l.Ranged()}
	path := func(pick func(view.Point) float64, from, to, step int) string {
		var spots []string
		for i := from; i != to; i += step {
			spots = append(spots, spot(x(v.At[i]))+" "+spot(y(pick(l.Points[i]))))
		}
		return strings.Join(spots, "L")
	}
	c.Line = "M" + path(func(p view.Point) float64 { return p.Typical }, 0, len(v.At), 1)
	if c.Ranged {
		c.Area = "M" + path(func(p view.Point) float64 { return p.High }, 0, len(v.At), 1) +
			"L" + path(func(p view.Point) float64 { return p.Low }, len(v.At)-1, -1, -1) + "z"
	}
	end := l.Points[len(v.At)-1]
	c.Says = digits(end.Typical)
	if c.Ranged {
		c.Says += ", from " + span(end.Low, end.High)
	}
	return c
}

func tableRow(v view.Chart, i int, at float64) chartRow {
	row := chartRow{At: digits(at)}
	for _, l := range v.Lines {
		row.Cells = append(row.Cells, digits(l.Points[i].Typical))
		if l.Ranged() {
			row.Cells = append(row.Cells, span(l.Points[i].Low, l.Points[i].High))
		}
	}
	return row
}
