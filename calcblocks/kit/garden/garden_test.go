package garden_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// open reads files, given as name and text in turn, without a fault.
func open(t *testing.T, files ...string) *garden.Garden {
	t.Helper()
	g, faults := openFaulty(files...)
	require.Empty(t, faults)
	return g
}

// openFaulty reads files and prints their faults.
func openFaulty(files ...string) (*garden.Garden, string) {
	content := map[string]string{}
	for i := 0; i < len(files); i += 2 {
		content[files[i]] = files[i+1]
	}
	var list diag.List
	g := blocktest.Open(content, &list)
	var b strings.Builder
	diag.Print(&b, list.Sorted(), diag.Style{})
	return g, b.String()
}

func labels(sizes []garden.Container) []string {
	var out []string
	for _, c := range sizes {
		out = append(out, c.Label)
	}
	return out
}

func TestDefaults(t *testing.T) {
	hb := open(t).Handbook
	assert.Equal(t, "Potting handbook", hb.Title)
	assert.Equal(t, "en", hb.Language)
	assert.Equal(t, "USD", hb.Currency)
	assert.Equal(t, measure.Fine, hb.Rounding)
	assert.Equal(t, []units.Set{units.US, units.Metric}, hb.Sets())
	assert.Equal(t, []string{"10 L", "20 L", "40 L"}, labels(hb.Sizes))
	assert.Empty(t, hb.Address)
}

func TestHandbook(t *testing.T) {
	g := open(t, "handbook.yaml", `title: Tanglewick Court potting bench
address: https://bench.example/court
language: en-GB
measures: {main: metric, also: [us, metric]}
rounding: household
currency: EUR
sizes: [10 L, half-barrel-2, round 30 cm top 24 cm base 28 cm deep]
author: The courtyard growers
frost: {spring: "04-20", autumn: "10-15"}
`, "pots.yaml", "half-barrel: {name: Half barrel, holds: 100 L, count: 2}\n")
	hb := g.Handbook
	assert.Equal(t, "https://bench.example/court/", hb.Address)
	assert.Equal(t, []units.Set{units.Metric, units.US}, hb.Sets(), "the main set is not repeated")
	assert.Equal(t, measure.Household, hb.Rounding)
	assert.Equal(t, []string{"10 L", "Half barrel 2", "round 30 cm top 24 cm base 28 cm deep"}, labels(hb.Sizes))
	cup, err := g.Values().Volume("1 cup")
	require.NoError(t, err)
	assert.InDelta(t, 250, cup.Float(), 0, "cups are those of the main set")
}

func TestHandbookFaults(t *testing.T) {
	_, faults := openFaulty("handbook.yaml", "title: T\nmeasures: {main: imperial}\naddress: bench.example\ncurrency: dollars\nrounding: coarse\nsizes: [10 L, 10 L, tub]\nfrost: {spring: \"4-20\"}\n")
	for _, says := range []string{
		"content/handbook.yaml:2:18: unknown set of measures \"imperial\"",
		"content/handbook.yaml:3:10: \"bench.example\" is not an address of a site",
		"content/handbook.yaml:4:11: \"dollars\" is not a currency code",
		"content/handbook.yaml:5:11: ",
		"content/handbook.yaml:6:15: the size \"10 L\" stands here twice",
		"content/handbook.yaml:6:21: unknown pot \"tub\"",
		"content/handbook.yaml:7:",
	} {
		assert.Contains(t, faults, says)
	}
}

func TestPots(t *testing.T) {
	g := open(t, "pots.yaml", `blue-tub: {name: Blue tub, shape: round 38 cm top 30 cm base 34 cm deep, fill: 31 cm, place: south wall}
half-barrel: {name: Half barrel, holds: 100 L, count: 2}
pail: {holds: 5 gal}
`)
	var ids []string
	for _, p := range g.Pots {
		ids = append(ids, p.ID+": "+p.Name)
	}
	assert.Equal(t, []string{"blue-tub: Blue tub", "half-barrel-1: Half barrel 1", "half-barrel-2: Half barrel 2", "pail: pail"}, ids)
	for id, litres := range map[string]float64{"blue-tub": 27.672174, "half-barrel-2": 100, "pail": 18.927059} {
		c, err := g.Container(id)
		require.NoError(t, err)
		low, high := c.Litres()
		assert.InEpsilon(t, litres, low, 1e-6, id)
		assert.InEpsilon(t, litres, high, 1e-6, id)
		assert.Equal(t, id, c.Pot)
	}
	_, err := g.Container("half-barrel")
	require.Error(t, err)
	var fault *units.Fault
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, []string{`did you mean "half-barrel-1"?`}, fault.Hints)
}

// TestPotsOfOneID: a count makes ids, which no other pot may have.
func TestPotsOfOneID(t *testing.T) {
	g, faults := openFaulty("pots.yaml", "half-barrel: {holds: 100 L, count: 2}\nhalf-barrel-1: {holds: 80 L}\n")
	assert.Equal(t, `content/pots.yaml:2:1: there are two pots "half-barrel-1"
   half-barrel-1: {holds: 80 L}
   ^
  hint: choose another id for one of them
  content/pots.yaml:1:1: the first "half-barrel-1" is here
`, faults)
	assert.Len(t, g.Pots, 2)
}

const ownBlend = `courtyard-blend:
  name: Courtyard blend
  label: {n: 4, p2o5: 3, k2o: 3.25}
  cup weighs: 140 g
`

// TestOwnBlend: nothing of it comes from the reference, and what its label leaves out is not known.
func TestOwnBlend(t *testing.T) {
	g := open(t, "cupboard.yaml", ownBlend)
	m, ok := g.Material("courtyard-blend")
	require.True(t, ok)
	assert.Nil(t, m.Ref)
	assert.InDelta(t, 3.25, m.Content(reference.K2O).Typical, 0)
	assert.False(t, m.Content(reference.Ca).Known, "not known is not zero")
	assert.False(t, m.CToN().Known)
	assert.False(t, m.LimeValue().Known)
	assert.False(t, m.SaltIndex().Known)
	assert.InEpsilon(t, 140/236.5882365, m.Density().Typical, 1e-12)
	assert.Empty(t, m.Hazards())
	assert.Contains(t, g.MaterialIDs(), "courtyard-blend")
	e, ok := g.Source("own-courtyard-blend-label")
	require.True(t, ok)
	assert.Equal(t, "cupboard.yaml:3", e.Place)
	assert.Equal(t, "Courtyard blend: own label analysis", e.Title)
}

func TestCupboardFaults(t *testing.T) {
	g, faults := openFaulty("cupboard.yaml", `courtyard-blend:
  name: Courtyard blend
kelp-mael: {stock: 600 g}
kelp-meal:
  label: {n: 60, p2o5: 30, k2o: 20}
alfalfa-meal:
  packs: [{holds: 2 kg}, {price: 3.00}]
gypsum: {label: {ca: 120}}
`)
	for _, says := range []string{
		"content/cupboard.yaml:1:1: \"courtyard-blend\" is not in the reference, so it needs a name, a label and a weighed cup",
		"content/cupboard.yaml:3:1: \"kelp-mael\" is not in the reference", "did you mean \"kelp-meal\"?",
		"content/cupboard.yaml:5:10: the label adds up to 110 %, more than the whole",
		"the key \"price\" is missing", "the key \"holds\" is missing",
		"content/cupboard.yaml:8:22: \"120\" is not a percent from 0 to 100",
	} {
		assert.Contains(t, faults, says)
	}
	m, ok := g.Material("alfalfa-meal")
	require.True(t, ok)
	assert.Empty(t, m.Packs, "half a pack is none")
}

// TestPrice: the cheapest pack per gram, whether sold by mass or by volume.
func TestPrice(t *testing.T) {
	hundred := units.SomeMass{Low: 100, Typical: 100, High: 100}
	for _, c := range []struct {
		packs string
		cents float64
	}{
		{"{holds: 2 kg, price: 14.00}", 70},
		{"{holds: 500 g, price: 5.50}, {holds: 2 kg, price: 14.00}", 70},
		{"{holds: 2 kg, price: 14.00}, {holds: 500 g, price: 2.00}", 40},
		{"{holds: 1 lb, price: 4.5359237}", 0}, // more than cents is a fault
		// 10 cups of 152 g are 1520 g: 7.60 for them is 0.5 cents a gram, cheaper than 14.00 for 2 kg.
		{"{holds: 2 kg, price: 14.00}, {holds: 10 cups, price: 7.60}", 50},
		{"{holds: 10 cups, price: 15.20}, {holds: 2 kg, price: 14.00}", 70},
	} {
		g, faults := openFaulty("cupboard.yaml", "kelp-meal:\n  cup weighs: 152 g\n  packs: ["+c.packs+"]\n")
		m, _ := g.Material("kelp-meal")
		cost, ok := m.Price(hundred)
		if c.cents == 0 {
			assert.NotEmpty(t, faults, c.packs)
			assert.False(t, ok)
			continue
		}
		require.Empty(t, faults, c.packs)
		require.True(t, ok)
		assert.InEpsilon(t, c.cents, cost.Typical, 1e-9, c.packs)
	}
	m, _ := open(t).Material("kelp-meal")
	_, ok := m.Price(hundred)
	assert.False(t, ok, "no pack, no price: never nothing to pay")
}

// TestPriceByVolumeOfTheReference: where nobody weighed a cup, the density's range makes the price one.
func TestPriceByVolumeOfTheReference(t *testing.T) {
	g := open(t, "cupboard.yaml", "kelp-meal: {packs: [{holds: 1 L, price: 7.00}]}\n")
	m, _ := g.Material("kelp-meal")
	cost, ok := m.Price(units.SomeMass{Low: 100, Typical: 100, High: 100})
	require.True(t, ok)
	d := m.Density()
	assert.InEpsilon(t, 100*700/(1000*d.Typical), cost.Typical, 1e-9)
	assert.InEpsilon(t, 100*700/(1000*d.High), cost.Low, 1e-9)
	assert.InEpsilon(t, 100*700/(1000*d.Low), cost.High, 1e-9)
}

func TestStock(t *testing.T) {
	g := open(t, "cupboard.yaml", "kelp-meal: {stock: 600 g}\nalfalfa-meal: {stock: 2 cups}\ngypsum: {}\n")
	kelp, _ := g.Material("kelp-meal")
	assert.InDelta(t, 600, kelp.Stock.Mass.Float(), 0)
	alfalfa, _ := g.Material("alfalfa-meal")
	assert.InEpsilon(t, 2*236.5882365, alfalfa.Stock.Volume.Float(), 1e-12)
	gypsum, _ := g.Material("gypsum")
	assert.Nil(t, gypsum.Stock)
	assert.True(t, gypsum.InCupboard)
	assert.Equal(t, "Gypsum", gypsum.Name)
}

const sharedRecipe = `recipe: border-mix
measures: metric
title: Border mix
for: 40 L
amounts:
  border-blend: 1 cup
  kelp-meal: 2 tbsp
amendments:
  border-blend:
    name: Border blend
    label: {n: 4, p2o5: 3, k2o: 3}
    cup weighs: 150 g
`

// TestRecipeFile: its cups are of its own set, and its blends join the cupboard.
func TestRecipeFile(t *testing.T) {
	g := open(t, "seasons/border.recipe.yaml", sharedRecipe, "handbook.yaml", "measures: {main: us}\n")
	require.Len(t, g.Recipes, 1)
	r := g.Recipes[0]
	assert.Equal(t, "border-mix", r.ID)
	assert.Equal(t, "seasons/border.recipe.yaml", r.Name)
	assert.Equal(t, sharedRecipe, r.Text)
	assert.Nil(t, r.Node.Mapping().Get("amendments"))
	assert.Nil(t, r.Node.Mapping().Get("measures"))
	cup, err := r.Node.Values().Volume("1 cup")
	require.NoError(t, err)
	assert.InDelta(t, 250, cup.Float(), 0)
	m, ok := g.Material("border-blend")
	require.True(t, ok)
	assert.InEpsilon(t, 0.6, m.Density().Typical, 1e-12, "150 g in 250 mL")
	e, _ := g.Source("own-border-blend-cup")
	assert.Equal(t, "seasons/border.recipe.yaml:12", e.Place)
	here, err := g.Values().Volume("1 cup")
	require.NoError(t, err)
	assert.InEpsilon(t, 236.5882365, here.Float(), 1e-12, "the handbook's own cups stay")
}

// TestTheCupboardGoesFirst: what the grower weighed beats what a recipe file brings along.
func TestTheCupboardGoesFirst(t *testing.T) {
	own := "border-blend: {name: My own, label: {n: 5}, cup weighs: 120 g}\n"
	g := open(t, "cupboard.yaml", own, "border.recipe.yaml", sharedRecipe)
	m, _ := g.Material("border-blend")
	assert.Equal(t, "My own", m.Name)
	assert.InDelta(t, 5, m.Content(reference.N).Typical, 0)
	assert.Len(t, g.Cupboard(), 1)
}

// TestEntryRoundTrip: a material written out is read again with the same figures, whatever cups it was
// weighed in.
func TestEntryRoundTrip(t *testing.T) {
	for _, main := range []units.Set{units.US, units.Metric, units.UK, units.Australian} {
		for _, from := range []units.Set{units.US, units.Metric} {
			handbook := fmt.Sprintf("measures: {main: %s}\n", main)
			shared := strings.Replace(sharedRecipe, "measures: metric", "measures: "+string(from), 1)
			shared = strings.Replace(shared, "name: Border blend", `name: 'Border "blend": größe'`, 1)
			first, _ := open(t, "handbook.yaml", handbook, "a.recipe.yaml", shared).Material("border-blend")

			written := "recipe: again\nmeasures: " + string(main) + "\ntitle: T\namendments:\n" + first.Entry()
			again, ok := open(t, "b.recipe.yaml", written).Material("border-blend")
			require.True(t, ok, written)
			assert.Equal(t, first.Name, again.Name)
			assert.InEpsilon(t, first.Density().Typical, again.Density().Typical, 1e-12, "weighed in %s, written in %s", from, main)
			for _, n := range reference.Nutrients {
				assert.Equal(t, first.Content(n).Known, again.Content(n).Known, n)
				assert.InDelta(t, first.Content(n).Typical, again.Content(n).Typical, 0, n)
			}
		}
	}
}

// TestSourceOfTheReference: own sources and those of the reference are found by one road.
func TestSourceOfTheReference(t *testing.T) {
	g := open(t, "cupboard.yaml", ownBlend)
	_, own := g.Source("own-courtyard-blend-cup")
	_, published := g.Source("rader-1943")
	_, none := g.Source("own-kelp-meal-cup")
	assert.Equal(t, []bool{true, true, false}, []bool{own, published, none})
}

// TestRepeatedKeyIsToldOnce: a pot written twice is one fault, not two.
func TestRepeatedKeyIsToldOnce(t *testing.T) {
	g, faults := openFaulty("pots.yaml", "box: {holds: 30 L}\nbox: {holds: 40 L, count: 2}\n")
	assert.Equal(t, 1, strings.Count(faults, "hint: "))
	assert.Len(t, g.Pots, 1)
}

// TestPotInTheAuthorsWords: a measured volume keeps the author's unit.
func TestPotInTheAuthorsWords(t *testing.T) {
	g := open(t, "pots.yaml", "pail: {name: Pail, holds: 4 gal}\ntub: {name: Tub, shape: round 12 in top}\n")
	pail, _ := g.Pot("pail")
	tub, _ := g.Pot("tub")
	assert.Equal(t, "4 gal, measured", pail.Words())
	assert.Equal(t, tub.Vessel.Describe(), tub.Words())
}
