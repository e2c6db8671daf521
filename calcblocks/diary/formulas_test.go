package diary_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/diary"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/recipe"
)

var shapes = map[string]string{"pots.yaml": `
box: {name: Box, shape: trough 50 x 40 x 20 cm, fill: 16 cm}
cone: {name: Cone, shape: round 40 cm top 20 cm base 30 cm deep, fill: 30 cm}
class: {name: Class pot, shape: nursery class 5}
`}

// withRecipe computes lines beside the recipe "spring".
func withRecipe(top, lines string) blocktest.Output {
	files := map[string]string{"recipe spring.yaml": "title: Spring\nfor: 20 L\namounts:\n  gypsum: 10 g\n  potash, one of:\n    kelp-meal: 100 g\n    langbeinite: 40 g\ntop: {compost: yard-compost, " + top + "}\n"}
	for name, text := range shapes {
		files[name] = text
	}
	return blocktest.Compute(diary.Kind, blocktest.Input{Files: files, Body: lines}, recipe.Kind)
}

func fresh(out blocktest.Output, pot string) (low, high float64) {
	first := out.Find("pots/" + pot).(data.List)[0].(data.Object).Get("fresh_percent").(data.Object)
	return float64(first.Get("low").(data.Number)), float64(first.Get("high").(data.Number))
}

// TestFreshByDepth: with straight sides 4 of 16 cm are a quarter. The cone is 20 + 20 x 20/30 cm across at 20 cm, so that
// pi/12 x 20 x (400 + 20 x 33.3333 + 1111.11) of pi/12 x 30 x (400 + 800 + 1600) stay, 14/27, and 10 cm are 13/27.
func TestFreshByDepth(t *testing.T) {
	for line, percent := range map[string]float64{
		"{on: 2027-04-12, pot: box, did: renewed, depth: 4 cm}":   25,
		"{on: 2027-04-12, pot: box, did: renewed, depth: 16 cm}":  100,
		"{on: 2027-04-12, pot: cone, did: renewed, depth: 10 cm}": 100 * 13 / 27.0,
	} {
		out := withRecipe("share: 20 %", "- "+line+"\n")
		require.Empty(t, out.Printed())
		pot := "box"
		if out.Find("pots/cone") != nil {
			pot = "cone"
		}
		low, high := fresh(out, pot)
		assert.InEpsilon(t, percent, low, 1e-6, line)
		assert.InEpsilon(t, percent, high, 1e-6, line)
	}
	cone := withRecipe("share: 20 %", "- {on: 2027-04-12, pot: cone, did: renewed, depth: 10 cm}\n")
	assert.Contains(t, cone.WorkingText(), "10.59 L / 21.99 L = 48.15 %")
	deep := withRecipe("share: 20 %", "- {on: 2027-04-12, pot: box, did: renewed, depth: 16.1 cm}\n")
	require.Len(t, deep.Faults, 1)
	assert.Equal(t, "depth-too-deep", deep.Faults[0].Code)
}

// TestFreshByCompost: 5 cm below the brim of the ends of a class: 785 and 1242 cubic inches (volumes.yaml), each as a pot of
// base 0.75 and depth 0.92 of its top, T = (V / (pi/12 x 0.92 x 2.3125))^(1/3). Of it stays what is below, with the width at
// that height.
func TestFreshByCompost(t *testing.T) {
	share := func(cubicInches float64) float64 {
		v := cubicInches * 16.387064
		top := math.Cbrt(v / (math.Pi / 12 * 0.92 * 2.3125))
		h := 0.92*top - 5
		base, width := 0.75*top, top*(0.75+0.25*h/(0.92*top))
		return 1 - math.Pi/12*h*(base*base+base*width+width*width)/v
	}
	small, large := share(785), share(1242)
	out := withRecipe("depth: 5 cm", "- {on: 2027-04-12, pot: class, did: renewed, with: spring, old mix to: heap}\n")
	low, high := fresh(out, "class")
	assert.InEpsilon(t, 100*large, low, 1e-6, "of the larger pot 5 cm are less")
	assert.InEpsilon(t, 100*small, high, 1e-6)
	litres := (785 + 1242) / 2.0 * 16.387064 / 1000
	assert.InEpsilon(t, (small+large)/2*litres, move(t, out).Litres, 1e-6, "the middle of the share of the middle of the class")
	v := func(cubicInches float64) float64 { return cubicInches * 16.387064 / 1000 }
	assert.Contains(t, out.WorkingText(), fmt.Sprintf("%.2g to %.2g L firmed / %.3g to %.3g L = %.3g to %.3g %%", small*v(785), large*v(1242), v(785), v(1242), 100*large, 100*small))
}

func move(t *testing.T, out blocktest.Output) facts.Move {
	for _, f := range out.Facts {
		if m, ok := f.(facts.Move); ok {
			return m
		}
	}
	t.Fatal("no old mix moves")
	return facts.Move{}
}

// TestOldMixThatMoves: as much as is new: a quarter of 50 x 40 x 16 cm = 32 L is 8 L.
func TestOldMixThatMoves(t *testing.T) {
	out := withRecipe("share: 20 %", "- {on: 2027-04-12, pot: box, did: renewed, share: 25 %, old mix to: cone}\n")
	assert.InEpsilon(t, 8, move(t, out).Litres, 1e-9)
}

// TestRenewedWithAMaterial: what is no recipe says nothing of how much is new.
func TestRenewedWithAMaterial(t *testing.T) {
	out := withRecipe("share: 20 %", "- {on: 2027-04-12, pot: box, did: renewed, with: gypsum, amount: 10 g, old mix to: heap}\n")
	require.Empty(t, out.Printed())
	assert.Zero(t, move(t, out).Litres)
}

// TestCropsOfAFamilyAlone: a plant that is no crop of the reference rests the mix by its family all the same.
func TestCropsOfAFamilyAlone(t *testing.T) {
	out := withRecipe("share: 20 %", "- {on: 2026-05-12, pot: box, did: planted, crop: tomatillo}\n- {on: 2027-05-12, pot: box, did: planted, crop: pepper}\n")
	assert.NotContains(t, out.Printed(), "unknown crop")
	assert.Contains(t, out.Text(), "nightshade")
}

// TestWhereALineIsWrong: the fault stands at the word and says what goes there.
func TestWhereALineIsWrong(t *testing.T) {
	for _, c := range []struct{ line, at, says string }{
		{"on: 2027-04-12, pot: box, did: renewed, plants: 2", "plants", `it goes with "planted" or "sown"`},
		{"on: 2027-04-12, pot: box, did: renewed, yield: 2 kg", "yield", `it goes with "harvested"`},
		{"on: 2027-04-12, pot: box, did: noted, amount: 2 g", "amount", `it goes with "renewed", "planted", "sown" or "fed"`},
		{"on: 2027-04-12, pot: [box, cone], did: harvested, crop: pepper, yield: 2 kg", "2 kg", "write a line for each pot"},
		{"on: 2027-04-12, pot: box, did: renewed, with: [spring, marble, kelp-meal]", "marble", "marble"},
	} {
		out := withRecipe("share: 20 %", "- {"+c.line+"}\n")
		if assert.NotEmpty(t, out.Faults, c.line) {
			assert.Equal(t, len("- {")+strings.Index(c.line, c.at)+1, out.Faults[0].At.Column, c.line)
			assert.Contains(t, out.Printed(), c.says, c.line)
		}
	}
	fed := withRecipe("share: 20 %", "- {on: 2027-04-12, pot: box, did: fed}\n")
	assert.Contains(t, fed.Printed(), "write what you fed")
}
