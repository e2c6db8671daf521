package builder

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/view"
)

// browser opens a tab of Debian's Chromium; without one on the machine the test is skipped.
func browser(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("no chromium on this machine")
	}
	flags := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()))
	for _, off := range []string{"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync"} {
		flags = append(flags, chromedp.Flag(off, true))
	}
	ctx, stop := chromedp.NewExecAllocator(t.Context(), flags...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	ctx, late := context.WithTimeout(ctx, 4*time.Minute)
	t.Cleanup(late)
	return ctx
}

// demo builds the demo handbook and serves it under a path; it returns the address.
func demo(t *testing.T) string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "site")
	report, err := Build(Options{Content: "../content", Out: out, Today: today})
	require.NoError(t, err)
	require.Zero(t, report.Faults, printed(report.Diagnostics))
	server := httptest.NewServer(http.StripPrefix("/any/path/", http.FileServer(http.Dir(out))))
	t.Cleanup(server.Close)
	return server.URL + "/any/path/"
}

func do(t *testing.T, ctx context.Context, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	require.NoError(t, chromedp.Do(ctx, steps...))
}

func ask[T any](t *testing.T, ctx context.Context, expression string) T {
	t.Helper()
	out, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	require.NoError(t, err, expression)
	return out
}

func TestSizeByKeyboard(t *testing.T) {
	ctx, at := browser(t), demo(t)
	do(t, ctx, chromedp.Navigate(at+"recipes/spring-tubs/index.html"), chromedp.Focus(`.picks li:nth-child(2) a`), chromedp.KeyEvent(kb.Enter))
	assert.Equal(t, "for-20-l", ask[string](t, ctx, `document.querySelector(".size.shown").id`))
	assert.Contains(t, ask[string](t, ctx, `location.search`), "pot=20-l")
	do(t, ctx, chromedp.Reload())
	assert.Equal(t, "for-20-l", ask[string](t, ctx, `document.querySelector(".size.shown").id`), "the address keeps the size")
}

// rowsAt are the rows of "my pot" as a reader sees them for each of many sizes.
const rowsAt = `((sizes) => {
	const field = document.querySelector(".own [name=litres]");
	return JSON.stringify(sizes.map((size) => {
		field.value = size;
		field.dispatchEvent(new Event("input", { bubbles: true }));
		return Array.from(document.querySelectorAll("#my-pot .amount")).map((row) => {
			const text = (node) => node ? node.textContent.replace(/\s+/g, " ").trim() : "";
			const sets = Object.fromEntries(Array.from(row.querySelectorAll(".set")).map((s) => [s.dataset.set, text(s).replace(/ ?(US|metric)$/, "")]));
			const grams = row.classList.contains("weighed") ? text(row.querySelector(".measure")) : text(row.querySelector(".grams"));
			return { option: row.dataset.option, sets, grams };
		});
	}));
})`

type ownRow struct {
	Option string
	Sets   map[string]string
	Grams  string
}

// TestMyPot asks the page and the program for the same containers: 23 L and 200 by chance, for every recipe.
func TestMyPot(t *testing.T) {
	ctx, at := browser(t), demo(t)
	h, err := Read("../content", today)
	require.NoError(t, err)
	chance := rand.New(rand.NewPCG(3, 5))
	for _, p := range h.of("recipe") {
		sizes := []string{"23"}
		for range 200 {
			sizes = append(sizes, fmt.Sprintf("%.2f", 1+chance.Float64()*chance.Float64()*498))
		}
		list, err := json.Marshal(sizes)
		require.NoError(t, err)
		do(t, ctx, chromedp.Navigate(at+"recipes/"+p.ID+"/index.html"))
		var shown [][]ownRow
		require.NoError(t, json.Unmarshal([]byte(ask[string](t, ctx, rowsAt+"("+string(list)+")")), &shown))
		require.Len(t, shown, len(sizes))
		for i, size := range sizes {
			assertRows(t, amountsFor(t, h, p, size+" L", i < 20), shown[i], p.ID+" for "+size+" L")
		}
	}
}

// amountsFor returns a recipe's amounts for a container: whole, as "trug show" prints them, or, which is
// quicker, what other blocks are told, where a choice holds its pick alone.
func amountsFor(t *testing.T, h *Handbook, p *Placed, container string, whole bool) []view.Amount {
	t.Helper()
	if i := slices.IndexFunc(p.Result.Facts, isRecipe); !whole && i >= 0 {
		c, err := h.Garden.Container(container)
		require.NoError(t, err)
		portioned, faults := p.Result.Facts[i].(facts.Recipe).For(c, nil, facts.Grown{})
		require.Empty(t, faults)
		return portioned.Parts[0].(view.Amounts).Rows
	}
	result, faults := h.Ask(p, container, nil)
	require.Empty(t, faults)
	i := slices.IndexFunc(result.View.Parts, func(p view.Part) bool { _, ok := p.(view.Sizes); return ok })
	require.GreaterOrEqual(t, i, 0)
	amounts := result.View.Parts[i].(view.Sizes).Items[0].Parts[0].(view.Amounts)
	out := amounts.Rows
	for _, c := range amounts.Choices {
		out = append(out, c.Options...)
	}
	return out
}

func isRecipe(f facts.Fact) bool {
	_, ok := f.(facts.Recipe)
	return ok
}

// assertRows finds each wanted amount among the rows of the page.
func assertRows(t *testing.T, want []view.Amount, got []ownRow, where string) {
	t.Helper()
	require.NotEmpty(t, want, where)
	for _, a := range want {
		i := slices.IndexFunc(got, func(r ownRow) bool { return r.Option == a.Amendment })
		require.GreaterOrEqual(t, i, 0, "%s: no row for %s", where, a.Amendment)
		assert.Equal(t, a.Grams, got[i].Grams, "%s, %s", where, a.Amendment)
		for set, text := range got[i].Sets {
			assert.Equal(t, a.Measures[set], text, "%s, %s, %s", where, a.Amendment, set)
		}
		assert.NotEmpty(t, got[i].Sets, "%s, %s", where, a.Amendment)
	}
}

func TestSharedAddress(t *testing.T) {
	ctx, at := browser(t), demo(t)
	do(t, ctx, chromedp.Navigate(at+"recipes/spring-tubs/index.html?pot=23-l&with=wood-ash"))
	assert.Equal(t, "23 L", ask[string](t, ctx, `document.querySelector(".size.shown .litres").textContent`))
	assert.Equal(t, "wood-ash", ask[string](t, ctx, `document.querySelector(".size.shown .choice").dataset.picked`))
	do(t, ctx, chromedp.Navigate(at+"recipes/spring-tubs/index.html?pot=round-12x10x11-in"))
	// A cone with ends of 12 and 10 inches, 11 high: pi x 11 / 12 x (144 + 120 + 100) in3 = 1048.25 in3 = 17.18 L.
	assert.Equal(t, "about 17.2 L", ask[string](t, ctx, `document.querySelector(".size.shown .litres").textContent`))
	do(t, ctx, chromedp.Navigate(at+"recipes/spring-tubs/index.html?pot=round-12-in"))
	// The top alone, with the usual shape of a pot: a base of 0.75 and a height of 0.92 of it. Ends of 12 and 9 inches,
	// 11.04 high: pi x 11.04 / 12 x (144 + 108 + 81) in3 = 962.44 in3 = 15.77 L.
	assert.Equal(t, "about 15.8 L", ask[string](t, ctx, `document.querySelector(".size.shown .litres").textContent`))
}

func TestStampSaysWhetherACardHolds(t *testing.T) {
	ctx, at := browser(t), demo(t)
	do(t, ctx, chromedp.Navigate(at+"recipes/spring-tubs/index.html"))
	now := ask[string](t, ctx, `JSON.parse(document.getElementById("stamps").textContent).now`)
	old := ask[string](t, ctx, `Object.keys(JSON.parse(document.getElementById("stamps").textContent).was)[0]`)
	for stamp, says := range map[string]string{now: "Your card is current", old: "numbers of 2026-04-12", "aaaa-bbbb": "not in this handbook's history"} {
		do(t, ctx, chromedp.Navigate(at+"recipes/spring-tubs/index.html?stamp="+stamp))
		assert.Contains(t, ask[string](t, ctx, `document.querySelector(".strip").textContent`), says)
		assert.Equal(t, stamp == old, ask[bool](t, ctx, `document.querySelectorAll(".strip li").length > 0`), "what became different")
	}
}

func TestSpoonsAndTicksAreRemembered(t *testing.T) {
	ctx, at := browser(t), demo(t)
	do(t, ctx, chromedp.Navigate(at+"recipes/spring-tubs/index.html"),
		chromedp.Click(`.size.shown .spoons button[data-set=metric]`), chromedp.Click(`.size.shown .amount input`), chromedp.Reload())
	assert.Equal(t, "metric", ask[string](t, ctx, `document.querySelector(".size.shown .set:not([hidden])").dataset.set`))
	assert.True(t, ask[bool](t, ctx, `document.querySelector(".size.shown .amount input").checked`))
	assert.False(t, ask[bool](t, ctx, `document.querySelectorAll(".size.shown .amount input")[1].checked`))
}

func TestSearchFindsByBeginnings(t *testing.T) {
	ctx, at := browser(t), demo(t)
	do(t, ctx, chromedp.Navigate(at+"search/index.html?q=pota"))
	found := ask[string](t, ctx, `document.querySelector(".results").textContent.toLowerCase()`)
	assert.Contains(t, found, "potash")
	assert.NotContains(t, found, "weights on a balcony", "what does not hold it is not shown")
}

// The script folds what is asked as the index's words were folded: every letter that the slugs write out is found by it,
// in small and in capitals.
func TestSearchFoldsAsTheIndex(t *testing.T) {
	ctx, words := browser(t), []string{"Größe", "Æbler", "Œuf", "Smørrebrød", "Łódź", "Đurđevak", "Garður", "Þistill", "Għasel", "Kırmızı"}
	handbookIn(t, txtar.Parse([]byte("-- a.md --\n# "+strings.Join(words, " ")+"\n")))
	_, err := Build(Options{Content: "content", Out: "public", Today: today})
	require.NoError(t, err)
	server := httptest.NewServer(http.FileServer(http.Dir("public")))
	t.Cleanup(server.Close)
	for _, word := range words {
		for _, asked := range []string{word, strings.ToUpper(word), data.Slug(word)} {
			do(t, ctx, chromedp.Navigate(server.URL+"/search/index.html?q="+url.QueryEscape(asked)))
			assert.Equal(t, 1, ask[int](t, ctx, `document.querySelectorAll(".results [href$='notes/a/index.html']").length`), asked)
		}
	}
}

func TestReadsWithoutASignal(t *testing.T) {
	ctx := browser(t)
	out := filepath.Join(t.TempDir(), "site")
	_, err := Build(Options{Content: "../content", Out: out, Today: today})
	require.NoError(t, err)
	server := httptest.NewServer(http.FileServer(http.Dir(out)))
	do(t, ctx, chromedp.Navigate(server.URL+"/recipes/spring-tubs/index.html"))
	require.Eventually(t, func() bool { return ask[bool](t, ctx, `!!navigator.serviceWorker.controller`) }, 30*time.Second, 100*time.Millisecond)
	server.CloseClientConnections()
	server.Close() // no signal
	do(t, ctx, chromedp.Navigate(server.URL+"/recipes/spring-tubs/index.html"))
	assert.Equal(t, "Spring renewal for fruiting tubs", ask[string](t, ctx, `document.querySelector("h1").textContent`))
	do(t, ctx, chromedp.Navigate(server.URL+"/pots/blue-tub/index.html"))
	assert.Equal(t, "Blue tub", ask[string](t, ctx, `document.querySelector("h1").textContent`), "a page that was not visited yet")
	assert.Equal(t, "4px", ask[string](t, ctx, `getComputedStyle(document.querySelector(".top")).borderBottomWidth`), "its style sheet is kept too")
}

func TestWithoutAScriptEveryNumberIsThere(t *testing.T) {
	ctx, at := browser(t), demo(t)
	_, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	require.NoError(t, err)
	h, err := Read("../content", today)
	require.NoError(t, err)
	p, _ := h.Block("spring-tubs")
	do(t, ctx, chromedp.Navigate(at+"recipes/spring-tubs/index.html"))
	shown, err := chromedp.Run(ctx, chromedp.Text("main"))
	require.NoError(t, err)
	shown = strings.Join(strings.Fields(shown), " ")
	for _, part := range p.Result.View.Parts {
		sizes, ok := part.(view.Sizes)
		for _, size := range sizes.Items {
			require.True(t, ok)
			for _, a := range size.Parts[0].(view.Amounts).Rows {
				assert.Contains(t, shown, a.Grams)
				assert.Contains(t, shown, strings.Join(strings.Fields(a.Measures["us"]), " "))
				assert.Contains(t, shown, a.Measures["metric"])
			}
		}
	}
	assert.Contains(t, shown, " or ", "the options of a choice are joined")
}

func TestDarkAndNarrow(t *testing.T) {
	ctx, at := browser(t), demo(t)
	do(t, ctx, chromedp.EmulateViewport(320, 640), chromedp.Navigate(at+"recipes/spring-tubs/index.html?pot=23-l"))
	assert.LessOrEqual(t, ask[int](t, ctx, `document.documentElement.scrollWidth`), 320)
	light := ask[string](t, ctx, `getComputedStyle(document.documentElement).backgroundColor`)
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}})
	require.NoError(t, err)
	assert.NotEqual(t, light, ask[string](t, ctx, `getComputedStyle(document.documentElement).backgroundColor`))
}
