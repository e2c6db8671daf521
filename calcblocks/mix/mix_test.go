package mix_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/ph"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/mix"
)

var lib = reference.Default()

func TestCases(t *testing.T) { blocktest.Run(t, mix.Kind) }

func compute(body string) blocktest.Output {
	return blocktest.Compute(mix.Kind, blocktest.Input{ID: "m", Body: body})
}

var names = []string{"peat", "bark", "wood-chips", "coarse-wood-chips", "coir", "perlite", "vermiculite", "sand", "loam", "bagged-mix", "compost", "yard-compost", "worm-castings", "rice-hulls", "biochar"}

// randomMix draws a volume and some parts.
func randomMix(t *rapid.T) (litres int, parts map[string]int, order []string) {
	litres = rapid.IntRange(1, 500).Draw(t, "litres")
	parts = map[string]int{}
	for _, name := range rapid.SliceOfNDistinct(rapid.SampledFrom(names), 1, 6, rapid.ID).Draw(t, "names") {
		parts[name] = rapid.IntRange(1, 9).Draw(t, name)
		order = append(order, name)
	}
	return litres, parts, order
}

func body(litres int, parts map[string]int, order []string) string {
	b := fmt.Sprintf("make: %d L\nparts:\n", litres)
	for _, name := range order {
		b += fmt.Sprintf("  %s: %d\n", name, parts[name])
	}
	return b
}

// TestBalanceOfVolume: the parts fill the pots and no more; what goes in loose, less blending and firming, is what
// was asked; the bags hold it, and one bag fewer does not.
func TestBalanceOfVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		litres, parts, order := randomMix(t)
		out := compute(body(litres, parts, order))
		require.Empty(t, out.Printed())
		blend := 0.9
		if len(order) == 1 {
			blend = 1
		}
		firmed, packed, shares := 0.0, 0.0, 0.0
		for _, name := range order {
			at := "parts/" + name + "/"
			firmed += out.Number(at + "litres_firmed")
			packed += out.Number(at+"litres_loose") * packing(name)
			shares += out.Number(at + "share_percent")
			assert.LessOrEqual(t, out.Number(at+"litres_loose_least"), out.Number(at+"litres_loose"))
			assert.LessOrEqual(t, out.Number(at+"litres_loose"), out.Number(at+"litres_loose_most"))
			for _, b := range out.Find(at + "bags").(data.List) {
				holds, count := float64(b.(data.Object).Get("holds_litres").(data.Number)), float64(b.(data.Object).Get("count").(data.Number))
				assert.GreaterOrEqual(t, holds*count, out.Number(at+"litres_loose")-1e-6)
				assert.Less(t, holds*(count-1), out.Number(at+"litres_loose"))
			}
		}
		assert.InEpsilon(t, float64(litres), firmed, 1e-9)
		assert.InEpsilon(t, float64(litres), packed*blend, 1e-9)
		assert.InEpsilon(t, 100, shares, 1e-9)
	})
}

// TestScaling: k times as much mix is k times all litres and kilograms, of amendments by rate k times the grams, and
// the same percent and pH.
func TestScaling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		litres, parts, order := randomMix(t)
		k := rapid.IntRange(2, 20).Draw(t, "k")
		const rates = "lime: 1 g/L\namendments: {gypsum: 0.5 g/L, langbeinite: 0.3 g/L}\n"
		one, many := compute(body(litres, parts, order)+rates), compute(body(k*litres, parts, order)+rates)
		for _, key := range []string{"make_litres", "dry_kg/low", "dry_kg/typical", "dry_kg/high", "watered_kg/typical", "amounts/gypsum/grams/low", "added_g/ca/low", "added_g/s/most", "parts/" + order[0] + "/litres_loose"} {
			assert.InEpsilon(t, float64(k)*one.Number(key), many.Number(key), 1e-9, key)
		}
		assert.Equal(t, one.Find("air_percent"), many.Find("air_percent"))
		if one.Find("ph") == (data.Null{}) {
			assert.Equal(t, data.Null{}, many.Find("ph"))
		} else {
			assert.InDelta(t, one.Number("ph/typical"), many.Number("ph/typical"), 1e-9)
		}
		assert.InDelta(t, one.Number("added_mg_per_l/s/low"), many.Number("added_mg_per_l/s/low"), 1e-6)
	})
}

// TestReadersContainer: a reader's container gives what the author's block gives for it, amounts of the batch in
// proportion.
func TestReadersContainer(t *testing.T) {
	const b = "make: 60 L\nparts: {peat: 2, perlite: 1}\namendments: {gypsum: 90 g}\n"
	asked := blocktest.Compute(mix.Kind, blocktest.Input{ID: "m", Body: b, For: "20 L"})
	require.Empty(t, asked.Printed())
	assert.InDelta(t, 20, asked.Number("make_litres"), 1e-9)
	assert.InDelta(t, 30, asked.Number("amounts/gypsum/grams/low"), 1e-9)
	assert.InEpsilon(t, compute(b).Number("dry_kg/typical")/3, asked.Number("dry_kg/typical"), 1e-9)
}

// TestPorometer: a component by itself weighs watered what the source's own table says, and its air and water are
// those of its row.
func TestPorometer(t *testing.T) {
	for name, row := range map[string]string{"peat": "sphagnum-peat", "bark": "pine-bark", "wood-chips": "chipped-pine-residual-4.8-mm", "coarse-wood-chips": "chipped-pine-residual-9.5-mm"} {
		out := compute("make: 100 L\nparts: {" + name + ": 1}\n")
		at := func(key string) float64 {
			return lib.Number("volumes", "mix_components", "porometer", "rows", row, key)
		}
		assert.InDelta(t, at("kg_per_l_at_capacity"), out.Number("watered_kg/typical")/100, 0.0051, name)
		assert.InDelta(t, at("total_porosity_percent"), out.Number("total_porosity_percent"), 1e-9, name)
		assert.InDelta(t, at("air_percent"), out.Number("air_percent/typical"), 1e-9, name)
		assert.InDelta(t, 125, out.Number("parts/"+name+"/litres_loose"), 1e-9, "100 L / 0.8, nothing to blend")
	}
}

// TestPoresAreNotInvented: where no part was measured nothing is said; where some were, the others are named.
func TestPoresAreNotInvented(t *testing.T) {
	none := compute("make: 100 L\nparts: {coir: 1, perlite: 1}\n")
	for _, key := range []string{"air_percent", "water_percent", "total_porosity_percent"} {
		assert.Equal(t, data.Null{}, none.Find(key), key)
	}
	assert.InDelta(t, 90, none.Number("watered_kg/typical"), 1e-9, "100 L x 0.9 kg/L")
	assert.Contains(t, none.Text(), "not known")
	some := compute("make: 100 L\nparts: {peat: 1, perlite: 1}\n")
	assert.Equal(t, data.Texts([]string{"perlite"}), some.Find("pores_guessed_for"))
	assert.InDelta(t, (11+20)/2.0, some.Number("air_percent/typical"), 1e-9)
	soil := compute("make: 100 L\nparts: {loam: 1, perlite: 1}\n")
	loam, perlite := 50/0.9*1.2, 50/0.72*0.105
	assert.InDelta(t, loam+perlite+(45-loam/2.65)+0.55*50, soil.Number("watered_kg/typical"), 1e-9, "what the grains of loam leave, less a tenth of air; 55 % of the perlite")
	assert.Equal(t, data.Null{}, soil.Find("water_percent"))
}

// TestDryWeightHoldsItsRange: drawn from the ranges of the figures, the dry weight stays between low and high.
func TestDryWeightHoldsItsRange(t *testing.T) {
	out := compute("make: 50 L\nparts: {peat: 2, yard-compost: 1, perlite: 1}\n")
	r := rand.New(rand.NewPCG(3, 4))
	draw := func(f reference.Figure) float64 { return f.Low + r.Float64()*(f.High-f.Low) }
	blend, pack := lib.Must("volumes", "blending", "ratio"), lib.Must("volumes", "packing", "ratio")
	perlite := lib.Must("volumes", "mix_components", "densities_g_per_l", "perlite")
	compost, _ := lib.Amendment("yard-compost")
	for range 2000 {
		b, p := draw(blend), draw(pack)
		dry := 25/b*0.11 + 12.5/(b*p)*(draw(compost.Density)*draw(compost.DryMatter)/100+draw(perlite)/1000)
		assert.GreaterOrEqual(t, dry, out.Number("dry_kg/low")-1e-9)
		assert.LessOrEqual(t, dry, out.Number("dry_kg/high")+1e-9)
	}
}

// TestStartingPH: the block asks the published grid, lime by its value, and its range holds every value of the lime
// within its own.
func TestStartingPH(t *testing.T) {
	grid := ph.Published(lib)
	lime, _ := lib.Amendment("calcitic-lime")
	for _, compost := range []int{0, 10, 25, 40} {
		for _, grams := range []float64{0, 0.7, 1.9, 3.3} {
			b := fmt.Sprintf("make: 40 L\nparts: {peat: %d", 100-compost)
			if compost > 0 {
				b += fmt.Sprintf(", yard-compost: %d", compost)
			}
			b += "}\n"
			if grams > 0 {
				b += fmt.Sprintf("lime: {calcitic-lime: %g g/L}\n", grams)
			}
			out := compute(b)
			require.Empty(t, out.Printed())
			for _, value := range []float64{lime.LimeValue.Low, lime.LimeValue.Typical, lime.LimeValue.High} {
				want, ok := grid.At(grams*value/100, float64(compost))
				require.True(t, ok)
				assert.GreaterOrEqual(t, want, out.Number("ph/low"))
				assert.LessOrEqual(t, want, out.Number("ph/high"))
				if value == lime.LimeValue.Typical {
					assert.InDelta(t, want, out.Number("ph/typical"), 1e-9)
				}
			}
		}
	}
}

// TestNoPHBeyondTheGrid: too much lime or compost, no peat, soil, a lime without a value: not estimated, and the page
// says why.
func TestNoPHBeyondTheGrid(t *testing.T) {
	for b, why := range map[string]string{
		"parts: {peat: 3, yard-compost: 1}\nlime: 4 g/L\n": "the grid ends at 3.6 g of lime a litre and 40 % compost",
		"parts: {peat: 1, yard-compost: 1}\n":              "the grid ends at",
		"parts: {bark: 3, perlite: 1}\n":                   "not mostly peat",
		"parts: {peat: 1, perlite: 1}\n":                   "not mostly peat",
		"parts: {peat: 3, sand: 1}\n":                      "soil or sand",
	} {
		out := compute("make: 20 L\n" + b)
		require.Empty(t, out.Printed())
		assert.Equal(t, data.Null{}, out.Find("ph"), b)
		assert.Contains(t, strings.Join(strings.Fields(out.Text()+out.WorkingText()), " "), "not estimated", b)
		assert.Contains(t, strings.Join(strings.Fields(out.WorkingText()), " "), why, b)
	}
	edge := compute("make: 20 L\nparts: {peat: 3, yard-compost: 2}\n")
	assert.InDelta(t, 6.7, edge.Number("ph/typical"), 1e-9, "the edge belongs to the grid")
	moved := compute("make: 20 L\nparts: {peat: 3, perlite: 1}\namendments: {wood-ash: 0.5 g/L}\n")
	assert.Contains(t, strings.Join(strings.Fields(moved.Text()), " "), "The estimate of the pH leaves out wood ash")
}

// TestGuards: each speaks just above its figure and is silent at it.
func TestGuards(t *testing.T) {
	for _, c := range []struct {
		id, quiet, loud string
	}{
		{"compost-share", "parts: {peat: 67, yard-compost: 33}", "parts: {peat: 66, yard-compost: 34}"},
		{"over-limit", "parts: {peat: 80, worm-castings: 20}", "parts: {peat: 79, worm-castings: 21}"},
		{"over-limit", "parts: {peat: 60, rice-hulls: 40}", "parts: {peat: 59, rice-hulls: 41}"},
		{"soil-share", "parts: {peat: 90, loam: 10}", "parts: {peat: 89, loam: 11}"},
		{"ash-cap", "parts: {peat: 1}\namendments: {wood-ash: 0.64 g/L}", "parts: {peat: 1}\namendments: {wood-ash: 0.65 g/L}"},
		{"ash-with-lime", "parts: {peat: 1}\namendments: {wood-ash: 0.1 g/L}", "parts: {peat: 1}\nlime: 1 g/L\namendments: {wood-ash: 0.1 g/L}"},
		{"ash-with-nitrogen", "parts: {peat: 1}\namendments: {wood-ash: 0.1 g/L, kelp-meal: 1 g/L}", "parts: {peat: 1}\namendments: {wood-ash: 0.1 g/L, blood-meal: 1 g/L}"},
		{"lime-in-compost", "parts: {peat: 76, yard-compost: 24}\nlime: 1 g/L", "parts: {peat: 75, yard-compost: 25}\nlime: 1 g/L"},
		{"fast-nitrogen", "parts: {peat: 1}\namendments: {feather-meal: 3 g/L}", "parts: {peat: 1}\namendments: {feather-meal: 5 g/L}"},
		{"ph-low", "parts: {peat: 81, yard-compost: 19}", "parts: {peat: 82, yard-compost: 18}"},
		{"ph-high", "parts: {peat: 60, yard-compost: 40}", "parts: {peat: 60, yard-compost: 40}\nlime: {calcitic-lime: 2.6 g/L}"},
		{"too-small", "parts: {peat: 1}\namendments: {gypsum: 1 tsp}", "parts: {peat: 1}\namendments: {gypsum: 0.2 mL}"},
		{"coarse-rounding", "parts: {peat: 1}\namendments: {gypsum: 1/8 tsp}", "parts: {peat: 1}\namendments: {gypsum: 0.45 mL}"},
	} {
		quiet, loud := compute("make: 50 L\n"+c.quiet+"\n"), compute("make: 50 L\n"+c.loud+"\n")
		require.Empty(t, quiet.Printed()+loud.Printed(), c.id)
		assert.NotContains(t, quiet.Cautions(""), c.id, c.quiet)
		assert.Contains(t, loud.Cautions(""), c.id, c.loud)
	}
	dust := compute("make: 50 L\nparts: {peat: 1, perlite: 1}\n")
	assert.Contains(t, dust.Cautions(""), "mineral-dust")
}

// TestRatesAndAmounts: the same dose written in four ways.
func TestRatesAndAmounts(t *testing.T) {
	for _, amount := range []string{"120 g", "2 g/L", "2 kg/m3", "2 g per L"} {
		out := compute("make: 60 L\nparts: {peat: 1}\namendments: {gypsum: " + amount + "}\n")
		require.Empty(t, out.Printed(), amount)
		assert.InDelta(t, 120, out.Number("amounts/gypsum/grams/low"), 1e-9, amount)
		assert.InDelta(t, 2, out.Number("amounts/gypsum/grams_per_litre/low"), 1e-9, amount)
	}
	spoons := compute("make: 60 L\nparts: {peat: 1}\namendments: {gypsum: 1/2 to 1 cup}\n")
	assert.InEpsilon(t, 2*spoons.Number("amounts/gypsum/grams/low"), spoons.Number("amounts/gypsum/grams/high"), 1e-9)
	assert.InEpsilon(t, 2*spoons.Number("added_g/ca/low"), spoons.Number("added_g/ca/high"), 1e-9)
	rate := compute("make: 60 L\nparts: {peat: 1}\namendments: {gypsum: 1 tbsp/gal}\n")
	held := rate.Number("amounts/gypsum/ml/low")
	assert.InEpsilon(t, 60/3.785411784*14.78676, held, 0.061, "what the spoons hold, within their bound")
	assert.InEpsilon(t, held*0.85, rate.Number("amounts/gypsum/grams/low"), 1e-9, "grams are of the spoons")
}

// TestUses: the cupboard page learns of every material, and of no component.
func TestUses(t *testing.T) {
	out := compute("make: 60 L\nparts: {peat: 2, yard-compost: 1}\nlime: 1 g/L\namendments: {gypsum: 1 g/L}\n")
	var ids []string
	for _, f := range out.Facts {
		ids = append(ids, f.(facts.Use).Amendment)
	}
	assert.Equal(t, []string{"yard-compost", "dolomitic-lime", "gypsum"}, ids)
}

// TestPartsAreRatios: 3 to 1, 1 1/2 to 1/2, 75 % to 25 % and 0.3 to 0.1 are one mix.
func TestPartsAreRatios(t *testing.T) {
	want := compute("make: 60 L\nparts: {peat: 3, perlite: 1}\n")
	for _, parts := range []string{"{peat: 1 1/2, perlite: 1/2}", "{peat: 75 %, perlite: 25 %}", "{peat: 0.3, perlite: 0.1}"} {
		out := compute("make: 60 L\nparts: " + parts + "\n")
		require.Empty(t, out.Printed(), parts)
		assert.Equal(t, want.Find("parts/peat"), out.Find("parts/peat"), parts)
		assert.Equal(t, want.Find("stamp"), out.Find("stamp"), parts)
	}
}

// TestEveryComponent: each name that an author may write computes, in any company.
func TestEveryComponent(t *testing.T) {
	for _, name := range names {
		out := compute("make: 10 L\nparts: {peat: 1, " + name + ": 2}\n")
		if name == "peat" {
			continue // it stands there twice
		}
		require.Empty(t, out.Printed(), name)
		for _, key := range []string{"dry_kg", "watered_kg"} {
			assert.Positive(t, out.Number(key+"/low"), name)
			assert.LessOrEqual(t, out.Number(key+"/low"), out.Number(key+"/typical"), name)
			assert.LessOrEqual(t, out.Number(key+"/typical"), out.Number(key+"/high"), name)
		}
		assert.Less(t, out.Number("dry_kg/typical"), out.Number("watered_kg/typical"), name)
	}
}
