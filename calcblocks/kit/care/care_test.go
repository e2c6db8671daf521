package care_test

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

var lib = reference.Default()

func materials(t *testing.T, ids ...string) []*garden.Material {
	t.Helper()
	g := blocktest.Open(nil, &diag.List{})
	var out []*garden.Material
	for _, id := range ids {
		m, ok := g.Material(id)
		require.True(t, ok, id)
		out = append(out, m)
	}
	return out
}

func ids(cautions []*reference.Caution) []string {
	var out []string
	for _, c := range cautions {
		out = append(out, c.ID)
	}
	return out
}

// TestConcerning: by hazard and task, by amendment and task, by task alone, always.
func TestConcerning(t *testing.T) {
	always := []string{"legionella-in-mix", "label-and-law"}
	assert.Equal(t, always, ids(care.Concerning(lib, nil, nil)), "what always applies")
	assert.Equal(t, always, ids(care.Concerning(lib, materials(t, "alfalfa-meal"), nil)), "a hazard on a shelf is not work")
	assert.Contains(t, ids(care.Concerning(lib, materials(t, "alfalfa-meal"), []string{"mixing"})), "dust", "by hazard")
	assert.NotContains(t, ids(care.Concerning(lib, materials(t, "langbeinite"), []string{"mixing"})), "dust")
	assert.Contains(t, ids(care.Concerning(lib, materials(t, "calcitic-lime"), []string{"mixing"})), "lime-kind", "by amendment")
	assert.NotContains(t, ids(care.Concerning(lib, materials(t, "gypsum"), []string{"mixing"})), "lime-kind")
	assert.Contains(t, ids(care.Concerning(lib, nil, []string{"lifting"})), "lifting", "by task alone")
	assert.Contains(t, ids(care.Concerning(lib, nil, []string{"placing-on-balcony"})), "balcony-load")
	assert.NotContains(t, ids(care.Concerning(lib, nil, []string{"lifting"})), "balcony-load")
}

// TestWithHazards: the caution on ash and ammonia needs both, in two materials: ash itself is listed with the
// hazard, since it drives ammonia out of others.
func TestWithHazards(t *testing.T) {
	mixing := []string{"mixing"}
	ash, _ := lib.Amendment("wood-ash")
	require.Contains(t, ash.Hazards, "ammonia")
	const id = "ash-with-nitrogen"
	assert.NotContains(t, ids(care.Concerning(lib, materials(t, "wood-ash"), mixing)), id, "not ash alone")
	assert.NotContains(t, ids(care.Concerning(lib, materials(t, "blood-meal", "alfalfa-meal"), mixing)), id, "not meals alone")
	assert.NotContains(t, ids(care.Concerning(lib, materials(t, "wood-ash", "kelp-meal"), mixing)), id, "kelp has no ammonia")
	assert.Contains(t, ids(care.Concerning(lib, materials(t, "wood-ash", "blood-meal"), mixing)), id)
	assert.Contains(t, ids(care.Concerning(lib, materials(t, "blood-meal", "kelp-meal", "wood-ash"), mixing)), id, "in any order")
	assert.NotContains(t, ids(care.Concerning(lib, materials(t, "wood-ash", "blood-meal"), []string{"lifting"})), id)
}

// TestEveryCautionCanBeReached: for each caution some work with some amendments calls for it, but for those
// whose hazards no amendment of the reference has.
func TestEveryCautionCanBeReached(t *testing.T) {
	all := materials(t, lib.AmendmentIDs()...)
	reached := ids(care.Concerning(lib, all, lib.Tasks))
	var lost []string
	for _, c := range lib.Cautions {
		if !care.Overlap([]string{c.ID}, reached) {
			lost = append(lost, c.ID)
		}
	}
	assert.Equal(t, []string{"hydrated-lime", "iron", "lead-city-soil"}, lost)
}

// TestCompostShare: 33 % and 50 % are within, and rounding of the arithmetic is no excess.
func TestCompostShare(t *testing.T) {
	for percent, word := range map[float64]string{
		0: "", 25: "", 33: "", 33 + 1e-12: "", 33.1: "Much compost", 50: "Much compost", 50.1: "Too much compost without a test", 100: "Too much compost without a test",
	} {
		guards := care.CompostShare(lib, percent)
		if word == "" {
			assert.Empty(t, guards, percent)
			continue
		}
		require.Len(t, guards, 1, percent)
		assert.Equal(t, word, guards[0].Word)
		assert.NotEmpty(t, guards[0].Sources)
	}
}

// TestTree: a guard takes the place of the caution with its id; notes stay in the data and out of the warnings.
func TestTree(t *testing.T) {
	guards := []care.Guard{{ID: "ash-with-nitrogen", Word: "Ash", Text: "with numbers", Sources: []string{"a"}}, {ID: "assumed-shape", Text: "a note", Note: true}}
	caution, ok := lib.Caution("ash-with-nitrogen")
	require.True(t, ok)
	other, _ := lib.Caution("dust")
	out := blocktest.Output{}
	out.Data = out.Data.With("cautions", care.Tree(guards, []*reference.Caution{caution, other}))
	assert.Equal(t, []string{"ash-with-nitrogen", "assumed-shape", "dust"}, out.Cautions(""))
	assert.EqualValues(t, "with numbers", out.Find("cautions/ash-with-nitrogen/text"))
	assert.Equal(t, []view.Caution{{ID: "ash-with-nitrogen", Word: "Ash", Text: "with numbers", Sources: []string{"a"}, Guard: true}}, care.GuardViews(guards))
	assert.Equal(t, []string{"a note"}, care.Notes(guards))
}

// TestEntries: each key once, in order, and a key that is no source is left out.
func TestEntries(t *testing.T) {
	g := blocktest.Open(nil, &diag.List{})
	entries := care.Entries(g, []string{"rader-1943", "asce-7-10", "rader-1943", "nothing-of-the-kind"})
	require.Len(t, entries, 2)
	assert.Equal(t, "asce-7-10", entries[0].Key)
	out := blocktest.Output{}
	out.Data = out.Data.With("sources", care.SourceTree(entries))
	assert.NotNil(t, out.Find("sources/rader-1943/title"))
	assert.NotNil(t, out.Find("sources/rader-1943/url"), "null where it is not known, but there")
}

func TestInWords(t *testing.T) {
	m := materials(t, "calcitic-lime", "kelp-meal")
	assert.Equal(t, "calcitic lime", care.InWords(m[0]))
	assert.Equal(t, "kelp meal", care.InWords(m[1]))
}

// TestNoVerdict: no caution of the reference says that something is safe, or unsafe.
func TestNoVerdict(t *testing.T) {
	verdict := regexp.MustCompile(`(?i)\b(?:un)?safe(?:ly|r|st)?\b`)
	require.Greater(t, len(lib.Cautions), 20)
	for _, c := range lib.Cautions {
		assert.NotRegexp(t, verdict, c.View().Word+" "+c.View().Text+" "+c.View().Defer, c.ID)
	}
	for _, a := range lib.Amendments {
		for _, text := range append([]string{a.Limit.Text, a.AnalysisNote, a.PracticeRate}, a.Cautions...) {
			assert.NotRegexp(t, verdict, text, a.ID)
		}
	}
}
