package compost_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/compost"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
)

func TestCases(t *testing.T) { blocktest.Run(t, compost.Kind) }

func compute(body string) blocktest.Output {
	return blocktest.Compute(compost.Kind, blocktest.Input{Body: body})
}

const ranges = `heap:
  green: {weight: 8 to 12 kg, moisture: 75 to 85 %, n: 2 to 3 %, c_to_n: 15 to 20}
  brown: {volume: 40 to 60 L, density: 0.1 kg/L, moisture: 10 to 40 %, c: 40 to 50 %, n: 0.5 to 1 %}
  chips: {weight: 1 kg, moisture: 30 %, c_to_n: 100 to 500, decays: 5 to 20 %}
`

// spread reads a number of the result, or the ends of a belief.
func spread(out blocktest.Output, path string) (low, high float64) {
	if x, ok := out.Find(path).(data.Number); ok {
		return float64(x), float64(x)
	}
	return out.Number(path + "/low"), out.Number(path + "/high")
}

// TestRangesHold: ten thousand heaps within what the author wrote stay within what the page says. The draws
// are from the words above, not from the program's own ranges.
func TestRangesHold(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	out := compute(ranges)
	require.Empty(t, out.Printed())
	in := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
	cn := [2]float64{}
	wet, tied := cn, cn
	cn[0], cn[1] = spread(out, "c_to_n")
	wet[0], wet[1] = spread(out, "moisture_percent")
	tied[0], tied[1] = spread(out, "n_tied_up_g")
	within := func(x float64, b [2]float64, what string) {
		if x < b[0]-1e-9 || x > b[1]+1e-9 {
			t.Fatalf("%s: %v outside %v", what, x, b)
		}
	}
	for range 10000 {
		kg := [3]float64{in(8, 12), in(4, 6), 1}
		m := [3]float64{in(0.75, 0.85), in(0.1, 0.4), 0.3}
		nitrogen := [3]float64{in(0.02, 0.03), in(0.005, 0.01), 0.4 / in(100, 500)}
		carbon := [3]float64{nitrogen[0] * in(15, 20), in(0.4, 0.5), 0.4}
		rot := [3]float64{in(0, 1), in(0, 1), in(0.05, 0.2)}
		var c, n, water, all, tie float64
		for i := range 3 {
			dry := kg[i] * (1 - m[i])
			c, n, water, all = c+dry*carbon[i], n+dry*nitrogen[i], water+kg[i]*m[i], all+kg[i]
			tie += 1000 * dry * (carbon[i]/24 - nitrogen[i]) * rot[i]
		}
		within(c/n, cn, "C:N")
		within(100*water/all, wet, "moisture")
		within(tie, tied, "nitrogen")
	}
}

// TestScaling: twice of everything is the same blend, needs twice the leaves and ties up twice the nitrogen.
func TestScaling(t *testing.T) {
	body := func(a, b string) string {
		return "heap:\n  grass-clippings: " + a + "\n  old-roots: {weight: " + b + ", moisture: 60 %}\n  dry-leaves: {moisture: 35 %}\nwanted: 30\n"
	}
	one, two := compute(body("10 kg", "1 kg")), compute(body("20 kg", "2 kg"))
	assert.InEpsilon(t, one.Number("c_to_n/typical"), two.Number("c_to_n/typical"), 1e-12)
	assert.InEpsilon(t, 2*one.Number("needed/kg/typical"), two.Number("needed/kg/typical"), 1e-12)
	assert.InEpsilon(t, 2*one.Number("n_tied_up_g/high"), two.Number("n_tied_up_g/high"), 1e-12)
}

// TestFeedBack: the amount that is needed, written as the amount, gives the wanted C:N and needs no more.
func TestFeedBack(t *testing.T) {
	heap := "heap:\n  grass: {weight: 10 kg, moisture: 77 %, c: 45 %, n: 2.4 %}\n  leaves: {weight: 3.474126 kg, moisture: 35 %, c: 50 %, n: 0.75 %}\n"
	out := compute(heap + "wanted: 30\nadjust: leaves\n")
	assert.InDelta(t, 0, out.Number("needed/add_kg"), 1e-6)
	assert.InDelta(t, 30, out.Number("c_to_n_as_given"), 1e-4)
	// moisture alone: 10 x (0.77 - 0.6) / (0.6 - 0.35) = 6.8 kg
	wet := compute("heap:\n  grass: {weight: 10 kg, moisture: 77 %, c: 45 %, n: 2.4 %}\n  leaves: {moisture: 35 %, c: 50 %, n: 0.75 %}\nwanted: {moisture: 60 %}\n")
	assert.InDelta(t, 6.8, wet.Number("needed_for_moisture/kg"), 1e-9)
	assert.InDelta(t, 60, wet.Number("moisture_percent"), 1e-9)
}

// TestWater: a dry heap is no conflict, it takes water: 10 kg at 20 % hold 8 kg dry, at 50 % 8 kg of water, 6
// more than there is.
func TestWater(t *testing.T) {
	out := compute("heap:\n  straw: {weight: 10 kg, moisture: 20 %, c: 40 %, n: 1.3 %}\n")
	assert.InDelta(t, 6, out.Number("water_to_add_kg"), 1e-9)
	assert.Contains(t, out.Cautions(""), "too-dry")
	assert.EqualValues(t, false, out.Find("conflict"))
}

// TestAmendments: the figures of an amendment on dry weight come from the reference.
func TestAmendments(t *testing.T) {
	out := compute("heap:\n  coffee-grounds: 10 kg\n")
	require.Empty(t, out.Printed())
	assert.InDelta(t, 2.1, out.Number("materials/coffee-grounds/n_percent/typical"), 1e-9, "percent of dry weight")
	assert.InDelta(t, 22, out.Number("c_to_n/typical"), 1e-9)
	assert.InDelta(t, 60, out.Number("moisture_percent"), 1e-9)
	assert.Contains(t, compute("heap:\n  langbeinite: 10 kg\n").Printed(), "are not known")
}
