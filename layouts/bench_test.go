package layouts_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/view"
	"trug/calcblocks/recipe"
	"trug/layouts"
)

// shelves are the grower's files of the recipes below.
var shelves = map[string]string{
	"handbook.yaml": "title: Potting bench\nmeasures: {main: us, also: [metric]}\ncurrency: EUR\n",
	"pots.yaml":     "tub: {name: Tub, shape: round 40 cm top 32 cm base 38 cm deep, fill: 34 cm}\n",
	"cupboard.yaml": "feather-meal: {label: {n: 12, p2o5: 0, k2o: 0}, cup weighs: 104 g, packs: [{holds: 1 kg, price: 8.00}]}\n",
}

// Every second recipe is for a crop, and every fourth has a choice.
var bodies = []string{
	"for: 20 L\namounts: {alfalfa-meal: 4 tbsp, gypsum: 2 tsp}\n",
	"for: 30 L\ncrop: pepper\nplants: 1\namounts: {alfalfa-meal: 6 tbsp, gypsum: 1 tsp, feather-meal: 3 tsp}\n",
	"for: 45 L\namounts: {alfalfa-meal: 9 tbsp, gypsum: 3 tsp, feather-meal: 2 tsp}\n",
	"for: 25 L\ncrop: kale\nplants: 1\namounts:\n  alfalfa-meal: 5 tbsp\n  gypsum: 4 tsp\n  potash, one of: {kelp-meal: 2 tbsp, langbeinite: 1 tsp}\n",
}

// recipes computes them, each at six sizes and with compost on top.
func recipes(tb testing.TB) map[string]view.Doc {
	tb.Helper()
	out := map[string]view.Doc{}
	for i, body := range bodies {
		id := fmt.Sprintf("recipe-%d", i)
		body = "title: Renewal\n" + body + "top: {compost: yard-compost, depth: 3 cm}\nsizes: [5 L, 10 L, 20 L, 30 L, 50 L, tub]\n"
		result := blocktest.Compute(recipe.Kind, blocktest.Input{Files: shelves, ID: id, Body: body})
		require.Empty(tb, result.Printed())
		out[id] = result.View
	}
	return out
}

// places are where a handbook shows each recipe: in its note, on its own page, and on that of all notes.
func places(id string) []layouts.Context {
	return []layouts.Context{
		{Root: "../../", BlockID: id, Heading: 3, InNote: true, Main: "us", How: "../../how/recipe/index.html"},
		{Root: "../../", BlockID: id, Heading: 2, Main: "us", How: "../../how/recipe/index.html"},
		{Root: "../", BlockID: id, Heading: 4, InNote: true, Main: "us", How: "../how/recipe/index.html"},
	}
}

// BenchmarkParts prints each recipe anew at each of its places, BenchmarkPrinted once for all of them.
func BenchmarkParts(b *testing.B) {
	benchmark(b, func(look *layouts.Layouts, id string, doc view.Doc) error {
		for _, at := range places(id) {
			if _, err := look.Parts(doc, at); err != nil {
				return err
			}
		}
		return nil
	})
}

func BenchmarkPrinted(b *testing.B) {
	benchmark(b, func(look *layouts.Layouts, id string, doc view.Doc) error {
		printed, err := look.Print(doc, places(id)[0])
		for _, at := range places(id) {
			if _, atErr := printed.At(at); atErr != nil {
				return atErr
			}
		}
		return err
	})
}

func benchmark(b *testing.B, print func(look *layouts.Layouts, id string, doc view.Doc) error) {
	docs := recipes(b)
	look, err := layouts.New(nil)
	require.NoError(b, err)
	for b.Loop() {
		for id, doc := range docs {
			require.NoError(b, print(look, id, doc))
		}
	}
}
