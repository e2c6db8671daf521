package balance_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/balance"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/view"
	"trug/calcblocks/recipe"
)

// shelf are the demo handbook's own files.
func shelf(t require.TestingT, handbook string) map[string]string {
	files := map[string]string{"handbook.yaml": handbook}
	for _, name := range []string{"cupboard.yaml", "pots.yaml"} {
		text, err := os.ReadFile("../../content/" + name)
		require.NoError(t, err)
		files[name] = string(text)
	}
	return files
}

func listing(t require.TestingT, doc view.Doc) string {
	for _, p := range doc.Parts {
		if l, ok := p.(view.Listing); ok {
			return l.Text
		}
	}
	require.Fail(t, "no listing")
	return ""
}

// TestUseAsRecipe: the listing is a recipe, and for the same container it gives the very same measures and
// grams, and the cost.
func TestUseAsRecipe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		files := shelf(t, "title: T\nmeasures: {main: "+rapid.SampledFrom([]string{"us", "metric", "uk", "australian"}).Draw(t, "set")+"}\nrounding: "+rapid.SampledFrom([]string{"fine", "household"}).Draw(t, "rounding")+"\n")
		size := rapid.SampledFrom([]string{"60 L", "5 gal", "blue-tub", "round 30 cm top 24 cm base 28 cm deep", "1.5 cu ft"}).Draw(t, "size")
		crop := rapid.SampledFrom([]string{"pepper", "tomato", "eggplant", "kale", "cucumber"}).Draw(t, "crop")
		b := blocktest.Compute(balance.Kind, blocktest.Input{ID: "b", Files: files, Body: "for: " + size + "\ncrop: " + crop + "\nplants: 2\n"})
		require.Empty(t, b.Printed())
		r := blocktest.Compute(recipe.Kind, blocktest.Input{ID: "r", Files: files, Body: listing(t, b.View)})
		require.Empty(t, r.Printed(), listing(t, b.View))
		amounts := b.Find("amounts").(data.List)
		require.NotEmpty(t, amounts)
		at := "sizes/" + data.Slug(sizeLabel(size)) + "/"
		require.Len(t, r.Find(at+"amounts"), len(amounts), listing(t, b.View))
		for _, a := range amounts {
			id := string(a.(data.Object).Get("amendment").(data.Text))
			for _, key := range []string{"grams/low", "grams/high"} {
				assert.InEpsilon(t, b.Number("amounts/"+id+"/"+key), r.Number(at+"amounts/"+id+"/"+key), 1e-9, id)
			}
			main := string(b.Garden.Handbook.Main)
			assert.Equal(t, b.Find("amounts/"+id+"/measure/"+main+"/low"), r.Find(at+"amounts/"+id+"/measure/"+main+"/low"), id)
		}
		assert.Equal(t, b.Find("cost/low"), r.Find(at+"cost/low"))
	})
}

func sizeLabel(size string) string {
	if size == "blue-tub" {
		return "Blue tub"
	}
	return size
}
