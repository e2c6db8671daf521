package mix_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/mix"
)

// packing is the litres that a loose litre fills, firmed: settled mineral grains do not give (volumes.yaml, packing).
func packing(name string) float64 {
	if name == "sand" || name == "loam" {
		return 1
	}
	return 0.8
}

// TestWaterFitsTheGrains: watered is no lighter than dry at any end, and the water no more than the grains leave, by
// another road: litres less kilograms over the density of the grains, 2.65 kg/L of mineral and 1.55 of organic matter
// (EN 13041, from memory). The solids of what a porometer measured are what it gives neither air nor water.
func TestWaterFitsTheGrains(t *testing.T) {
	mineral := map[string]bool{"sand": true, "loam": true, "perlite": true, "vermiculite": true}
	solid := map[string]float64{"peat": 0.02, "bark": 0.21, "wood-chips": 0.15, "coarse-wood-chips": 0.10}
	rapid.Check(t, func(t *rapid.T) {
		litres, parts, order := randomMix(t)
		out := compute(body(litres, parts, order))
		for _, end := range []string{"low", "typical", "high"} {
			dry, watered := out.Number("dry_kg/"+end), out.Number("watered_kg/"+end)
			assert.LessOrEqual(t, dry, watered, end)
			room := float64(litres)
			for _, name := range order {
				at := "parts/" + name + "/"
				switch share, measured := solid[name]; {
				case measured:
					room -= share * out.Number(at+"litres_firmed")
				case mineral[name]:
					room -= out.Number(at+"dry_kg/"+end) / 2.65
				case end == "typical": // the far ends of organic parts are bounds, not a state of one mix
					room -= out.Number(at+"dry_kg/"+end) / 1.55
				}
			}
			assert.LessOrEqual(t, watered-dry, room+1e-9, end)
		}
	})
}

// TestRoomForWaterRecomputes: the sum that the working prints comes to what it says, and the page's share of water is it,
// within its range. Sand of 1.5 to 1.7 kg/L (volumes.yaml) leaves 33 to 26 %.
func TestRoomForWaterRecomputes(t *testing.T) {
	out := compute("make: 40 L\nparts: {sand: 1, peat: 1}\n")
	found := regexp.MustCompile(`room for water 100 % - ([\d.]+) kg / ([\d.]+) kg/L / ([\d.]+) L - ([\d.]+) % of air at least = ([\d.]+) %`).
		FindStringSubmatch(strings.Join(strings.Fields(out.WorkingText()), " "))
	require.Len(t, found, 6, out.WorkingText())
	var x [6]float64
	for i := range 5 {
		x[i], _ = strconv.ParseFloat(found[i+1], 64)
	}
	assert.InDelta(t, 100-100*x[0]/x[1]/x[2]-x[3], x[4], 0.02)
	assert.Less(t, out.Number("water_percent/low"), out.Number("water_percent/typical"))
	assert.Less(t, out.Number("water_percent/typical"), out.Number("water_percent/high"))
}

// TestHeavyPartsWater: what is heavy and of no known kind still weighs more watered than dry, and its water has room.
func TestHeavyPartsWater(t *testing.T) {
	own := map[string]string{"cupboard.yaml": "court-blend: {name: Court blend, label: {n: 2}, cup weighs: 236.5882365 g}\n"}
	out := blocktest.Compute(mix.Kind, blocktest.Input{ID: "m", Body: "make: 50 L\nparts: {court-blend: 1}\n", Files: own})
	water := out.Number("watered_kg/typical") - out.Number("dry_kg/typical")
	assert.InDelta(t, 50*0.9-62.5/2.65, water, 1e-9, "pores less a tenth of air")
	for _, part := range []string{"zeolite", "basalt-dust", "gypsum"} {
		out := compute("make: 50 L\nparts: {" + part + ": 1}\n")
		assert.Less(t, out.Number("dry_kg/typical"), out.Number("watered_kg/typical"), part)
	}
}
