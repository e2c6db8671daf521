package trial_test

import (
	"fmt"
	"math/rand/v2"
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
	"trug/calcblocks/kit/units"
	"trug/calcblocks/trial"
)

func TestCases(t *testing.T) { blocktest.Run(t, trial.Kind) }

func compute(body string) blocktest.Output {
	return blocktest.Compute(trial.Kind, blocktest.Input{ID: "t", Body: body})
}

// list writes whole values as a group, each times a factor and moved by an offset.
func list(values []int, times, plus int) string {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = fmt.Sprint(v*times + plus)
	}
	return "[" + strings.Join(words, ", ") + "]"
}

func values(t *rapid.T, name string) []int {
	v := rapid.SliceOfN(rapid.IntRange(0, 500), 3, 12).Draw(t, name)
	v[0], v[1] = v[0]+501, v[1]-501 // so that they vary
	return v
}

// TestScaling: values in another unit, k times as large, give k times the difference and interval, and the same
// t, df and p; moved alike they give the same of all.
func TestScaling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := values(t, "a"), values(t, "b")
		k := rapid.IntRange(2, 1000).Draw(t, "k")
		plain := compute("groups:\n  a: " + list(a, 1, 0) + "\n  b: " + list(b, 1, 0) + "\n")
		scaled := compute("groups:\n  a: " + list(a, k, 0) + "\n  b: " + list(b, k, 0) + "\n")
		moved := compute("groups:\n  a: " + list(a, 1, 1_000_000_000) + "\n  b: " + list(b, 1, 1_000_000_000) + "\n")
		for _, key := range []string{"difference", "standard_error", "interval/low", "interval/high", "t", "df", "p"} {
			factor := float64(k)
			if key == "t" || key == "df" || key == "p" {
				factor = 1
			}
			x := plain.Number(key)
			scale := 1e-9 * max(1, max(x, -x))
			assert.InDelta(t, factor*x, scaled.Number(key), factor*scale, key)
			assert.InDelta(t, x, moved.Number(key), 1e-6*max(1, max(x, -x)), key)
		}
		assert.Equal(t, plain.Find("verdict"), scaled.Find("verdict"))
	})
}

// TestSwapped: with the groups in the other order the difference turns its sign, and the rest stays.
func TestSwapped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := values(t, "a"), values(t, "b")
		one := compute("groups:\n  a: " + list(a, 1, 0) + "\n  b: " + list(b, 1, 0) + "\n")
		other := compute("groups:\n  b: " + list(b, 1, 0) + "\n  a: " + list(a, 1, 0) + "\n")
		assert.InDelta(t, one.Number("difference"), -other.Number("difference"), 1e-9)
		assert.InDelta(t, one.Number("t"), -other.Number("t"), 1e-9)
		assert.InDelta(t, one.Number("p"), other.Number("p"), 1e-12)
		assert.InDelta(t, one.Number("interval/low"), -other.Number("interval/high"), 1e-6)
		assert.Equal(t, one.Find("verdict"), other.Find("verdict"))
	})
}

// TestVerdictAndPAgree: with five a side a difference is shown exactly where p is below 5 %, and the interval at
// the level 1 - p ends at zero.
func TestVerdictAndPAgree(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	seen := map[string]int{}
	for range 300 {
		a, b := make([]int, 5+r.IntN(4)), make([]int, 5+r.IntN(4))
		for i := range a {
			a[i] = r.IntN(100)
		}
		for i := range b {
			b[i] = 30 + r.IntN(100)
		}
		out := compute("groups:\n  a: " + list(a, 1, 0) + "\n  b: " + list(b, 1, 0) + "\n")
		verdict := string(out.Find("verdict").(data.Text))
		seen[verdict]++
		assert.Equal(t, out.Number("p") < 0.05, verdict == "shown" || verdict == "only just shown", "p %v: %s", out.Number("p"), verdict)
		text := strings.ToLower(out.Text() + out.WorkingText())
		assert.NotContains(t, text, "no effect")
		assert.NotContains(t, text, "proven")
	}
	for _, verdict := range []string{"shown", "only just shown", "not shown"} {
		assert.Positive(t, seen[verdict], verdict)
	}
}

// TestHowFew: two a side tell nothing, three and four give figures, five a verdict; the smaller side counts.
func TestHowFew(t *testing.T) {
	group := func(n int) string { return list([]int{3, 9, 4, 8, 5, 7}[:n], 1, 0) }
	for n := 1; n <= 6; n++ {
		for m := 1; m <= 6; m++ {
			out := compute("groups:\n  a: " + group(n) + "\n  b: " + group(m) + "\n")
			require.Empty(t, out.Printed())
			verdict := out.Find("verdict")
			switch fewest := min(n, m); {
			case fewest < 3:
				assert.EqualValues(t, "too few pots to tell", verdict)
				for _, key := range []string{"difference", "t", "df", "p", "interval"} {
					assert.Equal(t, data.Null{}, out.Find(key), key)
				}
				assert.Contains(t, out.Text(), "Too few pots to tell")
			case fewest < 5:
				assert.EqualValues(t, "no verdict below 5 pots a side", verdict)
				assert.NotNil(t, out.Find("interval/low"))
			default:
				assert.EqualValues(t, "not shown", verdict)
			}
		}
	}
}

// TestValuesThatDoNotVary: without any spread there is no test, and no division by nothing.
func TestValuesThatDoNotVary(t *testing.T) {
	for _, body := range []string{
		"groups:\n  a: [5, 5, 5, 5, 5]\n  b: [6, 6, 6, 6, 6]\n",
		"paired: yes\ngroups:\n  a: [5, 6, 7, 8, 9]\n  b: [6, 7, 8, 9, 10]\n",
	} {
		out := compute(body)
		assert.EqualValues(t, -1, out.Number("difference"))
		assert.Equal(t, data.Null{}, out.Find("t"))
		assert.EqualValues(t, "no verdict on values that do not vary", out.Find("verdict"))
	}
	out := compute("groups:\n  a: [5, 5, 5, 5, 5]\n  b: [6, 7, 6, 7, 6]\n")
	assert.InDelta(t, 4, out.Number("df"), 1e-9, "only one side varies: its n - 1")
}

// TestIntervalLevel: a wider level is a wider interval, and the level stands beside it.
func TestIntervalLevel(t *testing.T) {
	last := 0.0
	for _, level := range []string{"50", "80", "90", "95", "99", "99.9"} {
		out := compute("interval: " + level + " %\ngroups:\n  a: [1, 2, 3, 4, 5]\n  b: [2, 4, 6, 8, 9]\n")
		width := out.Number("interval/high") - out.Number("interval/low")
		assert.Greater(t, width, last)
		last = width
		assert.Equal(t, level, fmt.Sprint(out.Number("interval/percent")))
	}
}

// TestManyComparisons: more than two groups get a word of warning, with the chance 1 - 0.95^m.
func TestManyComparisons(t *testing.T) {
	two := compute("groups:\n  a: [1, 2, 3, 4, 5]\n  b: [2, 4, 6, 8, 9]\n")
	assert.NotContains(t, two.Text(), "by chance")
	four := compute("groups:\n  a: [1, 2, 3, 4, 5]\n  b: [2, 4, 6, 8, 9]\n  c: [1, 4, 6, 8, 9]\n  d: [2, 4, 6, 8, 8]\n")
	assert.Contains(t, strings.Join(strings.Fields(four.Text()), " "), "Each of the 3 comparisons may show a difference by chance alone; that at least one does so happens up to 14.3 % of the time")
	assert.Len(t, four.Find("comparisons").(data.List), 3)
}

// diary is a kind that tells harvests: a list of {on, pot, did, crop, yield}.
var diary = block.Kind{Name: "diary", Phase: 1, Parse: func(n *form.Node) block.Block { return events{n} }}

type events struct{ n *form.Node }

func (e events) Compute(*block.Pass) block.Result {
	var r block.Result
	for _, item := range e.n.Items() {
		m := item.Mapping()
		on, _ := form.Value(m.Get("on"), units.ReadDate)
		event := facts.Event{On: on, Pot: m.Get("pot").Raw(), Did: m.Get("did").Raw(), Crop: m.Get("crop").Raw()}
		if y := m.Get("yield"); y != nil {
			event.Yield, _ = form.Value(y, y.Values().Mass)
		}
		r.Facts = append(r.Facts, event)
	}
	return r
}

const pots = "box: {name: Box, holds: 20 L, count: 7}\n"

const harvests = `
- {on: 2027-07-01, pot: box-1, did: harvested, crop: tomato, yield: 1 kg}
- {on: 2027-08-01, pot: box-1, did: harvested, crop: tomato, yield: 500 g}
- {on: 2027-08-01, pot: box-1, did: harvested, crop: basil, yield: 50 g}
- {on: 2026-08-01, pot: box-1, did: harvested, crop: tomato, yield: 3 kg}
- {on: 2027-08-01, pot: box-1, did: fed, crop: tomato, yield: 9 kg}
- {on: 2027-07-01, pot: box-2, did: harvested, crop: tomato, yield: 2 kg}
- {on: 2027-07-01, pot: box-3, did: harvested, crop: tomato, yield: 3 kg}
- {on: 2027-07-01, pot: box-4, did: harvested, crop: tomato, yield: 1 kg}
- {on: 2027-07-01, pot: box-5, did: harvested, crop: tomato, yield: 1 kg}
- {on: 2027-07-01, pot: box-6, did: harvested, crop: tomato, yield: 1.3 kg}
- {on: 2027-07-01, pot: box-7, did: harvested, crop: tomato}
`

func fromDiary(body string) blocktest.Output {
	return blocktest.Compute(trial.Kind, blocktest.Input{ID: "t", Body: body, Files: map[string]string{"pots.yaml": pots, "diary.yaml": harvests}}, diary)
}

// TestFromTheDiary: harvests of the season and the crop are added up for each pot; one that was not weighed is
// not nothing.
func TestFromTheDiary(t *testing.T) {
	const groups = "groups:\n  a: {pots: [box-1, box-2, box-3]}\n  b: {pots: [box-4, box-5, box-6, box-7]}\n"
	out := fromDiary("season: 2027\ncrop: tomato\n" + groups)
	require.Empty(t, out.Printed())
	assert.EqualValues(t, "g", out.Find("unit"))
	assert.Equal(t, data.List{data.Number(1500), data.Number(2000), data.Number(3000)}, out.Find("groups/a/values"))
	assert.EqualValues(t, 3, out.Number("groups/b/n"))
	assert.Equal(t, data.List{data.Text("Box 7")}, out.Find("missing"))
	assert.InEpsilon(t, 6500.0/3-1100, out.Number("difference"), 1e-12)
	assert.EqualValues(t, 4550, fromDiary(groups).Number("groups/a/values/1"), "every season and crop")
	assert.EqualValues(t, 1550, fromDiary("season: 2027\n"+groups).Number("groups/a/values/1"), "every crop")

	perLitre := fromDiary("season: 2027\ncrop: tomato\nunit: kg\nmeasure: yield per litre\n" + groups)
	assert.EqualValues(t, "kg per litre", perLitre.Find("unit"))
	assert.InEpsilon(t, 1.5/20, perLitre.Number("groups/a/values/1"), 1e-12)
	assert.InEpsilon(t, out.Number("t"), perLitre.Number("t"), 1e-9)

	paired := fromDiary("season: 2027\ncrop: tomato\npaired: yes\ngroups:\n  a: {pots: [box-1, box-2, box-3]}\n  b: {pots: [box-4, box-7, box-6]}\n")
	assert.EqualValues(t, 2, paired.Number("groups/a/n"), "the pair without a harvest is left out whole")
	assert.EqualValues(t, "too few pots to tell", paired.Find("verdict"))
}

// TestFaultsOfPots: what only the pots and the crops of the handbook can show, at its own place.
func TestFaultsOfPots(t *testing.T) {
	for body, code := range map[string]string{
		"groups:\n  a: {pots: [box-1]}\n  b: {pots: [box-9]}\n":                     "unknown-pot",
		"groups:\n  a: {pots: [box-1]}\n  b: {pots: [20 L]}\n":                      "not-a-pot",
		"groups:\n  a: {pots: [box-1]}\n  b: {pots: [box-1]}\n":                     "repeated-pot",
		"groups:\n  a: {pots: [box-1]}\n  b: [1, 2]\n":                              "values-and-pots",
		"groups:\n  a: {pots: [box-1]}\n":                                           "one-group",
		"crop: tomatoe\ngroups:\n  a: {pots: [box-1]}\n  b: {pots: [box-2]}\n":      "unknown-crop",
		"unit: litres\ngroups:\n  a: {pots: [box-1]}\n  b: {pots: [box-2]}\n":       "wrong-dimension",
		"paired: yes\ngroups:\n  a: {pots: [box-1, box-3]}\n  b: {pots: [box-2]}\n": "uneven-pairs",
		"groups:\n  a: [1, 2]\n  b: [1, 2]\npaired: yes\ninterval: 40 %\n":          "bad-interval",
	} {
		out := fromDiary(body)
		require.Len(t, out.Faults, 1, body)
		assert.Equal(t, code, out.Faults[0].Code, body)
		assert.NotZero(t, out.Faults[0].At.Line)
		assert.NotEmpty(t, out.Faults[0].Hints)
	}
}
