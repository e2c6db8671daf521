package plan_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
)

// forPepper is for two peppers in 40 L.
const forPepper = "title: Peppers\nfor: 40 L\ncrop: pepper\nplants: 2\nyield: 1 kg\namounts:\n  feather-meal: 80 g\n"

// grown computes pots of 20 L, each with the recipe for peppers.
func grown(t *testing.T, pots string) blocktest.Output {
	t.Helper()
	out := planned(pots, map[string]string{
		"pots.yaml":          "one: {name: One, holds: 20 L}\ntwo: {name: Two, holds: 20 L}\n",
		"recipe spring.yaml": forPepper,
	})
	for _, d := range out.Faults {
		require.Equal(t, diag.Doubt, d.Severity, d.Message)
	}
	require.Empty(t, out.Unsound())
	return out
}

// need returns what the plan's first pot needs of a nutrient, g.
func need(t *testing.T, out blocktest.Output, nutrient string) [2]float64 {
	t.Helper()
	for _, f := range out.Facts {
		if p, ok := f.(facts.Planting); ok {
			low, okLow := data.Find(p.Content.Data, "need_g/"+nutrient+"/low")
			high, okHigh := data.Find(p.Content.Data, "need_g/"+nutrient+"/high")
			require.True(t, okLow && okHigh)
			return [2]float64{float64(low.(data.Number)), float64(high.(data.Number))}
		}
	}
	require.Fail(t, "no planting")
	return [2]float64{}
}

// TestAPotNeedsWhatItGrows: a tomato takes up 2.8 g of nitrogen for a kg of fruit, yields 3 to 6.8 kg and recovers 0.5 to
// 0.7 of what becomes available (crops.yaml, judging.yaml): 3 x 2.8 / 0.7 = 12 g to 6.8 x 2.8 / 0.5 = 38.08 g, whatever
// the recipe was written for. Two need twice that.
func TestAPotNeedsWhatItGrows(t *testing.T) {
	one := grown(t, "  one: {recipe: spring, crop: tomato, plants: 1}\n")
	two := grown(t, "  one: {recipe: spring, crop: tomato, plants: 2}\n")
	assert.InDelta(t, 12, need(t, one, "n")[0], 1e-9)
	assert.InDelta(t, 38.08, need(t, one, "n")[1], 1e-9)
	for _, n := range []string{"n", "p2o5", "k2o", "ca", "mg"} {
		assert.InEpsilon(t, 2*need(t, one, n)[0], need(t, two, n)[0], 1e-9, n)
		assert.InEpsilon(t, 2*need(t, one, n)[1], need(t, two, n)[1], 1e-9, n)
	}
	text := strings.Join(strings.Fields(one.Text()), " ")
	assert.Contains(t, text, "of 1 plant; in brackets", "the page says whose need it is")
	assert.Contains(t, text, "One, need of N, tomato")
}

// TestAPotOfTheRecipe: the recipe's own crop without plants stays in proportion to the mix: 20 of 40 L are half of two
// peppers of 1 kg, 1 x 3.3 / 0.7 = 4.714 to 3.3 / 0.5 = 6.6 g. Its need stands in the working of the recipe.
func TestAPotOfTheRecipe(t *testing.T) {
	for _, pot := range []string{"  one: {recipe: spring}\n", "  one: {recipe: spring, crop: pepper}\n"} {
		out := grown(t, pot)
		assert.InDelta(t, 3.3/0.7, need(t, out, "n")[0], 1e-9, pot)
		assert.InDelta(t, 6.6, need(t, out, "n")[1], 1e-9, pot)
		assert.NotContains(t, out.WorkingText(), "need of N")
	}
	told := grown(t, "  one: {recipe: spring, crop: pepper, plants: 2}\n")
	assert.InDelta(t, 2*3.3/0.7, need(t, told, "n")[0], 1e-9, "two in this pot, of the yield that the recipe expects")
}

// TestAPotByTheClass: without plants another crop is judged by its class alone. A tomato is a heavy feeder, 0.65 to 1.2 g of
// nitrogen in a litre (judging.yaml, nitrogen_targets).
func TestAPotByTheClass(t *testing.T) {
	out := grown(t, "  one: {recipe: spring, crop: tomato}\n")
	low, high := need(t, out, "n")[0], need(t, out, "n")[1]
	assert.InDelta(t, 20*0.65, low, 1e-9)
	assert.InDelta(t, 20*1.2, high, 1e-9)
	assert.Contains(t, strings.Join(strings.Fields(out.WorkingText()), " "), "heavy feeder")
}

// TestNeedStepsCanBeDoneAgain: need and share of a pot's own crop give the printed results again.
func TestNeedStepsCanBeDoneAgain(t *testing.T) {
	out := grown(t, "  one: {recipe: spring, crop: tomato, plants: 1}\n  two: {recipe: spring, crop: lettuce, plants: 4}\n")
	sums := 0
	for _, step := range out.Working {
		if !strings.Contains(step.What, "need of ") {
			continue
		}
		for _, sum := range strings.Split(step.Sum, "; ") {
			if strings.Contains(sum, "at most") {
				continue // what phosphate is held to is no term of a sum
			}
			got, printed, err := blocktest.Redo(sum)
			require.NoError(t, err)
			assert.InEpsilon(t, printed, got, 2e-3, sum)
			sums++
		}
	}
	assert.Equal(t, 2*(4+5), sums, "what each needs, and which part of it is met, of five nutrients")
}

// TestTheRoomOfAClass: a nursery class 5 is a range, and the working says which end the room is judged by.
func TestTheRoomOfAClass(t *testing.T) {
	out := planned("  it: {crop: pepper, plants: 2}\n", shaped("nursery class 5"))
	assert.Contains(t, strings.Join(strings.Fields(out.WorkingText()), " "), "20.35 L, the larger end of 12.86 to 20.35 L, / 2 plants = 10.18 L each")
	bare := planned("  bare: {crop: pepper, plants: 2}\n", nil)
	assert.Contains(t, bare.WorkingText(), "40 L / 2 plants = 20 L each")
}

// TestVolumesOfAPotCanBeDoneAgain: in a tapered tub whose level fell, with compost and without, each volume follows from
// the printed measures.
func TestVolumesOfAPotCanBeDoneAgain(t *testing.T) {
	tub := map[string]string{"pots.yaml": "tub: {name: Tub, shape: round 38 cm top 30 cm base 34 cm deep, fill: 31 cm}\n"}
	for _, told := range []string{"settled: 5 cm", "settled: 1 cm", "settled: 4 cm, take: 6 cm"} {
		out := planned("  tub: {recipe: spring, "+told+"}\n", tub)
		require.Empty(t, out.Printed())
		steps := 0
		for _, step := range out.Working {
			if strings.Contains(step.What, "up to") || strings.HasSuffix(step.What, "old mix out") {
				got, printed, err := blocktest.Redo(step.Sum)
				require.NoError(t, err, step.Sum)
				assert.InDelta(t, printed, got, 2e-3*max(printed, 1)+0.01, step.Sum)
				steps++
			}
		}
		assert.GreaterOrEqual(t, steps, 2, told)
	}
	deep := planned("  tub: {recipe: spring, settled: 10 cm}\n", tub).WorkingText()
	assert.Contains(t, strings.Join(strings.Fields(deep), " "), "L: none has to come out")
}
