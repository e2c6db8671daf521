package view

import (
	"slices"
	"strings"
)

// amounts prints one amendment a row: its measure in each set and its weight. What is said beside the
// numbers follows below the row.
func (p *page) amounts(a Amounts) {
	p.title(a.Title)
	g := grid{columns: amountColumns(a)}
	for _, row := range a.Rows {
		g.amount(a, row, "")
	}
	for _, c := range a.Choices {
		g.row(c.Name + ", one of:")
		for i, option := range c.Options {
			lead := "or "
			if i == 0 {
				lead = "   "
			}
			g.amount(a, option, lead)
		}
	}
	p.inside(2, func() { p.grid(g) })
}

func amountColumns(a Amounts) []Column {
	columns := []Column{{}}
	for _, set := range a.Sets {
		head := set
		if len(a.Sets) == 1 {
			head = "" // nothing to tell apart
		}
		columns = append(columns, Column{Head: head})
	}
	weight := Column{Numeric: true}
	if len(a.Sets) > 1 {
		weight.Head = "weight"
	}
	if a.gramsFirst() {
		return append([]Column{{}, weight}, columns[1:]...)
	}
	return append(columns, weight)
}

// gramsFirst says whether the weights lead: only when they do in every row, for a column has one place.
func (a Amounts) gramsFirst() bool {
	rows := slices.Clone(a.Rows)
	for _, c := range a.Choices {
		rows = append(rows, c.Options...)
	}
	measured := slices.ContainsFunc(rows, func(row Amount) bool { return !row.GramsFirst })
	return len(rows) > 0 && !measured
}

func (g *grid) amount(a Amounts, row Amount, lead string) {
	cells := []string{lead + row.Name}
	if a.gramsFirst() {
		cells = append(cells, row.Grams)
	}
	for _, set := range a.Sets {
		cells = append(cells, row.Measures[set])
	}
	if !a.gramsFirst() {
		cells = append(cells, row.Grams)
	}
	g.row(cells...)
	var said []string
	for _, s := range []string{row.Reason, row.Brings, row.Error} {
		if s != "" {
			said = append(said, s)
		}
	}
	g.below(strings.Repeat(" ", len(lead)), strings.Join(said, "; "))
}
