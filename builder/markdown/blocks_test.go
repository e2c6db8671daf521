package markdown

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
)

func TestBlocksInAwkwardPlaces(t *testing.T) {
	cases := []struct {
		name, note     string
		body, fenced   string
		at, id, letter [2]int // line and column of the fence, of the id, of the first "x" of the body
	}{
		{
			"at the start", "```recipe tub\nx: 1\n```\n",
			"x: 1\n", "```recipe tub\nx: 1\n```\n",
			[2]int{1, 1},
			[2]int{1, 11},
			[2]int{2, 1},
		},
		{
			"byte-order mark and carriage returns", "\ufeff```recipe tub\r\na: é\r\nx: 1\r\n```\r\n",
			"a: é\nx: 1\n", "```recipe tub\na: é\nx: 1\n```\n",
			[2]int{1, 1},
			[2]int{1, 11},
			[2]int{3, 1},
		},
		{
			"accents before it", "Größe é\n\nÄpfel\n\n```recipe tub\né: ü x\n```\n",
			"é: ü x\n", "```recipe tub\né: ü x\n```\n",
			[2]int{5, 1},
			[2]int{5, 11},
			[2]int{6, 6},
		},
		{
			"accents before it on its line", "> - é\n> - ```recipe tub\n>   é: x\n>   ```\n",
			"é: x\n", "```recipe tub\né: x\n```\n",
			[2]int{2, 5},
			[2]int{2, 15},
			[2]int{3, 8},
		},
		{
			"tildes", "~~~ recipe   tub  \nx: ```\n~~~~\n",
			"x: ```\n", "~~~ recipe   tub\nx: ```\n~~~\n",
			[2]int{1, 1},
			[2]int{1, 14},
			[2]int{2, 1},
		},
		{
			"a longer fence", "`````recipe tub\n```\nx\n`````\n",
			"```\nx\n", "`````recipe tub\n```\nx\n`````\n",
			[2]int{1, 1},
			[2]int{1, 13},
			[2]int{3, 1},
		},
		{
			"indented by three", "   ```recipe tub\n   a:\n     x: 1\n b: 2\n  ```\n",
			"a:\n  x: 1\nb: 2\n", "```recipe tub\na:\n  x: 1\nb: 2\n```\n",
			[2]int{1, 4},
			[2]int{1, 14},
			[2]int{3, 6},
		},
		{
			"in a list", "- one\n\n  ```recipe tub\n  a:\n\n    x: 1\n  ```\n",
			"a:\n\n  x: 1\n", "```recipe tub\na:\n\n  x: 1\n```\n",
			[2]int{3, 3},
			[2]int{3, 13},
			[2]int{6, 5},
		},
		{
			"in nested lists", "1. one\n   - two\n     * ```recipe tub\n       a:\n         x: 1\n       ```\n",
			"a:\n  x: 1\n", "```recipe tub\na:\n  x: 1\n```\n",
			[2]int{3, 8},
			[2]int{3, 18},
			[2]int{5, 10},
		},
		{
			"in a quote", "> ```recipe tub\n>é: 1\n> x: 1\n> ```\n",
			"é: 1\nx: 1\n", "```recipe tub\né: 1\nx: 1\n```\n",
			[2]int{1, 3},
			[2]int{1, 13},
			[2]int{3, 3},
		},
		{
			"in a list in a quote in a list", "- > 1. é\n  >\n  >    ~~~recipe tub\n  >    a:\n  >      x: 1\n  >    ~~~\n",
			"a:\n  x: 1\n", "~~~recipe tub\na:\n  x: 1\n~~~\n",
			[2]int{3, 8},
			[2]int{3, 18},
			[2]int{5, 10},
		},
		{
			"tabs take the list's place", "-\tone\n\n\t```recipe tub\n\ta:\n\t  x: 1\n\t```\n",
			"a:\n  x: 1\n", "```recipe tub\na:\n  x: 1\n```\n",
			[2]int{3, 2},
			[2]int{3, 12},
			[2]int{5, 4},
		},
		{
			"a tab reaches beyond the list", "- one\n\n\t```recipe tub\n\ta:\n\t  x: 1\n\t```\n",
			"a:\n  x: 1\n", "```recipe tub\na:\n  x: 1\n```\n",
			[2]int{3, 2},
			[2]int{3, 12},
			[2]int{5, 4},
		},
		{
			"a tab reaches into the body", "- ```recipe tub\n  a:\n\tx: 1\n  ```\n",
			"a:\n  x: 1\n", "```recipe tub\na:\n  x: 1\n```\n",
			[2]int{1, 3},
			[2]int{1, 13},
			[2]int{3, 2},
		},
		{
			"a tab after the quote mark", ">\t```recipe tub\n>\tx: 1\n>\t```\n",
			"x: 1\n", "```recipe tub\nx: 1\n```\n",
			[2]int{1, 3},
			[2]int{1, 13},
			[2]int{2, 3},
		},
		{
			"a tab of the author's own", "```recipe tub\n\tx: 1\n```\n",
			"\tx: 1\n", "```recipe tub\n\tx: 1\n```\n",
			[2]int{1, 1},
			[2]int{1, 11},
			[2]int{2, 2},
		},
		{
			"in a footnote", "See[^a].\n\n[^a]: note\n\n    ```recipe tub\n    x: 1\n    ```\n",
			"x: 1\n", "```recipe tub\nx: 1\n```\n",
			[2]int{5, 5},
			[2]int{5, 15},
			[2]int{6, 5},
		},
		{
			"in a definition", "Term\n: é\n\n  ```recipe tub\n  x: 1\n  ```\n",
			"x: 1\n", "```recipe tub\nx: 1\n```\n",
			[2]int{4, 3},
			[2]int{4, 13},
			[2]int{5, 3},
		},
		{
			"no end of line after the fence", "```recipe tub\nx: 1\n```",
			"x: 1\n", "```recipe tub\nx: 1\n```\n",
			[2]int{1, 1},
			[2]int{1, 11},
			[2]int{2, 1},
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, faults := parse(c.note)
			require.Empty(t, faults)
			require.Len(t, d.Blocks, 1)
			b := d.Blocks[0]
			assert.Equal(t, "recipe", b.Kind)
			assert.Equal(t, "tub", b.ID)
			assert.Equal(t, c.body, b.Body)
			assert.Equal(t, c.fenced, b.Fenced())
			assert.Equal(t, c.at, lineColumn(b.At))
			assert.Equal(t, c.id, lineColumn(b.IDAt))
			before, _, _ := strings.Cut(c.body, "x")
			line := strings.Count(before, "\n")
			column := len([]rune(before[strings.LastIndex(before, "\n")+1:])) + 1
			assert.Equal(t, c.letter, lineColumn(b.Position(line+1, column)))
			checkBody(t, b.At.File, b)
		})
	}
}

func lineColumn(p diag.Position) [2]int { return [2]int{p.Line, p.Column} }

func TestPositionOutsideTheBody(t *testing.T) {
	d, _ := parse("text\n\n> ```recipe\n> é: 1\n> \tb\n>  ```\n")
	require.Len(t, d.Blocks, 1)
	b := d.Blocks[0]
	assert.Zero(t, b.IDAt, "a block without an id has no place of one")
	assert.Equal(t, [2]int{3, 3}, lineColumn(b.Position(0, 1)), "before the body: the opening fence")
	assert.Equal(t, [2]int{4, 3}, lineColumn(b.Position(1, 0)), "a column before the line: its start")
	assert.Equal(t, [2]int{4, 7}, lineColumn(b.Position(1, 99)), "a column after the line: its end")
	assert.Equal(t, [2]int{6, 4}, lineColumn(b.Position(3, 1)), "after the body: the closing fence")
}

func TestEmptyBody(t *testing.T) {
	d, faults := parse("```mix\n```\n\n- ```feed\n  ```\n")
	require.Empty(t, faults)
	require.Len(t, d.Blocks, 2)
	assert.Empty(t, d.Blocks[0].Body)
	assert.Equal(t, "```mix\n```\n", d.Blocks[0].Fenced())
	assert.Equal(t, [2]int{2, 1}, lineColumn(d.Blocks[0].Position(1, 1)))
	assert.Equal(t, [2]int{5, 3}, lineColumn(d.Blocks[1].Position(1, 1)))
}

func TestBlocksStandInTheOrderOfTheFile(t *testing.T) {
	d, _ := parse("a[^1]\n\n[^1]: b\n\n    ```mix first\n    ```\n\nc\n\n```mix second\n```\n")
	require.Len(t, d.Blocks, 2)
	assert.Equal(t, "first", d.Blocks[0].ID)
	assert.Equal(t, "second", d.Blocks[1].ID)
}

func TestUnclosedFences(t *testing.T) {
	cases := []struct {
		name, note string
		faults     []string
		blocks     int
	}{
		{"a block to the end", "a\n\n```recipe tub\nx: 1\n", []string{"3:1 fault fence-unclosed"}, 0},
		{"code to the end", "a\n\n  ~~~go\nx\n```\n", []string{"3:3 fault fence-unclosed"}, 0},
		{"no info", "```\n", []string{"1:1 fault fence-unclosed"}, 0},
		{"closing fence too short", "````recipe tub\nx: 1\n```\n", []string{"1:1 fault fence-unclosed"}, 0},
		{"closing fence with a word", "```recipe tub\nx: 1\n``` end\n", []string{"1:1 fault fence-unclosed"}, 0},
		{"closing fence too far in", "```recipe tub\nx: 1\n    ```\n", []string{"1:1 fault fence-unclosed"}, 0},
		{"ends with its item", "- ```recipe tub\n  x: 1\n- two\n", []string{"1:3 fault fence-unclosed"}, 0},
		{
			"closing fence outside the item", "- ```recipe tub\n  x: 1\n```\n",
			[]string{"1:3 fault fence-unclosed", "3:1 fault fence-unclosed"},
			0,
		},
		{"ends with its quote", "> ```recipe tub\n> x: 1\n\ntext\n", []string{"1:3 fault fence-unclosed"}, 0},
		{
			"swallows the next block", "```recipe a\nx: 1\n\n```recipe b\nx: 1\n```\n\n```mix c\n```\n",
			[]string{"1:1 fault fence-unclosed"},
			1,
		},
		{"swallows a misspelt block", "```recipe a\n\n ```mxi\n```\n", []string{"1:1 fault fence-unclosed"}, 0},
		{"code swallows a block", "```\nsome code\n\n```recipe b\nx: 1\n```\n", []string{"1:1 fault fence-unclosed"}, 0},
		{"code shows a block", "````markdown\n```recipe b\nx: 1\n```\n````\n", nil, 0},
		{"code shows code", "```markdown\n```go\n```\n", nil, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, faults := parse(c.note)
			assert.Equal(t, c.faults, faults)
			assert.Len(t, d.Blocks, c.blocks)
			checkHTML(t, d.HTML(Hooks{}))
		})
	}
}

func TestUnclosedFenceSaysWhatToDo(t *testing.T) {
	var list diag.List
	Parse(diag.NewFile("n.md", "- ~~~~recipe a\n  x: 1\n\n  ~~~~recipe b\n  ~~~~\n"), Options{Kinds: testKinds}, list.Report)
	all := list.Sorted()
	require.Len(t, all, 1)
	assert.Equal(t, "this fence is never closed", all[0].Message)
	require.Len(t, all[0].Hints, 2)
	assert.Equal(t, "add a line with ~~~~ after the last line of the block", all[0].Hints[0])
	assert.Contains(t, all[0].Hints[1], "list item")
	require.Len(t, all[0].Related, 1)
	assert.Equal(t, [2]int{4, 3}, lineColumn(all[0].Related[0].At))
}
