package schema

import (
	"slices"
	"strconv"
	"unicode/utf8"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

// A prober is a reader that is given probes to read.
type prober func(*form.Node)

// A frame is a probe without the value at the place that is looked at. A probe is one line of YAML in braces
// and brackets, so that a column says which value is meant.
type frame struct{ before, after string }

// under returns the frame of the value of a key, beside other entries.
func (f frame) under(key string, beside ...entry) frame {
	before := f.before + "{"
	for _, e := range beside {
		before += strconv.Quote(e.key) + ": " + e.value + ", "
	}
	return frame{before + strconv.Quote(key) + ": ", "}" + f.after}
}

// item returns the frame of the first member of a list.
func (f frame) item() frame { return frame{f.before + "[", "]" + f.after} }

// An entry is a key and its value as they stand in a probe.
type entry struct{ key, value string }

// mapping writes entries as a mapping.
func mapping(entries ...entry) string {
	text, _ := placed(entries)
	return text
}

// placed writes entries as a mapping, and returns the columns of the values that are mappings or lists, from
// the column of the mapping on.
func placed(entries []entry) (text string, nested [][2]int) {
	text = "{"
	for i, e := range entries {
		if i > 0 {
			text += ", "
		}
		text += strconv.Quote(e.key) + ": "
		from := utf8.RuneCountInString(text)
		text += e.value
		if e.value[0] != '"' {
			nested = append(nested, [2]int{from, utf8.RuneCountInString(text) - 1})
		}
	}
	return text + "}", nested
}

// heard is what a reader asked and reported when it read a probe.
type heard struct {
	from, to int // columns of the value that is looked at
	asks     []form.Ask
	faults   []diag.Diagnostic
}

// read gives the reader a probe whose value is written so.
func (p prober) read(f frame, value string) heard {
	h := heard{from: utf8.RuneCountInString(f.before) + 1}
	h.to = h.from + utf8.RuneCountInString(value) - 1
	source := form.FileSource(diag.NewFile("probe.yaml", f.before+value+f.after), units.Parser{Set: units.US}, func(d diag.Diagnostic) { h.faults = append(h.faults, d) })
	reading := false // the form looks at the tree too, before the reader does
	source.Watch = func(a form.Ask) {
		if reading {
			h.asks = append(h.asks, a)
		}
	}
	root := form.Read(source)
	reading = true
	p(root)
	return h
}

// asked returns the names in all asks of a sort that were made of the value, and whether there were any.
func (h heard) asked(what form.Asked) (names []string, any bool) {
	for _, a := range h.asks {
		if a.Of.At().Column == h.from && a.What == what {
			any = true
			for _, name := range a.Names {
				if !slices.Contains(names, name) {
					names = append(names, name)
				}
			}
		}
	}
	return names, any
}

// looked says whether the reader asked anything of the value.
func (h heard) looked() bool {
	return slices.ContainsFunc(h.asks, func(a form.Ask) bool { return a.Of.At().Column == h.from })
}

// refused says whether the reader wants another sort of value here.
func (h heard) refused() bool {
	return slices.ContainsFunc(h.faults, func(d diag.Diagnostic) bool {
		return d.At.Column == h.from && slices.Contains([]string{"not-text", "not-list", "not-mapping"}, d.Code)
	})
}

// within returns the faults inside the value.
func (h heard) within() []diag.Diagnostic {
	var out []diag.Diagnostic
	for _, d := range h.faults {
		if d.At.Column >= h.from && d.At.Column <= h.to {
			out = append(out, d)
		}
	}
	return out
}
