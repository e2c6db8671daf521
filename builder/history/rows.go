package history

import "strings"

// CellName is the name of a cell of a table: of its row, and of its column, "" where that has none.
func CellName(row, column string) string {
	if column == "" {
		return row
	}
	return row + cellEnd + column
}

// alike brings older entries into the form of newer ones, so that the two can be compared. A row was once written down as
// one text, its cells in order; now each cell stands by itself.
func alike(was, is []Entry) (before, now []Entry) {
	fresh := make(map[string]bool, len(is))
	for _, e := range is {
		fresh[e.Name] = true
	}
	now = is
	for _, e := range was {
		if fresh[e.Name] {
			before = append(before, e)
			continue
		}
		from, to := cellsOf(e.Name, now)
		if from == to {
			before = append(before, e)
			continue
		}
		cells, ok := split(full(e.Text), now[from:to])
		if ok {
			before = append(before, cells...)
			continue
		}
		before = append(before, e)
		now = joined(now, from, to, e.Name)
	}
	return before, now
}

// cellsOf finds the cells of a row: they follow each other, and what is behind the row's name is that of a column.
func cellsOf(row string, entries []Entry) (from, to int) {
	ofRow := func(e Entry) bool {
		column, ok := strings.CutPrefix(e.Name, row+cellEnd)
		return ok && !strings.Contains(column, cellEnd)
	}
	for from < len(entries) && !ofRow(entries[from]) {
		from++
	}
	to = from
	for to < len(entries) && ofRow(entries[to]) {
		to++
	}
	return from, to
}

// joined writes the cells of a row as one text again.
func joined(entries []Entry, from, to int, row string) []Entry {
	var texts []string
	for _, e := range entries[from:to] {
		texts = append(texts, e.Text)
	}
	out := append([]Entry{}, entries[:from]...)
	return append(append(out, Entry{row, strings.Join(texts, cellEnd)}), entries[to:]...)
}

// split tells the cells of an old row apart by those of the new one: which are the same at its beginning and its end, and
// what lies between. A cell may hold commas of its own; where that leaves a doubt, ok is false.
func split(row string, cells []Entry) (out []Entry, ok bool) {
	var ending []Entry
	for len(cells) > 0 {
		rest, same := strings.CutPrefix(row+cellEnd, cells[0].Text+cellEnd)
		if !same {
			break
		}
		out, cells, row = append(out, cells[0]), cells[1:], strings.TrimSuffix(rest, cellEnd)
	}
	for len(cells) > 0 {
		last := cells[len(cells)-1]
		rest, same := strings.CutSuffix(cellEnd+row, cellEnd+last.Text)
		if !same {
			break
		}
		ending, cells, row = append(ending, last), cells[:len(cells)-1], strings.TrimPrefix(rest, cellEnd)
	}
	middle, ok := between(row, cells)
	return append(append(out, middle...), ending...), ok
}

// between gives what is left of an old row to the cells that differ.
func between(row string, cells []Entry) (out []Entry, ok bool) {
	parts := strings.Split(row, cellEnd)
	switch {
	case row == "":
		return nil, true // what is left is new
	case len(cells) == 1:
		parts = []string{row}
	case len(cells) != len(parts):
		return nil, false
	}
	for i, cell := range cells {
		out = append(out, Entry{cell.Name, parts[i]})
	}
	return out, true
}
