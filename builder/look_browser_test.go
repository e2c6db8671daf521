package builder

import (
	"context"
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// looks is a handbook with what a style sheet finds hard: names of one long word, code, marks of footnotes, a table
// that is wider than paper, a long title.
const looks = `-- handbook.yaml --
title: Looks
measures: {main: us, also: [metric]}
-- pots.yaml --
long: {name: Donaudampfschifffahrtsgesellschaftskapitänskübel, shape: round 12 in top}
longer: {name: Rindfleischetikettierungsüberwachungsaufgabenkübel, shape: round 15 in top 12 in base 13 in deep, place: Südbalkon}
-- note.md --
# A note

A mark[^1], and two[^1][^2] in a row.

| left | right | middle |
|------|------:|:------:|
| a    |     5 | x      |

` + "```python\n# why\ndef pot(litres, name=\"tub\"):\n    return 3.5 * litres\n```\n" + `
| one | two | three | four | five | six | seven | eight | nine | ten | eleven | twelve |
|---|---|---|---|---|---|---|---|---|---|---|---|
| alfalfa | phosphorus | potassium | magnesium | molybdenum | manganese | nitrogen | moisture | Donaudampfschiff | volume | acidity | hardness |

` + "```recipe leaf\ntitle: A recipe whose title is long enough to reach over the whole width of a sheet of paper\nfor: 20 L\namounts: {gypsum: 2 tbsp}\nsizes: [20 L, long, longer]\n```\n" + `
[^1]: First.
[^2]: Second.
`

// served builds a handbook and serves it; it returns the address.
func served(t *testing.T, archive string) string {
	t.Helper()
	built(t, archive)
	server := httptest.NewServer(http.FileServer(http.Dir("public")))
	t.Cleanup(server.Close)
	return server.URL + "/"
}

func onPaper(t *testing.T, ctx context.Context) {
	t.Helper()
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	require.NoError(t, err)
}

// What an author aligns stands so, and a mark of a footnote stands at its word, though a finger finds it.
func TestNoteLooksAsWritten(t *testing.T) {
	ctx, at := browser(t), served(t, looks)
	do(t, ctx, chromedp.Navigate(at+"notes/note/index.html"))
	for class, want := range map[string]string{"align-right": "right", "align-center": "center"} {
		for _, cell := range []string{"th", "td"} {
			assert.Equal(t, want, ask[string](t, ctx, `getComputedStyle(document.querySelector("`+cell+`.`+class+`")).textAlign`))
		}
	}
	assert.InDelta(t, 0, ask[float64](t, ctx, `(() => {
		const mark = document.querySelector("sup a"), words = document.createRange(), digit = document.createRange();
		words.selectNodeContents(mark.closest("p").firstChild);
		digit.selectNodeContents(mark);
		return digit.getBoundingClientRect().left - words.getBoundingClientRect().right;
	})()`), 1, "from the word to its mark")
	for _, side := range []string{"width", "height"} {
		assert.GreaterOrEqual(t, ask[float64](t, ctx, `document.querySelector("sup a").getBoundingClientRect().`+side), 24.0)
	}
}

// contrasts are the contrast of each coloured word of code with its ground, by WCAG's formula, the least first.
const contrasts = `(() => {
	const light = (rgb) => { const c = rgb.match(/[\d.]+/g).slice(0, 3).map((v) => v / 255).map((v) => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2]; };
	const ground = light(getComputedStyle(document.querySelector(".prose > pre")).backgroundColor);
	const plain = getComputedStyle(document.querySelector(".prose > pre")).color;
	return Array.from(document.querySelectorAll(".prose > pre :is(.k, .c1, .s2, .mf, .nf)")).map((e) => getComputedStyle(e).color).filter((c) => c !== plain)
		.map((c) => [light(c), ground].sort((a, b) => b - a)).map(([a, b]) => (a + 0.05) / (b + 0.05)).sort((a, b) => a - b);
})()`

func TestCodeHasColours(t *testing.T) {
	ctx, at := browser(t), served(t, looks)
	for _, scheme := range []string{"light", "dark"} {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		require.NoError(t, err)
		do(t, ctx, chromedp.Navigate(at+"notes/note/index.html"))
		found := ask[[]float64](t, ctx, contrasts)
		require.GreaterOrEqual(t, len(found), 5, "keywords, a name, a string, a number, a remark: "+scheme)
		assert.GreaterOrEqual(t, found[0], 4.5, scheme)
	}
}

// Names of one long word break: no page scrolls sideways, and none runs into its neighbour or out of its frame.
func TestLongNamesKeepToTheirPlace(t *testing.T) {
	ctx, at := browser(t), served(t, looks)
	for _, width := range []int64{320, 360, 800, 1280} {
		for _, name := range []string{"pots", "labels", "recipes", "search", "pots/longer", "recipes/leaf", "recipes/leaf/card", "notes/note"} {
			do(t, ctx, chromedp.EmulateViewport(width, 700), chromedp.Navigate(at+name+"/index.html"))
			assert.LessOrEqual(t, ask[int64](t, ctx, `document.documentElement.scrollWidth`), width, name)
		}
		for page, names := range map[string]string{"pots": ".pots b", "labels": ".label-name"} {
			do(t, ctx, chromedp.Navigate(at+page+"/index.html"))
			require.Positive(t, ask[int](t, ctx, `document.querySelectorAll("`+names+`").length`))
			assert.True(t, ask[bool](t, ctx, `Array.from(document.querySelectorAll("`+names+`")).every((e) => e.scrollWidth <= e.clientWidth && e.getBoundingClientRect().right <= e.closest("ul > li").getBoundingClientRect().right + 0.5)`), "%s at %d px", page, width)
		}
	}
}

// A wide table gives way on paper, so that nothing else does; on a screen it casts a shadow where it goes on.
func TestWideTable(t *testing.T) {
	ctx, at := browser(t), served(t, looks)
	do(t, ctx, chromedp.EmulateViewport(1280, 900), chromedp.Navigate(at+"notes/note/index.html"))
	assert.True(t, ask[bool](t, ctx, `Array.from(document.querySelectorAll(".table-scroll")).some((e) => e.scrollWidth > e.clientWidth)`))
	assert.Contains(t, ask[string](t, ctx, `getComputedStyle(document.querySelector(".table-scroll")).backgroundImage`), "gradient")
	onPaper(t, ctx)
	for _, name := range []string{"notes/note", "whole", "recipes/leaf", "recipes/leaf/card", "pots", "labels"} {
		do(t, ctx, chromedp.EmulateViewport(680, 900), chromedp.Navigate(at+name+"/index.html")) // A4 without its margins
		assert.LessOrEqual(t, ask[int](t, ctx, `document.documentElement.scrollWidth`), 680, name)
	}
}

func TestStampKeepsClearOfTheTitle(t *testing.T) {
	ctx, at := browser(t), served(t, looks)
	onPaper(t, ctx)
	do(t, ctx, chromedp.EmulateViewport(680, 900), chromedp.Navigate(at+"recipes/leaf/index.html"))
	assert.True(t, ask[bool](t, ctx, `(() => {
		const title = document.createRange(), stamp = document.querySelector(".stamp").getBoundingClientRect();
		title.selectNodeContents(document.querySelector("h1"));
		return Array.from(title.getClientRects()).every((line) => line.right < stamp.left || line.top > stamp.bottom || line.bottom < stamp.top);
	})()`))
}
