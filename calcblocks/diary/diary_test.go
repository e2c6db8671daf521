package diary_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/diary"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/recipe"
)

func TestCases(t *testing.T) { blocktest.Run(t, diary.Kind, recipe.Kind) }

// TestOddLines: whatever stands where, a line is reported or left out, and the others are kept.
func TestOddLines(t *testing.T) {
	const good = "- {on: 2027-05-10, pot: pail, did: noted}\n"
	files := map[string]string{"pots.yaml": "pail: {name: Pail, holds: 10 L}\n"}
	for _, odd := range []string{
		"on: [2027-05-10], pot: pail, did: noted", "on: 2027-05-10, pot: {a: b}, did: noted", "on: 2027-05-10, pot: [], did: noted",
		"on: 2027-05-10, pot: [[pail]], did: noted", "on: 2027-05-10, pot: pail, did: [fed]", "on: 2027-05-10, pot: pail, did: fed, with: []",
		"on: 2027-05-10, pot: pail, did: fed, with: {kelp-meal: 1 cup}", "on: 2027-05-10, pot: pail, did: fed, with: kelp-meal, amount: [1 cup]",
		"on: 2027-05-10, pot: pail, did: planted, crop: [pepper]", "on: 2027-05-10, pot: pail, did: renewed, old mix to: [heap]",
		"on: 2027-05-10, pot: pail, did: noted, note: [a, b]", "on: 2027-05-10, pot: pail, did: noted, disease: {a: b}",
		"on: 2027-05-10, pot: pail, did: renewed, depth: 0 cm", "on: 2027-05-10, pot: pail, did: renewed, share: 120 %",
		"on: 2027-05-10, pot: pail, did: harvested, crop: pepper, yield: 3", "on: 10.5.2027, pot: pail, did: noted",
	} {
		out := blocktest.Compute(diary.Kind, blocktest.Input{Files: files, Body: good + "- {" + odd + "}\n"})
		require.NotEmpty(t, out.Faults, odd)
		for _, f := range out.Faults {
			assert.Equal(t, 2, f.At.Line, odd)
		}
		lines, _ := out.Find("pots/pail").(data.List)
		assert.NotEmpty(t, lines, odd)
	}
}

// TestSpoonsAndGrams: a cup of a blend that weighs 140 g is 140 g of it, in each of several pots.
func TestSpoonsAndGrams(t *testing.T) {
	files := map[string]string{
		"pots.yaml":     "pail: {name: Pail, holds: 10 L}\nbox: {name: Box, holds: 40 L}\n",
		"cupboard.yaml": "blend: {name: Blend, label: {n: 4, p2o5: 3, k2o: 5}, cup weighs: 140 g}\n",
	}
	rapid.Check(t, func(t *rapid.T) {
		cups := rapid.IntRange(1, 20).Draw(t, "cups")
		body := "- {on: 2027-05-10, pot: [pail, box], did: fed, with: blend, amount: %s}\n"
		spooned := blocktest.Compute(diary.Kind, blocktest.Input{Files: files, Body: fmt.Sprintf(body, fmt.Sprintf("%d cups", cups))})
		weighed := blocktest.Compute(diary.Kind, blocktest.Input{Files: files, Body: fmt.Sprintf(body, fmt.Sprintf("%d g", 140*cups))})
		for _, pot := range []string{"pail", "box"} {
			path := "added_g_per_year/" + pot + "/2027/n/low"
			assert.InEpsilon(t, 5.6*float64(cups), spooned.Number(path), 1e-9)
			assert.InEpsilon(t, weighed.Number(path), spooned.Number(path), 1e-9)
		}
	})
}
