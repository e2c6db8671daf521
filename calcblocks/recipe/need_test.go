package recipe_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/recipe"
)

// in20 computes a recipe for 20 L in a container of so many litres.
func in20(litres, rest string) blocktest.Output {
	return compute("us", "title: T\nfor: 20 L\n"+rest, func(in *blocktest.Input) { in.For = litres })
}

// ends reads low, high, least and most below a path.
func ends(out blocktest.Output, path string) [4]float64 {
	return [4]float64{out.Number(path + "/low"), out.Number(path + "/high"), out.Number(path + "/least"), out.Number(path + "/most")}
}

func inDelta(t *testing.T, want, got [4]float64, what string) {
	t.Helper()
	assert.InDeltaSlice(t, want[:], got[:], 1e-6, what)
}

// TestAvailableByHand: 40 to 80 g of feather meal at 12.5 % N (11.7 to 13.5). By amendments.yaml 47 to 60 % is out by
// week 2, 60 % by week 8 (55 to 66, see kit/supply) and 65 % over the season (55 to 75).
func TestAvailableByHand(t *testing.T) {
	out := in20("20 L", "amounts:\n  feather-meal: 40 to 80 g\n")
	require.Empty(t, out.Printed())
	at := "20-l/available_n_g/"
	inDelta(t, [4]float64{5 * 0.535, 10 * 0.535, 4.68 * 0.47, 10.8 * 0.60}, ends(out, at+"week2"), "week 2")
	inDelta(t, [4]float64{5 * 0.60, 10 * 0.60, 4.68 * 0.55, 10.8 * 0.66}, ends(out, at+"week8"), "week 8")
	inDelta(t, [4]float64{5 * 0.65, 10 * 0.65, 4.68 * 0.55, 10.8 * 0.75}, ends(out, at+"season"), "season")
	assert.Equal(t, ends(out, at+"season"), ends(out, "20-l/available_g/n"))
}

// TestNeedMetByHand: a tomato of 3 kg takes up 8.4 g N, 1.8 g P2O5 and 11.7 g K2O, and needs 14 g N (12 to 16.8),
// 2.7 g P2O5 (2.571 to 2.7) and 19.5 g K2O (16.71 to 23.4). 80 g of feather meal give 6.5 g N (5.148 to 8.1).
func TestNeedMetByHand(t *testing.T) {
	const rest = tomato + "amounts:\n  feather-meal: 80 g\n  langbeinite: 10 g\n"
	out := in20("20 L", rest)
	require.Empty(t, out.Printed())
	inDelta(t, [4]float64{650 / 14.0, 650 / 14.0, 80 * 11.7 * 0.55 / 16.8, 80 * 13.5 * 0.75 / 12}, ends(out, "20-l/need_met_percent/n"), "N")
	assert.InDelta(t, 12, out.Number("20-l/need_g/n/low"), 1e-9)
	assert.InDelta(t, 16.8, out.Number("20-l/need_g/n/high"), 1e-9)
	assert.InDelta(t, 1.8/0.7, out.Number("20-l/need_g/p2o5/low"), 1e-9)
	assert.InDelta(t, 2.7, out.Number("20-l/need_g/p2o5/high"), 1e-9)
	// Potash: 80 g x 0.2 % and 10 g x 22 %, of 19.5 g.
	assert.InDelta(t, 100*2.36/19.5, out.Number("20-l/need_met_percent/k2o/low"), 1e-6)
	half := in20("10 L", rest)
	for _, n := range []string{"n", "p2o5", "k2o", "ca", "mg"} {
		assert.InEpsilon(t, out.Number("20-l/need_g/"+n+"/low")/2, half.Number("10-l/need_g/"+n+"/low"), 1e-9, n)
	}
	assert.InEpsilon(t, out.Number("20-l/need_met_percent/n/low"), half.Number("10-l/need_met_percent/n/low"), 1e-9, "half the pot, half the amount")
	text := out.Text()
	assert.Contains(t, text, "What they give over the season, against the need")
	assert.Contains(t, text, "The need is that of tomato, 1 plant in 20 L")
	assert.Contains(t, text, "drawn by the crop")
}

// TestWithoutACrop: nothing is compared, and the page says why.
func TestWithoutACrop(t *testing.T) {
	out := in20("20 L", "amounts:\n  feather-meal: 80 g\n")
	assert.Equal(t, data.Null{}, out.Find("20-l/need_met_percent"))
	assert.Equal(t, data.Null{}, out.Find("20-l/need_g"))
	assert.Contains(t, out.Text(), `The recipe names no crop`)
	assert.NotContains(t, out.Text(), "against the need")
	assert.NotContains(t, out.Text(), "drawn by the crop")
}

// TestByTheClass: without plants nitrogen alone is judged, by the class: pepper is a medium feeder, 0.35 to 0.65 g/L.
func TestByTheClass(t *testing.T) {
	out := in20("20 L", "crop: pepper\namounts:\n  feather-meal: 80 g\n")
	assert.InDelta(t, 7, out.Number("20-l/need_g/n/low"), 1e-9)
	assert.InDelta(t, 13, out.Number("20-l/need_g/n/high"), 1e-9)
	assert.Equal(t, data.Null{}, out.Find("20-l/need_met_percent/k2o"))
	assert.Contains(t, out.Text(), `The recipe does not say how many plants there are`)
}

// TestYield: a range is taken, and anything but a mass is refused at its place.
func TestYield(t *testing.T) {
	out := in20("20 L", "crop: tomato\nplants: 1\nyield: 2 to 4 kg\namounts:\n  feather-meal: 80 g\n")
	require.Empty(t, out.Printed())
	assert.InDelta(t, 2*2.8/0.7, out.Number("20-l/need_g/n/low"), 1e-9)
	assert.InDelta(t, 4*2.8/0.5, out.Number("20-l/need_g/n/high"), 1e-9)
	for _, yield := range []string{"3 L", "3", "1 to 2 L"} {
		bad := in20("20 L", "crop: tomato\nplants: 1\nyield: "+yield+"\namounts:\n  feather-meal: 80 g\n")
		assert.Contains(t, bad.Printed(), "in.yaml:5:", yield)
	}
}

// TestCompostIsCountedApart: what the compost gives stands beside, not in, what the amendments give. 2 L firmed are
// 2.5 L loose, x 0.59 kg/L x 58 % dry x 1.5 % N x 2 %.
func TestCompostIsCountedApart(t *testing.T) {
	bare := in20("20 L", tomato+"amounts:\n  feather-meal: 80 g\n")
	top := in20("20 L", tomato+"amounts:\n  feather-meal: 80 g\ntop: {compost: yard-compost, share: 10 %}\n")
	assert.Equal(t, bare.Find("20-l/need_met_percent"), top.Find("20-l/need_met_percent"))
	assert.InDelta(t, 2500*0.59*0.58*0.015*0.02, top.Number("20-l/compost/available_n_g/season/low"), 1e-9)
	assert.InDelta(t, 2500*0.59*0.58*0.013*0.5, top.Number("20-l/compost/available_g/p2o5/low"), 1e-9)
	assert.InDelta(t, 2500*0.59*0.58*0.014*0.8, top.Number("20-l/compost/available_g/k2o/low"), 1e-9)
	assert.Negative(t, top.Number("20-l/compost/available_n_g/season/least"), "plant compost may tie up nitrogen")
	assert.Contains(t, top.Text(), "of that this season")
}

// TestOwnBlendOutsideTheReference: what cannot be known is named, with what it leaves out.
func TestOwnBlendOutsideTheReference(t *testing.T) {
	rich := func(in *blocktest.Input) {
		in.Files["cupboard.yaml"] = "rich: {name: Rich salt, label: {n: 21, p2o5: 0}, cup weighs: 200 g}\n"
	}
	out := compute("us", "title: T\nfor: 20 L\n"+tomato+"amounts:\n  rich: 20 g\n  feather-meal: 80 g\n"+sized("20 L"), rich)
	require.Empty(t, out.Printed())
	assert.Equal(t, data.Texts([]string{"rich"}), out.Find("20-l/available_n_g/season/missing"))
	assert.InDelta(t, 6.5, out.Number("20-l/available_n_g/season/low"), 1e-9, "the sum of the rest")
	assert.NotContains(t, out.Guards("20 L"), "nitrogen-short", "what is not known is not too little")
	assert.Contains(t, out.WorkingText(), "its label must say")
}

// TestSeason: the chart begins at nothing and ends at the season's figures, per litre of the recipe's mix.
func TestSeason(t *testing.T) {
	out := in20("20 L", tomato+"amounts:\n  feather-meal: 80 g\n")
	weeks := out.Find("weeks_n_mg_per_l").(data.List)
	first, last := weeks[0].(data.Object), weeks[len(weeks)-1].(data.Object)
	assert.EqualValues(t, 0, first.Get("week"))
	assert.EqualValues(t, 20, last.Get("week"))
	number := func(o data.Object, part, end string) float64 {
		return float64(o.Get(part).(data.Object).Get(end).(data.Number))
	}
	assert.Zero(t, number(first, "released", "low"))
	assert.InDelta(t, 1000*6.5/20, number(last, "released", "low"), 1e-6)
	assert.InDelta(t, 1000*12.0/20, number(last, "drawn", "low"), 1e-6)
	assert.InDelta(t, 1000*16.8/20, number(last, "drawn", "high"), 1e-6)
	for i := 1; i < len(weeks); i++ {
		before, now := weeks[i-1].(data.Object), weeks[i].(data.Object)
		assert.GreaterOrEqual(t, number(now, "released", "low"), number(before, "released", "low"))
		assert.Greater(t, number(now, "drawn", "high"), number(before, "drawn", "high"))
	}
	radish := in20("20 L", "crop: radish\nplants: 20\namounts:\n  feather-meal: 80 g\n").Find("weeks_n_mg_per_l").(data.List)
	assert.EqualValues(t, 5, radish[len(radish)-1].(data.Object).Get("week"), "a radish is done in 30 days")
}

// TestLargerPotNeverNeedsLess, nor gives less: masses are weighed, so no spoon rounds.
func TestLargerPotNeverNeedsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		litres := rapid.IntRange(1, 200).Draw(t, "litres")
		larger := litres + rapid.IntRange(0, 100).Draw(t, "more litres")
		crop := rapid.SampledFrom([]string{"tomato", "pepper", "lettuce", "collards", "bok-choy"}).Draw(t, "crop")
		id := rapid.SampledFrom([]string{"feather-meal", "alfalfa-meal", "kelp-meal", "poultry-manure-pellets", "worm-castings"}).Draw(t, "amendment")
		rest := fmt.Sprintf("crop: %s\nplants: 2\namounts:\n  %s: 30 to 60 g\n", crop, id)
		small, large := fmt.Sprintf("%d L", litres), fmt.Sprintf("%d L", larger)
		a, b := in20(small, rest), in20(large, rest)
		for _, path := range []string{"need_g/n/low", "need_g/n/high", "available_n_g/week2/least", "available_n_g/season/most", "available_g/k2o/low"} {
			assert.LessOrEqual(t, a.Number(data.Slug(small)+"/"+path), b.Number(data.Slug(large)+"/"+path)*(1+1e-9), path)
		}
	})
}

// TestMoreNeverLowersTheSupply in a recipe, where the season's share is not negative.
func TestMoreNeverLowersTheSupply(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		id := rapid.SampledFrom(reference.Default().AmendmentIDs()).Draw(t, "amendment")
		if a, _ := reference.Default().Amendment(id); !a.Release.FirstSeason.Known || a.Release.FirstSeason.Low < 0 {
			return
		}
		grams := rapid.IntRange(1, 300).Draw(t, "grams")
		more := grams + rapid.IntRange(0, 300).Draw(t, "more")
		at := func(g int) blocktest.Output {
			return in20("20 L", fmt.Sprintf("%samounts:\n  %s: %d g\n", tomato, id, g))
		}
		a, b := at(grams), at(more)
		for _, path := range []string{"available_n_g/week2/", "available_n_g/week8/", "available_n_g/season/", "need_met_percent/n/"} {
			for _, end := range []string{"low", "high", "least", "most"} {
				assert.LessOrEqual(t, a.Number("20-l/"+path+end), b.Number("20-l/"+path+end)*(1+1e-9)+1e-12, path+end)
			}
		}
	})
}

// TestBoxOfTheNeedMet: 10,000 seasons with every figure somewhere within its range never leave least to most.
func TestBoxOfTheNeedMet(t *testing.T) {
	out := in20("20 L", "crop: tomato\nplants: 1\nyield: 2 to 4 kg\namounts:\n  feather-meal: 60 to 90 g\n")
	met := ends(out, "20-l/need_met_percent/n")
	var x [5]float64
	for range 10000 {
		for i, step := range [5]float64{math.Sqrt2, math.Sqrt(3), math.Sqrt(5), math.Sqrt(7), math.Sqrt(11)} {
			x[i] = math.Mod(x[i]+step, 1)
		}
		at := func(low, high float64, i int) float64 { return low + x[i]*(high-low) }
		given := at(60, 90, 0) * at(0.117, 0.135, 1) * at(0.55, 0.75, 2)
		needed := at(2, 4, 3) * 2.8 / at(0.5, 0.7, 4)
		assert.GreaterOrEqual(t, 100*given/needed, met[2]-1e-9)
		assert.LessOrEqual(t, 100*given/needed, met[3]+1e-9)
	}
}

// figured finds a step of a working that rests on a figure: a share, a density, an uptake, a ratio.
var figured = regexp.MustCompile(`%\s|% =|g/mL|kg/L|g/kg|C:N|CaCO3|mS/cm|salt index`)

// TestEveryAmendmentAlone: each of the catalogue computes in a recipe of its own, shows the cautions of its hazards,
// and every step that rests on a figure names a source.
func TestEveryAmendmentAlone(t *testing.T) {
	lib := reference.Default()
	for _, a := range lib.Amendments {
		out := in20("20 L", tomato+"amounts:\n  "+a.ID+": 20 g\n")
		require.Empty(t, out.Printed(), a.ID)
		if a.Density.Known {
			spooned := in20("20 L", tomato+"amounts:\n  "+a.ID+": 2 tbsp\n")
			require.Empty(t, spooned.Printed(), a.ID)
			assertSourced(t, spooned, a.ID)
		}
		assertSourced(t, out, a.ID)
		shown := out.Cautions("20 L")
		for _, c := range lib.Cautions {
			if concerns(c, a) {
				assert.Contains(t, shown, c.ID, a.ID)
			}
		}
		for _, n := range []string{"n", "p2o5", "k2o"} {
			if !a.AsIs(reference.Nutrient(n)).Known {
				assert.Equal(t, data.Null{}, out.Find("20-l/added_g/"+n+"/low"), "%s %s", a.ID, n)
			}
		}
	}
}

func assertSourced(t *testing.T, out blocktest.Output, id string) {
	t.Helper()
	require.NotEmpty(t, out.Working)
	for _, step := range out.Working {
		// These sum or divide what other steps, with their sources, have worked out.
		if strings.HasPrefix(step.What, "all together") || strings.HasPrefix(step.What, "part of the need") {
			continue
		}
		if figured.MatchString(step.Sum) && !strings.HasPrefix(step.Sum, "not known") {
			assert.NotEmpty(t, step.Sources, "%s: %s, %s", id, step.What, step.Sum)
		}
	}
}

// concerns says whether a caution's hazards are an amendment's, for the work of mixing and spreading. Ash gives off
// no ammonia itself, it drives it out of others.
func concerns(c *reference.Caution, a *reference.Amendment) bool {
	for _, task := range c.Tasks {
		if task != "mixing" && task != "spreading" {
			continue
		}
		for _, h := range c.Hazards {
			for _, have := range a.Hazards {
				if h == have && len(c.WithHazards) == 0 && (h != "ammonia" || a.AsIs(reference.N).Typical > 0) {
					return true
				}
			}
		}
	}
	return false
}

// TestTheTemperatureIsTold: the page says for what warmth the release is.
func TestTheTemperatureIsTold(t *testing.T) {
	out := blocktest.Compute(recipe.Kind, blocktest.Input{ID: "r", Body: "title: T\nfor: 20 L\namounts:\n  feather-meal: 80 g\n", For: "20 L"})
	assert.Contains(t, out.Text(), fmt.Sprintf("about %v °C", supply.Celsius))
}

// TestTheTemperatureOfTheMix: a meal of 12 % N gives off 56 % of its nitrogen in 8 weeks at 10 C and 66 % at 25 C
// (Hartz and Johnstone 2006): of 80 g, 9.6 g N, that is 5.38 g and 6.34 g, which the range holds at any warmth
// between. Below that it gives off less, and what goes toward its season figure is slower in a cooler mix. 77 F is 25 C.
func TestTheTemperatureOfTheMix(t *testing.T) {
	week8 := func(id, temperature, end string) float64 {
		out := blocktest.Compute(recipe.Kind, blocktest.Input{
			ID: "r", For: "20 L", Files: map[string]string{"cupboard.yaml": "blood-meal: {label: {n: 12}}\n"},
			Body: "title: T\nfor: 20 L\ntemperature: " + temperature + "\namounts:\n  " + id + ": 80 g\n",
		})
		require.Empty(t, out.Printed())
		return out.Number("sizes/20-l/available_n_g/week8/" + end)
	}
	for _, temperature := range []string{"10 C", "18 C", "25 C", "77 F"} {
		assert.LessOrEqual(t, week8("blood-meal", temperature, "least"), 5.38, temperature)
		assert.GreaterOrEqual(t, week8("blood-meal", temperature, "most"), 6.33, temperature)
	}
	assert.Less(t, week8("blood-meal", "6 C", "low"), week8("blood-meal", "10 C", "low"))
	assert.Less(t, week8("alfalfa-meal", "12 C", "low"), week8("alfalfa-meal", "25 C", "low"))
	assert.InDelta(t, week8("alfalfa-meal", "25 C", "low"), week8("alfalfa-meal", "77 F", "low"), 1e-9)
}

// TestCompostOfTheSeasonIsPartOfAll: the two lines on the compost show the same kind of figure, and no more is taken up
// than there is. By amendments.yaml 40 % of 20 L are 8 L of castings at 0.6 g/mL (0.45 to 0.8).
func TestCompostOfTheSeasonIsPartOfAll(t *testing.T) {
	text := in20("20 L", "amounts: {kelp-meal: 9 g}\ntop: {compost: worm-castings, share: 40 %}\n").Text()
	text = strings.NewReplacer("in all", "", "what the crop can take up", "").Replace(text) // the notes beside
	span := regexp.MustCompile(`([\d.]+) to ([\d.]+)`)
	line := func(label string) [][]string {
		start := strings.Index(text, label)
		require.Positive(t, start, text)
		return span.FindAllStringSubmatch(strings.Join(strings.Fields(text[start:strings.Index(text[start:], "K2O")+start]), " "), -1)
	}
	all, season := line("brings "), line("of that this season ")
	require.Len(t, all, 3)
	require.Len(t, season, 3)
	for i := range all {
		taken, err := strconv.ParseFloat(season[i][2], 64)
		require.NoError(t, err)
		held, err := strconv.ParseFloat(all[i][2], 64)
		require.NoError(t, err)
		assert.LessOrEqual(t, taken, held, "%s and %s", all[i], season[i])
	}
}
