package view

import (
	"fmt"
	"math"
	"strings"
)

// strokes are the characters of a chart's lines, in order.
const strokes = "Xo+"

// chart prints a chart lying down: a row for each place, the lines as characters on one axis, their areas
// as dashes, and the numbers beside them.
func (p *page) chart(c Chart) {
	p.title(c.Title)
	g := grid{columns: []Column{{Head: c.Across, Numeric: true}, {}}}
	for i, l := range c.Lines {
		g.columns = append(g.columns, Column{Head: strokes[i:i+1] + " " + l.Label})
	}
	least, most := c.Ends()
	for i, at := range c.At {
		cells := []string{Number(at), c.draw(i, least, most)}
		for _, l := range c.Lines {
			cells = append(cells, l.Points[i].text(l.Ranged()))
		}
		g.row(cells...)
	}
	p.inside(2, func() {
		p.grid(g)
		if len(c.At) > 0 {
			p.line(strings.TrimSpace(fmt.Sprintf("the axis runs from %s to %s %s", Number(least), Number(most), c.Unit)))
		}
	})
}

func (p Point) text(ranged bool) string {
	if !ranged {
		return Number(p.Typical)
	}
	return fmt.Sprintf("%s (%s)", Number(p.Typical), Span(p.Low, p.High))
}

// draw returns one place of a chart: the first line lies over the others, a line over an area.
func (c Chart) draw(i int, least, most float64) string {
	cells := []byte(strings.Repeat(" ", barWidth))
	if most <= least {
		return "|"
	}
	place := func(x float64) int { return int(math.Round((x - least) / (most - least) * (barWidth - 1))) }
	for _, l := range c.Lines {
		for at := place(l.Points[i].Low); at < place(l.Points[i].High); at++ {
			cells[at] = '-'
		}
	}
	for k := len(c.Lines) - 1; k >= 0; k-- {
		cells[place(c.Lines[k].Points[i].Typical)] = strokes[k]
	}
	return "|" + strings.TrimRight(string(cells), " ")
}
