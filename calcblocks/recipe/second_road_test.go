package recipe_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/recipe"
)

// The numbers of a recipe by a second road: each test computes the same thing in another way.

const cupboard = `
leaf-blend:
  name: Leaf blend
  label: {n: 3, p2o5: 1, k2o: 2.5, ca: 1.4, mg: 0.3, s: 0.2}
  cup weighs: 72 g
  packs: [{holds: 2 kg, price: 12.00}, {holds: 500 g, price: 4.00}]
mineral-blend:
  name: Mineral blend
  label: {n: 0, p2o5: 0, k2o: 20, ca: 0, mg: 10, s: 20}
  cup weighs: 320 g
  packs: [{holds: 1 kg, price: 6.00}]
meal-blend: {name: Meal blend, label: {n: 12, p2o5: 2, k2o: 1}, cup weighs: 120 g}
shell-blend:
  name: Shell blend
  label: {n: 4, p2o5: 3, k2o: 0, ca: 14, mg: 1.2, s: 0.3}
  cup weighs: 96 g
  packs: [{holds: 2 cups, price: 3.00}]
`

// content is what the labels above say, percent; gramsPerCup and cents per gram beside it.
var content = map[string]map[string]float64{
	"leaf-blend":    {"n": 3, "p2o5": 1, "k2o": 2.5, "ca": 1.4, "mg": 0.3, "s": 0.2, "cup": 72, "cents": 1200.0 / 2000},
	"mineral-blend": {"n": 0, "p2o5": 0, "k2o": 20, "ca": 0, "mg": 10, "s": 20, "cup": 320, "cents": 600.0 / 1000},
	"shell-blend":   {"n": 4, "p2o5": 3, "k2o": 0, "ca": 14, "mg": 1.2, "s": 0.3, "cup": 96, "cents": 300.0 / 192},
}

var blends = []string{"leaf-blend", "mineral-blend", "shell-blend"}

// compute computes a recipe body with the blends above and a handbook whose main measures are of a set.
func compute(set, body string, more ...func(*blocktest.Input)) blocktest.Output {
	in := blocktest.Input{ID: "r", Body: body, Files: map[string]string{
		"cupboard.yaml": cupboard, "handbook.yaml": "measures: {main: " + set + "}\n",
	}}
	if one := oneSize.FindStringSubmatch(body); one != nil {
		in.For = one[1] // without the tables for every other pot, which take time
	}
	for _, m := range more {
		m(&in)
	}
	return blocktest.Compute(recipe.Kind, in)
}

var oneSize = regexp.MustCompile(`(?m)^sizes: \[([^,\]]+)\]$`)

func sized(litres ...string) string { return "sizes: [" + strings.Join(litres, ", ") + "]\n" }

// TestDoublingTheMixHalvesTheDose: the same masses for twice the mix are half the dose. Masses are exact.
func TestDoublingTheMixHalvesTheDose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mix := rapid.IntRange(1, 300).Draw(t, "litres of mix")
		amounts := "amounts:\n"
		for _, id := range blends {
			amounts += fmt.Sprintf("  %s: %d g\n", id, rapid.IntRange(1, 2000).Draw(t, id))
		}
		one := compute("us", fmt.Sprintf("title: T\nfor: %d L\n%s%s", mix, amounts, sized("20 L")))
		two := compute("us", fmt.Sprintf("title: T\nfor: %d L\n%s%s", 2*mix, amounts, sized("20 L")))
		for _, n := range reference.Nutrients {
			path := "20-l/added_mg_per_l/" + string(n) + "/high"
			assert.InEpsilon(t, one.Number(path), 2*two.Number(path), 1e-9, n)
			assert.InEpsilon(t, one.Number("20-l/added_g/"+string(n)+"/high")*50, one.Number(path), 1e-9, "mg per litre of 20 L is grams x 50")
		}
		for _, id := range blends {
			path := "20-l/amounts/" + id + "/grams/low"
			assert.InEpsilon(t, one.Number(path), 2*two.Number(path), 1e-9, id)
		}
	})
}

// TestDoublingTheSizeDoublesTheAmount: before the spoons round, an amount grows with the container. What
// was asked for is what the spoons hold, less their rounding error.
func TestDoublingTheSizeDoublesTheAmount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := rapid.SampledFrom([]string{"us", "metric", "uk", "australian"}).Draw(t, "set")
		litres := rapid.IntRange(2, 100).Draw(t, "litres")
		spoons := rapid.IntRange(1, 40).Draw(t, "tablespoons")
		grams := rapid.IntRange(1, 900).Draw(t, "grams")
		a, b := fmt.Sprintf("%d L", litres), fmt.Sprintf("%d L", 2*litres)
		out := compute(set, fmt.Sprintf("title: T\nfor: 40 L\namounts:\n  leaf-blend: %d tbsp\n  shell-blend: %d g\n%s", spoons, grams, sized(a, b)))
		asked := func(size string) float64 {
			at := data.Slug(size) + "/amounts/leaf-blend/"
			return out.Number(at+"ml/low") / (1 + out.Number(at+"rounding_percent/low")/100)
		}
		assert.InEpsilon(t, 2*asked(a), asked(b), 1e-9)
		weighed := func(size string) float64 { return out.Number(data.Slug(size) + "/amounts/shell-blend/grams/low") }
		assert.InEpsilon(t, 2*weighed(a), weighed(b), 1e-9)
		assert.InEpsilon(t, float64(grams*litres)/40, weighed(a), 1e-9)
	})
}

// drawAmount draws an amount as an author writes it, by volume or by mass.
func drawAmount(t *rapid.T, id string) string {
	whole := rapid.IntRange(1, 9).Draw(t, "whole of "+id)
	unit := rapid.SampledFrom([]string{"cup", "tbsp", "tsp", "mL", "g"}).Draw(t, "unit of "+id)
	if rapid.Bool().Draw(t, "range of "+id) {
		return fmt.Sprintf("%d to %d %s", whole, whole+rapid.IntRange(1, 5).Draw(t, "more of "+id), unit)
	}
	return fmt.Sprintf("%d %s", whole, unit)
}

// TestWhatTheSpoonsHold: grams, nutrients, analysis and cost follow from the measure that is printed. The
// text is read back as a person reads it, in the set's own spoons.
func TestWhatTheSpoonsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := rapid.SampledFrom([]units.Set{units.US, units.Metric, units.UK, units.Australian}).Draw(t, "set")
		litres := rapid.IntRange(3, 200).Draw(t, "litres")
		body := "title: T\nfor: 40 L\namounts:\n"
		written := map[string]string{}
		for _, id := range blends {
			written[id] = drawAmount(t, id)
			body += "  " + id + ": " + written[id] + "\n"
		}
		out := compute(string(set), body+sized(fmt.Sprintf("%d L", litres)))
		require.Empty(t, out.Printed())
		at := fmt.Sprintf("%d-l/", litres)
		for _, end := range []string{"low", "high"} {
			total, sums := 0.0, map[string]float64{}
			for _, id := range blends {
				grams := heldGrams(t, out, at+"amounts/"+id+"/", end, id, set, strings.HasSuffix(written[id], "g"))
				assert.InEpsilon(t, grams, out.Number(at+"amounts/"+id+"/grams/"+end), 1e-9, id)
				total += grams
				for key, per := range content[id] {
					sums[key] += grams * per / 100
				}
			}
			for _, n := range reference.Nutrients {
				assert.InEpsilon(t, sums[string(n)], out.Number(at+"added_g/"+string(n)+"/"+end), 1e-9, n)
			}
			assert.InEpsilon(t, 100*sums["n"]/total, out.Number(at+"blend_percent/n/"+end), 1e-9)
			assert.InDelta(t, sums["cents"], out.Number(at+"cost/"+end), 0.005+1e-9, "cost is the sum, rounded once")
		}
	})
}

// heldGrams returns what the printed measure weighs; of a weighed amount its own grams, once its measure
// was found to be nearest.
func heldGrams(t *rapid.T, out blocktest.Output, at, end, id string, set units.Set, weighed bool) float64 {
	density := content[id]["cup"] / set.Cup().Float()
	printed := string(out.Find(at + "measure/" + string(set) + "/" + end).(data.Text))
	if weighed || printed == "less than 1/8 tsp" {
		assert.InEpsilon(t, out.Number(at+"grams/"+end), out.Number(at+"ml/"+end)*density, 1e-6, id) // a nanolitre
		return out.Number(at + "grams/" + end)
	}
	held, err := measure.Volume(printed, set)
	require.NoError(t, err)
	assert.InEpsilon(t, held.Float(), out.Number(at+"ml/"+end), 1e-12, printed)
	return held.Float() * density
}

// TestCombinationsEqualSeparateRecipes: a choice's combination is the recipe in which the pick stands as a
// plain amount, guards and all.
func TestCombinationsEqualSeparateRecipes(t *testing.T) {
	const head = "title: T\nfor: 40 L\nsizes: [20 L]\namounts:\n  alfalfa-meal: 1 cup\n"
	options := map[string]string{"wood-ash": "1/2 cup", "langbeinite": "2 tbsp", "kelp-meal": "1 cup"}
	liming := map[string]string{"calcitic-lime": "1/2 cup", "gypsum": "3 tbsp"}
	choice := head + "  potash, one of:\n    kelp-meal: 1 cup\n    wood-ash: 1/2 cup\n    langbeinite: 2 tbsp\n" +
		"  calcium, one of:\n    gypsum: 3 tbsp\n    calcitic-lime: 1/2 cup\n"
	combinations, _ := compute("us", choice).Find("20-l/combinations").(data.List)
	require.Len(t, combinations, 6)
	for potash, much := range options {
		for calcium, ofIt := range liming {
			picked := compute("us", choice, func(in *blocktest.Input) { in.With = []string{calcium, potash} })
			plain := compute("us", head+"  "+potash+": "+much+"\n  "+calcium+": "+ofIt+"\n")
			for _, key := range []string{"added_g", "added_mg_per_l", "blend_percent", "c_to_n", "lime_equivalent_g", "ec_added_ms_cm", "cost", "cautions", "wait_weeks", "amounts"} {
				assert.Equal(t, plain.Find("20-l/"+key), picked.Find("20-l/"+key), "%s with %s and %s", key, potash, calcium)
			}
			want := plain.Guards("20 L")
			assert.Equal(t, want, picked.Guards("20 L", potash, calcium), "%s %s", potash, calcium)
			unpicked := compute("us", choice)
			assert.Equal(t, want, unpicked.Guards("20 L", potash, calcium), "the guards of a pick do not wait for the pick")
		}
	}
}

// TestDefaultsAreTheFirst: without picks the first option counts, and its combination stands first.
func TestDefaultsAreTheFirst(t *testing.T) {
	body := "title: T\nfor: 40 L\nsizes: [20 L]\namounts:\n  potash, one of:\n    mineral-blend: 2 tbsp\n    shell-blend: 60 g\n"
	out := compute("us", body)
	assert.InEpsilon(t, 20*0.2, out.Number("20-l/added_g/k2o/low"), 1e-9)
	assert.EqualValues(t, "mineral-blend", out.Find("20-l/combinations/1/with/1"))
	out = compute("us", body, func(in *blocktest.Input) { in.With = []string{"shell-blend"} })
	assert.InEpsilon(t, 30*0.04, out.Number("20-l/added_g/n/low"), 1e-9)
	assert.EqualValues(t, "shell-blend", out.Find("20-l/combinations/1/with/1"))
	assert.EqualValues(t, "mineral-blend", out.Find("20-l/choices/potash/options/mineral-blend/amendment"), "all options stay")
}

// TestPicks: a pick that is not offered, and two of one choice, are the reader's slips.
func TestPicks(t *testing.T) {
	body := "title: T\nfor: 40 L\nsizes: [20 L]\namounts:\n  leaf-blend: 1 cup\n  potash, one of:\n    mineral-blend: 2 tbsp\n    shell-blend: 60 g\n"
	with := func(ids ...string) string {
		return compute("us", body, func(in *blocktest.Input) { in.With = ids }).Printed()
	}
	assert.Empty(t, with("shell-blend"))
	assert.Equal(t, "the recipe has no choice that offers \"leaf-blend\"\n  hint: it offers mineral-blend, shell-blend\n", with("leaf-blend"))
	assert.Equal(t, "\"mineral-blend\" and \"shell-blend\" are picks of one choice\n  hint: name one of them\n", with("shell-blend", "mineral-blend"))
	assert.Empty(t, with("shell-blend", "shell-blend"), "the same twice is one pick")
}

// TestWhatIsNotKnown: a sum that lacks a figure names it and does not count it as zero, in the data and in
// the text.
func TestWhatIsNotKnown(t *testing.T) {
	short := func(in *blocktest.Input) {
		in.Files["cupboard.yaml"] = cupboard + "bare-blend:\n  name: Bare blend\n  label: {n: 5}\n  cup weighs: 100 g\n"
	}
	out := compute("us", "title: T\nfor: 20 L\nsizes: [20 L]\namounts:\n  leaf-blend: 1 cup\n  bare-blend: 1 cup\n", short)
	assert.InEpsilon(t, 72*.03+100*.05, out.Number("20-l/added_g/n/low"), 1e-9)
	assert.Nil(t, out.Find("20-l/added_g/n/missing"))
	for _, n := range []string{"p2o5", "k2o", "ca", "mg", "s"} {
		assert.EqualValues(t, "bare-blend", out.Find("20-l/added_g/"+n+"/missing/1"), n)
		assert.EqualValues(t, "bare-blend", out.Find("20-l/added_mg_per_l/"+n+"/missing/1"), n)
	}
	assert.Equal(t, data.Null{}, out.Find("20-l/blend_percent/p2o5"), "a percentage of the whole needs the whole")
	assert.InEpsilon(t, 100*(72*.03+100*.05)/172, out.Number("20-l/blend_percent/n/low"), 1e-9)
	for _, key := range []string{"c_to_n", "lime_equivalent_g", "ec_added_ms_cm"} {
		assert.Equal(t, data.Null{}, out.Find("20-l/"+key+"/low"), key)
		assert.Len(t, out.Find("20-l/"+key+"/missing"), 2, key)
	}
	assert.EqualValues(t, "bare-blend", out.Find("20-l/cost/missing/1"))
	text := out.Text()
	assert.Contains(t, text, "4.2-?-?", "an analysis never prints an unknown share as zero")
	assert.Contains(t, text, "P2O5 without bare-blend: not known there.")

	alone := compute("us", "title: T\nfor: 20 L\nsizes: [20 L]\namounts:\n  bare-blend: 1 cup\n", short)
	assert.Equal(t, data.Null{}, alone.Find("20-l/added_g/k2o/low"))
	assert.Equal(t, data.Null{}, alone.Find("20-l/added_mg_per_l/k2o/most"))
	assert.Equal(t, data.Null{}, alone.Find("20-l/cost/low"))
	assert.Contains(t, alone.Text(), "no price known")
}

// TestOwnFiguresBeatTheReference: label and weighed cup of the cupboard count, what they leave out comes
// from the reference, and both are cited.
func TestOwnFiguresBeatTheReference(t *testing.T) {
	own := "kelp-meal:\n  label: {n: 1.5, k2o: 4}\n  cup weighs: 152 g\n"
	body := "title: T\nfor: 20 L\nsizes: [20 L]\namounts:\n  kelp-meal: 1 cup\n"
	out := compute("us", body, func(in *blocktest.Input) { in.Files["cupboard.yaml"] = own })
	assert.InEpsilon(t, 152, out.Number("20-l/amounts/kelp-meal/grams/low"), 1e-12)
	assert.InEpsilon(t, 152*.015, out.Number("20-l/added_g/n/low"), 1e-12)
	assert.InEpsilon(t, 152*.015, out.Number("20-l/added_g/n/least"), 1e-12, "an own figure has no range")
	assert.InEpsilon(t, 152*.04, out.Number("20-l/added_g/k2o/most"), 1e-12)
	assert.InEpsilon(t, 152*.015, out.Number("20-l/added_g/ca/low"), 1e-12, "Ca 1.5 %: the reference, where the label is silent")
	assert.EqualValues(t, "cupboard.yaml:2", out.Find("sources/own-kelp-meal-label/place"))
	assert.EqualValues(t, "cupboard.yaml:3", out.Find("sources/own-kelp-meal-cup/place"))
	assert.EqualValues(t, "own measurement", out.Find("sources/own-kelp-meal-cup/publisher"))
	assert.Contains(t, out.WorkingText(), "[own-kelp-meal-cup]")

	bare := compute("us", body, func(in *blocktest.Input) { in.Files["cupboard.yaml"] = "" })
	assert.InEpsilon(t, 0.7*236.5882365, bare.Number("20-l/amounts/kelp-meal/grams/low"), 1e-9, "0.70 g/mL of the reference")
	assert.Nil(t, bare.Find("sources/own-kelp-meal-cup"))
}

// TestRangesAreCarried: the author's ends are decisions, least and most add the analyses' own ranges.
func TestRangesAreCarried(t *testing.T) {
	out := compute("us", "title: T\nfor: 20 L\nsizes: [20 L]\namounts:\n  alfalfa-meal: 50 to 100 g\n")
	alfalfa, _ := reference.Default().Amendment("alfalfa-meal")
	n := alfalfa.AsIs(reference.N)
	require.Less(t, n.Low, n.High)
	for key, want := range map[string]float64{
		"low": 50 * n.Typical, "high": 100 * n.Typical, "least": 50 * n.Low, "most": 100 * n.High,
	} {
		assert.InEpsilon(t, want/100, out.Number("20-l/added_g/n/"+key), 1e-9, key)
	}
}

// TestEveryNumberHasItsSources: what the bibliography lists is cited somewhere, and what is cited is listed.
func TestEveryNumberHasItsSources(t *testing.T) {
	out := compute("us", "title: T\nfor: 20 L\nsizes: [20 L]\namounts:\n  alfalfa-meal: 1 cup\n  feather-meal: 2 tbsp\ntop: {compost: yard-compost, share: 25 %}\n")
	var listed []string
	for _, e := range out.Sources {
		listed = append(listed, e.Key)
	}
	for _, step := range out.Working {
		for _, key := range step.Sources {
			assert.Contains(t, listed, key)
		}
	}
	compost, _ := reference.Default().Amendment("yard-compost")
	for _, key := range slices.Concat(compost.Density.Source, compost.AsIs(reference.N).Source, compost.AsIs(reference.Mg).Source) {
		assert.Contains(t, listed, key, "the compost's nutrients rest on it")
	}
}

// TestCostOfATie: 12.5 cents are rounded up, and text and data agree.
func TestCostOfATie(t *testing.T) {
	out := compute("us", "title: T\nfor: 20 L\nsizes: [20 L]\namounts:\n  even-blend: 25 g\n", func(in *blocktest.Input) {
		in.Files["cupboard.yaml"] = "even-blend:\n  name: Even blend\n  label: {n: 4}\n  cup weighs: 128 g\n  packs: [{holds: 1 kg, price: 5.00}]\n"
	})
	assert.InDelta(t, 0.13, out.Number("20-l/cost/low"), 1e-12)
	assert.Contains(t, out.Text(), "about 0.13 USD")
	assert.Contains(t, out.WorkingText(), "= 0.13 USD")
}

// TestTwoNumbersOfAClass: a nursery class is a range, and each end is computed with a pot of that volume.
func TestTwoNumbersOfAClass(t *testing.T) {
	// Class 5 is 785 to 1242 cubic inches (ANSI Z60.1): 12.864 to 20.353 L.
	const low, high = 785 * 16.387064e-3, 1242 * 16.387064e-3
	out := compute("us", "title: T\nfor: 20 L\nsizes: [nursery class 5]\namounts:\n  leaf-blend: 100 g\ntop: {compost: yard-compost, depth: 5 cm}\n")
	at := "nursery-class-5/"
	assert.InEpsilon(t, low, out.Number(at+"litres/low"), 1e-9)
	assert.InEpsilon(t, high, out.Number(at+"litres/high"), 1e-9)
	assert.InEpsilon(t, 5*low, out.Number(at+"amounts/leaf-blend/grams/low"), 1e-9)
	assert.InEpsilon(t, 150.0, out.Number(at+"added_mg_per_l/n/low"), 1e-6, "the dose is the same in both")
	assert.InEpsilon(t, 150.0, out.Number(at+"added_mg_per_l/n/high"), 1e-6)

	// The assumed pot: base 0.75 and depth 0.92 of the top. The upper 5 cm, in thin slices.
	for end, litres := range map[string]float64{"low": low, "high": high} {
		top := math.Cbrt(litres * 1000 / (math.Pi / 12 * 0.92 * (1 + 0.75 + 0.75*0.75)))
		depth, sum, slices := 0.92*top, 0.0, 20000
		for i := range slices {
			y := depth - 5*(float64(i)+0.5)/float64(slices)
			d := top * (0.75 + 0.25*y/depth)
			sum += math.Pi / 4 * d * d * 5 / float64(slices) / 1000
		}
		assert.InEpsilon(t, sum, out.Number(at+"compost/firmed_litres/"+end), 1e-6, end)
	}
}

// TestCompostOnTop: by share, by volume and by depth; firmed, loose and what it brings.
func TestCompostOnTop(t *testing.T) {
	const head = "title: T\nfor: 40 L\nsizes: [%s]\namounts:\n  leaf-blend: 1 cup\ntop: {compost: yard-compost, %s}\n"
	for _, c := range []struct {
		size, top string
		litres    float64
	}{
		{"20 L", "share: 25 %", 5},
		{"20 L", "volume: 8 L", 4}, // 8 L for 40 L
		{"trough 60 x 20 x 18 cm", "depth: 3 cm", 3.6},
		// The upper 5 cm of a cone from 24 to 30 cm over 28 cm: at 23 cm it is 28.92857 cm wide;
		// pi/12 x 5 x (900 + 867.857 + 836.862) = 3409.57 cm3.
		{"round 30 cm top 24 cm base 28 cm deep", "depth: 5 cm", 3.40957},
	} {
		out := compute("us", fmt.Sprintf(head, c.size, c.top))
		require.Empty(t, out.Printed())
		at := data.Slug(c.size) + "/compost/"
		assert.InEpsilon(t, c.litres, out.Number(at+"firmed_litres/low"), 1e-5, c.size)
		assert.InEpsilon(t, c.litres/0.80, out.Number(at+"loose_litres/low"), 1e-5)
		assert.InEpsilon(t, c.litres/0.952, out.Number(at+"loose_litres/least"), 1e-5)
		assert.InEpsilon(t, c.litres/0.645, out.Number(at+"loose_litres/most"), 1e-5)
		// Loose litres x 0.59 kg/L x dry matter x 1.5 % N of the dry matter.
		yard, _ := reference.Default().Amendment("yard-compost")
		assert.InEpsilon(t, c.litres/0.80*590*yard.DryMatter.Typical/100*0.015, out.Number(at+"added_g/n/low"), 1e-5)
	}
}
