package layouts

import (
	"errors"
	"fmt"
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

// slipsOf returns what is wrong with a dress, as "file:line:column: message".
func slipsOf(t *testing.T, files map[string]string) []string {
	t.Helper()
	l, err := New(dress(files))
	if err == nil {
		_, err = l.Parts(view.Doc{Parts: []view.Part{view.Cautions{Items: sampleCautions()}, view.Paragraph{Text: "a"}}}, Context{})
	}
	var out []string
	for _, s := range Slips(err) {
		out = append(out, fmt.Sprintf("%s:%d:%d: %s", s.Name, s.Line, s.Column, s.Message))
	}
	return out
}

// TestDressFaults: what is wrong in a dress is told with its file, line and character, and in words that
// need no knowledge of the library.
func TestDressFaults(t *testing.T) {
	const file = "parts/paragraph.html"
	for text, want := range map[string]string{
		"<p>é{{.Nothing}}":                        `:1:7: there is no "Nothing" here`,
		"<p>\n  {{.Text.Foo}}</p>":                `:2:10: there is no "Foo" here`,
		"{{heading .Text 3}}":                     `:1:11: wrong type for value; expected int; got string`,
		"{{range .Text}}x{{end}}":                 `:1:9: range can't iterate over a`,
		"\n{{template \"parts/nothing.html\" .}}": `:2:12: there is no template "parts/nothing.html"`,
		"x\n{{shout .Text}}":                      `:2:1: there is no function "shout"`,
		"{{.Text":                                 `:1:1: unclosed action`,
		"{{range .Text}}":                         `:1:1: the file ends before this action is closed with {{end}}`,
		"<a href=\"{{.Text}}":                     `:0:1: a tag, a quote or a script is not closed`,
		"{{if .Text}}<a href='{{end}}x":           `:1:6: the branches of this action do not close the same tags and quotes`,
		"{{template \"parts/caution.html\" .}}":   `:0:0: it calls "parts/caution.html" with something else than that template reads`,
	} {
		assert.Equal(t, []string{file + want}, slipsOf(t, map[string]string{file: text}), text)
	}
}

// TestEverySlipIsTold: one run tells all that does not parse and all that replaces nothing.
func TestEverySlipIsTold(t *testing.T) {
	assert.ElementsMatch(t, []string{
		"parts/paragraf.html:0:0: this file replaces nothing", "pages/note.html:1:1: unclosed action",
		"style.css:0:0: this file replaces nothing",
	}, slipsOf(t, map[string]string{"parts/paragraf.html": "x", "pages/note.html": "{{.Body", "style.css": "", ".keep": ""}))
}

// TestSlipTellsWhatIsThere: a name that is not there comes with those that are.
func TestSlipTellsWhatIsThere(t *testing.T) {
	l := mustWear(t, dress(map[string]string{"pages/note.html": "{{.Body.Titel}}"}))
	_, err := l.Page(Page{Body: NotePage{}})
	slips := Slips(err)
	require.Len(t, slips, 1)
	assert.Equal(t, "Titel", slips[0].Wrong)
	assert.Equal(t, []string{"Title", "Summary", "Written", "Revised", "Topics", "Anchor", "Picture", "Body", "Recipes"}, slips[0].There)
	assert.Empty(t, Slips(errors.New("the disk is full")))
	assert.Empty(t, Slips(nil))
}

// TestOurOwnFaultIsNoSlip: what is wrong in our own templates is not blamed on a dress.
func TestOurOwnFaultIsNoSlip(t *testing.T) {
	_, err := ourLayouts(t).print("parts/caution.html", "no caution")
	assert.ErrorContains(t, err, "parts/caution.html")
	assert.Empty(t, Slips(err))
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
