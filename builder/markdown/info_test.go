package markdown

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
)

func TestInfoLines(t *testing.T) {
	cases := []struct {
		info   string
		kind   string // "" when the fence is ordinary code
		id     string
		faults []string
		hint   string // of the first fault
	}{
		{"recipe", "recipe", "", nil, ""},
		{"\t recipe \t tub-2 ", "recipe", "tub-2", nil, ""},
		{"recpie tub", "recipe", "tub", []string{"2:4 fault kind-unknown"}, `did you mean "recipe"?`},
		{"Recipe tub", "recipe", "tub", []string{"2:4 fault kind-unknown"}, `did you mean "recipe"?`},
		{"recipe: tub", "recipe", "tub", []string{"2:4 fault kind-unknown"}, `did you mean "recipe"?`},
		{"seed", "feed", "", []string{"2:4 fault kind-unknown"}, `did you mean "feed"?`},
		{"yaml", "", "", nil, ""},
		{"sage", "", "", nil, ""},
		{"Plain", "", "", nil, ""},
		{"nix", "", "", nil, ""},
		{"text whatever Words", "", "", nil, ""},
		{"", "", "", nil, ""},
		{"{.recipe}", "", "", nil, ""},
		{"recipe Tub", "recipe", "Tub", []string{"2:11 fault id-not-kebab"}, `write "tub"`},
		{"recipe größe_2", "recipe", "größe_2", []string{"2:11 fault id-not-kebab"}, `write "grosse-2"`},
		{"recipe 20-l", "recipe", "20-l", []string{"2:11 fault id-not-kebab"}, `write "recipe-20-l"`},
		{"recipe -tub-", "recipe", "-tub-", []string{"2:11 fault id-not-kebab"}, `write "tub"`},
		{"recipe a--b", "recipe", "a--b", []string{"2:11 fault id-not-kebab"}, `write "a-b"`},
		{"recipe ../../x", "recipe", "../../x", []string{"2:11 fault id-not-kebab"}, `write "x"`},
		{"recipe ---", "recipe", "---", []string{"2:11 fault id-not-kebab"}, ""},
		{
			"recipe tub é more", "recipe", "tub",
			[]string{"2:15 fault info-extra-word"},
			`the line holds a kind and an id, nothing more; an id of two words is written "tub-e"`,
		},
		{
			"Recpie Tub two", "recipe", "Tub",
			[]string{"2:4 fault kind-unknown", "2:11 fault id-not-kebab", "2:15 fault info-extra-word"},
			`did you mean "recipe"?`,
		},
	}
	for _, c := range cases {
		t.Run(c.info, func(t *testing.T) {
			note := "é\n```" + c.info + "\na: 1\n```\n"
			d, faults := parse(note)
			assert.Equal(t, c.faults, faults)
			if c.kind == "" {
				assert.Empty(t, d.Blocks)
			} else {
				require.Len(t, d.Blocks, 1)
				assert.Equal(t, c.kind, d.Blocks[0].Kind)
				assert.Equal(t, c.id, d.Blocks[0].ID)
			}
			if len(c.faults) > 0 {
				assert.Equal(t, c.hint, firstHint(note))
			}
		})
	}
}

func firstHint(note string) string {
	var list diag.List
	Parse(diag.NewFile("n.md", note), Options{Kinds: testKinds}, list.Report)
	for _, d := range list.Sorted() {
		for _, h := range d.Hints {
			return h
		}
	}
	return ""
}

func TestKindWinsOverLanguage(t *testing.T) {
	require.True(t, isLanguage("sage"), "the case needs a language")
	d := Parse(diag.NewFile("n.md", "```sage\n```\n"), Options{Kinds: []string{"sage"}}, nil)
	assert.Len(t, d.Blocks, 1)
}

func TestIndentedBlockIsDoubted(t *testing.T) {
	d, faults := parse("- one\n\n      ```recipe tub\n      x: 1\n      ```\n\n          ```go\n          ```\n")
	assert.Equal(t, []string{"3:7 doubt block-indented"}, faults)
	assert.Empty(t, d.Blocks)
}
