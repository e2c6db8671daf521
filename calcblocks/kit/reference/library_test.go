package reference

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
)

func TestLoad(t *testing.T) {
	l, err := Load()
	require.NoError(t, err)
	assert.Len(t, l.Amendments, 43)
	assert.Len(t, l.Crops, 41)
	assert.Len(t, l.Families, 13)
	assert.Len(t, l.Cautions, 28)
	assert.Len(t, l.Containers, 8+9+10+6+6+7)
	assert.Len(t, l.Hazards, 46)
	assert.Len(t, l.Tasks, 19)
	assert.Same(t, Default(), Default(), "read once")
}

func TestIDsAreUnique(t *testing.T) {
	l := Default()
	cautions := ids(l.Cautions, func(c *Caution) string { return c.ID })
	for _, all := range [][]string{l.AmendmentIDs(), l.CropIDs(), l.FamilyIDs(), l.ContainerIDs(), cautions, l.Hazards, l.Tasks} {
		sorted := slices.Sorted(slices.Values(all))
		assert.Equal(t, sorted, slices.Compact(slices.Clone(sorted)))
	}
}

func TestLookups(t *testing.T) {
	l := Default()
	a, ok := l.Amendment("kelp-meal")
	require.True(t, ok)
	assert.Equal(t, "kelp-meal", a.ID)
	for _, miss := range []func() bool{
		func() bool { _, ok := l.Amendment("kelp"); return ok },
		func() bool { _, ok := l.Crop(""); return ok },
		func() bool { _, ok := l.Family("rose"); return ok },
		func() bool { _, ok := l.Container("tub"); return ok },
		func() bool { _, ok := l.Caution("none"); return ok },
		func() bool { _, ok := l.Source("none"); return ok },
		func() bool { _, ok := l.Prose("none"); return ok },
	} {
		assert.False(t, miss())
	}
}

func TestEveryReferenceExists(t *testing.T) {
	l := Default()
	for _, a := range l.Amendments {
		assert.Subset(t, l.Hazards, a.Hazards, a.ID)
		assert.Contains(t, []string{"as-is", "dry"}, a.Basis, a.ID)
		assert.NotEmpty(t, a.Evidence, a.ID)
	}
	for _, c := range l.Cautions {
		assert.Subset(t, l.Hazards, slices.Concat(c.Hazards, c.WithHazards), c.ID)
		assert.Subset(t, l.Tasks, c.Tasks, c.ID)
		assert.Subset(t, l.AmendmentIDs(), c.Amendments, c.ID)
		assert.Subset(t, []string{"label", "local-code", "licensed-practice"}, c.DeferTo, c.ID)
		assert.NotEmpty(t, c.DeferTo, "%s: every caution defers to something", c.ID)
		assert.Contains(t, confidences, c.Confidence, c.ID)
		assertSources(t, l, c.ID, c.Source...)
	}
	for _, c := range l.Crops {
		family, ok := l.Family(c.Family)
		require.True(t, ok, c.ID)
		assert.Contains(t, family.Members, c.ID)
		assert.Contains(t, []string{"heavy", "medium", "light"}, c.Feeder, c.ID)
		assert.Contains(t, []string{"hardy", "half-hardy", "tender", "very-tender", ""}, c.Hardiness, c.ID)
	}
}

// A hazard word without a caution of its own, or a material that carries one, would say nothing to anybody.
func TestEveryHazardWordIsUsed(t *testing.T) {
	l := Default()
	var used []string
	for _, c := range l.Cautions {
		used = append(used, slices.Concat(c.Hazards, c.WithHazards)...)
	}
	for _, a := range l.Amendments {
		used = append(used, a.Hazards...)
		assert.Equal(t, len(a.Hazards) > 0, len(a.Cautions) > 0, "%s: hazards are told in words", a.ID)
	}
	assert.Equal(t, union(l.Hazards), union(used))
}

func TestEvidenceIsSourced(t *testing.T) {
	l := Default()
	check := func(id string, all []Evidence) {
		for _, e := range all {
			assertSources(t, l, id, e.Source)
			assert.Contains(t, confidences, e.Confidence, "%s: %s", id, e.Figure)
		}
	}
	for _, a := range l.Amendments {
		check(a.ID, a.Evidence)
	}
	for _, c := range l.Crops {
		check(c.ID, c.Evidence)
	}
	for _, f := range l.Families {
		for _, p := range f.Published {
			check(f.ID, []Evidence{p.By})
		}
	}
}

func assertSources(t *testing.T, l *Library, id string, keys ...string) {
	t.Helper()
	assert.NotEmpty(t, keys, id)
	for _, key := range keys {
		_, ok := l.Source(key)
		assert.True(t, ok, "%s: no source %q", id, key)
	}
}

func TestBibliographyIsMerged(t *testing.T) {
	l := Default()
	all := l.Bibliography()
	assert.Greater(t, len(all), 300)
	assert.True(t, slices.IsSortedFunc(all, func(a, b sources.Entry) int { return strings.Compare(a.Key, b.Key) }))
	for _, e := range all {
		assert.NotEmpty(t, e.Title, e.Key)
		assert.NotEmpty(t, e.Publisher, e.Key)
	}
	both := l.Entries("ucum", "planning-values", "ucum", "no-such-key")
	assert.Equal(t, []string{"planning-values", "ucum"}, ids(both, func(e sources.Entry) string { return e.Key }))
}

// A key that stands in both source files must have one entry: the reader refuses a second one.
func TestTwoEntriesOfOneKeyAreRefused(t *testing.T) {
	entry := "sources:\n  - {key: a, title: \"One\", publisher: p, year: 2001, number: null, url: null, kind: paper}\n"
	other := strings.Replace(entry, "One", "Two", 1)
	assert.Zero(t, merged(entry, entry), "the same entry twice is one")
	assert.Equal(t, 1, merged(entry, other))
	assert.Equal(t, 1, merged(entry+entry[len("sources:\n"):], entry), "twice in one file is a slip")
	assert.Equal(t, 1, merged(strings.Replace(entry, "paper", "rumour", 1)))
	assert.Equal(t, 1, merged(strings.Replace(entry, "2001", "lately", 1)))
}

func merged(texts ...string) int {
	list := &diag.List{}
	r := &reader{list: list}
	var roots []*form.Node
	for _, text := range texts {
		file := diag.NewFile("sources.yaml", text)
		roots = append(roots, form.Read(form.FileSource(file, units.Parser{Set: units.US}, list.Report)))
	}
	r.bibliography(roots...)
	return list.Faults()
}

func TestSharedKeysOfTheTwoSourceFilesAgree(t *testing.T) {
	r := &reader{list: &diag.List{}}
	first, second := r.bibliography(r.open("sources")), r.bibliography(r.open("crop-sources"))
	require.NoError(t, r.err())
	shared := 0
	for key, e := range first {
		if other, both := second[key]; both {
			shared++
			assert.Equal(t, e, other)
		}
	}
	assert.Greater(t, shared, 10, "the two files share keys")
	assert.Len(t, Default().SourceKeys(), len(first)+len(second)-shared)
}

func TestProseStandsBesideTheFigures(t *testing.T) {
	for _, name := range []string{"amendments", "nutrition", "season", "volumes"} {
		text, ok := Default().Prose(name)
		assert.True(t, ok)
		assert.True(t, strings.HasPrefix(text, "# "), name)
	}
}

func readAmendments(text string) error {
	r := &reader{list: &diag.List{}}
	file := diag.NewFile("a.yaml", text)
	if root := form.Read(form.FileSource(file, units.Parser{Set: units.US}, r.list.Report)); root != nil {
		r.amendments(root)
	}
	return r.err()
}
