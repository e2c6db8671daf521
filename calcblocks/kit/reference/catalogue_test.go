package reference

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/view"
)

func catalogue(t *testing.T, what, id string) (data.Value, view.Doc) {
	t.Helper()
	value, doc, err := Default().Catalogue(what, id)
	require.NoError(t, err, "%s %s", what, id)
	require.NotEmpty(t, doc.Parts)
	return value, doc
}

func TestOverviewCounts(t *testing.T) {
	value, doc := catalogue(t, "", "")
	assert.Equal(t, data.Number(43), value.(data.Object).Get("amendments"))
	assert.Equal(t, data.Number(len(Default().SourceKeys())), value.(data.Object).Get("sources"))
	assert.Equal(t, []string{"crops", "41"}, doc.Parts[0].(view.Table).Rows[1])
}

func TestCatalogueErrorsHint(t *testing.T) {
	for _, c := range []struct{ what, id, message, hint string }{
		{"amendment", "", `there is no list "amendment" in the reference`, `did you mean "amendments"?`},
		{"pots", "", `there is no list "pots" in the reference`, "there are amendments, crops, containers, sources"},
		{"amendments", "kelp-meel", `there is no amendment "kelp-meel" in the reference`, `did you mean "kelp-meal"?`},
		{"amendments", "kelp", `there is no amendment "kelp" in the reference`, `did you mean "kelp-meal"?`},
		{"amendments", "unobtainium", `there is no amendment "unobtainium" in the reference`, "see the list of all 43"},
		{"crops", "Tomatoe", `there is no crop "Tomatoe" in the reference`, `did you mean "tomato"?`},
		{"", "kelp-meal", `a list is needed to look up "kelp-meal"`, "there are amendments, crops, containers, sources"},
	} {
		_, _, err := Default().Catalogue(c.what, c.id)
		var unknown *UnknownError
		require.True(t, errors.As(err, &unknown), c.message)
		assert.Equal(t, c.message, unknown.Error())
		assert.Equal(t, c.hint, unknown.Hint)
	}
}

func TestAmendmentEntry(t *testing.T) {
	value, doc := catalogue(t, "amendments", "greensand")
	o := value.(data.Object)
	n := o.Get("analysis_percent").(data.Object)
	assert.Equal(t, data.Null{}, n.Get("s"), "not known is null, never zero")
	potash := n.Get("k2o").(data.Object)
	assert.Equal(t, data.Number(0), potash.Get("typical"))
	for _, key := range []string{"low", "high", "unit", "basis", "source", "confidence"} {
		assert.NotNil(t, potash.Get(key), key)
	}
	assert.NotEqual(t, data.Null{}, o.Get("total_percent").(data.Object).Get("k2o"))
	text := flat(doc)
	assert.Contains(t, text, "not known")
	assert.Contains(t, text, "K2O, total")
	cautions := partOf[view.Cautions](doc)
	require.NotNil(t, cautions)
	assert.Equal(t, "Follow the label.", cautions.Items[0].Defer)
	assert.NotEmpty(t, partOf[view.Bibliography](doc).Entries)
}

func TestEveryEntryOfTheCatalogue(t *testing.T) {
	for _, s := range Default().shelves() {
		list, _ := catalogue(t, s.name, "")
		assert.Len(t, list, len(s.ids()), s.name)
		for i, id := range s.ids() {
			value, doc := catalogue(t, s.name, id)
			again, _ := catalogue(t, s.name, id)
			assert.Equal(t, data.JSON(value), data.JSON(again), "same input, same bytes")
			head := list.(data.List)[i].(data.Object)[0]
			assert.Equal(t, head.Value, value.(data.Object).Get(head.Key))
			data.Walk(value, func(path string, leaf data.Value) {
				assert.Equal(t, strings.ToLower(path), path, "keys are snake_case")
			})
			if s.name != "sources" {
				assert.NotNil(t, partOf[view.Bibliography](doc), id)
			}
			if i > 5 && s.name == "sources" {
				break // each walks all figures
			}
		}
	}
}

func TestFigureWords(t *testing.T) {
	for want, f := range map[string]Figure{
		"not known":        {},
		"2.7 % (2 to 3)":   {Known: true, Low: 2, Typical: 2.7, High: 3, Unit: "%"},
		"47 to 60 %":       {Known: true, Low: 47, Typical: 53.5, High: 60, Unit: "%", RangeOnly: true},
		"100 days or more": {Known: true, Low: 100, Typical: 100, High: 100, Unit: "days", RangeOnly: true, OpenHigh: true},
		"at most 5 %":      {Known: true, Low: 5, Typical: 5, High: 5, Unit: "%", RangeOnly: true, OpenLow: true},
		"5.5 to 6.8":       {Known: true, Low: 5.5, Typical: 6.15, High: 6.8, Unit: "pH", RangeOnly: true},
		"3.5":              {Known: true, Low: 3.5, Typical: 3.5, High: 3.5, Unit: "index"},
		"0 % (0 to 0.5)":   {Known: true, High: 0.5, Unit: "%"},
	} {
		assert.Equal(t, want, f.Words())
	}
	open := Figure{Known: true, Low: 5, Typical: 5, High: 5, RangeOnly: true, OpenHigh: true}.value().(data.Object)
	assert.Equal(t, data.Null{}, open.Get("high"))
	assert.Equal(t, data.Null{}, open.Get("typical"))
	assert.Equal(t, data.Number(5), open.Get("low"))
	assert.Equal(t, data.Null{}, Figure{}.value())
}

func TestCropContainerAndSourceEntries(t *testing.T) {
	basil, doc := catalogue(t, "crops", "basil")
	assert.NotEqual(t, data.Null{}, basil.(data.Object).Get("rest_years").(data.Object).Get("usual"))
	assert.Contains(t, flat(doc), "Never again in mix that has had basil wilt.")
	class, doc := catalogue(t, "containers", "nursery-class-5")
	volume := class.(data.Object).Get("volume_litres").(data.Object)
	assert.InDelta(t, 12.86, float64(volume.Get("low").(data.Number)), 0.01)
	assert.Contains(t, flat(doc), "12.86 to 20.35 L")
	assert.NotContains(t, flat(doc), "not known", "what a class cannot have is left out")
	source, doc := catalogue(t, "sources", "unh-wood-ash")
	assert.NotEmpty(t, source.(data.Object).Get("figures"))
	assert.Contains(t, flat(doc), "judging/wood_ash/cap/g_per_m2_year")
}

// partOf returns the first part of a type, or nil.
func partOf[P view.Part](doc view.Doc) *P {
	for _, part := range doc.Parts {
		if p, ok := part.(P); ok {
			return &p
		}
	}
	return nil
}

// flat returns every text of the tables, figures and paragraphs of a doc.
func flat(doc view.Doc) string {
	var b strings.Builder
	for _, part := range doc.Parts {
		switch p := part.(type) {
		case view.Paragraph:
			b.WriteString(p.Text + "\n")
		case view.Figures:
			for _, f := range p.Rows {
				b.WriteString(f.Label + " " + f.Value + " " + f.Note + "\n")
			}
		case view.Table:
			for _, r := range p.Rows {
				b.WriteString(strings.Join(r, " ") + "\n")
			}
		}
	}
	return b.String()
}
