package view

import (
	"fmt"
	"math"
	"strings"
)

// barWidth is the length of a bar's axis in characters.
const barWidth = 30

// bars prints each span as a bar on one common axis, with the wanted band, and the numbers beside it.
func (p *page) bars(b Bars) {
	p.title(b.Title)
	g := grid{columns: make([]Column, 4)}
	top, wanted := b.top(), false
	for _, row := range b.Rows {
		text, need := row.Text, ""
		if text == "" {
			text = strings.TrimSpace(Span(row.Low, row.High) + " " + b.Unit)
		}
		if row.Need != nil {
			need, wanted = strings.TrimSpace("wanted "+Span(row.Need.Low, row.Need.High)+" "+b.Unit), true
		}
		g.row(row.Label, row.draw(top), text, need)
	}
	p.inside(2, func() {
		p.grid(g)
		if wanted {
			p.line("= there   . wanted   # there and wanted")
		}
	})
}

// top returns the highest figure of the axis, which starts at zero.
func (b Bars) top() float64 {
	top := 0.0
	for _, row := range b.Rows {
		top = max(top, row.High)
		if row.Need != nil {
			top = max(top, row.Need.High)
		}
	}
	return top
}

// draw returns the bar as characters on an axis from zero to top. A span of any length shows.
func (r Bar) draw(top float64) string {
	cells := []byte(strings.Repeat(" ", barWidth))
	if r.Need != nil {
		from, to := onAxis(r.Need.Low, r.Need.High, top)
		for i := from; i < to; i++ {
			cells[i] = '.'
		}
	}
	from, to := onAxis(r.Low, r.High, top)
	for i := from; i < to; i++ {
		if cells[i] == '.' {
			cells[i] = '#'
			continue
		}
		cells[i] = '='
	}
	return "|" + strings.TrimRight(string(cells), " ")
}

// onAxis returns the first character of a span and the one after its last.
func onAxis(low, high, top float64) (from, to int) {
	if top <= 0 || high <= 0 {
		return 0, 0
	}
	place := func(x float64) float64 { return max(x, 0) / top * barWidth }
	from = min(int(math.Floor(place(low))), barWidth-1)
	return from, min(max(int(math.Ceil(place(high))), from+1), barWidth)
}

// section prints the layers of a pot as they lie: the uppermost first.
func (p *page) section(s Section) {
	p.title(s.Title)
	p.inside(2, func() {
		if s.Pot.Description != "" {
			p.text("", s.Pot.Description)
		}
		g := grid{columns: []Column{{Head: "layer"}, {Head: "cm above the base", Numeric: true}, {Head: "across"}}}
		for i := len(s.Layers) - 1; i >= 0; i-- {
			l := s.Layers[i]
			g.row(l.Label, fmt.Sprintf("%s to %s", Number(l.FromCM), Number(l.ToCM)), l.Width)
		}
		for _, m := range s.Marks {
			g.row(m.Label, Number(m.AtCM), "")
		}
		p.grid(g)
	})
}
