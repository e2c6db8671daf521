package reference

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/sources"
)

func crop(t *testing.T, id string) *Crop {
	t.Helper()
	c, ok := Default().Crop(id)
	require.True(t, ok, id)
	return c
}

func TestCropFigures(t *testing.T) {
	tomato := crop(t, "tomato")
	n := tomato.Uptake[N]
	assert.Equal(t, Figure{
		Known: true, Low: 2.8, Typical: 2.8, High: 2.8, Unit: "g/kg",
		Basis: "kg of fresh marketable yield, whole plant", Source: []string{"hegde-1997"}, Confidence: sources.Derived,
	}, n)
	assert.Equal(t, []string{"hort-brasileira-41"}, tomato.Uptake[Ca].Source)
	assert.False(t, tomato.Uptake[S].Known)
	assert.Equal(t, 4.9, tomato.Yield.Typical)
	assert.True(t, tomato.Yield.RangeOnly)
	assert.Equal(t, []string{"planning-values", "vce-426-418", "wvu-tomatoes"}, tomato.Yield.Source)
	assert.Equal(t, sources.FromMemory, tomato.Yield.Confidence, "the weakest part counts")
	assert.Equal(t, []string{"iowa-state-containers", "umd-containers-earlier"}, tomato.MixMin.Source)
	assert.Equal(t, []string{"umd-containers"}, tomato.MixGood.Source)
	assert.Equal(t, -5.0, tomato.SowIndoors.Typical)
	assert.Equal(t, 2.0, tomato.Transplant.Typical, "the pick, not the middle")
	assert.Equal(t, 1.0, tomato.Transplant.Low)
	assert.False(t, tomato.SowOutdoors.Known)
	assert.Equal(t, "from transplant", tomato.DaysToMaturity.Basis)
	assert.Equal(t, 12.8, tomato.SoilRealistic.Typical)
}

func TestCropEdges(t *testing.T) {
	assert.False(t, crop(t, "melon").Uptake[N].Known, "no uptake at all")
	assert.True(t, crop(t, "celery").DaysToMaturity.OpenHigh, "100 days or more")
	assert.Empty(t, crop(t, "rosemary").DaysFrom)
	assert.Equal(t, "start of the count not stated", crop(t, "rosemary").DaysToMaturity.Basis)
	assert.Empty(t, crop(t, "strawberry").Hardiness)
	collards := crop(t, "collards")
	assert.True(t, collards.Uptake[N].Known)
	assert.False(t, collards.Uptake[K2O].Known)
	assert.Equal(t, []string{"planning-values", "usda-sr-legacy"}[1:], crop(t, "radish").Uptake[P2O5].Source)
	assert.Equal(t, []string{"rb209-6"}, crop(t, "radish").Uptake[N].Source)
}

func TestEmergence(t *testing.T) {
	beans := crop(t, "bush-bean")
	require.Len(t, beans.Emergence, 5)
	assert.False(t, beans.Emergence[0].Days.Known, "none came up at 10 C")
	assert.Equal(t, 16.0, beans.Emergence[1].Days.Typical)
	corn, ok := Default().GerminationOf("sweet-corn")
	require.True(t, ok, "seed of a plant that is no crop of the reference")
	assert.Equal(t, 12.8, corn.Realistic.Typical)
	_, ok = Default().GerminationOf("moss")
	assert.False(t, ok)
}

// Salinity of the crops is that of the table of a United States salinity laboratory in judging.yaml.
func TestSalinityAgreesWithTheTable(t *testing.T) {
	l := Default()
	for id, row := range map[string]string{
		"carrot": "carrot", "onion": "onion", "eggplant": "eggplant", "radish": "radish", "lettuce": "lettuce",
		"pepper": "pepper", "potato": "potato", "tomato-patio": "cherry tomato", "cabbage": "cabbage",
		"spinach": "spinach", "cucumber": "cucumber", "tomato": "tomato", "broccoli": "broccoli", "beet": "beet",
		"bush-bean": "bean", "strawberry": "strawberry",
	} {
		c := crop(t, id)
		assert.Equal(t, l.Number("judging", "salinity_table", "rows", row, "a"), c.Salinity.Threshold.Typical, id)
		assert.Equal(t, l.Number("judging", "salinity_table", "rows", row, "b"), c.Salinity.Slope.Typical, id)
	}
}

func TestCreditReadsEvidence(t *testing.T) {
	for line, want := range map[string]map[string][]string{
		"uptake n, p2o5, k2o (middle of ca to mg)": {"uptake": {"n", "p2o5", "k2o"}},
		"uptake":                                         {"uptake": {""}},
		"uptake, whole plant":                            {"uptake": {""}},
		"uptake n; offtake p2o5, k2o":                    {"uptake": {"n", "p2o5", "k2o"}},
		"p2o5, k2o of the pods":                          {"uptake": {"p2o5", "k2o"}},
		"uptake ratio N 1 : P2O5 0.5":                    nil,
		"mix_l_per_plant good, depth_cm upper end":       {"mix_l_per_plant": {"good"}, "depth_cm": {""}},
		"soil_temp_c min, low to high":                   {"soil_temp_c": {"min", "range", "range"}},
		"days_to_maturity low":                           {"days_to_maturity": {""}},
		"nearest published crop: leek, n 5.9 g/kg":       nil,
		"root length plus 5 cm":                          nil,
		"sow_indoors_weeks, transplant_weeks":            {"sow_indoors_weeks": {""}, "transplant_weeks": {""}},
		"yield_kg_per_plant, upper part (4.5 n to mg 6)": {"yield_kg_per_plant": {""}},
	} {
		assert.Equal(t, want, covered(line), line)
	}
}

func TestFamilies(t *testing.T) {
	l := Default()
	f, ok := l.FamilyOf("radish")
	require.True(t, ok)
	assert.Equal(t, "brassicaceae", f.ID)
	assert.Equal(t, 3.0, f.Interval.Typical)
	require.Len(t, f.After, 1)
	assert.Equal(t, "clubroot", f.After[0].Disease)
	assert.Equal(t, 7.0, f.After[0].Years.Typical)
	mint, _ := l.Family("lamiaceae")
	assert.True(t, mint.After[0].Never)
	mallow, _ := l.Family("malvaceae")
	assert.False(t, mallow.Interval.Known, "no published interval")
	_, ok = l.FamilyOf("moss")
	assert.False(t, ok)
	onion, _ := l.Family("amaryllidaceae")
	assert.True(t, onion.Published[1].Years.OpenHigh, "20 years or more")
}
