package recipe

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/view"
)

const ownRecipe = `title: Own
for: 5 gal
amounts:
  alfalfa-meal: 1/2 to 3 cups
  feather-meal: 1/16 tsp
  gypsum: 2 oz
  potash, one of:
    kelp-meal: a handful
    langbeinite: 1/2 oz to 2 oz
`

func sizesOf(t *testing.T, doc view.Doc) view.Sizes {
	t.Helper()
	for _, p := range doc.Parts {
		if s, ok := p.(view.Sizes); ok {
			return s
		}
	}
	require.Fail(t, "no sizes")
	return view.Sizes{}
}

func looked(steps []view.OwnStep, at int) string {
	text := ""
	for _, s := range steps {
		if s.From > at {
			break
		}
		text = s.Text
	}
	return text
}

// The table of "my pot" gives what the recipe gives when it is asked for that very container: at 100 sizes
// by chance, and on both sides of each of the first steps.
func TestOwnPotAgrees(t *testing.T) {
	for _, rounding := range []string{"fine", "household"} {
		files := map[string]string{"handbook.yaml": "rounding: " + rounding + "\nmeasures: {main: us, also: [metric, australian]}\n"}
		out := blocktest.Compute(Kind, blocktest.Input{ID: "own", Body: ownRecipe, Files: files})
		require.Empty(t, out.Printed())
		own := sizesOf(t, out.View).Own
		require.NotNil(t, own)
		require.Len(t, own.Rows, 5)
		sizes := []int{own.From, own.To}
		chance := rand.New(rand.NewPCG(7, 11))
		for range 100 {
			sizes = append(sizes, own.From+chance.IntN(own.To-own.From))
		}
		for _, row := range own.Rows {
			for _, s := range row.Measures["us"][1:min(12, len(row.Measures["us"]))] {
				sizes = append(sizes, s.From-1, s.From)
			}
		}
		for _, n := range sizes {
			assertOwn(t, files, own, n)
		}
	}
}

// The compost on top goes with the table in the one way that its author wrote, as its author wrote it. 3 L to 20 L are
// 0.15 of any container; a loose litre firms to 0.80.
func TestOwnPotTellsItsCompost(t *testing.T) {
	for written, want := range map[string]view.OwnTop{
		"depth: 1 1/2 in": {Text: "1 1/2 in deep", Depth: 3.81},
		"share: 25 %":     {Text: "25 % of the mix", Share: 0.25},
		"volume: 3 L":     {Text: "3 L to 20 L of mix", Share: 0.15},
	} {
		body := "title: Own\nfor: 20 L\namounts: {gypsum: 1 tbsp}\ntop: {compost: yard-compost, " + written + "}\n"
		out := blocktest.Compute(Kind, blocktest.Input{ID: "own", Body: body})
		require.Empty(t, out.Printed())
		top := sizesOf(t, out.View).Own.Top
		require.NotNil(t, top, written)
		want.Name, want.Loose = "yard-trimmings compost", top.Loose
		assert.InDelta(t, 1/0.80, top.Loose, 1e-9)
		assert.InDelta(t, want.Depth, top.Depth, 1e-9)
		want.Depth = top.Depth
		assert.Equal(t, want, *top)
	}
	out := blocktest.Compute(Kind, blocktest.Input{ID: "own", Body: ownRecipe})
	assert.Nil(t, sizesOf(t, out.View).Own.Top, "none in the recipe, none in the table")
}

func assertOwn(t *testing.T, files map[string]string, own *view.OwnPot, n int) {
	t.Helper()
	size := fmt.Sprintf("%d.%02d L", n/100, n%100)
	out := blocktest.Compute(Kind, blocktest.Input{ID: "own", Body: ownRecipe, For: size, Files: files})
	require.Empty(t, out.Printed(), size)
	amounts := sizesOf(t, out.View).Items[0].Parts[0].(view.Amounts)
	rows := append(amounts.Rows, amounts.Choices[0].Options...)
	require.Len(t, rows, len(own.Rows))
	for i, a := range rows {
		require.Equal(t, a.Amendment, own.Rows[i].Amendment)
		assert.Equal(t, a.Grams, looked(own.Rows[i].Grams, n), "%s %s grams", size, a.Amendment)
		for set, text := range a.Measures {
			assert.Equal(t, text, looked(own.Rows[i].Measures[set], n), "%s %s %s", size, a.Amendment, set)
		}
	}
}
