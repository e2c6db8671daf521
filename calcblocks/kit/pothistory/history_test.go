package pothistory_test

import (
	"fmt"
	"maps"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/diary"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/pothistory"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

var files = map[string]string{
	"cupboard.yaml": "blend: {name: Blend, label: {n: 4, p2o5: 3, k2o: 5, ca: 0, mg: 0, s: 0}, cup weighs: 140 g}\n",
	"pots.yaml":     "pail: {name: Pail, holds: 10 L}\nbox: {name: Box, holds: 40 L}\nclass: {name: Class, shape: nursery class 5}\n",
}

// told reads diaries, each a block of its own, and returns what they tell with the garden.
func told(t require.TestingT, bodies ...string) ([]facts.Fact, *garden.Garden) {
	var out []facts.Fact
	var g *garden.Garden
	for _, body := range bodies {
		o := blocktest.Compute(diary.Kind, blocktest.Input{Files: files, Body: body})
		require.Empty(t, o.Printed())
		out, g = append(out, o.Facts...), o.Garden
	}
	return out, g
}

func of(t require.TestingT, bodies ...string) *pothistory.History {
	facts, g := told(t, bodies...)
	return pothistory.Of(reference.Default(), g, facts)
}

// check returns what Check reports of some diaries, as "line: code" with "?" behind a doubt.
func check(t *testing.T, bodies ...string) []string {
	all, _ := told(t, bodies...)
	var list diag.List
	pothistory.Check(all, list.Report)
	out := []string{}
	for _, d := range list.Sorted() {
		text := fmt.Sprintf("%d:%d %s", d.At.Line, d.At.Column, d.Code)
		if d.Severity == diag.Doubt {
			text += "?"
		}
		require.NotEmpty(t, d.Hints)
		out = append(out, text)
	}
	return out
}

func TestHarvestBeforePlanting(t *testing.T) {
	const harvest = "- {on: 2026-07-01, pot: pail, did: harvested, crop: pepper}\n"
	assert.Equal(t, []string{"1:53 harvest-before-planting?"}, check(t, harvest+harvest), "told once; the diary may begin here")
	assert.Equal(t, []string{"1:53 harvest-before-planting"}, check(t, harvest+"- {on: 2026-07-31, pot: pail, did: planted, crop: pepper}\n"))
	assert.Equal(t, []string{"1:53 harvest-before-planting?"}, check(t, harvest+"- {on: 2026-08-01, pot: pail, did: planted, crop: pepper}\n"), "a second crop, a month later")
	assert.Equal(t, []string{"1:53 harvest-before-planting"}, check(t, harvest+"- {on: 2026-07-02, pot: pail, did: planted, crop: pepper}\n"))
	assert.Equal(t, []string{"1:53 harvest-before-planting?"}, check(t, harvest+"- {on: 2026-05-02, pot: box, did: planted, crop: pepper}\n"))
	assert.Empty(t, check(t, harvest, "- {on: 2026-05-02, pot: pail, did: sown, crop: pepper}\n"), "in another diary")
	assert.Empty(t, check(t, harvest+"- {on: 2026-07-01, pot: pail, did: planted, crop: pepper}\n"), "on the same day")
}

func TestPlantedTwice(t *testing.T) {
	const planted = "- {on: 2026-05-01, pot: pail, did: planted, crop: pepper}\n"
	assert.Equal(t, []string{"1:51 planted-twice"}, check(t, planted, planted))
	assert.Empty(t, check(t, planted, strings.Replace(planted, "pail", "box", 1)))
	assert.Empty(t, check(t, planted, strings.Replace(planted, "05-01", "05-09", 1)), "planted again where one failed")
	assert.Empty(t, check(t, planted, strings.Replace(planted, "pepper", "basil", 1)), "two crops of one day share the pot")
}

func TestStillThere(t *testing.T) {
	const first, second = "- {on: 2026-05-01, pot: pail, did: planted, crop: pepper}\n", "- {on: 2026-06-01, pot: pail, did: sown, crop: radish}\n"
	assert.Equal(t, []string{"2:48 still-there?"}, check(t, first+second))
	for _, between := range []string{
		"did: harvested, crop: pepper", "did: noted, crop: pepper, note: cleared", "did: noted, note: All pulled.", "did: renewed",
	} {
		assert.Empty(t, check(t, first+"- {on: 2026-05-20, pot: pail, "+between+"}\n"+second), between)
	}
	for _, between := range []string{"did: noted, crop: basil, note: cleared", "did: noted, crop: pepper, note: clear day", "did: fed, with: blend"} {
		assert.Len(t, check(t, first+"- {on: 2026-05-20, pot: pail, "+between+"}\n"+second), 1, between)
	}
	assert.Empty(t, check(t, first+strings.Replace(second, "radish", "radish, note: between the peppers", 1)))
	assert.Empty(t, check(t, first+strings.Replace(second, "2026", "2028", 1)), "of two years ago")
}

// TestSeveralDiaries: a pot's history spans all diaries, in the order of days and not of blocks.
func TestSeveralDiaries(t *testing.T) {
	h := of(
		t,
		"- {on: 2027-06-01, pot: pail, did: fed, with: blend, amount: 20 g}\n- {on: 2026-06-02, pot: pail, did: fed, with: blend, amount: 10 g}\n",
		"- {on: 2026-06-01, pot: pail, did: fed, with: blend, amount: 30 g}\n- {on: 2026-06-01, pot: box, did: noted}\n",
	)
	var days []string
	for _, e := range h.Events("pail") {
		days = append(days, pothistory.Day(e.On))
	}
	assert.Equal(t, []string{"2026-06-01", "2026-06-02", "2027-06-01"}, days)
	added := h.Added("pail")
	require.Len(t, added, 2)
	// 40 g x 4 % = 1.6 g N, 40 g x 3 % = 1.2 g P2O5; 20 g x 3 % = 0.6 g more.
	assert.InDelta(t, 1.6, added[0].High[reference.N].Value.Typical, 1e-9)
	assert.InDelta(t, 1.2, added[0].Phosphate.Total[1].Value.Typical, 1e-9)
	assert.InDelta(t, 1.8, added[1].Phosphate.Total[1].Value.Typical, 1e-9)
	assert.InDelta(t, 1.2, added[1].Phosphate.Before[1].Value.Typical, 1e-9)
	assert.Empty(t, h.Added("box"))
	assert.Empty(t, h.Events("class"))
}

// TestPhosphateBeginsAnew: what went in before all of the mix was replaced went out with it, also within a year.
func TestPhosphateBeginsAnew(t *testing.T) {
	h := of(t, `- {on: 2026-06-01, pot: pail, did: fed, with: blend, amount: 30 g}
- {on: 2027-03-01, pot: pail, did: fed, with: blend, amount: 10 g}
- {on: 2027-04-01, pot: pail, did: renewed, share: 100 %, with: blend, amount: 20 g}
- {on: 2028-04-01, pot: pail, did: renewed, share: 50 %, with: blend, amount: 40 g}
`)
	added := h.Added("pail")
	require.Len(t, added, 3)
	for i, want := range []float64{0.9, 0.6, 1.8} {
		assert.InDelta(t, want, added[i].Phosphate.Total[0].Value.Typical, 1e-9)
	}
	assert.InDelta(t, 1.2, added[1].Low[reference.N].Value.Typical, 1e-9, "the year's own sum holds both")
}

// TestAmountsOfRangesAndSpoons: both ends are kept; a cup of the blend weighs 140 g; without an amount nothing is
// counted as zero.
func TestAmountsOfRangesAndSpoons(t *testing.T) {
	h := of(t, `- {on: 2026-06-01, pot: pail, did: fed, with: blend, amount: 1/2 to 1 cup}
- {on: 2027-06-01, pot: pail, did: fed, with: blend}
- {on: 2027-06-02, pot: pail, did: fed, with: blend, amount: 10 g}
`)
	added := h.Added("pail")
	assert.InDelta(t, 2.8, added[0].Low[reference.N].Value.Typical, 1e-9)
	assert.InDelta(t, 5.6, added[0].High[reference.N].Value.Typical, 1e-9)
	assert.Equal(t, []string{"blend"}, added[1].Unweighed)
	assert.Equal(t, []string{"blend"}, added[1].Phosphate.Total[1].Missing)
	assert.Empty(t, added[0].Phosphate.Total[1].Missing)
}

// TestYieldsOfAClass: a nursery class holds 785 to 1242 cubic inches, 12.864 to 20.353 L; 500 g are 24.567 to
// 38.868 g a litre.
func TestYieldsOfAClass(t *testing.T) {
	h := of(t, `- {on: 2026-05-01, pot: class, did: planted, crop: pepper}
- {on: 2026-07-01, pot: class, did: harvested, crop: pepper, yield: 300 g}
- {on: 2026-07-09, pot: class, did: harvested, crop: pepper}
- {on: 2026-08-01, pot: class, did: harvested, crop: pepper, yield: 200 g}
- {on: 2027-08-01, pot: class, did: harvested, crop: pepper}
`)
	got := h.Harvests("class")
	require.Len(t, got, 2)
	assert.Equal(t, []int{3, 1}, []int{got[0].Pickings, got[0].Unweighed})
	assert.InEpsilon(t, 500/(1242*16.387064e-3), got[0].PerLitre[0], 1e-9)
	assert.InEpsilon(t, 500/(785*16.387064e-3), got[0].PerLitre[1], 1e-9)
	assert.Zero(t, got[1].Mass.Sign())
	tree := data.JSON(h.Tree(pothistory.Scope{Pots: []string{"class"}}))
	assert.Contains(t, string(tree), `"yield_kg": null`, "not weighed is not zero")
}

// TestRenewals: what is left is the product of what each renewal leaves; by depth of a straight pot the share is
// depth / fill height.
func TestRenewals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		left := 1.0
		var b strings.Builder
		for i, percent := range rapid.SliceOfN(rapid.IntRange(1, 99), 1, 8).Draw(t, "percent") {
			fmt.Fprintf(&b, "- {on: %d-04-01, pot: pail, did: renewed, share: %d %%}\n", 2020+i, percent)
			left *= 1 - float64(percent)/100
		}
		all := of(t, b.String()).Renewals("pail")
		assert.InEpsilon(t, left, all[len(all)-1].Left.Typical, 1e-9)
		assert.Equal(t, all[0].Left.Low, all[0].Left.High)
	})
	straight := map[string]string{"pots.yaml": "box: {name: Box, shape: trough 50 x 40 x 30 cm, fill: 25 cm}\n"}
	out := blocktest.Compute(diary.Kind, blocktest.Input{Files: straight, Body: "- {on: 2027-04-01, pot: box, did: renewed, depth: 5 cm}\n- {on: 2028-04-01, pot: box, did: renewed, depth: 25 cm}\n"})
	require.Empty(t, out.Printed())
	assert.InEpsilon(t, 20, out.Number("pots/box/1/fresh_percent/low"), 1e-9)
	assert.InEpsilon(t, 100, out.Number("pots/box/2/fresh_percent/high"), 1e-9)
	unknown := of(t, "- {on: 2027-04-01, pot: pail, did: renewed}\n- {on: 2028-04-01, pot: pail, did: renewed, share: 50 %}\n- {on: 2029-04-01, pot: pail, did: renewed, share: 100 %}\n").Renewals("pail")
	assert.Equal(t, []bool{false, false, true}, []bool{unknown[0].Known, unknown[1].Known, unknown[2].Known})
}

// TestPotParts: a pot's page has its years from the newest back, its tables and its conflicts; another pot's do
// not show, and a pot that no diary names has none.
func TestPotParts(t *testing.T) {
	h := of(t, `- {on: 2026-05-01, pot: pail, did: planted, crop: pepper}
- {on: 2026-05-01, pot: box, did: planted, crop: kale}
- {on: 2026-07-01, pot: pail, did: harvested, crop: pepper, yield: 500 g, note: sweet}
- {on: 2027-04-01, pot: pail, did: renewed, share: 25 %, with: blend, amount: 20 g}
- {on: 2027-05-01, pot: pail, did: planted, crop: potato, plants: 1}
`)
	doc := view.Doc{Parts: h.PotParts("pail")}
	var b strings.Builder
	require.NoError(t, view.Text(&b, doc))
	text := b.String()
	assert.NotContains(t, strings.ToLower(text), "kale")
	last := -1
	for _, want := range []string{
		"Too soon: Pepper grew in this pot in 2026", "\n2027\n", "Renewed with blend, 20 g, 25 % of the mix new", "Planted potato, 1 plant", "\n2026\n", "sweet",
		"Added in a year", "Phosphate", "Harvests", "50", "first mix", "75 %", "rests from", "Working", "Sources",
	} {
		at := strings.Index(text[last+1:], want)
		require.GreaterOrEqual(t, at, 0, "%q in its place of:\n%s", want, text)
		last += 1 + at
	}
	assert.Empty(t, h.PotParts("class"))
	assert.Len(t, h.Conflicts(), 1)
}

// TestManyPots: the history of many pots is, pot by pot, that of each alone.
func TestManyPots(t *testing.T) {
	all, g := told(t, "- {on: 2026-05-01, pot: pail, did: planted, crop: pepper}\n- {on: 2026-06-01, pot: pail, did: fed, with: blend, amount: 10 g}\n- {on: 2027-05-01, pot: pail, did: planted, crop: tomato}\n")
	var many []facts.Fact
	for season := range 20 {
		for pot := range 500 {
			for _, f := range all {
				if e, ok := f.(facts.Event); ok {
					e.Pot, e.On = fmt.Sprintf("pot-%d", pot), e.On.AddDate(10*season, 0, 0)
					many = append(many, e)
				}
			}
		}
	}
	h := pothistory.Of(reference.Default(), g, many)
	assert.Len(t, h.Conflicts(), 500*20)
	for _, pot := range []string{"pot-0", "pot-499"} {
		assert.Len(t, h.Events(pot), 3*20)
		assert.InDelta(t, 20*0.3, h.Added(pot)[19].Phosphate.Total[1].Value.Typical, 1e-9)
	}
	var list diag.List
	pothistory.Check(many, list.Report)
	assert.Empty(t, list.Sorted())
}

// TestSummerOfTheSouth: south of the equator a summer from October to March is one year, and its crop one harvest.
func TestSummerOfTheSouth(t *testing.T) {
	south := map[string]string{"handbook.yaml": "frost: {spring: \"09-20\", autumn: \"05-01\"}\n"}
	maps.Copy(south, files)
	o := blocktest.Compute(diary.Kind, blocktest.Input{Files: south, Body: `- {on: 2025-10-10, pot: pail, did: planted, crop: tomato}
- {on: 2026-02-01, pot: pail, did: harvested, crop: tomato, yield: 3100 g}
- {on: 2026-03-01, pot: pail, did: fed, with: blend, amount: 10 g}
- {on: 2026-08-10, pot: pail, did: fed, with: blend, amount: 20 g}
- {on: 2026-12-20, pot: pail, did: harvested, crop: tomato, yield: 1500 g}
- {on: 2027-02-01, pot: pail, did: harvested, crop: tomato, yield: 2500 g}
`})
	require.Empty(t, o.Printed())
	h := pothistory.Of(reference.Default(), o.Garden, o.Facts)
	var got []string
	for _, r := range h.Harvests("pail") {
		got = append(got, fmt.Sprintf("%d: %d pickings, %.0f g", r.Year, r.Pickings, r.Mass.Float()))
	}
	assert.Equal(t, []string{"2025: 1 pickings, 3100 g", "2026: 2 pickings, 4000 g"}, got)
	assert.Contains(t, o.Text(), "2026/27")
	assert.InDelta(t, 10*0.04, o.Number("added_g_per_year/pail/2025/n/low"), 1e-9)
	assert.InDelta(t, 20*0.04, o.Number("added_g_per_year/pail/2026/n/low"), 1e-9)
}
