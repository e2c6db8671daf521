package markdown

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"golang.org/x/net/html"

	"trug/calcblocks/kit/diag"
)

// textOf returns the text of HTML without tags.
func textOf(out string) string {
	var b strings.Builder
	z := html.NewTokenizer(strings.NewReader(out))
	for kind := z.Next(); kind != html.ErrorToken; kind = z.Next() {
		if kind == html.TextToken {
			b.WriteString(z.Token().Data)
		}
	}
	return b.String()
}

// unescaped returns the text of HTML byte for byte; a tokenizer would change line ends.
func unescaped(out string) string {
	return html.UnescapeString(regexp.MustCompile("<[^>]*>").ReplaceAllString(out, ""))
}

func TestBlockHook(t *testing.T) {
	note := "text\n```recipe tub\nx: 1\n```\n- item\n  ```mix\n  ```\n- ```feed\n  ```\n\n```recpie b\n```\n"
	out := write(t, note, Hooks{Block: func(b *Block) string { return "<div>" + b.Kind + b.ID + "</div>\n\n" }})
	assert.Equal(t, "<p>text</p>\n<div>recipetub</div>\n<ul>\n<li>item\n<div>mix</div>\n</li>\n<li>\n<div>feed</div>\n</li>\n</ul>\n"+
		"<div>recipeb</div>\n", out)
	assert.Contains(t, write(t, note, Hooks{}), `<pre tabindex="0"><code class="language-yaml"><span class="nt">x</span>`,
		"without a hook a block is code")
}

func TestAddressHooks(t *testing.T) {
	h := Hooks{
		Link: func(target string, at diag.Position) string {
			if target == "gone.md" {
				return ""
			}
			return "../é " + target + "?a&b#" + lineText(at)
		},
		Image: func(i Image) Picture {
			switch i.Target {
			case "gone.png":
				return Picture{}
			case "é.jpg":
				return Picture{Address: "é/9.jpg", Width: 9, Height: 8, Widths: "e/4.jpg 4w, e/9.jpg 9w", Sizes: "(min-width: 9px) 4px, 9px"}
			}
			return Picture{Address: "small/" + i.Target, Width: len(i.Alt), Height: 7}
		},
		Text: func(l Link) (string, bool) {
			return "$3 <" + l.Text + ">", strings.HasPrefix(l.Target, "figure:")
		},
	}
	assert.Equal(t, `<p><a href="../%C3%A9%20x.md?a&amp;b#1:5" title="T">a</a></p>`+"\n", write(t, "[a](x.md 'T')\n", h))
	assert.Equal(t, "<p>a <em>b</em></p>\n", write(t, "[a *b*](gone.md)\n", h))
	assert.Equal(t, `<p><a href="../%C3%A9%20figure:q?a&amp;b#1:7">$3 &lt;2 d&gt;</a>.</p>`+"\n", write(t, "[2 d](figure:q).\n", h))
	assert.Equal(t, `<p><img src="small/i.png" alt="a cup" width="5" height="7" loading="lazy"></p>`+"\n", write(t, "![a *cup*](i.png)\n", h))
	assert.Equal(t, `<p><img src="%C3%A9/9.jpg" alt="" srcset="e/4.jpg 4w, e/9.jpg 9w" sizes="(min-width: 9px) 4px, 9px" width="9" height="8" loading="lazy"></p>`+"\n", write(t, "![](é.jpg)\n", h))
	assert.Equal(t, "<p>a &amp; b</p>\n", write(t, "![a & b](gone.png)\n", h))
	assert.Equal(t, `<p><a href="../%C3%A9%20http://a.b?a&amp;b#1:2">http://a.b</a></p>`+"\n", write(t, "<http://a.b>\n", h))
}

func TestSeveralNotesOnOnePage(t *testing.T) {
	note := "# One\n\n## Two[^a]\n\n[x](#two)\n\n| a |\n|---|\n| b |\n\n[^a]: c\n"
	out := write(t, note, Hooks{}) + write(t, note, Hooks{Prefix: "tub-", Deeper: 1})
	checkHTML(t, out)
	assert.Contains(t, out, `<h3 id="tub-two">Two<sup><a id="tub-footnote_1_place_1" href="#tub-footnote_1"`)
	assert.Contains(t, out, `<a href="#two">`)
	assert.Contains(t, out, `<a href="#tub-two">`)
	assert.Contains(t, out, `aria-label="Table 1 of One"`)
	assert.Contains(t, out, `aria-label="Footnotes of One"`)
	assert.Contains(t, write(t, "###### a\n", Hooks{Deeper: 2}), "<h6 ")
}

func TestTypography(t *testing.T) {
	assert.Equal(t, "<p>“It’s” – ‘so’ — and… 2 &lt;&lt; 3 a 12&quot; pot <code>&quot;--&quot;</code></p>\n",
		write(t, "\"It's\" -- 'so' --- and... 2 << 3 a 12\" pot `\"--\"`\n", Hooks{}))
	for note, want := range map[string]string{
		"~~a~~ ~2 L to ~3 L":              "<del>a</del> ~2 L to ~3 L",
		"5~10 L to tubs and 3~4 cups":     "5~10 L to tubs and 3~4 cups",
		"~5 L and ~10 L. H~2~O, ~a~":      "~5 L and ~10 L. H~2~O, ~a~",
		"~~a ~5 L~~ and a~~b~ or ~~~c~~~": "<del>a ~5 L</del> and a~~b~ or ~~~c~~~",
	} {
		assert.Equal(t, "<p>"+want+"</p>\n", write(t, note+"\n", Hooks{}))
	}
	assert.Equal(t, "<dl>\n<dt>a</dt>\n<dd>b</dd>\n</dl>\n", write(t, "a\n: b\n", Hooks{}))
	plain := Parse(newNote("\"a\" -- ~~b~~ [ ] c[^1]\n\n| a |\n|---|\n"), Options{Plain: true}, nil)
	assert.Equal(t, "<p>&quot;a&quot; -- ~~b~~ [ ] c[^1]</p>\n<p>| a |\n|---|</p>\n", plain.HTML(Hooks{}))
}

func TestWritingTwiceIsTheSame(t *testing.T) {
	d, _ := parse("# a\n\n| a |\n|---|\n\n[b](c) ![d](e)[^1]\n\n[^1]: f\n")
	assert.Equal(t, d.HTML(Hooks{}), d.HTML(Hooks{}))
}
