package mix_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/mix"
)

func with(files map[string]string, body string) blocktest.Output {
	return blocktest.Compute(mix.Kind, blocktest.Input{ID: "m", Body: body, Files: files})
}

func spread(t *testing.T, out blocktest.Output, path string, low, typical, high float64) {
	t.Helper()
	assert.InEpsilon(t, low, out.Number(path+"/low"), 1e-6, path)
	assert.InEpsilon(t, typical, out.Number(path+"/typical"), 1e-6, path)
	assert.InEpsilon(t, high, out.Number(path+"/high"), 1e-6, path)
}

// TestBothEndsOfAnAddition: 50 L of peat alone are not blended and weigh 50 x 0.11 = 5.5 kg dry (volumes.yaml,
// porometer); 50 to 150 g of gypsum come on top.
func TestBothEndsOfAnAddition(t *testing.T) {
	out := compute("make: 50 L\nparts: {peat: 1}\namendments: {gypsum: 50 to 150 g}\n")
	spread(t, out, "dry_kg", 5.55, 5.6, 5.65)
	spread(t, compute("make: 50 L\nparts: {peat: 1}\n"), "dry_kg", 5.5, 5.5, 5.5)
}

// TestBothEndsOfTheLime: 40 to 80 g in 40 L of a lime of 85 to 100 %, usually 95, are 0.85, 1.425 and 2 g of pure lime a litre. The
// grid without compost reads 4.5, 5.2, 5.6 at 0, 1.2, 2.4 g (judging.yaml, ph_lime_compost_grid): 4.5 + 0.85/1.2 x 0.7,
// 5.2 + 0.225/1.2 x 0.4 and 5.2 + 0.8/1.2 x 0.4, a printed half tenth more either way.
func TestBothEndsOfTheLime(t *testing.T) {
	out := compute("make: 40 L\nparts: {peat: 1}\nlime: {calcitic-lime: 40 to 80 g}\n")
	require.Empty(t, out.Printed())
	spread(t, out, "ph", 4.5+0.85/1.2*0.7-0.05, 5.275, 5.2+0.8/1.2*0.4+0.05)
}

// TestWhatMovesThePHApart: biochar may raise it by its range alone, gypsum leaves it where it is.
func TestWhatMovesThePHApart(t *testing.T) {
	const body = "make: 50 L\nparts: {peat: 1}\namendments: {%s: 1 g/L}\n"
	assert.Contains(t, compute(fmt.Sprintf(body, "biochar")).Text(), "leaves out biochar")
	assert.NotContains(t, compute(fmt.Sprintf(body, "gypsum")).Text(), "leaves out")
}

// TestLittleSoilIsSoil: the grid holds for none at all; the weight of a mix that nobody measured is the usual one below a
// tenth of soil (volumes.yaml, watered_weight_kg_per_l), and from there on goes by the water that the grains leave room
// for. 90 L of coir are 90 / (0.9 x 0.8) x 0.075 = 9.375 kg and hold 55 % of water; 10 L of sand are 10 / 0.9 x 1.6 =
// 17.78 kg, whose grains of 2.65 kg/L leave 32.91 %, 10 % of it air. The ends likewise, each at its end of the dry weight.
func TestLittleSoilIsSoil(t *testing.T) {
	assert.Equal(t, data.Null{}, compute("make: 50 L\nparts: {peat: 199, loam: 1}\n").Find("ph"))
	assert.NotEqual(t, data.Null{}, compute("make: 50 L\nparts: {peat: 200}\n").Find("ph"))
	spread(t, compute("make: 100 L\nparts: {coir: 90, sand: 10}\n"), "watered_kg",
		90/(0.952*0.95)*0.06+40.5+10/0.95*1.5+9-10/0.95*1.5/2.65, 9.375+49.5+10/0.9*1.6+9-10/0.9*1.6/2.65, 90/(0.645*0.8)*0.09+58.5+10/(0.8*0.95)*1.7+9-10/(0.8*0.95)*1.7/2.65)
	spread(t, compute("make: 100 L\nparts: {coir: 905, sand: 95}\n"), "watered_kg", 60, 90, 110)
}

// TestMineralSoilWeighsAsPublished: watered, sand and loam by themselves lie in the span that is given of mixes with
// mineral soil, 1.6 to 1.9 kg a litre (volumes.yaml, watered_weight_kg_per_l), which no sum here reads; sand by itself is
// no denser than it is listed, 1.5 to 1.7 kg/L.
func TestMineralSoilWeighsAsPublished(t *testing.T) {
	span := lib.Must("volumes", "watered_weight_kg_per_l", "with_mineral_soil")
	for _, parts := range []string{"{sand: 1}", "{loam: 1}", "{sand: 3, coir: 1}"} {
		watered := compute("make: 100 L\nparts: "+parts+"\n").Number("watered_kg/typical") / 100
		assert.GreaterOrEqual(t, watered, span.Low, parts)
		assert.LessOrEqual(t, watered, span.High, parts)
	}
	sand := compute("make: 40 L\nparts: {sand: 1}\n")
	spread(t, sand, "dry_kg", 60, 64, 40/0.95*1.7)
	assert.InDelta(t, 40, sand.Number("parts/sand/litres_loose"), 1e-9)
}

func sizes(out blocktest.Output, part string) []float64 {
	var holds []float64
	for _, b := range out.Find("parts/" + part + "/bags").(data.List) {
		holds = append(holds, float64(b.(data.Object).Get("holds_litres").(data.Number)))
	}
	return holds
}

// TestBagSizes: the sizes of the trade (volumes.yaml, bags): cubic feet of 28.3168 L where US measures are in use, litres
// where others are, the cupboard's own packs first of all, smallest first. 30 L of half a mix take 41.67 L loose.
func TestBagSizes(t *testing.T) {
	const body = "make: 60 L\nparts: {peat: 1, perlite: 1}\n"
	measures := func(text string) map[string]string {
		return map[string]string{"handbook.yaml": "title: Tanglewick Court\nmeasures: " + text + "\n"}
	}
	cubic, litres := []float64{14.1584, 21.2376, 28.3168, 42.4753, 56.6337, 84.9505}, []float64{10, 20, 25, 40, 50, 60, 75}
	us := sizes(with(measures("{main: us}"), body), "peat")
	assert.InDeltaSlice(t, cubic, us, 5e-5)
	assert.Equal(t, litres, sizes(with(measures("{main: metric}"), body), "peat"))
	both := sizes(with(measures("{main: us, also: [metric]}"), body), "peat")
	assert.IsIncreasing(t, both)
	assert.Len(t, both, 13)

	own := map[string]string{"cupboard.yaml": "peat: {name: Peat in bales, label: {n: 0}, cup weighs: 23 g, packs: [{holds: 90 L, price: 20.00}]}\n"}
	assert.Contains(t, sizes(with(own, body), "peat"), 90.0)
	assert.Contains(t, with(own, body).Text(), "1 x 90 L")
}

// TestOwnBlendAsAPart: a blend of which no dry matter is known is taken as dry as it comes: of 1 g/mL, 50 L firmed take
// 50 / 0.8 = 62.5 L and kg, from 50 / 0.952 to 50 / 0.645 (volumes.yaml, packing).
func TestOwnBlendAsAPart(t *testing.T) {
	own := map[string]string{"cupboard.yaml": "court-blend: {name: Court blend, label: {n: 2}, cup weighs: 236.5882365 g}\n"}
	out := with(own, "make: 50 L\nparts: {court-blend: 1}\n")
	require.Empty(t, out.Printed())
	spread(t, out, "dry_kg", 50/0.952, 62.5, 50/0.645)
	mixed := with(own, "make: 50 L\nparts: {peat: 1}\namendments: {court-blend: 9 g/L}\n")
	require.Empty(t, mixed.Printed())
	assert.NotContains(t, mixed.Cautions(""), "over-limit", "the reference has no limit for it")
}

// TestLimitsOfAmendments: each to its own most (amendments.yaml): langbeinite 0.59 g per litre, zeolite a tenth of the
// mix, 5 of 50 L; at the author's high end.
func TestLimitsOfAmendments(t *testing.T) {
	for amount, loud := range map[string]bool{
		"langbeinite: 0.59 g/L": false, "langbeinite: 0.6 g/L": true, "langbeinite: 25 to 30 g": true, "wood-ash: 0.65 g/L": false,
		"zeolite: 4.9 L": false, "zeolite: 5.4 L": true, "zeolite: 4 to 6 L": true,
	} {
		out := compute("make: 50 L\nparts: {peat: 1}\namendments: {" + amount + "}\n")
		require.Empty(t, out.Printed())
		assert.Equal(t, loud, contains(out.Cautions(""), "over-limit"), amount)
	}
	assert.Contains(t, compute("make: 50 L\nparts: {peat: 1}\namendments: {wood-ash: 30 to 35 g}\n").Cautions(""), "ash-cap", "the high end counts")
	much := compute("make: 50 L\nparts: {peat: 60, yard-compost: 40}\n").Cautions("")
	assert.Contains(t, much, "compost-share")
	assert.NotContains(t, much, "over-limit", "said once")
}

func contains(all []string, one string) bool {
	for _, s := range all {
		if s == one {
			return true
		}
	}
	return false
}

// TestEdgeOfFastNitrogen: 0.5 g per litre in one dose (judging.yaml, single_dose_n_cap), at the high end.
func TestEdgeOfFastNitrogen(t *testing.T) {
	meal, _ := lib.Amendment("blood-meal")
	edge := 0.5 / (meal.AsIs(reference.N).Typical / 100) // g per litre
	for amount, loud := range map[string]bool{
		fmt.Sprintf("%.6f g/L", 0.999*edge): false, fmt.Sprintf("%.6f g/L", 1.001*edge): true,
		fmt.Sprintf("%.6f to %.6f g", 45*edge, 50.05*edge): true,
	} {
		out := compute("make: 50 L\nparts: {peat: 1}\namendments: {blood-meal: " + amount + "}\n")
		require.Empty(t, out.Printed())
		assert.Equal(t, loud, contains(out.Cautions(""), "fast-nitrogen"), amount)
	}
}

// TestCoarseSpoons: 1/8 US teaspoon holds 0.616115 mL, 10.4 % more than 0.558 and 9.6 % more than 0.562 mL, 36 % more
// than 0.453 and 33 % more than 0.463 mL. It speaks above 10 %, on household steps above 34 %, and for the worse end.
func TestCoarseSpoons(t *testing.T) {
	for _, c := range []struct{ rounding, amount, guard string }{
		{"fine", "0.562 mL", ""},
		{"fine", "0.558 mL", "coarse-rounding"},
		{"fine", "0.558 mL to 1 tsp", "coarse-rounding"},
		{"fine", "1/8 tsp to 0.93 mL", "coarse-rounding"},
		{"fine", "0.93 mL to 1/2 tsp", "coarse-rounding"},
		{"fine", "0.2 mL to 1 tsp", "too-small"},
		{"fine", "0.558 g", ""},
		{"household", "0.463 mL", ""},
		{"household", "0.453 mL", "coarse-rounding"},
	} {
		out := with(map[string]string{"handbook.yaml": "title: Tanglewick Court\nrounding: " + c.rounding + "\n"}, "make: 50 L\nparts: {peat: 1}\namendments: {gypsum: "+c.amount+"}\n")
		require.Empty(t, out.Printed())
		for _, id := range []string{"too-small", "coarse-rounding"} {
			assert.Equal(t, id == c.guard, contains(out.Cautions(""), id), "%s %s %s", c.rounding, c.amount, id)
		}
	}
	small := compute("make: 50 L\nparts: {peat: 1}\namendments: {gypsum: 0.2 mL to 1 tsp}\n")
	assert.Contains(t, small.Text(), "Gypsum: 0.17 g is too little")
}

// TestAnyCompostIsSourced: however little, where it comes from has its cautions; without compost there are none of
// that, though the same word stands on pellets for those who spread them.
func TestAnyCompostIsSourced(t *testing.T) {
	assert.Contains(t, compute("make: 50 L\nparts: {peat: 199, cattle-manure-compost: 1}\n").Cautions(""), "manure-compost")
	assert.Contains(t, compute("make: 50 L\nparts: {peat: 199, cattle-manure-compost: 1}\n").Cautions(""), "herbicide-residue")
	assert.NotContains(t, compute("make: 50 L\nparts: {peat: 1}\namendments: {poultry-manure-pellets: 1 g/L}\n").Cautions(""), "manure-compost")
}

// TestAFaultStopsTheMix: whatever else is known.
func TestAFaultStopsTheMix(t *testing.T) {
	for _, body := range []string{
		"make: 50 L\nparts: {marble: 1, peat: 1}\n", "parts: {peat: 1}\n", "make: 50 L\n", "make: 50 L\nparts: {peat: 1}\nlime: {marble: 1 g/L}\n",
		"make: 50 L\nparts: {peat: 1}\nlime: {gypsum: 1 g/L}\namendments: {gypsum: 1 g/L}\n",
		"make: 50 L\nparts: {peat: 1}\namendments: {marble: 1 g/L, gypsum: 1 g/L}\n",
	} {
		out := compute(body)
		assert.NotEmpty(t, out.Faults, body)
		assert.Nil(t, out.Data, body)
	}
	unknown := compute("make: 50 L\nparts: {marble: 1}\n")
	assert.Contains(t, unknown.Faults[0].Hints[0], "write a component (peat, bark, wood-chips, ")
}

// TestFastNitrogenOfAnOwnBlend: a blend of 12 % N is as fast as a meal, in a mix as in a recipe: 0.5 g / 12 % = 4.17 g
// per litre. One of 5 % is not.
func TestFastNitrogenOfAnOwnBlend(t *testing.T) {
	blends := map[string]string{"cupboard.yaml": "rich: {name: Rich blend, label: {n: 12}, cup weighs: 150 g}\npoor: {name: Poor blend, label: {n: 5}, cup weighs: 150 g}\n"}
	for amount, loud := range map[string]bool{"rich: 4.16 g/L": false, "rich: 4.18 g/L": true, "poor: 20 g/L": false} {
		out := with(blends, "make: 50 L\nparts: {peat: 1}\namendments: {"+amount+"}\n")
		require.Empty(t, out.Printed())
		assert.Equal(t, loud, contains(out.Cautions(""), "fast-nitrogen"), amount)
	}
}

// TestUnknownIsNotZero: a lime brings no nitrogen, and of compost of no kind named nobody tells any: not known, with the
// lime as without it. What the lime does bring is told, and of what it is told without. Null is not known, never zero
// (the contract of the JSON).
func TestUnknownIsNotZero(t *testing.T) {
	out := compute("make: 80 L\nparts: {peat: 3, compost: 1}\nlime: {calcitic-lime: 120 g}\n")
	for _, end := range []string{"low", "high", "least", "most"} {
		assert.Equal(t, data.Null{}, out.Find("added_g/n/"+end), end)
		assert.Equal(t, data.Null{}, out.Find("added_mg_per_l/n/"+end), end)
	}
	assert.Positive(t, out.Number("added_g/ca/low"))
	assert.Equal(t, data.Texts([]string{"peat", "compost"}), out.Find("added_g/ca/missing"))
	known := compute("make: 80 L\nparts: {yard-compost: 1}\nlime: {calcitic-lime: 120 g}\n")
	assert.Positive(t, known.Number("added_g/n/low"))
}
