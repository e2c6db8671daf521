package plan_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/plan"
)

// planned computes pots of the season 2027 beside other files. box is straight, 2 L a cm, 40 L in all.
func planned(pots string, files map[string]string) blocktest.Output {
	all := map[string]string{
		"pots.yaml": "box: {name: Box, shape: trough 50 x 40 x 20 cm}\nother: {name: Other, shape: trough 50 x 40 x 20 cm}\n" +
			"class: {name: Class pot, shape: nursery class 5}\nbare: {name: Bare, holds: 40 L}\n",
		"cupboard.yaml": cupboard, "recipe spring.yaml": spring,
	}
	for name, text := range files {
		all[name] = text
	}
	return blocktest.Compute(plan.Kind, blocktest.Input{ID: "season", Body: "season: 2027\npots:\n" + pots, Files: all}, others...)
}

func shaped(shape string) map[string]string {
	return map[string]string{"pots.yaml": "it: {name: It, shape: " + shape + "}\n"}
}

// TestRoomForEachPlant: a pepper takes 8 L at least and 30.3 L for a full yield (crops.yaml); a class is judged by its larger
// end, 20.35 L.
func TestRoomForEachPlant(t *testing.T) {
	for _, c := range []struct {
		shape      string
		plants     int
		guard, say string
	}{
		{"trough 50 x 40 x 40 cm", 1, "", ""},
		{"trough 50 x 40 x 30.3 cm", 2, "", ""},
		{"trough 50 x 40 x 30.2 cm", 2, "little-mix", "30.2 L for each, pepper wants 30.3"},
		{"trough 50 x 40 x 40 cm", 10, "little-mix", "8 L for each"},
		{"trough 50 x 40 x 39.9 cm", 10, "too-many-plants", "plant 9 at most"},
		{"trough 50 x 40 x 40 cm", 11, "too-many-plants", "plant 10 at most"},
		{"trough 20 x 20 x 30 cm", 2, "too-many-plants", "plant 1 at most"},
		{"trough 20 x 13 x 30 cm", 1, "too-many-plants", "choose a pot of 8 L or more"},
		{"nursery class 5", 2, "little-mix", "10.2 L for each"},
		{"nursery class 5", 3, "too-many-plants", "20.4 L of mix for 3 plants"},
	} {
		out := planned(fmt.Sprintf("  it: {crop: pepper, plants: %d}\n", c.plants), shaped(c.shape))
		for _, id := range []string{"little-mix", "too-many-plants"} {
			assert.Equal(t, id == c.guard, slices.Contains(out.Cautions(""), id), "%s with %d: %s", c.shape, c.plants, id)
		}
		all := strings.Join(strings.Fields(out.Text()+out.Printed()), " ")
		assert.Contains(t, all, c.say, c.shape)
		assert.Equal(t, c.guard == "too-many-plants", strings.Contains(out.Printed(), "too many for the"), c.shape)
	}
	three := planned("  it: {crop: pepper, plants: 3}\n", shaped("nursery class 5"))
	assert.Contains(t, three.Printed(), "too many for the 20.4 L")
	assert.Contains(t, three.Printed(), "plant 2 at most")
	assert.Contains(t, strings.Join(strings.Fields(three.Text()), " "), "needs 8 L each at least. Plant 2 at most.")
	untold := planned("  it: {crop: pepper}\n", shaped("trough 20 x 13 x 30 cm"))
	assert.NotContains(t, untold.Cautions(""), "too-many-plants", "how many is not told")
}

// TestDepthForTheRoots: a pepper wants 25 cm (crops.yaml). The depth of a bare volume is an assumption and is not judged.
func TestDepthForTheRoots(t *testing.T) {
	for shape, shallow := range map[string]bool{"trough 90 x 90 x 25 cm": false, "trough 90 x 90 x 24.9 cm": true} {
		out := planned("  it: {crop: pepper, plants: 1}\n", shaped(shape))
		assert.Equal(t, shallow, slices.Contains(out.Cautions(""), "shallow-mix"), shape)
	}
	bare := planned("  it: {crop: pepper, plants: 1}\n", map[string]string{"pots.yaml": "it: {name: It, holds: 10 L}\n"})
	assert.NotContains(t, bare.Cautions(""), "shallow-mix")
}

func mixOf(out blocktest.Output, pot string) func(string) float64 {
	return func(key string) float64 { return out.Number("pots/" + pot + "/mix/" + key + "_litres") }
}

// TestHeightsOfAPot: as far as the base and to a line just above it, and no farther.
func TestHeightsOfAPot(t *testing.T) {
	for told, want := range map[string]struct {
		code            string
		out, room, fill float64
	}{
		"settled: 20 cm":                         {"", 0, 40, 40},
		"settled: 19.5 cm":                       {"", 0, 39, 40},
		"settled: 20.1 cm":                       {"settled-too-far", 0, 0, 0},
		"settled: 5 cm, take: 15 cm":             {"", 30, 40, 40},
		"settled: 5 cm, take: 14.5 cm":           {"", 29, 39, 40},
		"settled: 5 cm, take: all":               {"", 30, 40, 40},
		"settled: 5 cm, take: 15.1 cm":           {"take-too-much", 0, 0, 0},
		"settled: 19.8 cm, leave: 19.5 cm":       {"", 0, 0.6, 1},
		"settled: 5 cm, leave: 20 cm":            {"leave-too-deep", 0, 0, 0},
		"take: 5 cm, leave: 5 cm":                {"", 10, 0, 30},
		"take: 4.9 cm, leave: 5 cm":              {"no-room", 0, 0, 0},
		"settled: 1 cm, take: 5 cm, leave: 2 cm": {"", 10, 8, 36},
	} {
		out := planned("  box: {crop: pepper, plants: 1, "+told+"}\n", nil)
		if want.code != "" {
			require.NotEmpty(t, out.Faults, told)
			assert.Equal(t, want.code, out.Faults[0].Code, told)
			continue
		}
		require.Empty(t, out.Printed(), told)
		m := mixOf(out, "box")
		assert.InDelta(t, want.out, m("old_mix_out"), 1e-9, told)
		assert.InDelta(t, want.room, m("room"), 1e-9, told)
		assert.InDelta(t, want.fill, m("fill"), 1e-9, told)
		assert.InDelta(t, want.room, m("new_mix"), 1e-9, told)
	}
	measured := planned("  bare: {crop: pepper, plants: 1, settled: 2 cm, leave: 3 cm}\n", nil)
	require.NotEmpty(t, measured.Faults)
	assert.Equal(t, "leave-without-rim", measured.Faults[0].Code)
}

// TestMoreCompostThanRoom: where 36 of 40 L are left, 50 L of compost push all of it out and 10 L of the compost have no
// room; 40.5 L leave half a litre over, 30 L push 26 out. With a depth taken out the compost fills no more than the room.
func TestMoreCompostThanRoom(t *testing.T) {
	recipe := func(litres string) map[string]string {
		return map[string]string{"recipe spring.yaml": "title: Spring\nfor: 40 L\namounts: {gypsum: 10 g}\ntop: {compost: yard-compost, volume: " + litres + "}\n"}
	}
	for _, c := range []struct {
		litres, told                  string
		out, compost, without, newMix float64
	}{
		{"50 L", "settled: 2 cm", 36, 40, 10, 0},
		{"40.5 L", "settled: 2 cm", 36, 40, 0.5, 0},
		{"30 L", "settled: 2 cm", 26, 30, 0, 0},
		{"3 L", "settled: 2 cm", 0, 3, 0, 1},
		{"50 L", "settled: 2 cm, take: 3 cm", 6, 10, 40, 0},
		{"4 L", "settled: 2 cm, take: 3 cm", 6, 4, 0, 6},
		{"4 L", "take: 5 cm, leave: 5 cm", 10, 0, 4, 0},
	} {
		out := planned("  box: {recipe: spring, "+c.told+"}\n", recipe(c.litres))
		require.Empty(t, out.Printed(), c.litres)
		m := mixOf(out, "box")
		for key, want := range map[string]float64{"old_mix_out": c.out, "compost": c.compost, "compost_without_room": c.without, "new_mix": c.newMix} {
			assert.InDelta(t, want, m(key), 1e-9, "%s of %s, %s", key, c.litres, c.told)
		}
	}
}

// TestCompostOfAClass: 4 cm of compost below the brim of either end of class 5, 785 and 1242 cubic inches as pots of base 0.75
// and depth 0.92 of their top (volumes.yaml); the plan goes by their mean.
func TestCompostOfAClass(t *testing.T) {
	layer := func(cubicInches float64) float64 {
		v := cubicInches * 16.387064
		top := math.Cbrt(v / (math.Pi / 12 * 0.92 * 2.3125))
		h := 0.92*top - 4
		base, width := 0.75*top, top*(0.75+0.25*h/(0.92*top))
		return (v - math.Pi/12*h*(base*base+base*width+width*width)) / 1000
	}
	out := planned("  class: {recipe: spring, settled: 8 cm}\n", nil)
	assert.InEpsilon(t, (layer(785)+layer(1242))/2, mixOf(out, "class")("compost"), 1e-6)
}

// TestOldMixOnItsWay: half a litre moves like more; what a pot gets beyond its room is too much; a fall that the compost
// fills moves nothing.
func TestOldMixOnItsWay(t *testing.T) {
	moves := func(out blocktest.Output) (litres []float64) {
		for _, f := range out.Facts {
			if m, ok := f.(facts.Move); ok {
				litres = append(litres, m.Litres)
			}
		}
		return litres
	}
	little := planned("  box: {crop: pepper, take: 0.25 cm, old mix to: other}\n  other: {crop: basil, take: 5 cm, old mix to: heap}\n", nil)
	assert.InDeltaSlice(t, []float64{0.5, 10}, moves(little), 1e-9)
	assert.InDelta(t, 9.5, mixOf(little, "other")("new_mix"), 1e-9)
	assert.InDelta(t, 0.5, little.Number("mix/to_pots_litres"), 1e-9)
	much := planned("  box: {crop: pepper, take: 5 cm, old mix to: other}\n  other: {crop: basil, take: 4.75 cm, old mix to: discard}\n", nil)
	assert.InDelta(t, 0.5, mixOf(much, "other")("too_much"), 1e-9)
	assert.InDelta(t, 0, mixOf(much, "other")("new_mix"), 1e-9)
	assert.InDelta(t, 9.5, much.Number("mix/to_discard_litres"), 1e-9)
	filled := planned("  box: {recipe: spring, settled: 4 cm, old mix to: heap}\n", nil)
	assert.Empty(t, moves(filled), "the recipe's 4 cm of compost fill the fall")
	away := planned("  box: {crop: pepper, take: 5 cm, old mix to: class}\n  class: {crop: basil}\n", nil)
	assert.InDelta(t, 10, away.Number("mix/to_other_pots_litres"), 1e-9, "what the class pot takes is not told")
}

// TestWhatStaysOfAStory: a pepper comes back too soon after a tomato, unless all of the mix is new: none stays, and none of
// another pot comes in.
func TestWhatStaysOfAStory(t *testing.T) {
	tomato := map[string]string{"diary.yaml": "- {on: 2026-05-10, pot: box, did: planted, crop: tomato}\n"}
	for pots, conflicts := range map[string]int{
		"  box: {crop: pepper}\n":                                                                 1,
		"  box: {crop: pepper, settled: 2 cm, take: all}\n":                                       0,
		"  box: {crop: pepper, take: 19.9 cm}\n":                                                  1,
		"  box: {crop: pepper, take: all}\n  other: {crop: basil, take: 5 cm, old mix to: box}\n": 1,
	} {
		assert.Len(t, planned(pots, tomato).Find("conflicts").(data.List), conflicts, pots)
	}
}

// TestUnfitMixGoesNowhere: of what lasts, the newest finding before the season counts (families.yaml, discard); to the bin it
// may go.
func TestUnfitMixGoesNowhere(t *testing.T) {
	diary := func(years ...int) map[string]string {
		text := ""
		for _, year := range years {
			text += fmt.Sprintf("- {on: %d-06-10, pot: box, did: noted, crop: tomato, disease: Verticillium wilt}\n", year)
		}
		return map[string]string{"diary.yaml": "- {on: 2020-05-10, pot: box, did: planted, crop: tomato}\n" + text}
	}
	const heap, bin = "  box: {crop: basil, take: 5 cm, old mix to: heap}\n", "  box: {crop: basil, take: 5 cm, old mix to: discard}\n"
	assert.Contains(t, planned(heap, diary(2026)).Printed(), "Verticillium wilt was found in it in 2026")
	assert.Contains(t, planned(heap, diary(2025, 2026)).Printed(), "in 2026")
	later := diary(2026)
	later["diary.yaml"] += "- {on: 2026-09-10, pot: box, did: noted, crop: tomato, disease: Fusarium wilt}\n"
	assert.Contains(t, planned(heap, later).Printed(), "Fusarium wilt was found in it in 2026", "the later of a year")
	assert.NotContains(t, planned(bin, diary(2026)).Printed(), "was found in it")
	assert.NotContains(t, planned(heap, diary(2027)).Printed(), "was found in it", "of the season itself nothing is known when it begins")
	assert.NotContains(t, planned(heap, diary()).Printed(), "was found in it")
}

// TestTestedOldMix: by the newest test of the pot that tells what is dissolved, 100 mg/L in 0.8 L of water are 0.08 g in a
// litre (judging.yaml, salinity_use); of 40 L 30 stay, of a class all of the 20.35 L of its larger end.
func TestTestedOldMix(t *testing.T) {
	reading := func(on, pot, values string) string { return "method: sme\non: " + on + "\npot: " + pot + "\n" + values }
	files := map[string]string{
		"reading old.yaml": reading("2025-03-01", "box", "no3_n: 500\n"), "reading new.yaml": reading("2026-03-01", "box", "no3_n: 100\n"),
		"reading older.yaml": reading("2024-03-01", "box", "no3_n: 900\n"), "reading salt.yaml": reading("2026-09-01", "box", "ec: 2\n"),
		"reading class.yaml": reading("2026-03-01", "class", "no3_n: 100\n"),
	}
	out := planned("  box: {crop: basil, take: 5 cm, old mix to: heap}\n  class: {crop: basil}\n  other: {crop: kale}\n", files)
	text := strings.Join(strings.Fields(out.WorkingText()), " ")
	assert.Contains(t, text, "Box, N in the old mix that stays 0.08 g per litre by the test")
	assert.Contains(t, text, "x 30 L = 2.4 g")
	assert.Contains(t, text, "x 20.35 L = 1.63 g")
	assert.NotContains(t, text, "Other, N in the old mix")
	assert.Contains(t, strings.Join(strings.Fields(out.Text()), " "), "about 2.4 g N")
}

// TestNothingStaysOfIt: where all comes out, the test of the old mix tells of nothing.
func TestNothingStaysOfIt(t *testing.T) {
	out := planned("  box: {crop: basil, take: all}\n", map[string]string{"reading box.yaml": "method: sme\npot: box\nno3_n: 100\n"})
	assert.Contains(t, strings.Join(strings.Fields(out.WorkingText()), " "), "x 0 L = 0 g")
}

// TestLitresOfAPlanting: what the rest of the site learns of a pot without a recipe is what the pot holds: class 5 holds 785 to
// 1242 cubic inches (volumes.yaml).
func TestLitresOfAPlanting(t *testing.T) {
	for _, f := range planned("  class: {crop: basil}\n  box: {recipe: spring}\n", nil).Facts {
		if p, ok := f.(facts.Planting); ok {
			want := map[string][2]float64{"class": {785 * 16.387064e-3, 1242 * 16.387064e-3}, "box": {40, 40}}[p.Pot]
			assert.InDeltaSlice(t, want[:], p.Content.Litres[:], 1e-6, p.Pot)
		}
	}
}

// TestBothEndsOfTheCost: 1 to 2 cups of alfalfa at 72 g are 0.342 and 0.684 at 9.50 for 2 kg; 1/2 cup of kelp at 176 g is
// 1.144 at 6.50 for 500 g, or 0.792 at 18.00 for 2 kg, the cheaper pack; 10 L of compost, 8 L firmed, are 2.375 at 9.50 for 40.
func TestBothEndsOfTheCost(t *testing.T) {
	out := planned("  box: {recipe: spring}\n", nil)
	assert.InDelta(t, 0.342+0.792+2.375, out.Number("pots/box/cost/low"), 0.0051)
	assert.InDelta(t, 0.684+0.792+2.375, out.Number("pots/box/cost/high"), 0.0051)
}

// TestAFaultStopsThePot: and a season without pots, or without its year, has no table; the other pots stay.
func TestAFaultStopsThePot(t *testing.T) {
	out := planned("  box: {recipe: spring, with: [marble]}\n  other: {crop: basil, plants: 3}\n", nil)
	require.Len(t, out.Faults, 1)
	assert.Nil(t, out.Find("pots/box"))
	assert.NotNil(t, out.Find("pots/other"))
	assert.Nil(t, planned("  nowhere: {crop: basil}\n", nil).Data)
	far := planned("  box: {recipe: marble}\n", nil)
	assert.Equal(t, []string{"write the id of a recipe of this handbook; one with faults of its own has to be put right first"}, far.Faults[0].Hints)
	near := planned("  box: {recipe: sprin}\n", nil)
	assert.Equal(t, []string{"did you mean \"spring\"?"}, near.Faults[0].Hints)
}
