package recipe_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/data"
)

// TestKeys: every key of the JSON contract is there, also where nothing is known or computed yet.
func TestKeys(t *testing.T) {
	out := compute("us", "title: T\nfor: 20 L\nsizes: [20 L]\namounts:\n  alfalfa-meal: 1/2 to 1 cup\n"+
		"  potash, one of:\n    kelp-meal: 1 cup\n    langbeinite: 1 tbsp\ntop: {compost: yard-compost, share: 25 %}\n")
	require.Empty(t, out.Printed())
	for _, path := range []string{
		"id", "kind", "title", "stamp", "for/litres", "sizes", "sources",
		"20-l/label", "20-l/litres/low", "20-l/litres/high",
		"20-l/amounts/alfalfa-meal/amendment", "20-l/amounts/alfalfa-meal/measure/us/low", "20-l/amounts/alfalfa-meal/measure/us/high",
		"20-l/amounts/alfalfa-meal/ml/low", "20-l/amounts/alfalfa-meal/grams/high", "20-l/amounts/alfalfa-meal/rounding_percent/low",
		"20-l/choices/potash/options/kelp-meal/grams/low", "20-l/choices/potash/options/langbeinite/added_g/k2o/most",
		"20-l/choices/potash/options/langbeinite/cost", "20-l/blend_percent/n", "20-l/blend_percent/p2o5", "20-l/blend_percent/k2o",
		"20-l/c_to_n/low", "20-l/available_n_g", "20-l/need_met_percent", "20-l/lime_equivalent_g/low", "20-l/ec_added_ms_cm/low",
		"20-l/compost/firmed_litres", "20-l/compost/loose_litres", "20-l/compost/added_g/n", "20-l/wait_weeks/sow", "20-l/wait_weeks/plant",
		"20-l/cost/low", "20-l/cost/high", "20-l/cost/currency", "20-l/cost/missing", "20-l/cautions",
	} {
		assert.NotNil(t, out.Find(path), path)
	}
	for _, n := range []string{"n", "p2o5", "k2o", "ca", "mg", "s"} {
		for _, end := range []string{"low", "high", "least", "most"} {
			assert.IsType(t, data.Number(0), out.Find("20-l/added_g/"+n+"/"+end))
			assert.IsType(t, data.Number(0), out.Find("20-l/added_mg_per_l/"+n+"/"+end))
		}
	}
	for _, c := range out.Find("20-l/cautions").(data.List) {
		for _, key := range []string{"id", "text", "sources"} {
			assert.NotNil(t, c.(data.Object).Get(key), key)
		}
	}
	assert.Equal(t, data.Null{}, out.Find("20-l/cost/low"), "no price is not nothing to pay")
	assert.Regexp(t, `^[a-z2-7]{4}-[a-z2-7]{4}$`, string(out.Find("stamp").(data.Text)))
}

// TestStampFollowsTheNumbers: another amount is another stamp, a source is not.
func TestStampFollowsTheNumbers(t *testing.T) {
	stamp := func(amount string) data.Value {
		return compute("us", "title: T\nfor: 20 L\nsizes: [20 L]\namounts:\n  leaf-blend: "+amount+"\n").Find("stamp")
	}
	assert.Equal(t, stamp("1 cup"), stamp("1 cup"))
	assert.Equal(t, stamp("1 cup"), stamp("16 tbsp"), "the same volume")
	assert.NotEqual(t, stamp("1 cup"), stamp("1 1/4 cup"))
}
