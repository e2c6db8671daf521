package markdown

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/diag"
)

var pieces = []string{
	"- ", "* ", "1. ", "10) ", "> ", ">", "\t", " ", "  ", "    ", "   ", "\n", "\n", "\n", "\n\n",
	"```recipe tub\n", "```mix\n", "~~~ feed a b\n", "````topup x\n", "```\n", "```", "~~~\n", "````\n",
	"```recpie ö\n", "``` é\n", "title: Größe é\n", "a:\tb\n", "amounts:\n", "[x](y é.md)", "[r]", "\n[r]: é\n",
	"![a[^1]](b)", "[^1]", "\n[^1]: note\n", "\n[^2]: other\n", "Term\n: def\n", "| a | b |\n|--:|:-:|\n| 1 | 2 |\n",
	"[ ] do", "[x] done", "# Ä é\n", "## two\n", "---\n", "<div>\n", "<b>", "</b>", "<!-- x", "-->\n", "*é*", "~~é~~", "`c`",
	"<http://a.b>", "<data:x>", "\\", "&amp;", "\"q\"", "--", "é",
}

// TestAnyNote reads heaps of pieces of notes. What must hold for all: no panic, HTML that nests, and
// every character of every body at the very place that Position gives for it.
func TestAnyNote(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 1, 40).Draw(rt, "pieces"), "")
		file := diag.NewFile("note.md", text)
		d := Parse(file, Options{Kinds: testKinds}, nil)
		for _, b := range d.Blocks {
			checkBody(rt, file, b)
		}
		checkHTML(rt, d.HTML(Hooks{}))
		checkHTML(rt, d.HTML(Hooks{Block: func(*Block) string { return "<div></div>" }}))
	})
}

// checkBody compares every character of a body with the character in the file that it came from. A
// space may come from a tab that is partly the container's.
func checkBody(t require.TestingT, file *diag.File, b *Block) {
	require.True(t, b.Body == "" || strings.HasSuffix(b.Body, "\n"), "%q", b.Body)
	for i, line := range strings.Split(strings.TrimSuffix(b.Body, "\n"), "\n") {
		for j, c := range []rune(line) {
			require.Equal(t, string(c), charAt(b.Position(i+1, j+1), c),
				"line %d column %d of %q in %q", i+1, j+1, b.Body, file.Text)
		}
	}
	require.Equal(t, b.Kind[:1], strings.ToLower(charAt(b.InfoAt, 0))[:1])
	require.Contains(t, "`~", charAt(b.At, 0))
	if b.ID != "" {
		require.Equal(t, string([]rune(b.ID)[0]), charAt(b.IDAt, 0))
	}
}

// charAt returns the character at a place; a tab counts as the space that is wanted.
func charAt(p diag.Position, want rune) string {
	line := []rune(p.File.Line(p.Line))
	if p.Column > len(line) {
		return ""
	}
	if c := line[p.Column-1]; c != '\t' || want != ' ' {
		return string(c)
	}
	return " "
}
