package builder

import (
	"os"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const seasonBook = `
-- handbook.yaml --
address: https://bench.example/
frost: {spring: "04-20", autumn: "10-15"}
-- pots.yaml --
tub: {name: Tub, holds: 40 L}
box: {name: Box, holds: 20 L}
-- cupboard.yaml --
leaf-blend:
  name: Leaf blend
  label: {n: 3, p2o5: 1, k2o: 2.5}
  cup weighs: 72 g
  packs: [{holds: 50 g, price: 2.00}]
-- tub.md --
# Tub

` + "```recipe tub\ntitle: Tub\nfor: 20 L\namounts:\n  leaf-blend: 1/2 cup\n```\n\n```plan year\nseason: 2031\npots:\n  tub: {recipe: tub, crop: pepper, plants: 2}\n```\n\n```diary\n- {on: 2030-05-10, pot: tub, did: planted, crop: carrot, plants: 20}\n```\n"

func built(t *testing.T, book string) func(name string) string {
	t.Helper()
	handbookIn(t, txtar.Parse([]byte(book)))
	report, err := Build(Options{Content: "content", Out: "public", Today: today})
	require.NoError(t, err)
	require.Zero(t, report.Faults, printed(report.Diagnostics))
	return func(name string) string {
		text, err := os.ReadFile("public/" + name)
		require.NoError(t, err)
		return string(text)
	}
}

// A plan alone brings the shopping list, the dates, the calendar, the labels and the season of its pots: one
// cup for 40 L, of which a cup weighs 72 g, so two packs of 50 g at 2.00 each.
func TestAPlanBringsItsPages(t *testing.T) {
	page := built(t, seasonBook)
	label := page("labels/index.html")
	assert.Contains(t, label, "2031: pepper, 2 plants")
	assert.Contains(t, label, "<b>1 cup</b> Leaf blend")
	shopping := page("shopping/index.html")
	assert.Contains(t, shopping, "2 × 50 g")
	assert.Contains(t, shopping, "4.00 USD")
	assert.Contains(t, page("dates/index.html"), "Plant out pepper")
	assert.Contains(t, page("dates.ics"), "UID:year/tub/pepper/plant@bench.example")
	assert.Contains(t, page("index.html"), "Early May 2031")
	assert.Contains(t, page("shopping.csv"), "leaf-blend")
	tub := page("pots/tub/index.html")
	assert.Contains(t, page("labels/index.html"), `<svg class="pot`, "drawn as on its page")
	for _, want := range []string{"Season 2031", "Jobs for this pot", "What was done and seen", "Planted carrot"} {
		assert.Contains(t, tub, want)
	}
	box := page("pots/box/index.html")
	assert.NotContains(t, box, "Season 2031")
	assert.NotContains(t, tub, "Recipes for this pot")
	assert.Contains(t, page("plans/year/index.html"), "Tub")
}

// Paper says whose cups and spoons it means, where it means any.
func TestPaperSaysWhoseSpoons(t *testing.T) {
	for written, want := range map[string]string{"{main: us}": "US cups and spoons", "{main: metric, also: [us, australian]}": "metric cups and spoons", "{main: australian}": "Australian cups and spoons"} {
		page := built(t, strings.Replace(seasonBook, "frost:", "measures: "+written+"\nfrost:", 1))
		assert.Contains(t, page("recipes/tub/card/index.html"), "<span>In "+want+"</span>")
		assert.Contains(t, page("labels/index.html"), "<span>"+want+"</span>")
		assert.Equal(t, 1, strings.Count(page("labels/index.html"), "cups and spoons"), "a label without amounts means none")
	}
	weighed := built(t, strings.NewReplacer("leaf-blend: 1/2 cup", "gypsum: 20 g").Replace(seasonBook))
	assert.NotContains(t, weighed("labels/index.html"), "cups and spoons")
}

// A label has the compost on top as the pot's page and the card have it: a fifth of 40 L. A plan that knows the level
// of the mix may have room for less: 8 cm of a trough of 50 x 20 cm hold 8 L, and 2 cm hold 2 L.
func TestLabelHasItsCompost(t *testing.T) {
	topped := strings.Replace(seasonBook, "leaf-blend: 1/2 cup\n", "leaf-blend: 1/2 cup\ntop: {compost: yard-compost, share: 20 %}\n", 1)
	page := built(t, topped)
	assert.Contains(t, page("labels/index.html"), "<li><b>8 L</b> Compost on top, firmed</li>")
	assert.Contains(t, page("pots/tub/index.html"), "about 8 L")
	assert.Contains(t, page("recipes/tub/card/index.html"), "Compost on top, firmed")
	page = built(t, strings.NewReplacer("holds: 40 L", "shape: trough 50 x 20 x 40 cm", "plants: 2}", "plants: 2, take: 2 cm}").Replace(topped))
	assert.Contains(t, page("labels/index.html"), "<li><b>2 L</b> Compost on top, firmed</li>")
	assert.NotContains(t, built(t, seasonBook)("labels/index.html"), "Compost")
}

// Without an address there is no code, and so no word of one.
func TestLabelsWithoutAnAddress(t *testing.T) {
	assert.Contains(t, built(t, seasonBook)("labels/index.html"), "The code leads to the pot’s page.")
	page := built(t, strings.Replace(seasonBook, "address: https://bench.example/\n", "", 1))
	assert.Contains(t, page("labels/index.html"), "to print and cut.</p>")
}

// Without plan, dates or pots the pages are there and say what to write.
func TestEmptySeason(t *testing.T) {
	page := built(t, "-- a.md --\n# A\n\nText.\n")
	assert.Contains(t, page("dates/index.html"), "No dates yet")
	assert.Contains(t, page("shopping/index.html"), "Nothing to buy yet")
	assert.Contains(t, page("labels/index.html"), "No pots yet")
	assert.NotContains(t, page("index.html"), "The season, in order")
}

// The bar leads to what the handbook has something for: the words on the other pages are for the author.
func TestTheBarLeadsToNothingEmpty(t *testing.T) {
	names := func(page string) (out []string) {
		for _, nav := range elements(pageTree(t, page), "nav")[:1] {
			for _, a := range elements(nav, "a") {
				out = append(out, a.FirstChild.Data)
			}
		}
		return out
	}
	bare := built(t, "-- a.md --\n# A\n\nText.\n")
	assert.Equal(t, []string{"Notes", "Search"}, names(bare("index.html")))
	assert.NotContains(t, bare("index.html"), "write a recipe block")
	full := built(t, seasonBook)
	for _, at := range []string{"index.html", "notes/tub/index.html", "pots/box/index.html"} {
		assert.Equal(t, []string{"Notes", "Recipes", "Pots", "Dates", "Shopping", "Cupboard", "Search"}, names(full(at)))
	}
	plan := seasonBook[strings.Index(seasonBook, "```plan"):strings.Index(seasonBook, "```diary")]
	unplanned := built(t, strings.Replace(seasonBook, plan, "", 1))
	assert.Equal(t, []string{"Notes", "Recipes", "Pots", "Cupboard", "Search"}, names(unplanned("notes/tub/index.html")))
	hidden := built(t, strings.Replace(seasonBook, "# Tub", "```page\npublish: no\n```\n\n# Tub", 1)+"-- a.md --\n# A\n")
	assert.Equal(t, []string{"Notes", "Pots", "Cupboard", "Search"}, names(hidden("index.html")))
}

// A pot that left keeps its page with its history, and is on no label, in no drawing and among no count.
func TestAPotThatLeft(t *testing.T) {
	page := built(t, strings.Replace(seasonBook, "box: {name: Box, holds: 20 L}", "box: {name: Box, holds: 20 L, gone: 2030-11-02}", 1)+
		"\n```diary\n- {on: 2030-06-10, pot: box, did: planted, crop: lettuce}\n```\n")
	pots := page("pots/index.html")
	before, after, found := strings.Cut(pots, "No longer here")
	require.True(t, found)
	assert.NotContains(t, before, "box/index.html")
	assert.Contains(t, after, `<a href="box/index.html">Box</a>`)
	assert.Contains(t, after, "left on 2 November 2030")
	assert.NotContains(t, page("labels/index.html"), "box/index.html")
	assert.Contains(t, page("labels/index.html"), "tub/index.html")
	box := page("pots/box/index.html")
	assert.Contains(t, box, "No longer here: it left on 2 November 2030")
	assert.Contains(t, box, "Planted lettuce")
	assert.NotContains(t, page("pots/tub/index.html"), "No longer here")
}

// A pot that no plan gives a recipe leads to recipes at its size: one of theirs, or one that the page works out. Those
// with the pot among their sizes come first, and of many a few.
func TestAPotWithoutAPlan(t *testing.T) {
	recipe := func(id, title, sizes string) string {
		return "\n```recipe " + id + "\ntitle: " + title + "\nfor: 20 L\namounts:\n  kelp-meal: 1/2 cup\nsizes: " + sizes + "\n```\n"
	}
	book := strings.Replace(seasonBook, "-- cupboard.yaml --", "tin: {name: Tin, holds: 7.333 L}\ncup: {name: Cup, holds: 500 mL}\nold: {name: Old, holds: 9 L, gone: 2030-11-02}\n-- cupboard.yaml --", 1)
	page := built(t, book+recipe("zest", "Zest", "[box, 9 L]"))
	box := page("pots/box/index.html")
	first, then := strings.Index(box, `href="../../recipes/zest/index.html#for-box">Zest<`), strings.Index(box, `href="../../recipes/tub/index.html?pot=20-l">Tub<`)
	assert.Positive(t, first)
	assert.Greater(t, then, first)
	assert.NotContains(t, box, "All recipes")
	assert.Contains(t, page("pots/tin/index.html"), `recipes/tub/index.html?pot=7.33-l"`)
	assert.Contains(t, page("pots/cup/index.html"), `recipes/tub/index.html">Tub<`, "smaller than what a page works out")
	assert.NotContains(t, page("pots/old/index.html"), "Recipes for this pot")
	for _, id := range []string{"a", "b", "c", "d"} {
		book += recipe(id, "T-"+id, "[9 L]")
	}
	box = built(t, book+recipe("zest", "Zest", "[9 L]"))("pots/box/index.html")
	assert.Equal(t, mostForPot, strings.Count(box, "?pot=20-l"))
	assert.Contains(t, box, `<a href="../../recipes/index.html">All recipes</a>`)
}

// A recipe file names no pot of its handbook: each is what it holds, once.
func TestRecipeFileElsewhere(t *testing.T) {
	book := strings.Replace(seasonBook, "-- cupboard.yaml --", "five: {name: Five, shape: nursery class 5}\ngal: {name: Gal, holds: 5 gal}\n-- cupboard.yaml --", 1)
	for sizes, want := range map[string]string{
		"[10 L, box, five, gal]": "sizes: [10 L, 20 L, nursery class 5, 5 gal]\n",
		"[20 L, box]":            "sizes: [20 L]\n",
		"\n  - box  # ours\n  - trough 60 x 20 x 18 cm": "sizes: [20 L, trough 60 x 20 x 18 cm]\n",
		"[10 L,  20 L]  # two":                          "sizes: [10 L,  20 L]  # two\n",
	} {
		page := built(t, book+"\n```recipe zest\ntitle: Zest\nfor: 20 L\nsizes: "+sizes+"\namounts:\n  kelp-meal: 1/2 cup\n```\n")
		text := page("recipes/zest.recipe.yaml")
		assert.Equal(t, "recipe: zest\nmeasures: us\ntitle: Zest\nfor: 20 L\n"+want+"amounts:\n  kelp-meal: 1/2 cup\n", text)
		again := built(t, "-- elsewhere.recipe.yaml --\n"+text+"-- a.md --\n# A\n")
		assert.NotEmpty(t, again("recipes/zest/index.html"), text)
	}
}

// Dates of an author's that a plan's dates tell as well are told once, of the pot; what differs from them stays.
func TestDatesOfAPlanAreToldOnce(t *testing.T) {
	dates := func(crops string) string {
		return seasonBook + "\n```dates court-days\nseason: 2031\ncrops: " + crops + "\n```\n"
	}
	alone := built(t, seasonBook)("dates.ics")
	page := built(t, dates("[pepper]"))
	assert.Equal(t, alone, page("dates.ics"))
	assert.Equal(t, 1, strings.Count(page("dates/index.html"), "Dates 2031</h"))
	assert.Equal(t, 1, strings.Count(page("dates/index.html"), ">Tub</a></li>"), "the note that both stand in")
	assert.Contains(t, page("notes/tub/index.html"), "Plant out pepper")
	more := built(t, dates("[pepper, radish]"))
	assert.Equal(t, 2, strings.Count(more("dates/index.html"), "Dates 2031</h"))
	assert.Equal(t, 1, strings.Count(more("dates.ics"), "Plant out pepper"))
	assert.Contains(t, more("dates.ics"), "radish")
	for _, own := range []string{"{pepper: {plant: 2031-05-20}}", "{pepper: {renew: 2031-04-02}}"} {
		dated := built(t, dates(own))
		assert.Equal(t, 2, strings.Count(dated("dates/index.html"), "Dates 2031</h"), own)
		assert.Equal(t, 2, strings.Count(dated("dates.ics"), "SUMMARY:Renew the mix for pepper"), own)
	}
	later := built(t, dates("[pepper]\nfrost: {spring: \"04-23\", autumn: \"10-15\"}"))
	assert.Equal(t, alone, later("dates.ics"), "the calendar holds on to the plan's days, whatever frost another block counts from")
	assert.Equal(t, 2, strings.Count(later("dates/index.html"), "Dates 2031</h"), "days of its own are shown")
	renewed := built(t, dates("{pepper: {renew: 2031-04-02}}"))("dates.ics")
	assert.Equal(t, 1, strings.Count(renewed, "SUMMARY:Plant out pepper"), "only the renewal differs")
}
