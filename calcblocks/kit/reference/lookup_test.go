package reference

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/sources"
)

func at(t *testing.T, file string, path ...string) Figure {
	t.Helper()
	f, ok := Default().At(file, path...)
	require.True(t, ok, "%s %v", file, path)
	return f
}

func TestAtInheritsSourceAndConfidence(t *testing.T) {
	f := at(t, "judging", "wood_ash", "cap", "g_per_m2_year")
	assert.Equal(t, 98.0, f.Typical)
	assert.Equal(t, "g/m2 a year", f.Unit)
	assert.Equal(t, []string{"unh-wood-ash"}, f.Source)
	assert.Equal(t, sources.Derived, f.Confidence)

	f = at(t, "judging", "sme_classes", "ec", "optimum")
	assert.Equal(t, []float64{2, 3.5}, []float64{f.Low, f.High})
	assert.Equal(t, "mS/cm", f.Unit)
	assert.Equal(t, []string{"mu-greenhouse-media"}, f.Source)
	assert.Equal(t, sources.Checked, f.Confidence)

	f = at(t, "judging", "cation_balance", "k2o_season_max", "g_per_l")
	assert.Equal(t, []string{"derived-here"}, f.Source, "derived from others, no publication")
	assert.Equal(t, "litre of mix, soluble K2O in a season", f.Basis)
}

func TestAtReadsRangesAndPicks(t *testing.T) {
	top := at(t, "judging", "sme_classes", "ec", "very-high")
	assert.True(t, top.OpenHigh)
	assert.Equal(t, 5.0, top.Low)
	heavy := at(t, "judging", "nitrogen_targets", "heavy", "g_per_l")
	assert.Equal(t, []float64{0.7, 1, 1.2}, []float64{heavy.Low, heavy.Typical, heavy.High}, "the range beside it")
	ash := at(t, "judging", "wood_ash", "cap", "g_per_l_year")
	assert.Equal(t, []float64{0.3, 0.6, 0.8}, []float64{ash.Low, ash.Typical, ash.High})
	other := at(t, "judging", "wood_ash", "cap", "g_per_m2_year")
	assert.Equal(t, other.Low, other.High, "that range is not of this number")
	packing := at(t, "volumes", "packing", "ratio")
	assert.Equal(t, []float64{0.645, 0.8, 0.952}, []float64{packing.Low, packing.Typical, packing.High})
	recovery := at(t, "judging", "nitrogen_targets", "recovery")
	assert.Equal(t, []float64{0.5, 0.6, 0.7}, []float64{recovery.Low, recovery.Typical, recovery.High})
	inches := at(t, "volumes", "nursery_classes", "classes", "#5", "cubic_inches")
	assert.Equal(t, []float64{785, 1242}, []float64{inches.Low, inches.High})
	settle := at(t, "volumes", "settling_percent_of_fill_height", "default")
	assert.Equal(t, []float64{5, 15, 25}, []float64{settle.Low, settle.Typical, settle.High})
	bark := at(t, "volumes", "settling_percent_of_fill_height", "bark_or_perlite_rich")
	assert.Equal(t, bark.Low, bark.High)
}

func TestAtNamesMembersOfLists(t *testing.T) {
	l := Default()
	assert.Equal(t, 2.5, l.Number("judging", "salinity_table", "rows", "tomato", "a"))
	assert.Equal(t, 9.9, l.Number("judging", "salinity_table", "rows", "13", "b"), "by place from 0")
	assert.Equal(t, 4.5, l.Number("judging", "ph_lime_compost_grid", "ph_at_compost_percent", "0", "0"))
	assert.Equal(t, 0.436429, l.Number("volumes", "element_factors", "factors", "P2O5 to P", "factor"))
	assert.Equal(t, 0.183986, l.Number("volumes", "element_factors", "factors", "K2SO4 to S", "factor"))
	assert.Equal(t, 2.0, l.Number("judging", "ec_classes_by_method", "rows", "normal", "sme")-0.75)
	assert.Equal(t, 40.0, l.Number("volumes", "footprint_load", "code_figures", "decks, US model code", "lb_per_ft2"))
	by := at(t, "volumes", "round_pots_by_diameter", "rows", "12", "tip_sheet")
	assert.Equal(t, 3.0, by.Typical)
	assert.Equal(t, []string{"pot-tip-sheet"}, by.Source, "each column has its own")
	assert.Equal(t, sources.CommonPractice, by.Confidence)
	pail := at(t, "volumes", "common_containers", "pail-5-gallon", "brim_litres")
	assert.Equal(t, sources.Derived, pail.Confidence, "that of the volumes")
	assert.Equal(t, sources.FromMemory, at(t, "volumes", "common_containers", "pail-5-gallon", "top").Confidence)
}

func TestAtFindsNothing(t *testing.T) {
	l := Default()
	for _, path := range [][]string{
		{"judging", "wood_ash", "cap", "none"},
		{"judging", "wood_ash"},
		{"judging", "wood_ash", "cap", "rule"},
		{"judging", "sme_classes", "ca", "high"}, // null
		{"judging", "salinity_table", "rows", "99"},
		{"judging", "salinity_table", "rows", "-1"},
		{"judging", "release_model", "slow_pool", "2", "values"},
		{"judging", "wood_ash", "cap", "g_per_m2_year", "deeper"},
		{"nowhere", "wood_ash"},
		{"judging"},
	} {
		_, ok := l.At(path[0], path[1:]...)
		assert.False(t, ok, path)
	}
	assert.Panics(t, func() { l.Number("judging", "wood_ash", "cap", "none") })
	_, ok := l.Text("judging", "wood_ash", "cap")
	assert.False(t, ok, "a mapping is no text")
	rule, ok := l.Text("judging", "wood_ash", "cap", "rule")
	assert.True(t, ok)
	assert.Contains(t, rule, "98 g/m2")
}

func TestTheReaderReportsWhatItCannotRead(t *testing.T) {
	for text, want := range map[string]string{
		"amendments: [{id: a}]":         "missing",
		"amendments: [{id: a, nn: 2}]":  "unknown key",
		"amendments: {id: a}":           "a list is needed",
		"other: 1":                      "missing",
		"amendments: [{id: a, id: b}]":  "twice",
		"amendments: [{salt_index: x}]": "keys with values",
	} {
		assert.ErrorContains(t, readAmendments(text), want, text)
	}
}
