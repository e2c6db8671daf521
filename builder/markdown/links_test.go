package markdown

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
)

func newNote(text string) *diag.File { return diag.NewFile("note.md", text) }

func TestLinkPlaces(t *testing.T) {
	cases := []struct {
		name, note   string
		target, text string
		at           [2]int
	}{
		{"inline", "é [a](a)\n", "a", "a", [2]int{1, 7}},
		{"in brackets", "[a *b*](<my é.md> \"t\")\n", "my é.md", "a b", [2]int{1, 10}},
		{"escapes", "[a](x\\_y&amp;z%20é.md#q)\n", "x_y&z%20é.md#q", "a", [2]int{1, 5}},
		{"on the next line", "> - [a\n>   b](\n>   c)\n", "c", "a b", [2]int{3, 5}},
		{"by reference", "[a][r] é\n\n> é\n>\n> [R]: <../c.md>\n", "../c.md", "a", [2]int{5, 9}},
		{"shortcut", "[r]\n\n[r]:\n  c\n", "c", "r", [2]int{4, 3}},
		{"in a table", "| é | b |\n|--|--|\n| é | [a](c) |\n", "c", "a", [2]int{3, 11}},
		{"in a heading", "# é [a](c)\n", "c", "a", [2]int{1, 9}},
		{"in a footnote", "x[^1]\n\n[^1]: é [a](c)\n", "c", "a", [2]int{3, 13}},
		{"behind a tab", "- x\n\n\t[a](c)\n", "c", "a", [2]int{3, 6}},
		{"address", "é <http://a.b/é>\n", "http://a.b/é", "http://a.b/é", [2]int{1, 4}},
		{"e-mail", "<a@b.example>\n", "mailto:a@b.example", "a@b.example", [2]int{1, 2}},
		{"figure", "[2 dollars](figure:tub/20-l/cost)\n", "figure:tub/20-l/cost", "2 dollars", [2]int{1, 13}},
		{"telephone", "[call](tel:+1-555)\n", "tel:+1-555", "call", [2]int{1, 8}},
		{"a colon in a path", "[a](b/javascript:c)\n", "b/javascript:c", "a", [2]int{1, 5}},
		{"an image in it", "[![alt](i.png)](c)\n", "c", "alt", [2]int{1, 17}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, faults := parse(c.note)
			assert.Empty(t, faults)
			require.Len(t, d.Links, 1)
			assert.Equal(t, c.target, d.Links[0].Target)
			assert.Equal(t, c.text, d.Links[0].Text)
			assert.Equal(t, c.at, lineColumn(d.Links[0].At))
			checkHTML(t, d.HTML(Hooks{}))
		})
	}
}

func TestImages(t *testing.T) {
	d, faults := parse("é ![a *b* [c](d)](e.png \"T\") ![](f.png)\n")
	assert.Equal(t, []string{"1:30 doubt image-alt"}, faults)
	assert.Empty(t, d.Links, "a link in the text of an image is not written")
	require.Len(t, d.Images, 2)
	assert.Equal(t, "e.png", d.Images[0].Target)
	assert.Equal(t, "a b c", d.Images[0].Alt)
	assert.Equal(t, [2]int{1, 19}, lineColumn(d.Images[0].At))
	assert.Equal(t, `<p>é <img src="e.png" alt="a b c" title="T" loading="lazy"> <img src="f.png" alt="" loading="lazy"></p>`+"\n",
		d.HTML(Hooks{}))
}

func TestDangerousTargets(t *testing.T) {
	cases := []struct{ note, fault, html string }{
		{"[a](javascript:x)\n", "1:5", "a"},
		{"[a](JavaScript&colon;x)\n", "1:5", "a"},
		{"[a](<java&Tab;script:x>)\n", "1:6", "a"},
		{"[a](<&#1; vbscript:x>)\n", "1:6", "a"},
		{"[a](data:image/png;base64,eA)\n", "1:5", "a"},
		{"[a](file:///etc/hosts)\n", "1:5", "a"},
		{"![a](data:image/png;base64,eA)\n", "1:6", "a"},
		{"<javascript:x>\n", "1:2", "javascript:x"},
		{"[a][r]\n\n[r]: file:x\n", "3:6", "a"},
		{"a\n\n[r]: file:x\n", "3:6", "a"},
		{"![a][r]\n\n[r]: data:x\n", "3:6", "a"},
	}
	for _, c := range cases {
		t.Run(c.note, func(t *testing.T) {
			var got []string
			d := Parse(newNote(c.note), Options{}, func(x diag.Diagnostic) {
				got = append(got, x.Code)
				assert.Equal(t, c.fault, lineText(x.At))
				assert.Equal(t, diag.Fault, x.Severity)
			})
			assert.Equal(t, []string{"link-dangerous"}, got, "reported once")
			assert.Empty(t, d.Links)
			assert.Empty(t, d.Images)
			never := func(string, diag.Position) string { t.Error("asked for a dangerous address"); return "" }
			unseen := func(Image) Picture { t.Error("asked for a dangerous picture"); return Picture{} }
			assert.Equal(t, "<p>"+c.html+"</p>\n", d.HTML(Hooks{Link: never, Image: unseen}))
		})
	}
}

func lineText(p diag.Position) string {
	return string(rune('0'+p.Line)) + ":" + string(rune('0'+p.Column))
}

func TestLinksThatHelpNobody(t *testing.T) {
	_, faults := parse("[a]() [](b) ![x]()\n")
	assert.Equal(t, []string{"1:1 doubt link-empty", "1:7 doubt link-text"}, faults)
}

func TestRawHTML(t *testing.T) {
	d, faults := parse("<div class=\"x\">\né\n</div>\n\né <b>a</b> <!-- c -->\n\n- a\n\n  <p>\n")
	assert.Equal(t, []string{
		"1:1 doubt raw-html", "5:3 doubt raw-html", "5:12 doubt raw-html", "9:3 doubt raw-html",
	}, faults)
	out := d.HTML(Hooks{})
	checkHTML(t, out)
	assert.Contains(t, out, "<p>é &lt;b&gt;a&lt;/b&gt; &lt;!-- c --&gt;</p>")
	assert.NotContains(t, out, "<div")
	assert.Contains(t, textOf(out), "<div class=\"x\">\né\n</div>\n", "nothing is lost")
	assert.Contains(t, textOf(write(t, "<!-- a\nb -->\n", Hooks{})), "<!-- a\nb -->\n", "nor the last line of a comment")

	plain := Parse(newNote("<div>\n\na <b>c</b>\n"), Options{Plain: true}, func(x diag.Diagnostic) { t.Error(x) })
	assert.Equal(t, "<div>\n<p>a <b>c</b></p>\n", plain.HTML(Hooks{}))
}
