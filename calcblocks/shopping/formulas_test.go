package shopping_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/shopping"
)

func list(plans map[string]string, body string) blocktest.Output {
	files := map[string]string{
		"handbook.yaml":        "title: Tanglewick Court\n",
		"cupboard.yaml":        "gypsum: {packs: [{holds: 1 kg, price: 3.00}]}\n",
		"pots.yaml":            "tub: {name: Tub, holds: 40 L}\nclass: {name: Class pot, shape: nursery class 5}\nspare: {name: Spare, holds: 10 L}\n",
		"recipe spring.yaml":   "title: Spring\nfor: 20 L\namounts: {gypsum: 20 g}\n",
		"recipe bonemeal.yaml": "title: Bone meal\nfor: 20 L\namounts: {bone-meal-steamed: 20 g}\n",
	}
	for name, text := range plans {
		files[name] = text
	}
	return blocktest.Compute(shopping.Kind, blocktest.Input{Files: files, Body: body}, others...)
}

// TestOnlyTheNamedPlan: of two plans the list is for one: 1 g/L in 40 L are 40 g, and a pack of 1 kg costs 3.00.
func TestOnlyTheNamedPlan(t *testing.T) {
	out := list(map[string]string{
		"plan a.yaml": "season: 2027\npots: {tub: {recipe: spring}}\n",
		"plan b.yaml": "season: 2028\npots: {spare: {recipe: spring}, class: {recipe: spring}}\n",
	}, "plan: a\n")
	require.Empty(t, out.Printed())
	assert.InEpsilon(t, 40, out.Number("needs/gypsum/grams"), 1e-9)
	assert.InEpsilon(t, 3, out.Number("cost_per_pot"), 1e-9)
	assert.InEpsilon(t, 3.0/40, out.Number("cost_per_litre"), 1e-9)
}

// TestAClassCountsAtItsLargest: so that nothing runs short: 1242 cubic inches are 20.3527 L (volumes.yaml).
func TestAClassCountsAtItsLargest(t *testing.T) {
	out := list(map[string]string{"plan a.yaml": "season: 2027\npots: {class: {recipe: spring}}\n"}, "{}\n")
	litres := 1242 * 16.387064 / 1000
	assert.InEpsilon(t, litres, out.Number("needs/gypsum/grams"), 1e-6)
	assert.InEpsilon(t, 3/litres, out.Number("cost_per_litre"), 1e-6)
}

// TestNoPriceNoShare: where no price is known a pot costs nothing that could be told.
func TestNoPriceNoShare(t *testing.T) {
	out := list(map[string]string{"plan a.yaml": "season: 2027\npots: {tub: {recipe: bonemeal}}\n"}, "{}\n")
	for _, key := range []string{"total_cost", "cost_per_pot", "cost_per_litre"} {
		assert.Equal(t, data.Null{}, out.Find(key), key)
	}
	none := list(map[string]string{"plan a.yaml": "season: 2027\npots: {nowhere: {recipe: spring}}\n"}, "{}\n")
	assert.Nil(t, none.Data, "a plan that plants nothing has no list")
}
