package builder

import (
	"os"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
)

const figureNote = `
-- handbook.yaml --
title: Bench
measures: {main: us, also: [metric]}
-- cupboard.yaml --
leaf-blend:
  name: Leaf blend
  label: {n: 3, p2o5: 1, k2o: 2.5, ca: 1.4, mg: 0.3, s: 0.2}
  cup weighs: 72 g
  packs: [{holds: 2 kg, price: 12.00}]
-- pots.yaml --
tub-a: {name: The big blue one, holds: 40 L}
-- a.md --
# A

It costs [21 cents](figure:tub/20-l/cost), brings [about 1 g](figure:tub/20-l/added_g/n), and you
scoop [1/2 cup](figure:tub/20-l/amounts/leaf-blend/measure/us/low), that is [a little](figure:tub/20-l/amounts/leaf-blend/grams).

In short: [x](figure:tub/cost), [x](figure:tub/leaf-blend/measure), [x](figure:tub/leaf-blend/measure/metric),
[x](figure:tub/tub-a/leaf-blend/measure), [x](<figure:tub/20 L/added g/n>), [x](figure:secret/cost), [x](figure:heavy/dry),
[x](figure:tub/20-l/title), <figure:tub/20-l/cost>.

` + "```recipe tub\ntitle: Tub\nfor: 20 L\namounts:\n  leaf-blend: 1/2 cup\nsizes: [tub-a, 20 L]\n```\n\n" +
	"```weight heavy\ncontainer: 20 L\nempty: 2 kg\n```\n" + `
-- b.md --
` + "```page\npublish: no\n```\n# B\n\n```recipe secret\ntitle: Secret\nfor: 20 L\namounts:\n  leaf-blend: 1 cup\nsizes: [20 L]\n```\n"

// 1/2 cup x 72 g a cup = 36 g; x 3 % = 1.08 g N; x 12.00 / 2000 g = 0.216, which is 0.22.
func TestFigureLinks(t *testing.T) {
	handbookIn(t, txtar.Parse([]byte(strings.Replace(figureNote, "[x](figure:tub/20-l/title), ", "", 1))))
	report, err := Build(Options{Content: "content", Out: "public", Today: today})
	require.NoError(t, err)
	page, err := os.ReadFile("public/notes/a/index.html")
	require.NoError(t, err, printed(report.Diagnostics))
	for _, want := range []string{
		`<a href="../../recipes/tub/index.html#for-20-l">0.22 USD</a>, brings`,
		`#for-20-l">1.1 g</a>, and`, `#for-20-l">1/2 cup</a>, that`, `#for-20-l">36 g</a>.`,
		`In short: <a href="../../recipes/tub/index.html#for-20-l">0.22 USD</a>, <a href="../../recipes/tub/index.html#for-20-l">1/2 cup</a>, ` +
			`<a href="../../recipes/tub/index.html#for-20-l">1/2 cup</a>`,
		`<a href="../../recipes/tub/index.html#for-the-big-blue-one">1 cup</a>, <a href="../../recipes/tub/index.html#for-20-l">1.1 g</a>, 0.43 USD, <a href="index.html">`,
	} {
		assert.Contains(t, string(page), want)
	}
	var said []string
	for _, d := range report.Diagnostics {
		said = append(said, d.Message)
	}
	assert.Equal(t, []string{
		`the text says "21 cents", the block "tub" says "0.22 USD"`, `the block "secret" stands in a note that is not published`,
	}, said)
}

// A figure link that leads nowhere stops the build.
func TestDeadFigureLink(t *testing.T) {
	handbookIn(t, txtar.Parse([]byte(figureNote)))
	report, err := Build(Options{Content: "content", Out: "public", Today: today})
	require.NoError(t, err)
	assert.Equal(t, 1, report.Faults)
	assert.NoDirExists(t, "public/notes")
}

// TestEveryFigureOfTheDemo: each leaf of each block is found by its whole path and can stand in prose, unless it is not
// known; and what is not a bare count, a ratio or a statistic has a unit.
func TestEveryFigureOfTheDemo(t *testing.T) {
	h, err := Read("../content", today)
	require.NoError(t, err)
	bare, found := map[string]bool{}, 0
	for _, p := range h.Blocks {
		data.Walk(p.Result.Data, func(path string, leaf data.Value) {
			if _, null := leaf.(data.Null); null || strings.Contains(path, "sources/") || leaf == data.Text("") {
				return
			}
			f, missed := data.Seek(p.Result.Data, path)
			require.Nil(t, missed, path)
			require.Equal(t, path, f.Path)
			unit := unitFor(path, p.Result.Data, "USD")
			require.NotEmpty(t, figureText(leaf, unit, h.Garden.Handbook), path)
			if _, number := leaf.(data.Number); number && unit == "" {
				bare[key(path)] = true
			}
			found++
		})
	}
	assert.Greater(t, found, 1000)
	var keys []string
	for k := range bare {
		keys = append(keys, k)
	}
	assert.ElementsMatch(t, strings.Fields(`c_to_n c_to_n_as_given wanted_c_to_n ph k_to_mg ca_to_mg ca_to_k injector t df p n count pots plants pickings season
		year last_year years years_with_frost week left_for_pots pots_followed mean_day`), keys)
}

// key is the last name of a path that is no end of a span and no place.
func key(path string) string {
	names := strings.Split(path, "/")
	for i := len(names) - 1; ; i-- {
		switch names[i] {
		case "low", "high", "least", "most", "typical":
			continue
		}
		return names[i]
	}
}

var usBench = garden.Handbook{Main: "us", Also: nil, Currency: "USD"}

func span(low, high float64) data.Value { return data.Pair(low, high) }

func spoons(low, high string) data.Value {
	ends := func(a, b string) data.Value {
		return data.Object{{Key: "low", Value: data.Text(a)}, {Key: "high", Value: data.Text(b)}}
	}
	return data.Object{{Key: "us", Value: ends(low, high)}, {Key: "metric", Value: ends("1 tsp", "1 tsp")}}
}

func days(from, to string) data.Value {
	return data.Object{{Key: "job", Value: data.Text("plant")}, {Key: "from", Value: data.Text(from)}, {Key: "to", Value: data.Text(to)}}
}

func figureAt(path string, v data.Value) figure {
	root := data.Object{{Key: "unit", Value: data.Text("kg")}}
	f := figure{Finding: data.Finding{Path: path, Value: v}, unit: unitFor(path, root, usBench.Currency)}
	f.text = figureText(v, f.unit, usBench)
	return f
}

func TestFigureText(t *testing.T) {
	for _, c := range []struct {
		path string
		v    data.Value
		want string
	}{
		{"added_g/n", data.Number(1.0834), "1.1 g"},
		{"added_g/n", span(0.9, 1.234), "0.9 to 1.2 g"},
		{"blend_percent/n", span(2.75, 2.66), "2.7 to 2.8 %"}, // the ends of a container's range, which fall
		{"added_mg_per_l/n", data.Number(64.8), "64.8 mg per litre"},
		{"grams_per_litre", data.Number(3), "3 g per litre"},
		{"parts/peat/litres_loose", data.Number(69.4444), "69.4 L"},
		{"wait_weeks/sow", data.Number(1), "1 week"},
		{"wait_weeks/sow", data.Number(3), "3 weeks"},
		{"cost", span(0.35, 0.381), "0.35 to 0.38 USD"},
		{"cost_change", data.Number(-0.57), "-0.57 USD"},
		{"total_cost", data.Number(1234.5), "1234.50 USD"},
		{"price_per_kg", data.Number(3.1), "3.10 USD"},
		{"season", data.Number(2027), "2027"}, // not 2030
		{"c_to_n", span(27.84, 62.6), "27.8 to 62.6"},
		{"ec/sme", data.Number(3.1), "3.1 mS/cm"},
		{"weeks_n_mg_per_l/2/week", data.Number(1), "1"},
		{"weeks_n_mg_per_l/2/drawn", data.Number(12.3), "12.3 mg per litre"},
		{"groups/kelp/mean", data.Number(2.14), "2.1 kg"},
		{"amounts/kelp-meal/measure", spoons("1/2 cup", "1/2 cup"), "1/2 cup"},
		{"amounts/kelp-meal/measure", spoons("1/4 cup", "1/2 cup"), "1/4 to 1/2 cup"},
		{"amounts/kelp-meal/measure", spoons("2 tbsp", "1/4 cup + 1 tbsp"), "2 tbsp to 1/4 cup + 1 tbsp"},
		{"jobs/1/from", data.Text("2027-04-12"), "12 April 2027"},
		{"frost/p50", data.Text("04-20"), "20 April"},
		{"jobs/1", days("2027-04-12", "2027-04-26"), "12 to 26 April 2027"},
		{"verdict", data.Text("not shown"), "not shown"},
		{"in_cupboard", data.Flag(true), "yes"},
		{"held_by", data.Texts([]string{"a", "b", "c"}), "a, b and c"},
		{"original_left_percent", data.List{data.Number(75), data.Number(56.25)}, "75 % and 56.3 %"},
		{"cost", data.Null{}, ""},
		{"held_by", data.List{}, ""},
		{"compost", data.Object{{Key: "cost", Value: data.Number(1)}}, ""},
		{"bags", data.List{data.Object{{Key: "count", Value: data.Number(1)}}}, ""},
		{"measure", data.Null{}, ""},
	} {
		assert.Equal(t, c.want, figureAt(c.path, c.v).text, c.path)
	}
}

func TestDisagrees(t *testing.T) {
	for _, c := range []struct {
		path        string
		v           data.Value
		same, else_ string // texts that agree and that do not, parted by "|"
	}{
		{
			"added_g/n", span(0.9, 1.2), "a little|about 1 g|1.2 g|0.9 to 1.2 g|0.9–1.2 g|between 0.9 and 1.2 grams|1 or 1.1 g|1000 mg|for 2 pots 1.1 g|for 20 L, 1 g|1/1 g",
			"1.25|2 g|0.8|1.0 to 1.2 g|0.9 to 1.5 g|1 g or 3 g|1 kg|1/2 cup|20 L|1 g and 5 g each",
		},
		{"added_g/n", data.Number(1.05), "1 g|1.05 g|1.1 g|1 to 1.1 g|1/28 oz|0.037 oz", "2 g|1.2 to 1.4 g|1.3 g|1 oz"},
		{"needs/kelp-meal/grams", data.Number(3043.62), "3,040 g|3,044 g|3 040 g|3 044 g|3'044 g|3.04 kg|3 kg|3040|6.71 lb", "3,004 g|304 g|3.10 kg|3,040 kg|4 kg"},
		{"room_litres", data.Number(31.25), "31.3 L|31 litres|31-litre|1.1 cu ft|a 31.25 litre bag", "30 L|1.5 cu ft|31 kg"},
		{
			"cost", span(0.35, 0.38), "35 cents|35 to 38 cents|0.35 to 0.38 USD|$0.36|between $0.35 and $0.38|USD 0.37|38¢|0,36|for 20 L 35 cents|36 cents for 2 pots",
			"34 cents|35 to 40 cents|0.35 to 0.45 USD|$0.40|1 dollar|20 L|2 pots|0.36 kg",
		},
		{"total_cost", data.Number(1234.5), "1,234.50 USD|$1,234.50|1234.50|1,235 USD|1 234.50 dollars", "1,243.50 USD|123.45 USD|1,234,500 USD"},
		{"cost_change", data.Number(-0.57), "-0.57 USD|57 cents less|0.57", "0.75 USD"},
		{"fresh_share_percent", data.Number(21.8797), "22 %|21.9 percent|22|about 22 per cent", "25 %|0.22|21 %"},
		{"added_mg_per_l/n", data.Number(64.8), "65 mg per litre|65 mg/L|65|64.8 mg a litre", "60 mg per litre|6.5"},
		{"wait_weeks/sow", data.Number(3), "3 weeks|3", "2 weeks|5 weeks|2 to 3 weeks"},
		{"c_to_n", span(27.8, 62.6), "40|28 to 63|42.3", "20|25 to 63"},
		{"season", data.Number(2027), "2027|season 2027", "2026"},
		{
			"measure", spoons("1/2 cup", "1/2 cup"), "1/2 cup|½ cup|0.5 cup|8 tbsp|a good 1/2 cup of kelp meal|118 mL|1/4 cup + 4 tbsp|half a cup|1/2 cup for 20 L",
			"1/4 cup|1 cup|5 tbsp|1/2 tbsp|1/2 to 3/4 cup and more|1 1/2 cup|125 mL|20 L pot|36 g",
		},
		{"measure", spoons("1/2 cup", "3/4 cup"), "1/2 to 3/4 cup|1/2–3/4 cup|½ to ¾ cup|between 1/2 and 3/4 cup|2/3 cup|1/2 cup to 12 tbsp", "1/2 to 1 cup|1/4 to 3/4 cup|1 cup|1/2 to 2/3 cup"},
		{"measure", spoons("1/4 cup + 2 tbsp", "1/4 cup + 2 tbsp"), "1/4 cup + 2 tbsp|1/4 cup and 2 tbsp|6 tbsp|1/4 cup plus 2 tbsp", "1/4 cup|1/4 cup + 1 tbsp|2 tbsp|1/4 cup and 2 tsp"},
		{"measure/metric", data.Text("2 tbsp"), "2 tbsp|30 mL|2", "1 tbsp|29 mL|3"},
		{"jobs/1/from", data.Text("2027-04-12"), "12 April 2027|April 12|12th of April|2027-04-12|soon|Apr. 12, 2027|spring 2027", "13 April|12 May|12 April 2026|2027-04-13|the 12th|spring 2028|12 marigolds"},
		{"jobs/1", days("2027-04-12", "2027-04-26"), "12 to 26 April 2027|12 to 26 April|12–26 April|12 April to 26 April|20 April|about April 20", "12 to 20 April|10 April|12 to 26 May|27 April"},
		{"frost/p50", data.Text("04-20"), "20 April|April 20", "21 April|20 May"},
		{"verdict", data.Text("C:N 42.3 is high"), "C:N 42.3 is high|c:n 42.3  is high|high", "C:N 40"},
	} {
		for _, written := range strings.Split(c.same, "|") {
			assert.False(t, disagrees(written, figureAt(c.path, c.v), usBench), "%q says %v", written, c.v)
		}
		for _, written := range strings.Split(c.else_, "|") {
			assert.True(t, disagrees(written, figureAt(c.path, c.v), usBench), "%q does not say %v", written, c.v)
		}
	}
}

// What is shown is never said to disagree with itself.
func TestShownFiguresAgree(t *testing.T) {
	h, err := Read("../content", today)
	require.NoError(t, err)
	seen := 0
	for _, p := range h.Blocks {
		data.Walk(p.Result.Data, func(path string, _ data.Value) {
			for ; path != ""; path, _, _ = cutAtLast(path) {
				f, wrong := h.resolve(figureScheme+p.ID+"/"+path, diag.Position{})
				if p.ID == "" || wrong != nil || strings.HasPrefix(path, "sources") {
					continue
				}
				seen++
				require.False(t, disagrees(f.text, f, h.Garden.Handbook), "%s: %s", path, f.text)
			}
		})
	}
	assert.Greater(t, seen, 1000)
}

// Whatever an author writes is read without a fall, and a text without a number never disagrees.
func TestAnyTextIsHeldAgainstAnyFigure(t *testing.T) {
	pieces := []string{"1", "12", "1/2", "1/0", "½", "1,200", "0.5", ",", " ", "-", "–", "to", "and", "cup", "tbsp", "g", "kg", "L", "%", "cents", "$", "April", "2027-13-45", "99999999999999999999", "\u00a0", "é", "mg per litre"}
	values := []figure{
		figureAt("cost", span(0.3, 0.4)), figureAt("added_g/n", data.Number(0)), figureAt("measure", spoons("1/2 cup", "1 cup")),
		figureAt("jobs/1", days("2027-04-12", "2027-04-26")), figureAt("verdict", data.Text("not shown")), figureAt("ph", span(5, 6)),
	}
	rapid.Check(t, func(t *rapid.T) {
		written := strings.Join(rapid.SliceOf(rapid.SampledFrom(pieces)).Draw(t, "written"), "")
		f := rapid.SampledFrom(values).Draw(t, "figure")
		differs := disagrees(written, f, usBench)
		if !strings.ContainsAny(written, "0123456789½") {
			require.False(t, differs)
		}
	})
}

// cutAtLast cuts a path at its last name.
func cutAtLast(path string) (before, after string, ok bool) {
	i := strings.LastIndex(path, "/")
	if i < 0 {
		return "", path, false
	}
	return path[:i], path[i+1:], true
}
