package recipe_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// class5 is the ends of a nursery class, 785 and 1242 cubic inches, in mL (volumes.yaml).
var class5 = [2]float64{785 * 16.387064, 1242 * 16.387064}

// above returns the share of such a pot, of base 0.75 and depth 0.92 of its top, that lies above so many cm below the brim.
func above(ml, cm float64) float64 {
	top := math.Cbrt(ml / (math.Pi / 12 * 0.92 * 2.3125))
	h := 0.92*top - cm
	base, width := 0.75*top, top*(0.75+0.25*h/(0.92*top))
	return 1 - math.Pi/12*h*(base*base+base*width+width*width)/ml
}

func layerText(t *testing.T, top, size string) (low, high float64, text string) {
	out := compute("us", "title: T\nfor: 40 L\nsizes: ["+size+"]\namounts:\n  leaf-blend: 1 cup\ntop: {compost: yard-compost, "+top+"}\n")
	require.Empty(t, out.Printed())
	at := strings.ReplaceAll(strings.ReplaceAll(size, " ", "-"), ".", "-")
	return out.Number(strings.ToLower(at) + "/compost/firmed_litres/low"), out.Number(strings.ToLower(at) + "/compost/firmed_litres/high"), strings.Join(strings.Fields(out.Text()), " ")
}

// TestCompostOfAClass: each end of a class is a pot of its own: by depth, by share, and by volume, of which 8 for 40 L are a
// fifth.
func TestCompostOfAClass(t *testing.T) {
	low, high, text := layerText(t, "depth: 4 cm", "nursery class 5")
	assert.InEpsilon(t, above(class5[0], 4)*class5[0]/1000, low, 1e-6)
	assert.InEpsilon(t, above(class5[1], 4)*class5[1]/1000, high, 1e-6)
	assert.Contains(t, text, "as a layer about 4 cm deep")
	for top, share := range map[string]float64{"share: 25 %": 0.25, "volume: 8 L": 0.2} {
		low, high, text = layerText(t, top, "nursery class 5")
		assert.InEpsilon(t, share*class5[0]/1000, low, 1e-6, top)
		assert.InEpsilon(t, share*class5[1]/1000, high, 1e-6, top)
		from, to := depthOf(class5[0], share), depthOf(class5[1], share)
		assert.Less(t, from, to)
		assert.Contains(t, text, "as a layer about "+oneDecimal(from)+" to "+oneDecimal(to)+" cm deep", top)
	}
}

// depthOf finds by halving how far below the brim a share of such a pot reaches.
func depthOf(ml, share float64) float64 {
	low, high := 0.0, 50.0
	for range 60 {
		if middle := (low + high) / 2; above(ml, middle) < share {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

func oneDecimal(x float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.1f", x), "0"), ".")
}

// TestDepthOfALayer: of straight sides 2 L a cm a quarter of 40 L is 5 cm, 8 L are 4; more than the pot holds lies down to its
// base.
func TestDepthOfALayer(t *testing.T) {
	for top, cm := range map[string]string{"share: 25 %": "5", "volume: 8 L": "4", "depth: 3 cm": "3", "volume: 50 L": "20"} {
		_, _, text := layerText(t, top, "trough 50 x 40 x 20 cm")
		assert.Contains(t, text, "as a layer about "+cm+" cm deep", top)
	}
}

// TestNeedInAClass: in proportion to the mix: the least of the need in the smaller pot, the most of it in the larger; of the
// tomato of TestNeedMetByHand 12 to 16.8 g of nitrogen in 20 L.
func TestNeedInAClass(t *testing.T) {
	out := in20("nursery class 5", tomato+"amounts:\n  feather-meal: 80 g\n")
	require.Empty(t, out.Printed())
	assert.InEpsilon(t, 12*class5[0]/20000, out.Number("nursery-class-5/need_g/n/low"), 1e-6)
	assert.InEpsilon(t, 16.8*class5[1]/20000, out.Number("nursery-class-5/need_g/n/high"), 1e-6)
}

// TestBothEndsOfAnOption: what an option brings alone, at either end: 1 to 3 US cups of a blend of 320 g and 20 % K2O.
func TestBothEndsOfAnOption(t *testing.T) {
	out := compute("us", "title: T\nfor: 20 L\nsizes: [20 L]\namounts:\n  potash, one of:\n    leaf-blend: 1 cup\n    mineral-blend: 1 to 3 cups\n")
	require.Empty(t, out.Printed())
	at := "20-l/choices/potash/options/mineral-blend/added_g/k2o/"
	assert.InEpsilon(t, 64, out.Number(at+"low"), 1e-6)
	assert.InEpsilon(t, 192, out.Number(at+"high"), 1e-6)
}

// TestAFaultStopsTheRecipe: without the mix that it is for, or without any amount that is known.
func TestAFaultStopsTheRecipe(t *testing.T) {
	for _, body := range []string{"title: T\nfor: much\namounts:\n  leaf-blend: 1 cup\n", "title: T\nfor: 20 L\namounts:\n  marble: 1 cup\n"} {
		out := compute("us", body)
		assert.NotEmpty(t, out.Faults, body)
		assert.Nil(t, out.Data, body)
	}
}
