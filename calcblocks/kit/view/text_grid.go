package view

import "strings"

const (
	gutter    = 2 // blanks between columns
	narrowest = 8 // columns to which a column may shrink
)

// A grid is rows in aligned columns. Texts below a row span all columns.
type grid struct {
	columns []Column
	rows    []gridRow
}

type gridRow struct {
	cells  []string
	indent string // of the text below
	below  string
}

// row adds a row; cells that are missing at its end are empty.
func (g *grid) row(cells ...string) { g.rows = append(g.rows, gridRow{cells: cells}) }

// below adds a text below the last row.
func (g *grid) below(indent, s string) {
	g.rows[len(g.rows)-1].indent, g.rows[len(g.rows)-1].below = indent, s
}

func (r gridRow) cell(i int) string {
	if i < len(r.cells) {
		return r.cells[i]
	}
	return ""
}

func (r gridRow) onlyHead() bool { return len(r.cells) == 1 }

// grid prints a grid in columns, or row by row when even narrow columns do not fit side by side.
func (p *page) grid(g grid) {
	g = g.withoutEmpty()
	if len(g.rows) == 0 {
		return
	}
	widths, fits := g.widths(textWidth - p.indent)
	if !fits {
		p.records(g)
		return
	}
	p.gridHead(g, widths)
	for _, row := range g.rows {
		if row.onlyHead() {
			p.text("", row.cells[0])
		} else {
			p.gridLines(g, widths, row)
		}
		if row.below != "" {
			p.inside(len(row.indent)+2, func() { p.text("", row.below) })
		}
	}
}

// withoutEmpty drops columns that have neither head nor text.
func (g grid) withoutEmpty() grid {
	out := grid{rows: make([]gridRow, len(g.rows))}
	for i, row := range g.rows {
		out.rows[i] = gridRow{indent: row.indent, below: row.below}
		if row.onlyHead() {
			out.rows[i].cells = row.cells
		}
	}
	for c, column := range g.columns {
		empty := column.Head == ""
		for _, row := range g.rows {
			empty = empty && row.cell(c) == ""
		}
		if empty {
			continue
		}
		out.columns = append(out.columns, column)
		for i, row := range g.rows {
			if !row.onlyHead() {
				out.rows[i].cells = append(out.rows[i].cells, row.cell(c))
			}
		}
	}
	return out
}

// widths returns the width of each column so that all fit into limit: the widest shrink first, down to their longest
// words, and only then, if it must be, those are cut.
func (g grid) widths(limit int) ([]int, bool) {
	out, words, cut := make([]int, len(g.columns)), make([]int, len(g.columns)), make([]int, len(g.columns))
	total := gutter * (len(out) - 1)
	for c, column := range g.columns {
		cut[c] = narrowest
		for _, text := range append(g.cells(c), column.Head) {
			out[c] = max(out[c], width(text))
			for _, word := range strings.Fields(text) {
				words[c] = max(words[c], width(word))
			}
		}
		total += out[c]
	}
	over := shrink(out, words, total-limit)
	return out, shrink(out, cut, over) == 0
}

// cells returns a column's cells but of rows that are all head.
func (g grid) cells(c int) (out []string) {
	for _, row := range g.rows {
		if !row.onlyHead() {
			out = append(out, row.cell(c))
		}
	}
	return out
}

// shrink takes so many off the widths, each time off the widest that is above its least, and returns what is left over.
func shrink(widths, least []int, over int) int {
	for ; over > 0; over-- {
		widest := -1
		for c := range widths {
			if widths[c] > least[c] && (widest < 0 || widths[c] > widths[widest]) {
				widest = c
			}
		}
		if widest < 0 {
			return over
		}
		widths[widest]--
	}
	return 0
}

func (p *page) gridHead(g grid, widths []int) {
	head, rule := gridRow{}, gridRow{}
	some := false
	for c, column := range g.columns {
		some = some || column.Head != ""
		head.cells = append(head.cells, column.Head)
		rule.cells = append(rule.cells, strings.Repeat("-", widths[c]))
	}
	if some {
		p.gridLines(g, widths, head)
		p.gridLines(g, widths, rule)
	}
}

// gridLines prints one row, on as many lines as its longest cell needs.
func (p *page) gridLines(g grid, widths []int, row gridRow) {
	cells := make([][]string, len(g.columns))
	high := 1
	for c := range g.columns {
		cells[c] = wrapCell(row.cell(c), widths[c])
		high = max(high, len(cells[c]))
	}
	for i := range high {
		var line strings.Builder
		for c, column := range g.columns {
			text := ""
			if i < len(cells[c]) {
				text = cells[c][i]
			}
			line.WriteString(pad(text, widths[c], column.Numeric) + strings.Repeat(" ", gutter))
		}
		p.line(line.String())
	}
}

// wrapCell wraps a cell; a word that is too long for it is cut. A cell that fits keeps its blanks: they
// draw bars and mark options.
func wrapCell(s string, limit int) []string {
	if width(s) <= limit {
		return []string{s}
	}
	var out []string
	for _, line := range wrap(s, limit) {
		for width(line) > limit {
			head, rest := cut(line, limit)
			out, line = append(out, head), rest
		}
		out = append(out, line)
	}
	return out
}

// cut splits a text after as many characters as fit into limit columns, at least one.
func cut(s string, limit int) (head, rest string) {
	used := 0
	for i, r := range s {
		used += width(string(r))
		if used > limit && i > 0 {
			return s[:i], s[i:]
		}
	}
	return s, ""
}

// records prints a grid row by row: each cell on a line of its own, after the head of its column.
func (p *page) records(g grid) {
	for _, row := range g.rows {
		p.text("", row.cell(0))
		p.inside(2, func() {
			for c := 1; c < len(g.columns); c++ {
				if text := row.cell(c); text != "" {
					p.text("", strings.TrimPrefix(g.columns[c].Head+": "+text, ": "))
				}
			}
			if row.below != "" {
				p.text("", row.below)
			}
		})
	}
}
