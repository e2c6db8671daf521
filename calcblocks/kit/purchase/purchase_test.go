package purchase_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/packs"
	"trug/calcblocks/kit/purchase"
	"trug/calcblocks/kit/units"
)

// One cup of 236.5882365 mL that weighs 236.5882365 g makes a density of 1 g/mL, so that litres are kilograms.
const cupboard = `gypsum: {name: Gypsum, cup weighs: 118.29411825 g, packs: [{holds: 1 kg, price: 3.00}, {holds: 4 L, price: 5.00}], stock: 1 L}
kelp-meal: {packs: [{holds: 2 kg, price: 14.00}]}
court-blend: {name: Court blend, label: {n: 4}, cup weighs: 236.5882365 g, packs: [{holds: 2.5 L, price: 4.00}, {holds: 10 L, price: 9.00}]}
feather-meal: {stock: 5 kg}
blood-meal: {name: Blood meal}
`

// pots are plantings that take some grams of materials each, at a low and a high end.
func pots(t *testing.T, takes ...map[string][2]float64) []facts.Planting {
	t.Helper()
	var list diag.List
	g := blocktest.Open(map[string]string{"cupboard.yaml": cupboard}, &list)
	require.Empty(t, list.Sorted())
	var out []facts.Planting
	for i, take := range takes {
		p := facts.Planting{Pot: string(rune('a' + i))}
		for _, id := range []string{"gypsum", "kelp-meal", "court-blend", "feather-meal", "blood-meal"} {
			grams, ok := take[id]
			if !ok {
				continue
			}
			m, known := g.Material(id)
			require.True(t, known)
			for end := range 2 {
				p.Content.Masses[end] = append(p.Content.Masses[end], dose.Portion{Material: m, Mass: units.SomeMass{Low: grams[end] * 0.9, Typical: grams[end], High: grams[end] * 1.1}})
			}
		}
		out = append(out, p)
	}
	return out
}

// TestOf: sums at both ends, with the least of the low end and the most of the high end.
func TestOf(t *testing.T) {
	needs := purchase.Of(pots(t, map[string][2]float64{"kelp-meal": {100, 300}}, map[string][2]float64{"gypsum": {50, 50}, "kelp-meal": {1000, 2000}}))
	require.Len(t, needs, 2)
	kelp, gypsum := needs[0], needs[1]
	assert.Equal(t, "kelp-meal", kelp.Material.ID, "what comes up first stands first")
	assert.Equal(t, [2]float64{1100, 2300}, kelp.Grams)
	assert.InDelta(t, 990, kelp.Spread.Low, 1e-9)
	assert.InDelta(t, 2530, kelp.Spread.High, 1e-9)
	assert.Equal(t, []purchase.Take{{Pot: "a", Grams: [2]float64{100, 300}}, {Pot: "b", Grams: [2]float64{1000, 2000}}}, kelp.Takes)
	assert.Nil(t, kelp.Stock, "not told")
	assert.Equal(t, 2300.0, kelp.ToBuy)
	require.Len(t, kelp.Offers, 3)
	assert.Equal(t, 2, kelp.Offers[0].Packs[0].Count)
	assert.Equal(t, 2800.0, kelp.Offers[0].Cost)
	assert.Equal(t, 1700.0, kelp.Offers[0].Left)
	assert.InDelta(t, 1700.0/1150, kelp.MorePots(1700), 1e-12)
	assert.Zero(t, gypsum.ToBuy, "1 L in stock weighs 500 g")
	assert.InDelta(t, 500, *gypsum.Stock, 1e-9)
	assert.Empty(t, gypsum.Offers)
	left, known := gypsum.Left()
	assert.True(t, known)
	assert.InDelta(t, 450, left, 1e-9)
}

// TestPacksByVolume: beside packs by weight those by volume are weighed: 4 L of gypsum are 2 kg, and 2.3 kg are
// cheapest as 2 kg and 1 kg. Where all packs are by volume litres are counted: exactly 10 kg at 1 g/mL are 10 L.
func TestPacksByVolume(t *testing.T) {
	needs := purchase.Of(pots(t, map[string][2]float64{"gypsum": {2800, 2800}, "court-blend": {10000, 10000}}))
	gypsum, blend := needs[0], needs[1]
	assert.InDelta(t, 2300, gypsum.ToBuy, 1e-9)
	require.Len(t, gypsum.Offers[0].Packs, 2)
	assert.Equal(t, 800.0, gypsum.Offers[0].Cost)
	assert.InDelta(t, 700, gypsum.Offers[0].Left, 1e-9)
	assert.False(t, gypsum.ByVolume())
	assert.True(t, blend.ByVolume())
	assert.Equal(t, 900.0, blend.Offers[0].Cost)
	require.Len(t, blend.Offers[0].Packs, 1)
	assert.Equal(t, 1, blend.Offers[0].Packs[0].Count)
	assert.Equal(t, "10 L", blend.Amount(10000))
	assert.Equal(t, "2.8 kg", gypsum.Amount(2800))
	assert.Equal(t, "50 to 80 g", gypsum.Between(50, 80))
}

// TestBill: what has no pack is named and is no part of the cost; a stock that is enough costs nothing.
func TestBill(t *testing.T) {
	needs := purchase.Of(pots(t, map[string][2]float64{"kelp-meal": {1, 1}, "feather-meal": {100, 100}, "blood-meal": {30, 30}}))
	bill := purchase.BillOf(needs, packs.Cheapest)
	assert.Equal(t, purchase.Bill{Cost: 1400, Known: true, Missing: []string{"blood-meal"}}, bill)
	assert.Equal(t, data.Number(14), purchase.BillTree(bill))
	assert.True(t, needs[2].Missing())
	tree := purchase.Tree(needs)
	blood := tree[2].(data.Object)
	assert.Equal(t, data.Null{}, blood.Get("packs"))
	assert.Equal(t, data.Null{}, blood.Get("cost"))
	assert.Equal(t, data.List{}, tree[1].(data.Object).Get("packs"))
	unpriced := purchase.BillOf(needs[2:], packs.Cheapest)
	assert.Equal(t, data.Null{}, purchase.BillTree(unpriced), "not known is not zero")
}
