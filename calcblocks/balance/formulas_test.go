package balance

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/reference"
)

// asked returns the grams of a material that a target beyond reach draws, and what holds it there.
func asked(t *testing.T, cupboard, mix, nutrient, from, more string) (grams float64, held string) {
	t.Helper()
	out := compute(t, cupboard, "for: "+mix+"\ntargets: {"+nutrient+": 90000 g}\nfrom: ["+from+"]\ncount: total\n"+more)
	for _, b := range out.Find("bands").(data.List) {
		if b := b.(data.Object); b.Get("nutrient") == data.Text(nutrient) {
			for _, h := range b.Get("held_by").(data.List) {
				held += string(h.(data.Text)) + ";"
			}
		}
	}
	return out.Number("amounts/" + from + "/asked_g"), held
}

// TestEachUsualMost: a box of 50 x 40 x 20 cm holds 40 L below 0.2 m2. The limits are those of amendments.yaml: per litre
// where there is one, else per square metre; wood ash by the lesser of both; worm castings a fifth of the mix at 0.6 g/mL.
func TestEachUsualMost(t *testing.T) {
	for _, c := range []struct {
		id, nutrient, box string
		grams             float64
	}{
		{"langbeinite", "k2o", "50 x 40 x 20", 0.59 * 40},
		{"kelp-meal", "n", "50 x 40 x 20", 2.92 * 40},
		{"blood-meal", "n", "50 x 40 x 20", 195 * 0.2},
		{"wood-ash", "ca", "50 x 40 x 20", 98 * 0.2},
		{"wood-ash", "ca", "50 x 40 x 10", 0.64 * 20},
		{"worm-castings", "n", "50 x 40 x 20", 0.2 * 40 * 1000 * 0.6},
	} {
		grams, held := asked(t, "", "trough "+c.box+" cm", c.nutrient, c.id, "")
		assert.InEpsilon(t, c.grams, grams, 1e-6, c.id)
		assert.Contains(t, held, "limit of "+c.id)
	}
}

// TestEachOwnLimit: a blend of 1 g/mL (a US cup of 236.588 mL weighs as many grams) in 40 L, by weight and by volume, for the
// whole and for a litre or a US gallon of 3.785411784 L; 1 tbsp is 14.7867648 mL.
func TestEachOwnLimit(t *testing.T) {
	const blend = "blend: {name: Blend, label: {n: 4}, cup weighs: 236.5882365 g}\n"
	for limit, grams := range map[string]float64{
		"30 g": 30, "0.5 g/L": 20, "1/2 L": 500, "10 mL/L": 400, "1 tbsp/gal": 40 / 3.785411784 * 14.78676478125,
	} {
		got, held := asked(t, blend, "40 L", "n", "blend", "limits: {blend: "+limit+"}\n")
		assert.InEpsilon(t, grams, got, 1e-6, limit)
		assert.Equal(t, "limit of blend;", held, limit)
	}
	alike := compute(t, "", "for: trough 50 x 40 x 20 cm\ntargets: {n: 90 g}\nfrom: [blood-meal]\nlimits: {blood-meal: 39 g}\ncount: total\n")
	assert.Contains(t, strings.Join(strings.Fields(alike.Text()), " "), "the usual most of blood meal", "the author's limit counts where it is smaller than 195 g x 0.2 m2")
	light := blocktest.Compute(Kind, blocktest.Input{ID: "b", Files: map[string]string{"cupboard.yaml": blend}, Body: "for: 40 L\ntargets: {n: 90 g}\nfrom: [blend]\nlimits: {gypsum: 3 g}\n"})
	require.Len(t, light.Faults, 1)
	assert.Equal(t, "limit-without-material", light.Faults[0].Code)
}

// TestTheGuardOnPotash: K2O beyond four times the magnesia is held to the 0.05 g per litre that wood ash brings at its cap
// (judging.yaml, cation_balance and wood_ash), 2 g in 40 L. Of a salt of half K2O that is 4 g; with 5 % magnesium, which
// is 40.304/24.305 times as much magnesia (atomic weights), a gram counts 0.5 - 4 x 0.0829.
func TestTheGuardOnPotash(t *testing.T) {
	salt := func(mg string) string {
		return "salt: {name: Salt, label: {n: 0, p2o5: 0, k2o: 50" + mg + "}, cup weighs: 250 g}\n"
	}
	for mg, grams := range map[string]float64{"": 4, ", mg: 0": 4, ", mg: 5": 2 / (0.5 - 4*0.05*40.304/24.305)} {
		got, held := asked(t, salt(mg), "40 L", "k2o", "salt", "")
		assert.InEpsilon(t, grams, got, 1e-4, mg)
		assert.Equal(t, "guard potash-to-magnesia;", held, mg)
	}
}

// TestTheGuardOnSalt: gypsum with a salt index of 8.1 where sulfate of potash has 46.1 and adds 1.5 to 2.0 mS/cm for each gram
// in a litre (amendments.yaml; judging.yaml, ec_per_gram_salt). In a tray 1.5 cm deep, 3 L, the 3.5 mS/cm of ec_limits_sme come
// before the 195 g of a square metre; a crop of threshold 1.0 dS/m bears 2.0.
func TestTheGuardOnSalt(t *testing.T) {
	perGram := 1.75 * 8.1 / 46.1 / 3
	grams, held := asked(t, "", "trough 50 x 40 x 1.5 cm", "ca", "gypsum", "")
	assert.InEpsilon(t, 3.5/perGram, grams, 1e-6)
	assert.Equal(t, "guard salt;", held)
	bean, ok := reference.Default().Crop("bush-bean")
	require.True(t, ok)
	require.Equal(t, 1.0, bean.Salinity.Threshold.Typical)
	grams, _ = asked(t, "", "trough 50 x 40 x 1.5 cm", "ca", "gypsum", "crop: bush-bean\nplants: 1\n")
	assert.InEpsilon(t, 2/perGram, grams, 1e-6)
}

// TestTheGuardOnCompost: all composts together to a third, 33 % of 40 L loose (judging.yaml, compost_limits), though each for
// itself has room.
func TestTheGuardOnCompost(t *testing.T) {
	out := compute(t, "", "for: 40 L\ntargets: {n: 90000 g}\nfrom: [yard-compost, cattle-manure-compost]\ncount: total\n")
	litres := 0.0
	for _, id := range []string{"yard-compost", "cattle-manure-compost"} {
		m, _ := reference.Default().Amendment(id)
		if out.Find("amounts/"+id) != nil {
			litres += out.Number("amounts/"+id+"/asked_g") / m.Density.Typical / 1000
		}
	}
	assert.InEpsilon(t, 13.2, litres, 1e-4)
	assert.Contains(t, out.Text(), "the guard on the share of compost")
}

// TestDosesAsTargets: g/L are of the container's litres; the ends of a range may share a unit; what does not rise or is no
// weight is a fault at its place.
func TestDosesAsTargets(t *testing.T) {
	for target, ends := range map[string][2]float64{
		"0.1 g/L": {4, 4}, "0.1 to 0.3 g/L": {4, 12}, "100 mg/L to 0.3 g/L": {4, 12}, "0.1 g per L": {4, 4}, "1/10 g/L": {4, 4}, "1/10 to 3/10 g/L": {4, 12}, "4 to 12 g": {4, 12}, "4 g": {4, 4},
	} {
		out := compute(t, products, "for: 40 L\ntargets: {n: "+target+"}\nfrom: [blood]\ncount: total\n")
		b := out.Find("bands").(data.List)[0].(data.Object)
		assert.InEpsilon(t, ends[0], float64(b.Get("low").(data.Number)), 1e-9, target)
		assert.InEpsilon(t, ends[1], float64(b.Get("high").(data.Number)), 1e-9, target)
	}
	for target, fault := range map[string]struct {
		code   string
		column int
	}{
		"0.3 to 0.1 g/L": {"range-order", 14}, "0.3 to 0.3 g/L": {"range-order", 14}, "4 mL": {"wrong-dimension", 14}, "0.3 mL/L": {"wrong-dimension", 14},
		"0.3 to 0.5 x/L": {"unknown-unit", 25},
	} {
		out := blocktest.Compute(Kind, blocktest.Input{ID: "b", Files: map[string]string{"cupboard.yaml": products}, Body: "for: 40 L\ntargets: {n: " + target + "}\nfrom: [blood]\n"})
		if assert.NotEmpty(t, out.Faults, target) {
			assert.Equal(t, fault.code, out.Faults[0].Code, target)
			assert.Equal(t, fault.column, out.Faults[0].At.Column, target)
		}
	}
}

// TestClosestAimsAtTheMiddle: within a band of 6 to 10 g of nitrogen it asks for 8, the cheapest for 6; of two nutrients a
// miss counts as a part of its own middle, so that 1 of 4 g weighs more than 1 of 8.
func TestClosestAimsAtTheMiddle(t *testing.T) {
	for prefer, n := range map[string]float64{"closest": 8, "cheapest": 6, "fewest": 6} {
		out := compute(t, products, "for: 60 L\ntargets: {n: 6 to 10 g}\nfrom: [blood]\ncount: total\nprefer: "+prefer+"\n")
		assert.InEpsilon(t, n/0.12, out.Number("amounts/blood/asked_g"), 1e-6, prefer)
	}
	const even = "even: {name: Even, label: {n: 10, p2o5: 10, k2o: 0}, cup weighs: 200 g, packs: [{holds: 1 kg, price: 5.00}]}\n"
	for targets, grams := range map[string]float64{"n: 8 g, p2o5: 4 g": 40, "n: 4 g, p2o5: 8 g": 40} {
		out := compute(t, even, "for: 60 L\ntargets: {"+targets+"}\nfrom: [even]\ncount: total\n")
		assert.InEpsilon(t, grams, out.Number("amounts/even/asked_g"), 1e-6, fmt.Sprint(targets))
	}
}
