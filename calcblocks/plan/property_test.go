package plan_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/vessel"
	"trug/calcblocks/plan"
	"trug/calcblocks/shopping"
)

const cupboard = `alfalfa-meal: {cup weighs: 72 g, packs: [{holds: 2 kg, price: 9.50}], stock: 100 g}
gypsum: {cup weighs: 176 g}
kelp-meal: {cup weighs: 176 g, packs: [{holds: 500 g, price: 6.50}, {holds: 2 kg, price: 18.00}]}
langbeinite: {cup weighs: 318 g, packs: [{holds: 1 kg, price: 7.50}]}
yard-compost: {packs: [{holds: 40 L, price: 9.50}]}
`

const spring = `title: Spring renewal
for: 40 L
sizes: [40 L]
amounts:
  alfalfa-meal: 1 to 2 cups
  potash, one of:
    kelp-meal: 1/2 cup
    langbeinite: 2 tbsp
top: {compost: yard-compost, depth: 4 cm}
`

// a season of so many tapered tubs, each of which moves its old mix to the next, to the heap, or nowhere.
func season(t *rapid.T, pots int) blocktest.Input {
	var body, shapes strings.Builder
	body.WriteString("season: 2027\npots:\n")
	for i := range pots {
		top := rapid.IntRange(25, 60).Draw(t, "top")
		fmt.Fprintf(&shapes, "tub-%d: {name: Tub %d, shape: round %d cm top %d cm base 34 cm deep}\n", i, i, top, top-5)
		fmt.Fprintf(&body, "  tub-%d: {crop: pepper", i)
		add := func(text string, args ...any) { fmt.Fprintf(&body, ", "+text, args...) }
		if rapid.Bool().Draw(t, "recipe") {
			add("recipe: spring")
			if rapid.Bool().Draw(t, "pick") {
				add("with: langbeinite")
			}
		}
		settled, take := rapid.IntRange(0, 10).Draw(t, "settled"), rapid.IntRange(0, 12).Draw(t, "take")
		if settled > 0 {
			add("settled: %d cm", settled)
		}
		if take > 0 {
			add("take: %d cm", take)
		}
		if settled+take > 0 {
			to := rapid.SampledFrom([]string{"", fmt.Sprintf("tub-%d", (i+1)%pots), "heap", "discard"}).Draw(t, "to")
			if to != "" && to != fmt.Sprintf("tub-%d", i) {
				add("old mix to: %s", to)
			}
		}
		body.WriteString("}\n")
	}
	return blocktest.Input{ID: "season", Body: body.String(), Files: map[string]string{
		"pots.yaml": shapes.String(), "cupboard.yaml": cupboard, "recipe spring.yaml": spring,
	}}
}

func numberAt(o data.Value, key string) float64 {
	object, ok := o.(data.Object)
	if !ok {
		return 0
	}
	n, _ := object.Get(key).(data.Number)
	return float64(n)
}

// TestTheSeasonAddsUp: the plan costs what its pots cost, it takes what its pots take, every pot is filled to its
// line, and no old mix is lost.
func TestTheSeasonAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		out := blocktest.Compute(plan.Kind, season(t, rapid.IntRange(2, 8).Draw(t, "pots")), others...)
		for _, d := range out.Faults {
			require.Equal(t, "doubt", d.Severity.String(), out.Printed())
		}
		pots := out.Find("pots").(data.Object)
		assertCosts(t, out, pots)
		assertNeeds(t, out, pots)
		assertMix(t, out, pots)
	})
}

func assertCosts(t *rapid.T, out blocktest.Output, pots data.Object) {
	for _, end := range []string{"low", "high"} {
		sum := 0.0
		for _, p := range pots {
			sum += numberAt(p.Value.(data.Object).Get("cost"), end)
		}
		assert.InDelta(t, sum, numberAt(out.Find("total_cost"), end), 1e-9)
	}
}

func assertNeeds(t *rapid.T, out blocktest.Output, pots data.Object) {
	sums := map[string]float64{}
	for _, p := range pots {
		for _, a := range p.Value.(data.Object).Get("amounts").(data.List) {
			a := a.(data.Object)
			sums[string(a.Get("amendment").(data.Text))] += numberAt(a.Get("grams"), "high")
		}
		if compost, ok := p.Value.(data.Object).Get("compost").(data.Object); ok {
			sums["yard-compost"] += numberAt(compost.Get("loose_litres"), "high")
		}
	}
	needs := out.Find("needs").(data.List)
	assert.Len(t, needs, len(sums))
	for _, n := range needs {
		n := n.(data.Object)
		id, key := string(n.Get("amendment").(data.Text)), "grams"
		if id == "yard-compost" {
			key = "litres"
		}
		assert.InEpsilon(t, sums[id], numberAt(n, key), 1e-9, id)
		assert.InEpsilon(t, numberAt(n, "grams"), numberAt(n, "to_buy_g")+min(numberAt(n, "stock_g"), numberAt(n, "grams")), 1e-9, id)
	}
}

func assertMix(t *rapid.T, out blocktest.Output, pots data.Object) {
	all := out.Find("mix")
	leaves, wanted := 0.0, 0.0
	for _, p := range pots {
		m := p.Value.(data.Object).Get("mix")
		in := numberAt(m, "comes_in_litres") - numberAt(m, "too_much_litres")
		filled := numberAt(m, "left_litres") - numberAt(m, "old_mix_out_litres") + numberAt(m, "compost_litres") + in + numberAt(m, "new_mix_litres")
		assert.InDelta(t, numberAt(m, "fill_litres"), filled, 1e-9, p.Key)
		leaves += numberAt(m, "old_mix_out_litres")
		wanted += in + numberAt(m, "new_mix_litres")
	}
	places := 0.0
	for _, key := range []string{"to_pots", "too_much", "to_heap", "to_discard", "to_other_pots", "without_place"} {
		places += numberAt(all, key+"_litres")
	}
	assert.InDelta(t, leaves, numberAt(all, "old_mix_out_litres"), 1e-9)
	assert.InDelta(t, leaves, places, 1e-9)
	assert.InDelta(t, wanted, numberAt(all, "wanted_litres"), 1e-9)
	assert.InDelta(t, wanted, numberAt(all, "to_pots_litres")+numberAt(all, "new_mix_litres"), 1e-9)
}

// TestTwiceThePots: twice as many pots alike take and cost twice as much, to the cent of each pot, and 500 are no
// more trouble than one.
func TestTwiceThePots(t *testing.T) {
	of := func(n int) blocktest.Output {
		var body strings.Builder
		body.WriteString("season: 2027\npots:\n")
		for i := range n {
			fmt.Fprintf(&body, "  tub-%d: {recipe: spring, crop: pepper, plants: 1, settled: 2 cm, old mix to: heap}\n", i+1)
		}
		out := blocktest.Compute(plan.Kind, blocktest.Input{ID: "season", Body: body.String(), Files: map[string]string{
			"pots.yaml":     "tub: {name: Tub, shape: trough 50 x 40 x 20 cm, count: 500}\n",
			"cupboard.yaml": cupboard, "recipe spring.yaml": spring,
		}}, others...)
		require.Empty(t, out.Printed())
		return out
	}
	one, many := of(1), of(500)
	assert.InEpsilon(t, 500*one.Number("total_cost/high"), many.Number("total_cost/high"), 1e-9)
	assert.InEpsilon(t, 500*one.Number("needs/alfalfa-meal/grams"), many.Number("needs/alfalfa-meal/grams"), 1e-9)
	assert.InEpsilon(t, 500*one.Number("mix/to_heap_litres"), many.Number("mix/to_heap_litres"), 1e-9)
	assert.Len(t, many.Find("pots"), 500)
	plantings := 0
	for _, f := range many.Facts {
		if p, ok := f.(facts.Planting); ok {
			plantings++
			assert.Equal(t, [2]float64{40, 40}, p.Content.Litres)
			assert.NotEmpty(t, p.Parts)
		}
	}
	assert.Equal(t, 500, plantings)
}

// TestShoppingBuysWhatThePlanNeeds: the list of a plan has the needs of the plan.
func TestShoppingBuysWhatThePlanNeeds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := season(t, 4)
		planned := blocktest.Compute(plan.Kind, in, others...)
		in.Files["plan season.yaml"], in.Body, in.ID = in.Body, "plan: season\n", ""
		list := blocktest.Compute(shopping.Kind, in, append([]block.Kind{plan.Kind}, others...)...)
		assert.Equal(t, planned.Find("needs"), list.Find("needs"))
		sum := 0.0
		for _, n := range planned.Find("needs").(data.List) {
			sum += numberAt(n, "cost")
		}
		assert.InDelta(t, sum, numberAt(data.Object{{Key: "all", Value: list.Find("total_cost")}}, "all"), 1e-9)
	})
}

// TestPotWithoutVolume: no pot file gives one, so the pot is made by hand.
func TestPotWithoutVolume(t *testing.T) {
	kind := plan.Kind
	kind.Parse = func(n *form.Node) block.Block { return emptied{plan.Kind.Parse(n)} }
	out := blocktest.Compute(kind, blocktest.Input{
		ID: "season", Body: "season: 2027\npots:\n  tub: {crop: pepper}\n",
		Files: map[string]string{"pots.yaml": "tub: {name: Tub, holds: 20 L}\n"},
	})
	require.Len(t, out.Faults, 1)
	assert.Equal(t, "pot-without-volume", out.Faults[0].Code)
	assert.Equal(t, 3, out.Faults[0].At.Line)
}

// emptied takes the volume of every pot away before it computes.
type emptied struct{ block.Block }

func (e emptied) Compute(p *block.Pass) block.Result {
	for i := range p.Garden.Pots {
		p.Garden.Pots[i].Vessel = vessel.Vessel{}
	}
	return e.Block.Compute(p)
}

// TestFallAlone: 4 cm of 20 make 8 L of room in a straight 40 L box, and the recipe's compost takes 4 cm of it: nothing
// comes out. Of a fall of 2 cm the other 2 cm of compost push 4 L out.
func TestFallAlone(t *testing.T) {
	for settled, want := range map[string][3]float64{"4 cm": {0, 8, 0}, "2 cm": {4, 8, 0}, "6 cm": {0, 8, 4}} {
		out := blocktest.Compute(plan.Kind, blocktest.Input{
			ID: "season", Body: "season: 2027\npots:\n  tub: {recipe: spring, settled: " + settled + "}\n",
			Files: map[string]string{"pots.yaml": "tub: {name: Tub, shape: trough 50 x 40 x 20 cm}\n", "cupboard.yaml": cupboard, "recipe spring.yaml": spring},
		}, others...)
		for i, key := range []string{"old_mix_out_litres", "compost_litres", "new_mix_litres"} {
			assert.LessOrEqual(t, math.Abs(out.Number("pots/tub/mix/"+key)-want[i]), 1e-9, settled+" "+key)
		}
	}
}
