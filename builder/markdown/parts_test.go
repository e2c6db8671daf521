package markdown

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"trug/calcblocks/kit/diag"
)

func TestTables(t *testing.T) {
	out := write(t, "|  | L | C | R |\n|---|:--|:-:|--:|\n| a | b | c | d |\n\n> | x |\n> |---|\n", Hooks{})
	assert.Equal(t, `<div class="table-scroll" tabindex="0" role="region" aria-label="Table 1">
<table>
<thead>
<tr>
<td></td>
<th scope="col" class="align-left">L</th>
<th scope="col" class="align-center">C</th>
<th scope="col" class="align-right">R</th>
</tr>
</thead>
<tbody>
<tr>
<td>a</td>
<td class="align-left">b</td>
<td class="align-center">c</td>
<td class="align-right">d</td>
</tr>
</tbody>
</table>
</div>
<blockquote>
<div class="table-scroll" tabindex="0" role="region" aria-label="Table 2">
<table>
<thead>
<tr>
<th scope="col">x</th>
</tr>
</thead>
</table>
</div>
</blockquote>
`, out)
}

// A table is crowded by the words that do not break, not by the length of its cells.
func TestCrowdedTable(t *testing.T) {
	table := func(cell string, columns int) string {
		return strings.Repeat("| x ", columns) + "|\n" + strings.Repeat("|---", columns) + "|\n" + strings.Repeat("| "+cell+" ", columns) + "|\n"
	}
	for cell, crowded := range map[string]bool{
		"magnesium": true, strings.Repeat("a few words ", 9): false, "one-two-three-four": false, "植物の大きな鉢植え": false, "`magnesium`": true,
	} {
		assert.Equal(t, crowded, strings.Contains(write(t, table(cell, 9), Hooks{}), `<table class="crowded">`), cell)
	}
	assert.NotContains(t, write(t, table("magnesium", 8), Hooks{}), "crowded")
	assert.Contains(t, write(t, table(strings.Repeat("a", 48), 2), Hooks{}), "crowded")
}

func TestTasks(t *testing.T) {
	out := write(t, "- [ ] do *it*\n- [x] done\n\n1. [X] long\n\n   more\n2. none\n\n- [ ] \n", Hooks{})
	assert.Equal(t, `<ul>
<li class="task"><label><input type="checkbox" disabled> do <em>it</em></label></li>
<li class="task"><label><input type="checkbox" disabled checked> done</label></li>
</ul>
<ol>
<li class="task">
<p><label><input type="checkbox" disabled checked> long</label></p>
<p>more</p>
</li>
<li>
<p>none</p>
</li>
</ol>
<ul>
<li class="task"><label><input type="checkbox" disabled aria-label="Task"> </label></li>
</ul>
`, out)
}

func TestFootnotes(t *testing.T) {
	out := write(t, "a[^x] b[^y] c[^x]\n\n[^x]: One.\n[^y]: Two\n\n    ```go\n    ```\n", Hooks{})
	assert.Equal(t, `<p>a<sup><a id="footnote_1_place_1" href="#footnote_1" class="footnote-mark" role="doc-noteref" aria-label="Footnote 1">1</a></sup>`+
		` b<sup><a id="footnote_2_place_1" href="#footnote_2" class="footnote-mark" role="doc-noteref" aria-label="Footnote 2">2</a></sup>`+
		` c<sup><a id="footnote_1_place_2" href="#footnote_1" class="footnote-mark" role="doc-noteref" aria-label="Footnote 1">1</a></sup></p>
<section class="footnotes" role="doc-endnotes" aria-label="Footnotes">
<ol>
<li id="footnote_1">
<p>One. <a href="#footnote_1_place_1" class="footnote-back" role="doc-backlink" aria-label="Back to footnote mark 1, place 1">↩︎</a>`+
		` <a href="#footnote_1_place_2" class="footnote-back" role="doc-backlink" aria-label="Back to footnote mark 1, place 2">↩︎</a></p>
</li>
<li id="footnote_2">
<p>Two</p>
<pre tabindex="0"><code class="language-go"></code></pre>
 <a href="#footnote_2_place_1" class="footnote-back" role="doc-backlink" aria-label="Back to footnote mark 2">↩︎</a></li>
</ol>
</section>
`, out)
}

func TestFootnotesAtTheEdge(t *testing.T) {
	_, faults := parse("a\n\n> [^x]: b [^y]\n\n[^y]: c\n")
	assert.Equal(t, []string{"3:3 doubt footnote-unused"}, faults)
	out := write(t, "# Title[^a]\n\n![pic[^a]](x.png) text[^a]\n\n[^a]: note\n", Hooks{})
	assert.NotContains(t, out, "place_1", "no link back to a mark that is not written")
	assert.Contains(t, out, `href="#footnote_1_place_3"`)
	assert.NotContains(t, write(t, "## Footnote 1\n\na[^1]\n\n[^1]: b\n", Hooks{}), `id="footnote_1">Footnote`)
}

func TestHighlight(t *testing.T) {
	cases := []struct{ code, language, want string }{
		{"a: 1\n", "yaml", `<span class="nt">a</span><span class="p">:</span> <span class="m">1</span>` + "\n"},
		{"a: 1", "yaml", `<span class="nt">a</span><span class="p">:</span> <span class="m">1</span>`},
		{"<b> & \"c\"\n", "", "&lt;b&gt; &amp; &#34;c&#34;\n"},
		{"<b>\n", "no-such-language", "&lt;b&gt;\n"},
		{"x\x00y", "", "x\ufffdy"},
		{"", "go", ""},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, Highlight(c.code, c.language))
	}
}

// TestHighlightLosesNothing compares the text of the result with the code, for every language. Two
// languages of the library never come to an end of this code by themselves.
func TestHighlightLosesNothing(t *testing.T) {
	code := "func a() {\n\treturn \"é\" // <x> & 'y' 1.5e3\n}\n\n# c\n@b: $x | [1] %>\n\n"
	coloured := 0
	for _, language := range languages() {
		out := Highlight(code, language)
		assert.Equal(t, code, unescaped(out), language)
		assert.NotContains(t, out, "style=", language)
		if strings.Contains(out, "<span class=") {
			coloured++
		}
	}
	assert.Greater(t, coloured*10, len(languages())*8, "most languages colour this code")
	assert.Equal(t, "a: 1\r\n", unescaped(Highlight("a: 1\r\n", "yaml")))
}

func TestCodeBlocks(t *testing.T) {
	assert.Equal(t, "<pre tabindex=\"0\"><code>a &lt;b&gt;\n</code></pre>\n", write(t, "    a <b>\n", Hooks{}))
	assert.Equal(t, "<pre tabindex=\"0\"><code class=\"language-a&quot;&lt;b\">x\n</code></pre>\n", write(t, "```a&quot;<b\nx\n```\n", Hooks{}))
	assert.Equal(t, "<pre tabindex=\"0\"><code>x\n</code></pre>\n", write(t, "~~~\nx\n~~~\n", Hooks{}))
	plain := Parse(newNote("```mix a\nx: <1>\n```\n"), Options{Plain: true, Kinds: testKinds}, func(x diag.Diagnostic) { t.Error(x) })
	assert.Equal(t, "<pre><code class=\"language-mix\">x: &lt;1&gt;\n</code></pre>\n", plain.HTML(Hooks{}))
	assert.Len(t, plain.Blocks, 1)
}
