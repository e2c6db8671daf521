package recipe_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/view"
)

// several is a recipe whose figures that judge it have terms of every sort: feeds, a lime, a salt, and gypsum, which
// has neither carbon nor a lime value.
const several = "amounts:\n  alfalfa-meal: 1/2 cup\n  feather-meal: 30 g\n  crustacean-meal: 2 tbsp\n  wood-ash: 1 tbsp\n  potassium-sulfate: 5 g\n  gypsum: 2 tbsp\n"

// redone does the sum of one step of a working again.
func redone(t *testing.T, out blocktest.Output, what string) (got, printed float64) {
	t.Helper()
	for _, step := range out.Working {
		if step.What == what {
			got, printed, err := blocktest.Redo(step.Sum)
			require.NoError(t, err)
			assert.InDelta(t, printed, got, 2e-3*math.Abs(printed), "%s: %s", what, step.Sum)
			return got, printed
		}
	}
	require.Fail(t, "no step "+what)
	return 0, 0
}

// TestJudgeStepsCanBeDoneAgain: the printed terms give the printed result, which is that of the data, to the four digits
// of a working.
func TestJudgeStepsCanBeDoneAgain(t *testing.T) {
	for _, amounts := range []string{several, "amounts:\n  gypsum: 20 g\n  langbeinite: 10 g\n", "amounts:\n  kelp-meal: 1 cup\n  alfalfa-meal: 1 to 2 cups\n"} {
		out := in20("14 L", amounts)
		require.Empty(t, out.Printed())
		for what, path := range map[string]string{"C:N of the amendments": "c_to_n", "lime equivalent": "lime_equivalent_g", "salt added": "ec_added_ms_cm"} {
			if out.Find("14-l/"+path+"/high") == nil || !strings.Contains(out.WorkingText(), what) {
				continue
			}
			_, printed := redone(t, out, what)
			assert.InDelta(t, out.Number("14-l/"+path+"/high"), printed, 5e-4*math.Abs(printed), path)
		}
	}
	all := in20("14 L", several).WorkingText()
	for _, what := range []string{"C:N of the amendments", "lime equivalent", "salt added"} {
		assert.Contains(t, all, what)
	}
}

// TestAmountsCanBeDoneAgain: an amount starts from what the recipe asks for: 80 g in 20 L are 56 g in 14 L.
func TestAmountsCanBeDoneAgain(t *testing.T) {
	out := in20("14 L", "amounts:\n  feather-meal: 40 to 80 g\n  alfalfa-meal: 1/2 cup\n")
	got, _ := redone(t, out, "Feather meal, weighed")
	assert.InDelta(t, 28, got, 1e-9, "the low end comes first")
	for _, step := range out.Working {
		if step.What == "Alfalfa meal" {
			first, _, _ := strings.Cut(step.Sum, ";")
			got, printed, err := blocktest.Redo(first)
			require.NoError(t, err)
			assert.InEpsilon(t, printed, got, 5e-4)
			assert.InEpsilon(t, 0.7*236.5882365/2, printed, 5e-4)
		}
	}
}

// noteOf returns the note beside a figure of the sizes' pages, by its label.
func noteOf(out blocktest.Output, label string) string {
	for _, f := range figures(out.View.Parts) {
		if f.Label == label {
			return f.Note
		}
	}
	return "no such figure"
}

func figures(parts []view.Part) []view.Figure {
	var all []view.Figure
	for _, part := range parts {
		switch part := part.(type) {
		case view.Figures:
			all = append(all, part.Rows...)
		case view.Variants:
			for _, v := range part.Items {
				all = append(all, figures(v.Parts)...)
			}
		case view.Sizes:
			for _, s := range part.Items {
				all = append(all, figures(s.Parts)...)
			}
		}
	}
	return all
}

// TestLimeAndSaltLeaveOutTheCompost: they say so where there is compost on top, beside what else they lack, and say
// nothing of it where there is none.
func TestLimeAndSaltLeaveOutTheCompost(t *testing.T) {
	const top = "top: {compost: yard-compost, share: 10 %}\n"
	bare, topped := in20("20 L", "amounts:\n  gypsum: 20 g\n"), in20("20 L", "amounts:\n  gypsum: 20 g\n"+top)
	lacking := in20("20 L", "amounts:\n  gypsum: 20 g\n  eggshell-ground: 20 g\n"+top)
	require.Empty(t, bare.Printed()+topped.Printed()+lacking.Printed())
	assert.NotContains(t, noteOf(bare, "Lime equivalent")+noteOf(bare, "Salt added, estimate"), "compost")
	assert.Equal(t, "without the compost on top", noteOf(topped, "Lime equivalent"))
	assert.Equal(t, "without the compost on top", noteOf(topped, "Salt added, estimate"))
	assert.Equal(t, "without eggshell-ground, the compost on top", noteOf(lacking, "Salt added, estimate"))
	assert.NotContains(t, noteOf(topped, "C:N of the amendments"), "compost", "that figure is of the amendments by its name")
}

// TestShareOfTheNeedInWholePercents: 6.5 g of 14 g are 46 %, and by the ranges of both 31 to 68 % (TestNeedMetByHand).
func TestShareOfTheNeedInWholePercents(t *testing.T) {
	value := func(out blocktest.Output) string {
		for _, f := range figures(out.View.Parts) {
			if f.Label == "Share of the need" {
				return f.Value
			}
		}
		return ""
	}
	assert.Contains(t, value(in20("20 L", tomato+"amounts:\n  feather-meal: 80 g\n")), "N 46 % (31 to 68), ")
	assert.Contains(t, value(in20("20 L", tomato+"amounts:\n  feather-meal: 40 to 80 g\n")), "N 23 to 46 % (15 to 68), ")
	low, high := 100*40*0.117*0.55/16.8, 100*80*0.135*0.75/12
	assert.Equal(t, []float64{15, 68}, []float64{math.Round(low), math.Round(high)})
}
