package weight_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/weight"
)

func TestCases(t *testing.T) { blocktest.Run(t, weight.Kind) }

func compute(body string) blocktest.Output {
	return blocktest.Compute(weight.Kind, blocktest.Input{Body: body})
}

// TestKeys: the keys that others rely on are there, each low, typical and high, in rising order.
func TestKeys(t *testing.T) {
	for _, container := range []string{"20 L", "round 30 cm top 24 cm base 28 cm deep", "nursery class 5"} {
		for _, mix := range []string{"ordinary", "light", "heavy", "with-soil"} {
			out := compute("container: " + container + "\nmix: " + mix + "\n")
			require.Empty(t, out.Printed())
			for _, key := range []string{"dry_kg", "watered_kg", "dripping_kg", "load_kpa", "load_lb_per_sq_ft"} {
				low, typical, high := out.Number(key+"/low"), out.Number(key+"/typical"), out.Number(key+"/high")
				assert.Positive(t, low, key)
				assert.LessOrEqual(t, low, typical, "%s %s %s", key, container, mix)
				assert.LessOrEqual(t, typical, high, "%s %s %s", key, container, mix)
			}
			for _, state := range []string{"low", "typical", "high"} {
				assert.Less(t, out.Number("dry_kg/"+state), out.Number("watered_kg/"+state), "water weighs")
				assert.LessOrEqual(t, out.Number("watered_kg/"+state), out.Number("dripping_kg/"+state))
			}
		}
	}
	out := compute("container: 20 L\n")
	for _, key := range []string{"id", "kind", "title", "stamp", "cautions", "sources"} {
		assert.NotNil(t, out.Data.Get(key), key)
	}
}

// TestLoadOfACylinder: with straight sides the load is 5.2023 x depth in inches x kg/L, in lb/ft2 (volumes.md,
// section 4), whatever the width.
func TestLoadOfACylinder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		across := rapid.IntRange(10, 100).Draw(t, "across")
		deep := rapid.IntRange(5, 90).Draw(t, "deep")
		out := compute(fmt.Sprintf("container: round %d cm top %d cm base %d cm deep\n", across, across, deep))
		inches := float64(deep) / 2.54
		assert.InEpsilon(t, 5.2023*inches*0.9, out.Number("load_lb_per_sq_ft/typical"), 1e-4, "watered, 0.9 kg/L")
		assert.InEpsilon(t, 5.2023*inches*1.1, out.Number("load_lb_per_sq_ft/high"), 1e-4, "dripping, 1.1 kg/L")
		assert.InEpsilon(t, float64(deep)/100*0.9*9.80665, out.Number("load_kpa/typical"), 1e-9, "depth x density x gravity")
	})
}

// TestPublishedLoads: the table of volumes.yaml, footprint_load, by depth at 0.9 and 1.1 kg/L.
func TestPublishedLoads(t *testing.T) {
	for inches, psf := range map[int][2]float64{6: {28, 34}, 8: {37, 46}, 10: {47, 57}, 12: {56, 69}, 16: {75, 92}, 18: {84, 103}} {
		out := compute(fmt.Sprintf("container: round 14 in top 14 in base %d in deep\n", inches))
		assert.InDelta(t, psf[0], out.Number("load_lb_per_sq_ft/typical"), 0.5, "%d in", inches)
		assert.InDelta(t, psf[1], out.Number("load_lb_per_sq_ft/high"), 0.5, "%d in", inches)
	}
}

// TestTwentyInchPot: a container of 20 in, full and wet, can reach 100 lb (volumes.yaml, cross_check); at 0.9
// kg/L that is 50 L.
func TestTwentyInchPot(t *testing.T) {
	out := compute("container: 50 L\n")
	assert.InDelta(t, 100, out.Number("watered_kg/typical")/0.45359237, 1)
}

// TestPotAndPlants: what is not mix is added once to every state, and presses too.
func TestPotAndPlants(t *testing.T) {
	const box = "container: trough 50 x 40 x 20 cm\n"
	bare, full := compute(box), compute(box+"empty: 3 kg\nplants: 1500 g\n")
	for _, key := range []string{"dry_kg", "watered_kg", "dripping_kg"} {
		for _, state := range []string{"low", "typical", "high"} {
			assert.InDelta(t, 4.5, full.Number(key+"/"+state)-bare.Number(key+"/"+state), 1e-9, key)
		}
	}
	// 40 L x 0.9 = 36 kg and 4.5 kg on 0.2 m2: 40.5 x 9.80665 / 0.2 = 1985.85 Pa.
	assert.InEpsilon(t, 1.98585, full.Number("load_kpa/typical"), 1e-5)
}

// TestTaperedPotsStandOnTheirBase: the whole weight presses on the base, so a tapered pot presses harder than
// its depth says.
func TestTaperedPotsStandOnTheirBase(t *testing.T) {
	out := compute("container: round 40 cm top 20 cm base 30 cm deep\n")
	litres := math.Pi / 12 * 30 * (1600 + 800 + 400) / 1000
	assert.InEpsilon(t, litres*0.9*9.80665/(math.Pi/4*0.04)/1000, out.Number("load_kpa/typical"), 1e-9)
	assert.Greater(t, out.Number("load_kpa/typical"), 0.3*0.9*9.80665)
	// base 20 cm across: 100 pi = 314.159 cm2
	assert.Contains(t, out.WorkingText(), "area of the base\n    314.2 cm²", "the base and not the mix a little above it")
}

// TestDryWeightOfEachMix: the dry densities are those of volumes.yaml, mix_components (porometer and
// densities_g_per_l), and for an ordinary mix the span of judging.yaml, single_dose_n_cap. 100 L of each.
func TestDryWeightOfEachMix(t *testing.T) {
	for mix, kgPerLitre := range map[string][2]float64{
		"ordinary": {0.15, 0.25}, "light": {0.18, 0.22}, "heavy": {0.11, 0.400}, "with-soil": {1.100, 1.300},
	} {
		out := compute("container: 100 L\nmix: " + mix + "\n")
		assert.InEpsilon(t, 100*kgPerLitre[0], out.Number("dry_kg/low"), 1e-9, mix)
		assert.InEpsilon(t, 100*kgPerLitre[1], out.Number("dry_kg/high"), 1e-9, mix)
		assert.InEpsilon(t, 50*(kgPerLitre[0]+kgPerLitre[1]), out.Number("dry_kg/typical"), 1e-9, mix)
	}
}

// TestLoadOfAClass: each end of a class is a pot of its own. A pot of base 0.75 and depth 0.92 of its top that
// holds V has a base of pi/4 x (0.75 x top)^2 with V = pi/12 x 0.92 x 2.3125 x top^3.
func TestLoadOfAClass(t *testing.T) {
	out := compute("container: nursery class 5\n")
	for end, c := range map[string]struct{ litres, density float64 }{"low": {785 * 16.387064e-3, 0.6}, "high": {1242 * 16.387064e-3, 1.1}} {
		top := math.Cbrt(c.litres / 1000 / (math.Pi / 12 * 0.92 * 2.3125))
		base := math.Pi / 4 * 0.75 * 0.75 * top * top
		assert.InEpsilon(t, c.litres*c.density*9.80665/base/1000, out.Number("load_kpa/"+end), 1e-6, end)
	}
}

// TestBalcony: above 40 lb/ft2 dripping it compares with the codes, on the ground it does not, and below it
// says nothing of the load.
func TestBalcony(t *testing.T) {
	guard := func(body string) bool {
		out := compute(body)
		for _, id := range out.Cautions("") {
			if id == "load-over-design" {
				return true
			}
		}
		return false
	}
	// 40 lb/ft2 / (5.2023 x 1.1) = 6.990 in = 17.754 cm.
	assert.False(t, guard("container: trough 60 x 40 x 17.7 cm\n"))
	assert.True(t, guard("container: trough 60 x 40 x 17.8 cm\n"))
	assert.True(t, guard("container: trough 60 x 40 x 17.8 cm\nplace: balcony\n"))
	assert.False(t, guard("container: trough 60 x 40 x 50 cm\nplace: ground\n"))
	shallow := compute("container: trough 60 x 40 x 10 cm\n")
	assert.Contains(t, shallow.Cautions(""), "balcony-load", "the caution stands below the figure too")
	assert.NotContains(t, compute("container: trough 60 x 40 x 10 cm\nplace: ground\n").Cautions(""), "balcony-load")
	assert.NotContains(t, shallow.Text(), "below", "nothing is made of a load below the figure")
}

// TestFaults: each word that is none of the list, at its place.
func TestFaults(t *testing.T) {
	out := compute("container: 20 L\nmix: fluffy\nplace: roof\nempty: 3 L\n")
	codes := map[string]int{}
	for _, f := range out.Faults {
		codes[f.Code] = f.At.Line
	}
	assert.Equal(t, 2, codes["unknown-mix"])
	assert.Equal(t, 3, codes["unknown-place"])
	assert.Len(t, out.Faults, 3)
	assert.Nil(t, compute("pot: nowhere\n").Data, "a pot that is not there gives nothing")
	assert.IsType(t, data.Null{}, compute("container: 20 L\n").Find("id"))
}
