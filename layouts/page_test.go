package layouts

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"trug/calcblocks/kit/view"
)

func parsed(t *testing.T, text string) *html.Node {
	t.Helper()
	tree, err := html.Parse(strings.NewReader(text))
	require.NoError(t, err)
	return tree
}

// textOf is the text of a tree, one space for each run of white space.
func textOf(tree *html.Node) string {
	var b strings.Builder
	for n := range tree.Descendants() {
		if n.Type == html.TextNode {
			b.WriteString(n.Data)
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func withAttr(tree *html.Node, key, value string) []*html.Node {
	var out []*html.Node
	for n := range tree.Descendants() {
		if n.Type == html.ElementNode && attr(n, key) == value {
			out = append(out, n)
		}
	}
	return out
}

// assertHarmless: no style of its own, no handler, no script but a file or data, no address that runs.
func assertHarmless(t *testing.T, tree *html.Node, name string) {
	t.Helper()
	for n := range tree.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		assert.NotEqual(t, "style", n.Data, name)
		assert.NotEqual(t, "base", n.Data, name)
		if n.Data == "script" && !slices.Contains([]string{"application/json", "application/ld+json"}, attr(n, "type")) {
			assert.NotEmpty(t, attr(n, "src"), "%s: a script in the page", name)
			assert.Nil(t, n.FirstChild, "%s: a script in the page", name)
		}
		if n.Data == "img" {
			assert.NotEqual(t, "x", attr(n, "src"), name)
		}
		for _, a := range n.Attr {
			assert.NotEqual(t, "style", a.Key, "%s: %s", name, n.Data)
			assert.False(t, strings.HasPrefix(a.Key, "on"), "%s: %s %s", name, n.Data, a.Key)
			if a.Key == "href" || a.Key == "src" {
				assert.False(t, strings.HasPrefix(strings.ToLower(strings.TrimSpace(a.Val)), "javascript:"), "%s: %s", name, a.Val)
			}
		}
	}
}

func printedPages(t *testing.T) map[string]*html.Node {
	t.Helper()
	l := ourLayouts(t)
	out := map[string]*html.Node{}
	for name, page := range samplePages(t, l) {
		text, err := l.Page(page)
		require.NoError(t, err, name)
		out[name] = parsed(t, string(text))
	}
	return out
}

func TestPagesAreStrict(t *testing.T) {
	for name, tree := range printedPages(t) {
		policy := withAttr(tree, "http-equiv", "Content-Security-Policy")
		require.Len(t, policy, 1, name)
		for _, want := range []string{"default-src 'none'", "style-src 'self'", "script-src 'self'", "base-uri 'none'", "form-action 'none'"} {
			assert.Contains(t, attr(policy[0], "content"), want, name)
		}
		assert.NotContains(t, attr(policy[0], "content"), "unsafe", name)
		assertHarmless(t, tree, name)
		assert.Empty(t, withAttr(tree, "href", "#ZgotmplZ"), name)
		assert.NotContains(t, textOf(tree), "ZgotmplZ", name)
	}
}

func TestIdsAreUniqueAndAnchorsStand(t *testing.T) {
	for name, tree := range printedPages(t) {
		ids := map[string]int{}
		for n := range tree.Descendants() {
			if id := attr(n, "id"); id != "" {
				ids[id]++
				assert.Equal(t, 1, ids[id], "%s: id %q", name, id)
			}
		}
		for n := range tree.Descendants() {
			for _, key := range []string{"aria-labelledby", "aria-describedby"} {
				for _, id := range strings.Fields(attr(n, key)) {
					assert.Contains(t, ids, id, "%s: %s", name, key)
				}
			}
			if anchor, here := strings.CutPrefix(attr(n, "href"), "#"); here && n.Data == "a" && !strings.HasPrefix(anchor, "fnref") {
				id, err := url.PathUnescape(anchor)
				require.NoError(t, err)
				assert.Contains(t, ids, id, "%s: link", name)
			}
			if fill := attr(n, "fill"); strings.HasPrefix(fill, "url(#") {
				assert.Contains(t, ids, strings.TrimSuffix(strings.TrimPrefix(fill, "url(#"), ")"), name)
			}
		}
	}
}

func TestHeadingsAreInOrder(t *testing.T) {
	for name, tree := range printedPages(t) {
		last, firsts := 0, 0
		for n := range tree.Descendants() {
			if n.Type != html.ElementNode || len(n.Data) != 2 || n.Data[0] != 'h' || n.Data[1] < '1' || n.Data[1] > '6' {
				continue
			}
			level := int(n.Data[1] - '0')
			assert.LessOrEqual(t, level, last+1, "%s: %q leaves out a level", name, textOf(n))
			if level == 1 {
				firsts++
			}
			last = level
		}
		assert.Equal(t, 1, firsts, "%s: main headings", name)
	}
}

func TestDrawingsAndTablesSpeak(t *testing.T) {
	for name, tree := range printedPages(t) {
		for n := range tree.Descendants() {
			switch {
			case n.Data == "svg" && attr(n, "aria-hidden") == "":
				assert.Equal(t, "img", attr(n, "role"), name)
				assert.NotEmpty(t, attr(n, "aria-label")+attr(n, "aria-labelledby"), name)
			case n.Data == "th":
				assert.NotEmpty(t, attr(n, "scope"), "%s: %s", name, textOf(n))
			}
		}
	}
}

func TestRootLeadsBack(t *testing.T) {
	l := ourLayouts(t)
	for name, page := range samplePages(t, l) {
		text, err := l.Page(page)
		require.NoError(t, err)
		tree := parsed(t, string(text))
		assert.Len(t, withAttr(tree, "href", page.Root+"trug.css"), 1, name)
		assert.Len(t, withAttr(tree, "src", page.Root+"trug.js"), 1, name)
		assert.NotEmpty(t, withAttr(tree, "href", page.Root+"index.html"), name)
		for n := range tree.Descendants() {
			if strings.Contains(attr(n, "href"), "sources/index.html#") {
				assert.True(t, strings.HasPrefix(attr(n, "href"), page.Root+"sources/"), "%s: %s", name, attr(n, "href"))
			}
		}
	}
}

func TestBarShowsWhereWeAre(t *testing.T) {
	for name, tree := range printedPages(t) {
		current := withAttr(tree, "aria-current", "page")
		if strings.HasPrefix(name, "pots/") {
			require.Len(t, current, 1, name)
			assert.Equal(t, "Pots", textOf(current[0]))
		}
		if name == "index" {
			assert.Empty(t, current)
		}
	}
}

func TestLinkedDataCannotLeaveItsElement(t *testing.T) {
	tree := printedPages(t)["recipes/spring/index"]
	blocks := withAttr(tree, "type", "application/ld+json")
	require.Len(t, blocks, 1)
	assert.Contains(t, textOf(blocks[0]), `\u003c/script\u003e`)
}

func TestSourceAddressesLinkOnlyToTheWeb(t *testing.T) {
	tree := printedPages(t)["sources/index"]
	assert.Len(t, withAttr(tree, "href", "https://bench.example/need"), 1)
	assert.Empty(t, withAttr(tree, "href", "bench.example/dust"))
	assert.Contains(t, textOf(tree), "bench.example/dust")
	assert.Len(t, withAttr(tree, "id", "court-need-2019"), 1)
	assert.Contains(t, textOf(tree), "The text of this source was read.")
}

func TestEmptyPagesReadWell(t *testing.T) {
	l := ourLayouts(t)
	for want, body := range map[string]any{
		"No notes yet: ":               FrontPage{Title: "Bench"},
		"Notes No notes yet: ":         NotesPage{},
		"No recipes yet: ":             RecipesPage{},
		"No note uses this recipe yet": RecipePage{Title: "Bench"},
		"No pots yet: ":                PotsPage{},
		"Nothing in the cupboard yet":  CupboardPage{},
		"No sources yet: ":             SourcesPage{},
		"Bench":                        PotPage{Title: "Bench"},
		"A bare note":                  NotePage{Title: "A bare note"},
		"A bare page":                  PlainPage{Title: "A bare page"},
		"Nothing grows at":             NotFoundPage{},
	} {
		text, err := l.Page(Page{Title: "Bench", Body: body})
		require.NoError(t, err)
		tree := parsed(t, string(text))
		assert.Contains(t, textOf(tree), want)
		assert.Contains(t, string(text), `<html lang="en">`)
	}
	_, err := l.Page(Page{Title: "Bench"})
	assert.ErrorContains(t, err, "no template for a page")
}

func TestEmptyPartsReadWell(t *testing.T) {
	l := ourLayouts(t)
	for want, part := range map[string]view.Part{
		"No sizes yet":      view.Sizes{},
		"Nothing goes in":   view.Amounts{},
		"No arithmetic":     view.Working{},
		"No sources":        view.Bibliography{},
		"Where it would be": view.Section{Title: "Where it would be"},
		"Empty bars":        view.Bars{Title: "Empty bars"},
		"Empty chart":       view.Chart{Title: "Empty chart"},
		"Empty dots":        view.Dots{Title: "Empty dots"},
	} {
		html := printSample(t, l, view.Doc{Parts: []view.Part{part}}, Context{})
		assert.Contains(t, textOf(parsed(t, string(html))), want)
	}
}

func TestGuidePageIsLight(t *testing.T) {
	l := ourLayouts(t)
	text, err := l.Page(samplePages(t, l)["notes/tubs/spring/index"])
	require.NoError(t, err)
	var b bytes.Buffer
	for _, part := range append(l.Assets(), Asset{"page", text}) {
		z := gzip.NewWriter(&b)
		_, err := io.Copy(z, bytes.NewReader(part.Body))
		require.NoError(t, err)
		require.NoError(t, z.Close())
	}
	assert.Less(t, b.Len(), 40_000, "with its style sheet and script, packed; photographs apart, 60 kB is the limit")
}

func TestSameInputSameBytes(t *testing.T) {
	l, other := ourLayouts(t), ourLayouts(t)
	for name, page := range samplePages(t, l) {
		first, err := l.Page(page)
		require.NoError(t, err)
		second, err := other.Page(samplePages(t, other)[name])
		require.NoError(t, err)
		assert.Equal(t, string(first), string(second), name)
	}
}
