package reference

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/view"
)

func (c *Crop) head() data.Object {
	return data.Object{
		{Key: "id", Value: data.Text(c.ID)},
		{Key: "name", Value: data.Text(c.Name)},
		{Key: "family", Value: data.Text(c.Family)},
		{Key: "feeder", Value: textOrNull(c.Feeder)},
		{Key: "hardiness", Value: textOrNull(c.Hardiness)},
	}
}

func (l *Library) listCrops() (data.Value, view.Doc) {
	var out data.List
	table := view.Table{Caption: "Crops", Columns: []view.Column{
		{Head: "Id"},
		{Head: "Name"},
		{Head: "Family"},
		{Head: "Feeder"},
		{Head: "Hardiness"},
		{Head: "Litres a plant", Numeric: true},
		{Head: "N, g/kg", Numeric: true},
	}}
	for _, c := range l.Crops {
		n := c.Uptake[N]
		brief := group{rows: []row{{"mix_good_litres", "", c.MixGood}, {"uptake_n_g_per_kg", "", n}}}
		out = append(out, fields(c.head(), []group{brief}))
		table.Rows = append(table.Rows, []string{
			c.ID, c.Name, c.Family, orNotKnown(c.Feeder), orNotKnown(c.Hardiness), typicalCell(c.MixGood), typicalCell(n),
		})
	}
	return out, view.Doc{Parts: []view.Part{table}}
}

func orNotKnown(s string) string {
	if s == "" {
		return notKnown
	}
	return s
}

func (l *Library) showCrop(id string) (data.Value, view.Doc) {
	c, _ := l.Crop(id)
	family, _ := l.Family(c.Family)
	groups := append(c.groups(), family.groups()...)
	keys := union(keysOf(groups), evidenceKeys(c.Evidence))
	out := fields(c.head(), groups).With("days_from", textOrNull(c.DaysFrom)).With("note", textOrNull(c.Note))
	out = out.With("discard_mix_after", data.Texts(family.Discard)).With("related", textOrNull(family.Related))
	out = out.With("evidence", evidenceList(c.Evidence)).With("sources", entryList(l.Entries(keys...)))
	doc := view.Doc{Parts: []view.Part{view.Paragraph{Text: c.title(family)}}}
	doc.Parts = append(doc.Parts, parts(groups)...)
	doc.Parts = append(doc.Parts, family.publishedTable())
	for _, text := range []string{c.Note, family.Related} {
		if text != "" {
			doc.Parts = append(doc.Parts, view.Paragraph{Text: text})
		}
	}
	doc.Parts = append(doc.Parts, evidenceTable(c.Evidence), view.Bibliography{Title: "Sources", Entries: l.Entries(keys...)})
	return out, doc
}

func (c *Crop) title(f *Family) string {
	return fmt.Sprintf("%s: %s; feeder %s, hardiness %s.", c.Name, f.Name, orNotKnown(c.Feeder), orNotKnown(c.Hardiness))
}

func (c *Crop) groups() []group {
	return []group{
		{"uptake_g_per_kg", "Uptake, g per kg of yield", nutrientRows(func(n Nutrient) Figure { return c.Uptake[n] }), ""},
		{"", "Room and yield", []row{
			{"yield_kg_per_plant", "Yield a plant", c.Yield},
			{"mix_min_litres", "Mix a plant, at least", c.MixMin},
			{"mix_good_litres", "Mix a plant, good", c.MixGood},
			{"depth_cm", "Depth of mix", c.Depth},
		}, ""},
		{"", "Tolerance", []row{
			{"ph", "pH", c.PH},
			{"salinity_threshold_ds_m", "Salt threshold", c.Salinity.Threshold},
			{"salinity_slope_percent_per_ds_m", "Yield lost above it", c.Salinity.Slope},
		}, ""},
		{"", "Season", []row{
			{"transplant_age_weeks", "Age when planted out", c.TransplantAge},
			{"sow_indoors_weeks", "Sow indoors", c.SowIndoors},
			{"sow_outdoors_weeks", "Sow outdoors", c.SowOutdoors},
			{"transplant_weeks", "Plant out", c.Transplant},
			{"soil_min_c", "Soil, least", c.SoilMin},
			{"soil_optimum_c", "Soil, best", c.SoilOptimum},
			{"soil_range_c", "Soil, good range", c.SoilRange},
			{"soil_realistic_c", "Soil, realistic", c.SoilRealistic},
			{"days_to_maturity", "Days to maturity", c.DaysToMaturity},
		}, ""},
		{"emergence_days", "Days to emergence", c.emergenceRows(), ""},
	}
}

func (c *Crop) emergenceRows() []row {
	var out []row
	for _, e := range c.Emergence {
		at := plain(e.TemperatureC)
		out = append(out, row{"at_" + at + "_c", "At " + at + " C", e.Days})
	}
	return out
}

func (f *Family) groups() []group {
	rest := group{"rest_years", "Years without a host in the same mix", []row{{"usual", "Usual", f.Interval}}, ""}
	for _, after := range f.After {
		if after.Never {
			rest.note = "Never again in mix that has had " + after.Disease + "."
			continue
		}
		key := "after_" + strings.ReplaceAll(after.Disease, " ", "_")
		rest.rows = append(rest.rows, row{key, "After " + after.Disease, after.Years})
	}
	return []group{rest}
}

func (f *Family) publishedTable() view.Table {
	table := view.Table{Caption: "Published on the family", Columns: []view.Column{
		{Head: "Finding"}, {Head: "Years"}, {Head: "Source"}, {Head: "Confidence"},
	}}
	for _, p := range f.Published {
		table.Rows = append(table.Rows, []string{p.What, p.Years.Words(), p.By.Source, string(p.By.Confidence)})
	}
	if len(f.Discard) > 0 {
		note := fmt.Sprintf("Throw the mix away after any of these (%s): ", f.DiscardConfidence)
		table.Notes = append(table.Notes, note+strings.Join(f.Discard, "; ")+".")
	}
	return table
}
