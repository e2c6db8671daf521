package builder

import (
	"strings"
	"unicode"

	"trug/builder/history"
	"trug/calcblocks/kit/view"
)

// A collection gathers the numbers of a view as a reader sees them, each under a name of its own.
type collection struct {
	entries []history.Entry
	taken   map[string]bool // names, and those of rows
	main    string          // the set of spoons
}

// collected returns what goes in and what it costs for each size, and of a block without sizes the named results and the
// rows of tables, by their heads. What else a size shows follows from these.
func collected(parts []view.Part, main string) []history.Entry {
	c := &collection{taken: map[string]bool{}, main: main}
	c.parts("", parts)
	return c.entries
}

func (c *collection) put(name, text string) {
	if text != "" && !c.taken[name] {
		c.taken[name] = true
		c.entries = append(c.entries, history.Entry{Name: name, Text: text})
	}
}

func (c *collection) parts(where string, parts []view.Part) {
	for _, part := range parts {
		switch part := part.(type) {
		case view.Sizes:
			for _, size := range part.Items {
				c.parts(size.Label+", ", size.Parts)
			}
		case view.Variants:
			for _, v := range part.Items {
				if v.Default {
					c.parts(where, v.Parts)
				}
			}
		case view.Amounts:
			c.amounts(where, part.Rows)
			for _, choice := range part.Choices {
				c.amounts(where, choice.Options)
			}
		case view.Figures:
			for _, f := range part.Rows {
				if where == "" || f.Label == costLabel {
					c.put(where+f.Label, f.Value)
				}
			}
		case view.Table:
			if where == "" {
				c.table(part)
			}
		}
	}
}

// costLabel is what a size's figures call its cost.
const costLabel = "Cost"

func (c *collection) amounts(where string, rows []view.Amount) {
	for _, a := range rows {
		c.put(where+a.Name, strings.TrimPrefix(a.Measures[c.main]+", "+a.Grams, ", "))
	}
}

// table takes each row under its name, and its cells under their heads. A row that an earlier table has is left to it.
func (c *collection) table(t view.Table) {
	for _, row := range t.Rows {
		if c.taken[row[0]] {
			continue
		}
		for i, cell := range row[1:] {
			c.put(history.CellName(row[0], headWord(t.Columns[i+1].Head)), strings.TrimSpace(cell))
		}
		c.taken[row[0]] = true
	}
}

// headWord is the head of a column as it stands in a line: without its unit, and small unless it is a sign such as K2O.
func headWord(head string) string {
	word, _, _ := strings.Cut(head, ",")
	if letters := []rune(word); len(letters) > 1 && unicode.IsLower(letters[1]) {
		return view.Small(word)
	}
	return word
}
