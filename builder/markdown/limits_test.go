package markdown

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
)

// each writes n pieces, each with its number.
func each(n int, format string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// Each limit is one that a note may reach and not pass. Beyond it the note has that one fault, at its place, and
// what is read and written of it stays of its own size.
func TestLimits(t *testing.T) {
	quotes := func(n int) string { return strings.Repeat(">", n) + " a\n" }
	lists := func(n int) string { return strings.Repeat("- ", n) + "a\n" }
	brackets := func(n int) string { return strings.Repeat("[", n/2) + strings.Repeat("]", n/2) + "\n" }
	table := func(columns, rows int) string {
		return strings.Repeat("|a", columns) + "|\n" + strings.Repeat("|-", columns) + "|\n" + strings.Repeat("x\n", rows)
	}
	feet := func(n int) string { return each(n, "x[^a%[1]d]\n\n[^a%[1]d]: b\n\n") }
	for _, c := range []struct {
		code, at       string
		most, too, far string
	}{
		{"too-deep", "2:21", quotes(mostNested), quotes(mostNested + 1), quotes(100_000)},
		{"too-deep", "2:41", lists(mostNested), lists(mostNested + 1), lists(100_000)},
		{"too-deep", "2:121", "[^a]: b\n\n[^a]\n", strings.Repeat("[^a]: ", mostNested+1) + "b\n", strings.Repeat("[^a]: ", 30_000) + "b\n"},
		{"too-many-brackets", "2:1001", brackets(mostBrackets), brackets(mostBrackets + 2), brackets(200_000)},
		{"too-many-definitions", "2:1", each(mostLeads, "[a%d]: b\n"), each(mostLeads+1, "[a%d]: b\n"), each(20_000, "[a%d]: b\n")},
		{"too-many-footnotes", "4004:1", feet(mostFootnotes), feet(mostFootnotes + 1), feet(2 * mostFootnotes)},
		{"wide-table", "2:1", table(mostColumns, 3), table(mostColumns+1, 3), table(2000, 100_000)},
		{"long-table", "2:1", table(100, mostCells/100-1), table(100, mostCells/100), table(100, 100_000)},
	} {
		_, told := parse("\n" + c.most)
		assert.NotContains(t, strings.Join(told, " "), c.code)
		for _, text := range []string{c.too, c.far} {
			d, told := parse("\n" + text)
			told = onlyFaults(told)
			require.NotEmpty(t, told, c.code)
			assert.LessOrEqual(t, len(told), 2, "one of a sort is enough")
			assert.Equal(t, c.at+" fault "+c.code, told[0])
			out := d.HTML(Hooks{})
			checkHTML(t, out)
			assert.Less(t, len(out), 20*len(text)+10_000, c.code)
		}
	}
}

func onlyFaults(told []string) []string {
	var out []string
	for _, line := range told {
		if strings.Contains(line, "fault") {
			out = append(out, line)
		}
	}
	return out
}

// What a limit says is what the author can do about it.
func TestLimitMessages(t *testing.T) {
	var list diag.List
	text := strings.Repeat("|a", 2000) + "|\n" + strings.Repeat("|-", 2000) + "|\n"
	Parse(diag.NewFile("note.md", text), Options{}, list.Report)
	require.Len(t, list.Sorted(), 1)
	assert.Equal(t, "this table has 2000 columns, more than 100", list.Sorted()[0].Message)
	assert.Equal(t, []string{"turn rows and columns, or make several tables of it"}, list.Sorted()[0].Hints)
}

// Equal headings are numbered on, however many there are.
func TestManyEqualHeadings(t *testing.T) {
	d, _ := parse("# a\n" + strings.Repeat("## b\n", 20_000) + "## b-3\n")
	assert.Equal(t, "b", d.Headings[1].ID)
	assert.Equal(t, "b-20000", d.Headings[20_000].ID)
	assert.Equal(t, "b-3-2", d.Headings[20_001].ID)
}

// What stands in a note as code or as links by the thousand is read without going through the rest each time.
func TestManyPlacesInOneNote(t *testing.T) {
	file := diag.NewFile("note.md", strings.Repeat("```yaml\na: b\n```\n\n[a](b)\n\n", 5000))
	d := Parse(file, Options{Kinds: testKinds}, nil)
	require.Len(t, d.Links, 5000)
	assert.Equal(t, diag.Position{File: file, Line: 6*4999 + 5, Column: 5}, d.Links[4999].At)
}
