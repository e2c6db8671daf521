package builder

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// proofOf reads the proofs of a small handbook.
func proofOf(t *testing.T, archive string) Report {
	t.Helper()
	handbookIn(t, txtar.Parse([]byte(archive)))
	report, err := Proof(Options{Content: "content", Today: today})
	require.NoError(t, err)
	return report
}

// TestDemoProof: the demo handbook, on the evening of its last diary, has no fault, not even for the strict, and only
// the doubt that it shows on purpose: a crop that comes back too soon.
func TestDemoProof(t *testing.T) {
	report, err := Proof(Options{Content: "../content", Today: time.Date(2026, 10, 25, 0, 0, 0, 0, time.UTC), Strict: true})
	require.NoError(t, err)
	var codes []string
	for _, d := range report.Diagnostics {
		codes = append(codes, d.Code)
	}
	assert.Equal(t, []string{"too-soon"}, codes, printed(report.Diagnostics))
}

// TestPromises: words that promise safety, and the same words where they promise nothing.
func TestPromises(t *testing.T) {
	for text, want := range map[string]string{
		"A cup of ash is safe.":                                   "safe",
		"It does not smell and is safe.":                          "safe",
		"This is not hot, but harmless to hands.":                 "harmless",
		"Do not worry: half a cup is harmless":                    "harmless",
		"There is no risk at all":                                 "no risk",
		"You can eat it without any risk.":                        "without any risk",
		"A spoon more cannot hurt.":                               "cannot hurt",
		"A spoon more can't hurt anyone":                          "can't hurt",
		"Not more than a cup! It's safely used by all":            "safely",
		"Is it hot? It is safe.":                                  "safe",
		"It is non-toxic":                                         "non-toxic",
		"It is not safe to breathe the dust.":                     "",
		"The page never says that it is safe, harmless or clean.": "",
		"Ask whether it is safe":                                  "",
		"Is it safe?":                                             "",
		"Is a cup of this safe to use in a box for herbs?":        "",
		"nobody can say it is harmless":                           "",
		"There isn't a safe amount":                               "",
		"Keep it in a safe place.":                                "",
		"A cup less, to be on the safe side":                      "",
		"Safe from frost":                                         "",
		"A fail-safe valve":                                       "",
		"The word \"safe\" stands nowhere":                        "",
		"There is some risk":                                      "",
		"We take the risk. Dangers are named":                     "",
		"unsafe":                                                  "",
		"title: Not this\nnote: it is safe":                       "safe",
		"steps:\n  - Never water it\n  - It is safe":              "safe",
	} {
		var got []string
		for _, at := range promisesIn(text) {
			got = append(got, text[at[0]:at[1]])
		}
		assert.Equal(t, want, strings.Join(got, ","), text)
	}
}

// TestPromisePlaces: the caret stands at the word, through markup, in a list, a heading, a block and a recipe
// file; code and notes that are not published are left alone.
func TestPromisePlaces(t *testing.T) {
	report := proofOf(t, `-- a.md --
# A safe title

- One *two*
  and **é safe** dose, `+"`safe`"+` [harmless](https://bench.example/safe)

`+"```"+`recipe tub
title: Tub
for: 20 L
amounts:
  gypsum: 1 tbsp
steps:
  - Water it
  - This is safe
`+"```"+`
-- hidden.md --
`+"```"+`page
publish: no
`+"```"+`

# Safe
-- b.recipe.yaml --
recipe: box
title: A harmless box
for: 10 L
amounts:
  gypsum: 1 tbsp
`)
	var got []string
	for _, line := range strings.Split(printed(report.Diagnostics), "\n") {
		if strings.Contains(line, ": doubt: ") {
			got = append(got, strings.TrimSuffix(line, " promises more than a handbook can know"))
		}
	}
	assert.Equal(t, []string{
		`content/a.md:1:5: doubt: "safe"`, `content/a.md:4:11: doubt: "safe"`, `content/a.md:4:32: doubt: "harmless"`,
		`content/a.md:13:13: doubt: "safe"`, `content/b.recipe.yaml:2:10: doubt: "harmless"`,
	}, got)
	assert.Zero(t, report.Faults)
}

// TestOutwardLinksAreListed: by scheme, with their places, and nobody asks them anything.
func TestOutwardLinksAreListed(t *testing.T) {
	report := proofOf(t, "-- a.md --\n# A\n\n[one](https://bench.example/x) [two](b.md) <mailto:bench@bench.example>\n\n[three](figure:tub/20-l/cost)\n\n```recipe tub\ntitle: Tub\nfor: 20 L\namounts: {gypsum: 1 tbsp}\n```\n-- b.md --\n# B\n")
	var out []diag.Diagnostic
	for _, d := range report.Remarks {
		if d.Code == "leads-out" {
			out = append(out, d)
		}
	}
	assert.Equal(t, "content/a.md:3:7: remark: leads out of the handbook: https://bench.example/x\ncontent/a.md:3:45: remark: leads out of the handbook: mailto:bench@bench.example\n", printed(out))
}

// TestFiguresFromMemoryAreCounted: a label and a weighed cup take the place of those that they tell.
func TestFiguresFromMemoryAreCounted(t *testing.T) {
	note := "-- a.md --\n# A\n\n```recipe tub\ntitle: Tub\nfor: 20 L\namounts: {wood-ash: 1 tbsp}\n```\n"
	before := proofOf(t, note)
	require.NotEmpty(t, before.Remarks)
	assert.Contains(t, before.Remarks[0].Message, "from memory, not yet read in a source: 3, of wood-ash")
	after := proofOf(t, note+"-- cupboard.yaml --\nwood-ash:\n  label: {n: 0, p2o5: 1.5, k2o: 5, ca: 20, mg: 1, s: 0.3}\n  cup weighs: 110 g\n")
	assert.NotContains(t, printed(after.Remarks), "densities")
}

// TestOtherFiguresFromMemoryAreCounted: those of a material that no label tells, and of the crops that blocks name. The
// numbers are counted by hand in what the catalogue prints.
func TestOtherFiguresFromMemoryAreCounted(t *testing.T) {
	report := proofOf(t, "-- a.md --\n# A\n\n```recipe tub\ntitle: Tub\nfor: 20 L\ncrop: chard\nplants: 1\namounts: {feather-meal: 1 tbsp}\n```\n")
	var said []string
	for _, d := range report.Remarks {
		said = append(said, d.Message)
	}
	assert.Equal(t, []string{
		"figures of analyses and densities that are from memory, not yet read in a source: 3, of feather-meal",
		"other figures of materials, such as their release and salt, that are from memory: 4, of feather-meal",
		"figures of crops that are from memory: 7, of chard",
	}, said)
}

// TestRecipeForNoSize: it is doubted for that, and not for its cautions, whose sources are told all the same.
func TestRecipeForNoSize(t *testing.T) {
	report := proofOf(t, "-- a.md --\n# A\n\n```recipe tub\ntitle: Tub\nfor: 20 L\nsizes: []\namounts: {gypsum: 1 tbsp}\n```\n")
	assert.Contains(t, printed(report.Diagnostics), "is worked out for no size")
	assert.NotContains(t, printed(report.Diagnostics), "which is not among its sources")
}

// TestDayOfLeaving: a pot that is still to leave is doubted until the day after.
func TestDayOfLeaving(t *testing.T) {
	for day, want := range map[string]string{"2026-02-28": "", "2026-03-01": "", "2026-03-02": "", "2026-03-03": "gone-to-come"} {
		report := proofOf(t, "-- pots.yaml --\ntub: {name: Tub, holds: 20 L, gone: "+day+"}\n")
		got := ""
		for _, d := range report.Diagnostics {
			got = d.Code
		}
		assert.Equal(t, want, got, day)
	}
}

// TestPriceDays: a price counts as old from the day after its year is over.
func TestPriceDays(t *testing.T) {
	for day, want := range map[string]string{
		"2025-02-28": "price-old", "2025-03-01": "", "2026-03-01": "", "2026-03-02": "", "2026-03-03": "price-to-come",
	} {
		report := proofOf(t, "-- cupboard.yaml --\ngypsum:\n  packs:\n    - holds: 2 kg\n      price: 7.00\n      priced: "+day+"\n")
		got := ""
		for _, d := range report.Diagnostics {
			got = d.Code
			assert.Equal(t, []int{5, 15}, []int{d.At.Line, d.At.Column})
		}
		assert.Equal(t, want, got, day)
	}
}

const unrevised = `-- a.md --
` + "```" + `page
summary: A tub
written: 2026-01-02
REVISED` + "```" + `

# A

` + "```" + `recipe tub
title: Tub
for: 20 L
amounts: {gypsum: 1 tbsp}
` + "```" + `
-- history.yaml --
- on: 2026-01-03
  block: tub
  title: Tub
  stamp: aaaa-bbbb
  numbers: {"10 L, Gypsum": "1/2 tbsp, 6 g"}
- on: 2026-02-01
  block: tub
  title: Tub
  stamp: cccc-dddd
  numbers: {"10 L, Gypsum": "1/2 tbsp, 6.3 g"}
- on: 2026-02-09
  block: tub
  title: Tub
  stamp: eeee-ffff
  numbers: {"10 L, Gypsum": "1/2 tbsp, 6.3 g"}
`

// TestUnrevised: a note is doubted from the day on which the numbers of its block changed until it is revised.
// The first record of a block is no change, nor is one whose numbers read the same.
func TestUnrevised(t *testing.T) {
	for revised, want := range map[string]string{
		"":                      "3:10 the numbers of \"tub\" changed on 2026-02-01, and this note was not revised since",
		"revised: 2026-01-31\n": "4:10 the numbers of \"tub\" changed on 2026-02-01, and this note was not revised since",
		"revised: 2026-02-01\n": "",
	} {
		assert.Equal(t, want, doubted(proofOf(t, strings.Replace(unrevised, "REVISED", revised, 1))))
	}
	first, _, _ := strings.Cut(unrevised, "- on: 2026-02-01")
	assert.Empty(t, doubted(proofOf(t, strings.Replace(first, "REVISED", "", 1))), "the first record is no change")
	undated := strings.Replace(strings.Replace(unrevised, "REVISED", "", 1), "written: 2026-01-02\n", "", 1)
	assert.Empty(t, doubted(proofOf(t, undated)), "a note without a date promises none")
}

// doubted returns the places and messages of a report.
func doubted(r Report) string {
	var out []string
	for _, d := range r.Diagnostics {
		_, place, _ := strings.Cut(printed([]diag.Diagnostic{d}), ":")
		place, _, _ = strings.Cut(place, ": ")
		out = append(out, place+" "+d.Message)
	}
	return strings.Join(out, "\n")
}

// TestUnusedPictures: a picture is used by a page block, by a note's text, and by a note that waits.
func TestUnusedPictures(t *testing.T) {
	handbookIn(t, txtar.Parse([]byte("-- a.md --\n```page\npicture: one.png\npicture shows: One\n```\n\n# A\n\n![Two](tubs/two.png)\n-- b.md --\n```page\npublish: no\n```\n\n# B\n\n![Three](three.PNG)\n")))
	var body bytes.Buffer
	require.NoError(t, png.Encode(&body, image.NewGray(image.Rect(0, 0, 4, 4))))
	for _, name := range []string{"one.png", "tubs/two.png", "three.PNG", "tubs/four.jpeg", ".drafts/five.png", "dress/six.png", "seven.svg"} {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join("content", name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join("content", name), body.Bytes(), 0o600))
	}
	report, err := Proof(Options{Content: "content", Today: today})
	require.NoError(t, err)
	var got []string
	for _, d := range report.Diagnostics {
		if d.Code == "unused-picture" {
			got = append(got, d.At.Name())
		}
	}
	assert.Equal(t, []string{"content/tubs/four.jpeg"}, got)
}

// planted is a handbook with one block whose result is made up.
func planted(t *testing.T, kind string, r block.Result, strict bool) []diag.Diagnostic {
	t.Helper()
	handbookIn(t, txtar.Parse([]byte("-- a.md --\n# A\n")))
	s, err := inMemory(Options{Content: "content", Today: today})
	require.NoError(t, err)
	k, ok := calcblocks.Named(kind)
	require.True(t, ok)
	s.Blocks = append(s.Blocks, &Placed{Kind: k, ID: "made-up", At: diag.Whole("content/a.md"), Note: s.Notes[0], Result: r})
	p := &proofreader{rendering: s.rendering, strict: strict}
	p.read()
	return s.Sorted()
}

// TestNumbersWithoutSource are doubts, and faults for the strict.
func TestNumbersWithoutSource(t *testing.T) {
	known := []sources.Entry{{Key: "court-1999", Title: "Weights of the court"}}
	for want, r := range map[string]block.Result{
		"the numbers of this weight name no source":                                         {Working: []view.WorkingStep{{What: "dry", Sum: "1 kg"}}},
		`the working of dry names the source "nobody-1999", which is not among its sources`: {Working: []view.WorkingStep{{What: "dry", Sum: "1 kg", Sources: []string{"nobody-1999"}}}, Sources: known},
		// A work of the bibliography that the block itself does not list.
		`the working of wet names the source "planning-values", which is not among its sources`: {Working: []view.WorkingStep{{What: "wet", Sum: "1 kg", Sources: []string{"planning-values"}}}, Sources: known},
		`the caution heavy names the source "nobody-1999", which is not among its sources`:      {View: view.Doc{Parts: []view.Part{view.Cautions{Items: []view.Caution{{ID: "heavy", Sources: []string{"nobody-1999"}}}}}}},
	} {
		for strict, severity := range map[bool]diag.Severity{false: diag.Doubt, true: diag.Fault} {
			got := planted(t, "weight", r, strict)
			require.Len(t, got, 1, want)
			assert.Equal(t, want, got[0].Message)
			assert.Equal(t, severity, got[0].Severity)
			assert.Equal(t, "no-source", got[0].Code)
		}
	}
	assert.Empty(t, planted(t, "weight", block.Result{Working: []view.WorkingStep{{What: "sum", Sum: "1 + 1 = 2"}}, Sources: known}, true), "arithmetic needs no source of its own")
}

// TestRecipesWithoutSizesOrCautions are doubts.
func TestRecipesWithoutSizesOrCautions(t *testing.T) {
	got := planted(t, "recipe", block.Result{Data: data.Object{{Key: "sizes", Value: data.List{}}}}, true)
	require.Len(t, got, 2)
	assert.ElementsMatch(t, []string{"no-sizes", "no-cautions"}, []string{got[0].Code, got[1].Code})
	assert.Equal(t, diag.Doubt, got[0].Severity)
}

// TestWhatWouldCompareARecipe is a remark: the page says no more than that there is no comparison.
func TestWhatWouldCompareARecipe(t *testing.T) {
	recipe := func(lines string) string {
		return "# A\n\n```recipe tub\ntitle: Tub\nfor: 20 L\n" + lines + "amounts:\n  kelp-meal: 1/2 cup\nsizes: [9 L]\n```\n"
	}
	for lines, want := range map[string]string{"": "no-crop", "crop: pepper\n": "no-plants", "crop: pepper\nplants: 2\n": ""} {
		handbookIn(t, txtar.Parse([]byte("-- a.md --\n"+recipe(lines))))
		report, err := Proof(Options{Content: "content", Today: today})
		require.NoError(t, err)
		got := ""
		for _, r := range report.Remarks {
			if r.Code == "no-crop" || r.Code == "no-plants" {
				got = r.Code
			}
		}
		assert.Equal(t, want, got, lines)
	}
}

// TestEveryExampleHasSources: the example of each kind's own doc names works, so that no author meets a doubt
// that only the program can mend.
func TestEveryExampleHasSources(t *testing.T) {
	h := examples(t)
	report, err := Proof(Options{Content: h.folder, Today: today})
	require.NoError(t, err)
	for _, d := range report.Diagnostics {
		assert.NotEqual(t, "no-source", d.Code, d.Message)
	}
	for _, k := range calcblocks.All() {
		if k.Name == "page" {
			continue // it computes nothing
		}
		b := slices.IndexFunc(h.Blocks, func(b *Placed) bool { return b.ID == exampleID(k.Name) })
		require.GreaterOrEqual(t, b, 0, k.Name)
		assert.NotEmpty(t, h.Blocks[b].Result.Data, k.Name)
	}
}
