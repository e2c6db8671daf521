package markdown

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHeadingIDs(t *testing.T) {
	d, faults := parse("# Größe & `Code` *ja*\n## Größe\n## Größe\n## Grosse 2\n### 中文 标题\n## große-2\n## !!!\nSetext\n---\n")
	assert.Empty(t, faults)
	var ids []string
	for _, h := range d.Headings {
		ids = append(ids, h.ID)
	}
	assert.Equal(t, []string{
		"grosse-code-ja", "grosse", "grosse-2", "grosse-2-2", "中文-标题", "grosse-2-3", "section", "setext",
	}, ids)
	main, _ := parse("# Main\n")
	assert.Equal(t, "main-2", main.Headings[0].ID, "the part of the page that holds the text is called main")
	assert.Equal(t, Heading{Level: 1, Text: "Größe & Code ja", ID: "grosse-code-ja"}, d.Headings[0])
}

func TestTitle(t *testing.T) {
	cases := []struct{ name, note, title, html string }{
		{"level 1 is the page's", "# One \\* &eacute; \"q\"\n\ntext\n", "One * é “q”", "<p>text</p>\n"},
		{"level 2 stays", "text\n\n## Two\n", "Two", "<p>text</p>\n<h2 id=\"two\">Two</h2>\n"},
		{"only the first", "# One\n# Two\n", "One", "<h1 id=\"two\">Two</h1>\n"},
		{"level 1 after another", "## One\n# Two\n", "One", "<h2 id=\"one\">One</h2>\n<h1 id=\"two\">Two</h1>\n"},
		{"several lines, a link and an image", "One [two](x)\n![three](y) <http://a.b>\n===\n", "One two three http://a.b", ""},
		{"none", "text\n", "", "<p>text</p>\n"},
		{"after a block", "```page\nsummary: x\n```\n\n# One\n", "One", "<div></div>\n"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, _ := parse(c.note)
			assert.Equal(t, c.title, d.Title)
			assert.Equal(t, c.html, d.HTML(Hooks{Block: func(*Block) string { return "<div></div>" }}))
		})
	}
}

func TestTitleIsKeptInPlainMode(t *testing.T) {
	d := Parse(newNote("# One\n"), Options{Plain: true}, nil)
	assert.Equal(t, "One", d.Title)
	assert.Equal(t, "<h1>One</h1>\n", d.HTML(Hooks{}))
}

func TestHeadingJump(t *testing.T) {
	_, faults := parse("# One\n\n### É\n\n## Two\n### Three\n")
	assert.Equal(t, []string{"3:5 doubt heading-jump"}, faults)
}

func TestLeadingLines(t *testing.T) {
	cases := []struct{ name, note, html, title string }{
		{"closed by hyphens", "---\ntitle: [x](javascript:y)\n<b>\n---\n\n# One\n\ntext\n", "<p>text</p>\n", "One"},
		{"closed by points", "---  \n\na: 1\n...\ntext\n", "<p>text</p>\n", ""},
		{"not closed", "---\n\ntext\n", "<p>text</p>\n", ""},
		{"a rule, then a block", "---\n\n```mix a\n```\n\n---\n", "<div></div>\n<hr>\n", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, faults := parse(c.note)
			assert.Equal(t, []string{"1:1 fault leading-lines"}, faults)
			assert.Equal(t, c.title, d.Title)
			assert.Equal(t, c.html, d.HTML(Hooks{Block: func(*Block) string { return "<div></div>" }}))
			assert.Contains(t, firstHint(c.note), "```page")
		})
	}
	_, faults := parse("text\n\n---\n\n- - -\n----\n")
	require.Empty(t, faults, "a rule further down is a rule")
}
