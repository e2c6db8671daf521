package reference

import (
	"strings"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/view"
)

func (l *Library) listAmendments() (data.Value, view.Doc) {
	var out data.List
	table := view.Table{Caption: "Amendments, typical percent as the reference gives them", Columns: []view.Column{
		{Head: "Id"},
		{Head: "Name"},
		{Head: "Class"},
		{Head: "Basis"},
		{Head: "N", Numeric: true},
		{Head: "P2O5", Numeric: true},
		{Head: "K2O", Numeric: true},
		{Head: "g/mL", Numeric: true},
	}}
	for _, a := range l.Amendments {
		label := group{"analysis_percent", "", []row{
			{"n", "N", a.Analysis[N]}, {"p2o5", "P2O5", a.Analysis[P2O5]}, {"k2o", "K2O", a.Analysis[K2O]},
		}, ""}
		rest := group{rows: []row{{"density_g_per_ml", "Density", a.Density}}}
		out = append(out, fields(a.head(), []group{label, rest}))
		cells := []string{a.ID, a.Name, a.Class, a.Basis}
		for _, r := range append(label.rows, rest.rows...) {
			cells = append(cells, typicalCell(r.figure))
		}
		table.Rows = append(table.Rows, cells)
	}
	return out, view.Doc{Parts: []view.Part{table}}
}

func typicalCell(f Figure) string {
	if !f.Known {
		return notKnown
	}
	return plain(f.Typical)
}

func (a *Amendment) head() data.Object {
	return data.Object{
		{Key: "id", Value: data.Text(a.ID)},
		{Key: "name", Value: data.Text(a.Name)},
		{Key: "also", Value: data.Texts(a.Also)},
		{Key: "class", Value: data.Text(a.Class)},
		{Key: "basis", Value: data.Text(a.Basis)},
	}
}

func (l *Library) showAmendment(id string) (data.Value, view.Doc) {
	a, _ := l.Amendment(id)
	groups := a.groups()
	called := l.calledFor(a)
	keys := union(keysOf(groups), evidenceKeys(a.Evidence))
	for _, c := range called {
		keys = union(keys, c.Source)
	}
	out := fields(a.head(), groups)
	out = out.With("practice_rate", textOrNull(a.PracticeRate)).With("limit_text", textOrNull(a.Limit.Text))
	out = out.With("hazards", data.Texts(a.Hazards)).With("cautions", data.Texts(a.Cautions))
	out = out.With("calls_for", data.Texts(ids(called, func(c *Caution) string { return c.ID })))
	out = out.With("evidence", evidenceList(a.Evidence)).With("sources", entryList(l.Entries(keys...)))
	return out, view.Doc{Parts: l.amendmentParts(a, groups, called, keys)}
}

func (a *Amendment) groups() []group {
	return []group{
		{"", "Material", []row{
			{"dry_matter_percent", "Dry matter", a.DryMatter},
			{"density_g_per_ml", "Density", a.Density},
			{"c_to_n", "C:N", a.CToN},
			{"lime_value_percent", "Lime value", a.LimeValue},
			{"salt_index", "Salt index", a.SaltIndex},
		}, ""},
		{"analysis_percent", "Analysis, percent of " + a.Analysis[N].Basis, nutrientRows(func(n Nutrient) Figure { return a.Analysis[n] }), a.AnalysisNote},
		{"as_is_percent", "Percent of the material as it is", nutrientRows(a.AsIs), ""},
		{"total_percent", "Total where it differs from available", a.totalRows(), ""},
		{"n_release_percent", "Nitrogen given off", []row{
			{"first_season", "First season", a.Release.FirstSeason},
			{"week2", "By week 2", a.Release.Week2},
			{"week8", "By week 8", a.Release.Week8},
			{"week12", "By week 12", a.Release.Week12},
			{"temperature_c", "Tested at", a.Release.Temperature},
		}, a.Release.Note},
		{"", "Phosphate and potash given off", []row{
			{"p2o5_release_percent", "P2O5, first season", a.PRelease}, {"k2o_release_percent", "K2O, first season", a.KRelease},
		}, ""},
		{"limit", "Usual most", []row{
			{"g_per_litre_of_mix", "Mixed in", a.Limit.GramsPerLitre},
			{"g_per_m2", "On the surface", a.Limit.GramsPerM2},
			{"percent_of_mix_volume", "Of the mix", a.Limit.PercentOfMix},
		}, ""},
	}
}

func nutrientRows(of func(Nutrient) Figure) []row {
	out := make([]row, len(Nutrients))
	for i, n := range Nutrients {
		out[i] = row{string(n), n.Symbol(), of(n)}
	}
	return out
}

func (a *Amendment) totalRows() []row {
	var out []row
	for _, n := range Nutrients {
		if f, ok := a.Totals[n]; ok {
			out = append(out, row{string(n), n.Symbol() + ", total", f})
		}
	}
	return out
}

// calledFor returns the cautions that the nature of the material calls for.
func (l *Library) calledFor(a *Amendment) []*Caution {
	var out []*Caution
	for _, c := range l.Cautions {
		if c.Always || c.Applies(a) {
			out = append(out, c)
		}
	}
	return out
}

func (l *Library) amendmentParts(a *Amendment, groups []group, called []*Caution, keys []string) []view.Part {
	out := []view.Part{view.Paragraph{Text: a.title()}}
	for _, g := range groups {
		if g.key == "as_is_percent" && a.Basis == "as-is" {
			continue // the same numbers again
		}
		out = append(out, parts([]group{g})...)
	}
	for _, text := range []string{a.Limit.Text, a.PracticeRate} {
		if text != "" {
			out = append(out, view.Paragraph{Text: text})
		}
	}
	return append(out, a.cautionPart(called), evidenceTable(a.Evidence), view.Bibliography{Title: "Sources", Entries: l.Entries(keys...)})
}

func (a *Amendment) title() string {
	text := a.Name + ": " + a.Class
	if len(a.Also) > 0 {
		text += "; also " + strings.Join(a.Also, ", ")
	}
	return text + "."
}

// cautionPart puts the material's own cautions before those that its hazards call for.
func (a *Amendment) cautionPart(called []*Caution) view.Cautions {
	out := view.Cautions{Title: "Cautions"}
	for _, text := range a.Cautions {
		out.Items = append(out.Items, view.Caution{Word: "This material", Text: text, Defer: "Follow the label."})
	}
	for _, c := range called {
		out.Items = append(out.Items, c.View())
	}
	return out
}
