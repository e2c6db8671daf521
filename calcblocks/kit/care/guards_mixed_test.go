package care_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
)

func named(t *testing.T, ids ...string) []*garden.Material {
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

func raised(guards []care.Guard) string {
	var out []string
	for _, g := range guards {
		out = append(out, g.ID)
	}
	return strings.Join(out, " ")
}

// TestAshCompany: ash speaks of others only where it is there, and a meal that gives off no ammonia is no rich one.
func TestAshCompany(t *testing.T) {
	lib := reference.Default()
	for all, want := range map[string]string{
		"wood-ash": "", "blood-meal calcitic-lime": "", "wood-ash kelp-meal": "",
		"wood-ash blood-meal": "ash-with-nitrogen", "calcitic-lime wood-ash": "ash-with-lime", "wood-ash blood-meal dolomitic-lime": "ash-with-nitrogen ash-with-lime",
	} {
		got := care.AshCompany(lib, named(t, strings.Fields(all)...))
		assert.Equal(t, want, raised(got), all)
		for _, g := range got {
			assert.NotEmpty(t, g.Sources, g.ID)
		}
	}
}

// TestOpposedPH: what lowers pH with what raises it; gypsum does neither (amendments.yaml, classes).
func TestOpposedPH(t *testing.T) {
	for all, want := range map[string]string{
		"sulfur-powder": "", "wood-ash calcitic-lime": "", "sulfur-powder gypsum": "",
		"sulfur-powder wood-ash": "opposed-ph", "dolomitic-lime sulfur-granular": "opposed-ph",
	} {
		got := care.OpposedPH(named(t, strings.Fields(all)...))
		assert.Equal(t, want, raised(got), all)
		for _, g := range got {
			assert.NotEmpty(t, g.Sources, all)
		}
	}
}

// TestOwnShare: castings to 20 % (amendments.yaml); yard compost has the limit of any compost, which is told elsewhere.
func TestOwnShare(t *testing.T) {
	lib := reference.Default()
	castings, yard := named(t, "worm-castings")[0], named(t, "yard-compost")[0]
	assert.Empty(t, care.OwnShare(lib, castings, 20))
	assert.Equal(t, "over-limit", raised(care.OwnShare(lib, castings, 20.1)))
	assert.Empty(t, care.OwnShare(lib, yard, 60))
	assert.Equal(t, "compost-share", raised(care.CompostShare(lib, 60)))
}

// TestLimeInCompost: from 25 % compost on (judging.yaml, compost_limits).
func TestLimeInCompost(t *testing.T) {
	lib := reference.Default()
	assert.Empty(t, care.LimeInCompost(lib, named(t, "calcitic-lime"), 24.9))
	assert.Equal(t, "lime-in-compost", raised(care.LimeInCompost(lib, named(t, "calcitic-lime"), 25)))
	assert.Empty(t, care.LimeInCompost(lib, named(t, "gypsum"), 60))
}

// TestLimitsTellApart: at a limit nothing speaks, and just above it the two figures do not print alike.
func TestLimitsTellApart(t *testing.T) {
	lib, kelp := reference.Default(), named(t, "kelp-meal")[0]
	limit := kelp.Ref.Limit.GramsPerLitre
	assert.Empty(t, care.Over(kelp, limit.Typical, "g per litre of mix", limit, ""))
	over := care.Over(kelp, limit.Typical+0.001, "g per litre of mix", limit, "")
	require.Len(t, over, 1)
	assert.Contains(t, over[0].Text, "2.921 g per litre of mix; the usual most is 2.92.")
	assert.Empty(t, care.Over(kelp, 1000, "g", reference.Figure{}, ""), "no limit is known")

	assert.Empty(t, care.FastNitrogen(lib, 0.5, "meal"))
	fast := care.FastNitrogen(lib, 0.501, "meal")
	require.Len(t, fast, 1)
	assert.Contains(t, fast[0].Text, "0.501 g of fast nitrogen")
	assert.Contains(t, fast[0].Text, "above 0.5 g")
}

// TestCoarseMeasure: 10 % pass, 34 % on household steps (half a step of 21 CFR 101.9).
func TestCoarseMeasure(t *testing.T) {
	m := named(t, "gypsum")[0]
	for _, c := range []struct {
		percent   float64
		household bool
		speaks    string
	}{{10, false, ""}, {-10, false, ""}, {10.1, false, "more"}, {-10.1, false, "less"}, {34, true, ""}, {34.1, true, "more"}} {
		got := care.CoarseMeasure(m, c.percent, c.household)
		if c.speaks == "" {
			assert.Empty(t, got, c.percent)
			continue
		}
		require.Len(t, got, 1, c.percent)
		assert.Contains(t, got[0].Text, "% "+c.speaks+" than asked")
		assert.NotEmpty(t, got[0].Sources)
	}
}
