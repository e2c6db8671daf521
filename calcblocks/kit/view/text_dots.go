package view

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// dots prints each group on one common axis: its values, its mean and the interval of the mean.
func (p *page) dots(d Dots) {
	p.title(d.Title)
	g := grid{columns: make([]Column, 3)}
	low, high, any := d.ends()
	lined := false
	for _, row := range d.Rows {
		lined = lined || row.Interval != nil
		g.row(row.Label, row.draw(low, high), row.Text)
	}
	p.inside(2, func() {
		p.grid(g)
		if !any {
			return
		}
		p.line(strings.TrimSpace(fmt.Sprintf("from %s to %s %s", Number(low), Number(high), d.Unit)))
		key := "o values   X mean"
		if lined {
			key += fmt.Sprintf("   = its %s %% interval", Number(d.Percent))
		}
		p.line(key)
	})
}

// ends returns the least and the greatest figure that is drawn, and whether there is any.
func (d Dots) ends() (low, high float64, any bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, row := range d.Rows {
		all := row.Values
		if row.Interval != nil {
			all = append(slices.Clip(all), row.Interval.Low, row.Interval.High)
		}
		for _, x := range all {
			low, high = min(low, x), max(high, x)
		}
	}
	return low, high, low <= high
}

// draw returns a group as characters on an axis: the mean over the values, the values over the interval.
func (r Dot) draw(low, high float64) string {
	cells := []byte(strings.Repeat(" ", barWidth))
	place := func(x float64) int {
		if high <= low {
			return barWidth / 2
		}
		return int(math.Round((x - low) / (high - low) * (barWidth - 1)))
	}
	if r.Interval != nil {
		for i := place(r.Interval.Low); i <= place(r.Interval.High); i++ {
			cells[i] = '='
		}
	}
	for _, x := range r.Values {
		cells[place(x)] = 'o'
	}
	if len(r.Values) > 0 {
		cells[place(r.Mean)] = 'X'
	}
	return "|" + string(cells) + "|"
}
