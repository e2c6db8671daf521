package builder

import (
	"context"
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/view"
)

// enter fills fields of the form for the reader's own pot, in order, as a reader does.
func enter(t *testing.T, ctx context.Context, fields ...string) {
	t.Helper()
	for i := 0; i < len(fields); i += 2 {
		ask[bool](t, ctx, fmt.Sprintf(`((field) => { field.value = %q; return field.dispatchEvent(new Event("input", { bubbles: true })); })(document.querySelector(".own [name=%s]"))`, fields[i+1], fields[i]))
	}
}

func shown(t *testing.T, ctx context.Context, what string) string {
	t.Helper()
	return ask[string](t, ctx, `(document.querySelector(".size.shown `+what+`") || { textContent: "" }).textContent`)
}

func inAddress(t *testing.T, ctx context.Context) string {
	t.Helper()
	return ask[string](t, ctx, `new URLSearchParams(location.search).get("pot") || ""`)
}

// firmedOnTop is what the program computes of the compost for a container: firmed, and loose to buy.
func firmedOnTop(t *testing.T, h *Handbook, id, container string) (firmed, loose string) {
	t.Helper()
	p, ok := h.Block(id)
	require.True(t, ok)
	result, faults := h.Ask(p, container, nil)
	require.Empty(t, faults)
	for _, part := range result.View.Parts {
		if sizes, ok := part.(view.Sizes); ok {
			rows := sizes.Items[0].Parts[1].(view.Figures).Rows
			return rows[0].Value, rows[2].Value
		}
	}
	require.Fail(t, "no sizes")
	return "", ""
}

// beds is a handbook whose recipes lay on compost in each of the ways that there are, and in none. The pots are those
// that the reader's form is asked for too.
const beds = `-- handbook.yaml --
measures: {main: us, also: [metric]}
sizes: [10 L, 20 L]
-- pots.yaml --
tapered: {name: Tapered, shape: round 38 cm top 30 cm base 34 cm deep, fill: 31 cm}
window: {name: Window, shape: trough 60 x 20 x 18 cm}
-- note.md --
# A

` + "```recipe deep\ntitle: Deep\nfor: 20 L\namounts: {gypsum: 2 tbsp}\ntop: {compost: yard-compost, depth: 1 1/2 in}\n```\n" +
	"```recipe part\ntitle: Part\nfor: 20 L\namounts: {gypsum: 2 tbsp}\ntop: {compost: yard-compost, share: 25 %}\n```\n" +
	"```recipe some\ntitle: Some\nfor: 20 L\namounts: {gypsum: 2 tbsp}\ntop: {compost: yard-compost, volume: 3 L}\n```\n" +
	"```recipe bare\ntitle: Bare\nfor: 20 L\namounts: {gypsum: 2 tbsp}\n```\n"

// The page works out the compost on the reader's own pot; the program computes it for a pot of the same measures, in
// the pot file or written out. The depth is the author's.
func TestOwnPotHasItsCompost(t *testing.T) {
	ctx, at := browser(t), served(t, beds)
	h, err := Read("content", today)
	require.NoError(t, err)
	for pot, container := range map[string]string{
		"round-37.2941176x30x31-cm": "tapered", // across at the fill line: 30 + 8 x 31 / 34
		"trough-60x20x18-cm":        "window",
		"round-12x10x11-in":         "round 12 in top 10 in base 11 in deep",
		"round-12-in":               "round 12 in top",
		"oval-60x40x30-cm":          "oval 60 x 40 x 30 cm",
		"trough-60x20x3-cm":         "trough 60 x 20 x 3 cm", // a layer deeper than the pot
		"23-l":                      "23 L",
		"5-gal":                     "5 gal",
	} {
		for id, text := range map[string]string{"deep": "1 1/2 in deep", "part": "25 % of the mix", "some": "3 L to 20 L of mix"} {
			do(t, ctx, chromedp.Navigate(at+"recipes/"+id+"/index.html?pot="+pot))
			firmed, loose := firmedOnTop(t, h, id, container)
			line := shown(t, ctx, ".on-top")
			assert.Contains(t, line, "Compost on top: "+firmed+" of yard-trimmings compost, firmed: "+text, "%s in %s", id, pot)
			assert.Contains(t, line, "Loose, to buy: "+loose+".", "%s in %s", id, pot)
		}
	}
	do(t, ctx, chromedp.Navigate(at+"recipes/bare/index.html?pot=trough-60x20x18-cm"))
	assert.Equal(t, "My pot", shown(t, ctx, ".size-head > :first-child"))
	assert.True(t, ask[bool](t, ctx, `document.querySelector("#my-pot .on-top").hidden`))
	assert.NotContains(t, shown(t, ctx, ""), "ompost")
}

// Measures may be written as the site writes them, and gallons are known by many.
func TestOwnPotReadsFractionsAndGallons(t *testing.T) {
	ctx, at := browser(t), served(t, beds)
	do(t, ctx, chromedp.Navigate(at+"recipes/deep/index.html"))
	assert.Equal(t, "in", ask[string](t, ctx, `document.querySelector(".own [name=unit]").value`))
	for _, top := range []string{"15 1/2", "15½", "15 ½", "15,5", "15.5", " 15 1\u20442 "} {
		enter(t, ctx, "shape", "round", "top", top, "base", "12", "height", "13 1/4")
		assert.Equal(t, "round-15.5x12x13.25-in", inAddress(t, ctx), top)
		// A cone with ends of 15.5 and 12 inches, 13.25 high: pi x 13.25 / 12 x (240.25 + 186 + 144) in3 = 1978.1 in3 = 32.42 L.
		assert.Equal(t, "about 32.4 L", shown(t, ctx, ".litres"), top)
	}
	assert.Equal(t, "Inside measures: round, 15 1\u20442 in across the top, 12 in at the base, 13 1/4 in of mix.", shown(t, ctx, ".measured"), "on paper too")
	for _, slip := range []string{"15 1/0", "1-1/2", "about 15", "0", "15 1/2 1/2", "½½"} {
		enter(t, ctx, "top", slip)
		assert.Contains(t, ask[string](t, ctx, `document.querySelector(".own [role=status]").textContent`), "Write each measure as a number above zero", slip)
	}
	enter(t, ctx, "shape", "gallons", "gallons", "5")
	assert.Equal(t, "5-gal", inAddress(t, ctx))
	assert.Equal(t, "5 US gal, about 18.9 L", shown(t, ctx, ".litres"))
	enter(t, ctx, "shape", "trough", "length", "1000", "width", "1000", "height", "15")
	assert.Contains(t, ask[string](t, ctx, `document.querySelector(".own [role=status]").textContent`), "That makes about 246000 L. ")
}

// Without US measures nobody is asked for gallons; an address with them works all the same.
func TestGallonsAreForUSMeasures(t *testing.T) {
	ctx := browser(t)
	at := served(t, "-- handbook.yaml --\nmeasures: {main: metric}\n-- a.md --\n# A\n\n```recipe a\ntitle: A\nfor: 20 L\namounts: {gypsum: 2 tbsp}\nsizes: [10 L]\n```\n")
	do(t, ctx, chromedp.Navigate(at+"recipes/a/index.html?pot=5-gal"))
	assert.Equal(t, "5 US gal, about 18.9 L", shown(t, ctx, ".litres"))
	assert.True(t, ask[bool](t, ctx, `document.querySelector(".own option[value=gallons]").hidden`))
	assert.NotContains(t, ask[string](t, ctx, `document.querySelector(".own").textContent.replace(/I know its US gallons|US gallons /g, "")`), "gallon")
}

// What the page shows and what its address says are the same pot, and a pot that is not here is said calmly.
func TestOwnPotAndAddressAgree(t *testing.T) {
	ctx, at := browser(t), served(t, beds)
	for _, slip := range []string{"", "fifteen", "0", "9999"} {
		do(t, ctx, chromedp.Navigate(at+"recipes/deep/index.html"))
		enter(t, ctx, "shape", "round", "top", "15")
		assert.Equal(t, "round-15-in", inAddress(t, ctx))
		assert.Equal(t, "my-pot", ask[string](t, ctx, `document.querySelector(".size.shown").id`))
		enter(t, ctx, "top", slip)
		assert.Empty(t, inAddress(t, ctx), slip)
		assert.Equal(t, "for-10-l", ask[string](t, ctx, `document.querySelector(".size.shown").id`), slip)
	}
	do(t, ctx, chromedp.Navigate(at+"recipes/deep/index.html?pot=20-l"))
	enter(t, ctx, "shape", "round", "top", "fifteen")
	assert.Equal(t, "20-l", inAddress(t, ctx), "a size of the page is no pot of one's own")
	assert.Equal(t, "for-20-l", ask[string](t, ctx, `document.querySelector(".size.shown").id`))
	for _, unknown := range []string{"half-barrel", "900-l", "5-barrels", "round-0-in", "trough-24-in", "%3Cb%3E"} {
		do(t, ctx, chromedp.Navigate(at+"recipes/deep/index.html?pot="+unknown))
		assert.Contains(t, ask[string](t, ctx, `document.querySelector(".strip[role=status]").textContent`), "a pot that is not here", unknown)
		assert.Equal(t, "for-10-l", ask[string](t, ctx, `document.querySelector(".size.shown").id`))
	}
	enter(t, ctx, "litres", "23")
	assert.True(t, ask[bool](t, ctx, `!document.querySelector(".strip")`), "another pot is asked for")
	do(t, ctx, chromedp.Navigate(at+"recipes/deep/index.html?pot=20-l"))
	assert.True(t, ask[bool](t, ctx, `!document.querySelector(".strip")`))
}
