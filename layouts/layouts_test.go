package layouts

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/view"
)

func dress(files map[string]string) fstest.MapFS {
	out := fstest.MapFS{}
	for name, text := range files {
		out[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return out
}

func TestDressReplacesByName(t *testing.T) {
	l, err := New(dress(map[string]string{
		"parts/paragraph.html": `<p class="own">{{.Text}}</p>`,
		"pages/notfound.html":  `<h1>Gone to seed</h1>`,
		"look/trug.js":         `/* quiet */`,
		"dress.css":            `h1 { color: navy; }`,
	}))
	require.NoError(t, err)
	html, err := l.Parts(view.Doc{Parts: []view.Part{view.Paragraph{Text: "Hello"}}}, Context{})
	require.NoError(t, err)
	assert.Contains(t, string(html), `<p class="own">Hello</p>`)
	page, err := l.Page(Page{Title: "x", Root: "/bench/", Body: NotFoundPage{}})
	require.NoError(t, err)
	assert.Contains(t, string(page), "Gone to seed")
	assert.Less(t, strings.Index(string(page), "/bench/trug.css"), strings.Index(string(page), "/bench/dress.css"), "the own sheet comes last")
	bodies := map[string]string{}
	for _, a := range l.Assets() {
		bodies[a.Name] = string(a.Body)
	}
	require.Len(t, bodies, 4)
	assert.Equal(t, "/* quiet */", bodies["trug.js"])
	assert.Equal(t, "h1 { color: navy; }", bodies["dress.css"])
	assert.Contains(t, bodies["trug.css"], "--paper")
}

func TestDressFaults(t *testing.T) {
	_, err := New(dress(map[string]string{"parts/paragraf.html": "x"}))
	assert.ErrorContains(t, err, `"parts/paragraf.html" replaces nothing`)
	_, err = New(dress(map[string]string{"pages/note.html": "{{.Body"}))
	assert.ErrorContains(t, err, `template "pages/note.html"`)
	l, err := New(dress(map[string]string{"parts/paragraph.html": "{{.Nothing}}"}))
	require.NoError(t, err)
	_, err = l.Parts(view.Doc{Parts: []view.Part{view.Paragraph{}}}, Context{})
	assert.ErrorContains(t, err, `parts/paragraph.html`)
}

func TestWithoutDress(t *testing.T) {
	for _, l := range []*Layouts{ourLayouts(t), mustWear(t, dress(nil))} {
		var names []string
		for _, a := range l.Assets() {
			names = append(names, a.Name)
			assert.NotEmpty(t, a.Body)
		}
		assert.Equal(t, []string{"search.js", "trug.css", "trug.js"}, names)
		page, err := l.Page(Page{Title: "x", Body: NotFoundPage{}})
		require.NoError(t, err)
		assert.NotContains(t, string(page), "dress.css")
	}
}

func mustWear(t *testing.T, own fstest.MapFS) *Layouts {
	t.Helper()
	l, err := New(own)
	require.NoError(t, err)
	return l
}

func TestStyleSheetAsksNobody(t *testing.T) {
	for _, a := range ourLayouts(t).Assets() {
		text := string(a.Body)
		for _, banned := range []string{"@import", "url(", "http://", "fetch(", "XMLHttpRequest", "innerHTML", "eval(", "import("} {
			assert.NotContains(t, text, banned, a.Name)
		}
	}
}
