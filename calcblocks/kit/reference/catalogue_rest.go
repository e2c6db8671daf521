package reference

import (
	"slices"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

func (c *Container) head() data.Object {
	return data.Object{
		{Key: "id", Value: data.Text(c.ID)},
		{Key: "name", Value: data.Text(c.Name)},
		{Key: "kind", Value: data.Text(c.Kind)},
		{Key: "shape", Value: textOrNull(c.Shape)},
	}
}

func (l *Library) listContainers() (data.Value, view.Doc) {
	var out data.List
	table := view.Table{Caption: "Containers and bags", Columns: []view.Column{
		{Head: "Id"}, {Head: "Name"}, {Head: "Kind"}, {Head: "Holds", Numeric: true},
	}, Notes: []string{"A nursery class is a span, never as many US gallons as its number."}}
	for _, c := range l.Containers {
		out = append(out, fields(c.head(), []group{{rows: []row{{"volume_litres", "", c.Volume}}}}))
		table.Rows = append(table.Rows, []string{c.ID, c.Name, c.Kind, c.Volume.Words()})
	}
	return out, view.Doc{Parts: []view.Part{table}}
}

func (l *Library) showContainer(id string) (data.Value, view.Doc) {
	c, _ := l.Container(id)
	groups := []group{
		{"", "Volume", []row{
			{"volume_litres", "Holds", c.Volume},
			{"filled_litres", "Filled", c.Filled},
			{"nominal_litres", "As its name says", c.Nominal},
			{"declared_litres", "One nursery's own pot", c.Declared},
		}, ""},
		{"", "Inside", []row{
			{"top_cm", "Top", c.Top},
			{"base_cm", "Base", c.Base},
			{"height_cm", "Height", c.Height},
			{"length_cm", "Length", c.Length},
			{"width_cm", "Width", c.Width},
			{"base_length_cm", "Length at the base", c.BaseLength},
			{"base_width_cm", "Width at the base", c.BaseWidth},
		}, c.Note},
	}
	keys := keysOf(groups)
	out := fields(c.head(), groups).With("note", textOrNull(c.Note)).With("sources", entryList(l.Entries(keys...)))
	doc := view.Doc{Parts: append([]view.Part{view.Paragraph{Text: c.Name + "."}}, parts(known(groups))...)}
	doc.Parts = append(doc.Parts, view.Bibliography{Title: "Sources", Entries: l.Entries(keys...)})
	return out, doc
}

// known returns the groups with the known figures only: a box has no diameter to be not known.
func known(groups []group) []group {
	var out []group
	for _, g := range groups {
		g.rows = slices.DeleteFunc(slices.Clone(g.rows), func(r row) bool { return !r.figure.Known })
		out = append(out, g)
	}
	return out
}

func (l *Library) listSources() (data.Value, view.Doc) {
	all := l.Bibliography()
	return entryList(all), view.Doc{Parts: []view.Part{view.Bibliography{Title: "Sources", Entries: all}}}
}

func (l *Library) showSource(key string) (data.Value, view.Doc) {
	e, _ := l.Source(key)
	var behind data.List
	table := view.Table{Caption: "Figures that rest on it", Columns: []view.Column{
		{Head: "Figure"}, {Head: "Value", Numeric: true}, {Head: "Confidence"},
	}}
	for path, f := range l.Figures() {
		if slices.Contains(f.Source, key) {
			behind = append(behind, data.Object{{Key: "figure", Value: data.Text(path)}}.With("value", f.value()))
			table.Rows = append(table.Rows, []string{path, f.Words(), string(f.Confidence)})
		}
	}
	parts := []view.Part{view.Bibliography{Title: "Source", Entries: []sources.Entry{e}}}
	if len(table.Rows) > 0 {
		parts = append(parts, table)
	}
	return entryValue(e).With("figures", behind), view.Doc{Parts: parts}
}

func entryValue(e sources.Entry) data.Object {
	year := textOrNull("")
	if e.Year > 0 {
		year = data.Number(e.Year)
	}
	return data.Object{
		{Key: "key", Value: data.Text(e.Key)},
		{Key: "title", Value: data.Text(e.Title)},
		{Key: "publisher", Value: data.Text(e.Publisher)},
		{Key: "year", Value: year},
		{Key: "number", Value: textOrNull(e.Number)},
		{Key: "url", Value: textOrNull(e.URL)},
		{Key: "kind", Value: data.Text(e.Kind)},
	}
}

func entryList(all []sources.Entry) data.List {
	out := make(data.List, len(all))
	for i, e := range all {
		out[i] = entryValue(e)
	}
	return out
}

func evidenceKeys(all []Evidence) []string {
	return ids(all, func(e Evidence) string { return e.Source })
}

func evidenceList(all []Evidence) data.List {
	out := make(data.List, len(all))
	for i, e := range all {
		out[i] = data.Object{
			{Key: "figure", Value: data.Text(e.Figure)},
			{Key: "source", Value: data.Text(e.Source)},
			{Key: "confidence", Value: data.Text(e.Confidence)},
		}
	}
	return out
}

func evidenceTable(all []Evidence) view.Table {
	table := view.Table{Caption: "What the sources say", Columns: []view.Column{
		{Head: "Figure"}, {Head: "Source"}, {Head: "Confidence"},
	}}
	for _, e := range all {
		table.Rows = append(table.Rows, []string{e.Figure, e.Source, string(e.Confidence)})
	}
	return table
}
