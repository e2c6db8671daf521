package recipe_test

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
	"trug/calcblocks/recipe"
)

// plain is a recipe of three amendments and compost, at six sizes.
const plain = `title: Renewal
for: 25 L
crop: kale
plants: 1
amounts:
  alfalfa-meal: 5 tbsp
  gypsum: 2 tsp
  feather-meal: 2 tsp
top: {compost: yard-compost, depth: 3 cm}
sizes: [5 L, 10 L, 20 L, 30 L, 50 L, blue-tub]
`

// demo is the folder of the demo handbook.
const demo = "../../content"

// court reads the grower's files of the demo handbook beside a reference of their own.
func court(tb testing.TB) (*reference.Library, *garden.Garden) {
	tb.Helper()
	lib, err := reference.Load()
	require.NoError(tb, err)
	var list diag.List
	g := garden.Open(os.DirFS(demo), "content", lib, list.Report)
	require.Zero(tb, list.Faults())
	return lib, g
}

// bodies returns every recipe of the demo handbook's notes by id.
func bodies(tb testing.TB) map[string]string {
	tb.Helper()
	out := map[string]string{}
	fence := regexp.MustCompile("(?s)```recipe ([a-z0-9-]+)\n(.*?)```")
	notes, err := filepath.Glob(demo + "/*/*.md")
	require.NoError(tb, err)
	for _, note := range notes {
		text, err := os.ReadFile(note)
		require.NoError(tb, err)
		for _, m := range fence.FindAllStringSubmatch(string(text), -1) {
			out[m[1]] = m[2]
		}
	}
	require.Greater(tb, len(out), 5)
	return out
}

func parsed(tb testing.TB, g *garden.Garden, body string) block.Block {
	tb.Helper()
	var list diag.List
	root := form.Read(form.FileSource(diag.NewFile("in.yaml", body), g.Values(), list.Report))
	require.NotNil(tb, root)
	b := recipe.Kind.Parse(root)
	require.Zero(tb, list.Faults())
	return b
}

// everything is all that a recipe computed, and what it tells another block of a pot, as text.
func everything(tb testing.TB, lib *reference.Library, g *garden.Garden, id string, b block.Block) string {
	var list diag.List
	r := b.Compute(&block.Pass{ID: id, Ref: lib, Garden: g, Report: list.Report})
	var out strings.Builder
	out.Write(data.JSON(r.Data))
	assert.NoError(tb, view.Text(&out, r.View))
	assert.NoError(tb, view.Text(&out, view.Doc{Parts: []view.Part{view.Working{Steps: r.Working}}}))
	for _, f := range r.Facts {
		if offer, ok := f.(facts.Recipe); ok {
			in, err := g.Container("17 L")
			assert.NoError(tb, err)
			told, _ := offer.For(in, nil, facts.Grown{})
			out.Write(data.JSON(told.Data))
			assert.NoError(tb, view.Text(&out, view.Doc{Parts: told.Parts}))
		}
	}
	assert.Zero(tb, list.Faults())
	return out.String()
}

// TestManyAtOnce: recipes that are computed at the same time, twice each, share the reference and the
// cupboard, and give what they give one after the other.
func TestManyAtOnce(t *testing.T) {
	all := bodies(t)
	ids := slices.Sorted(maps.Keys(all))
	lib, g := court(t)
	alone := map[string]string{}
	for _, id := range ids {
		alone[id] = everything(t, lib, g, id, parsed(t, g, all[id]))
	}
	lib, g = court(t)
	var work sync.WaitGroup
	for range 2 {
		for _, id := range ids {
			b := parsed(t, g, all[id])
			work.Go(func() { assert.Equal(t, alone[id], everything(t, lib, g, id, b), id) })
		}
	}
	work.Wait()
}

func BenchmarkCompute(b *testing.B) {
	lib, g := court(b)
	for _, c := range []struct{ name, body string }{{"plain", plain}, {"choice", bodies(b)["spring-tubs"]}} {
		b.Run(c.name, func(b *testing.B) {
			r := parsed(b, g, c.body)
			b.ReportAllocs()
			for b.Loop() {
				r.Compute(&block.Pass{ID: c.name, Ref: lib, Garden: g, Report: func(diag.Diagnostic) {}})
			}
		})
	}
}

func BenchmarkParse(b *testing.B) {
	_, g := court(b)
	body := bodies(b)["spring-tubs"]
	b.ReportAllocs()
	for b.Loop() {
		parsed(b, g, body)
	}
}
