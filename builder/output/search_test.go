package output

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// readIndex reads an index as the page's script does, written anew from its description: things, and for each
// word the numbers of the things that hold it, with their rank.
func readIndex(t *testing.T, script []byte) (searchFile, map[string]map[int]string) {
	t.Helper()
	text, ok := strings.CutPrefix(string(script), `document.querySelector("[data-search]").searchIndex = `)
	require.True(t, ok)
	var file searchFile
	require.NoError(t, json.Unmarshal([]byte(strings.TrimSuffix(text, ";\n")), &file))
	words := map[string]map[int]string{}
	for line := range strings.SplitSeq(file.Words, "\n") {
		fields := strings.Fields(line)
		at, places := 0, map[int]string{}
		for _, field := range fields[1:] {
			rank := strings.Trim(field, "0123456789abcdefghijklmnopqrstuvwxyz")
			step, err := strconv.ParseInt(strings.TrimSuffix(field, rank), 36, 0)
			require.NoError(t, err)
			at += int(step)
			places[at] = rank
		}
		words[fields[0]] = places
	}
	return file, words
}

func indexOf(finds []Find) []byte {
	worded := make([]Worded, len(finds))
	for i, f := range finds {
		worded[i] = InWords(f)
	}
	return SearchIndex(worded)
}

func TestSearchIndex(t *testing.T) {
	script := indexOf([]Find{
		{Kind: "Note", Title: "Über Kübel", Href: "notes/a/index.html", Summary: "On tubs", Heads: []string{"Potash"}, Words: "Kelp brings potash, kelp."},
		{Kind: "Note", Title: "</script><b>", Href: "notes/b/index.html", Words: "x Kelp \u2028"},
		{Kind: "Amendment", Title: "Kelp meal", Href: "cupboard/index.html#kelp-meal", Heads: []string{"seaweed meal", ""}},
	})
	file, words := readIndex(t, script)
	assert.Equal(t, [4]string{"Über Kübel", "notes/a/index.html", "Note", "On tubs"}, file.Finds[0])
	assert.Equal(t, map[string]map[int]string{
		"uber": {0: "T"}, "kubel": {0: "T"}, "potash": {0: "H"}, "kelp": {0: "", 1: "", 2: "T"}, "brings": {0: ""}, "on": {0: ""}, "tubs": {0: ""},
		"script": {1: "T"}, "b": {1: "T"}, "meal": {2: "T"}, "seaweed": {2: "H"},
	}, words, "folded; the best rank of each; no single letters of the text")
	assert.NotContains(t, string(script), "</script>")
	assert.NotContains(t, string(script), "\u2028", "a line end in a script")
	assert.Len(t, strings.Split(strings.TrimSpace(string(script)), "\n"), 1)
	for range 3 {
		again := indexOf([]Find{{Title: "Kelp", Words: "one two three four five"}, {Title: "Ash", Words: "five six one"}})
		assert.Equal(t, string(indexOf([]Find{{Title: "Kelp", Words: "one two three four five"}, {Title: "Ash", Words: "five six one"}})), string(again))
	}
}

// TestLargeIndexStaysSmall: 10,000 notes of 150 different words. Each keeps its title and the words that it says
// often and others seldom.
func TestLargeIndexStaysSmall(t *testing.T) {
	var finds []Find
	for i := range 10_000 {
		words := make([]string, 0, 152)
		for w := range 150 {
			words = append(words, fmt.Sprintf("word%d", (i*37+w*11)%4000))
		}
		words = append(words, fmt.Sprintf("rare%d", i), fmt.Sprintf("rare%d", i))
		finds = append(finds, Find{Kind: "Note", Title: fmt.Sprintf("Note number%d", i), Href: fmt.Sprintf("notes/%d/index.html", i), Summary: strings.Repeat("long ", 100), Words: strings.Join(words, " ")})
	}
	script := indexOf(finds)
	assert.Less(t, len(script), 4_000_000)
	file, words := readIndex(t, script)
	assert.Len(t, file.Finds, 10_000)
	held := map[int]int{}
	for word, places := range words {
		for at := range places {
			if strings.HasPrefix(word, "word") {
				held[at]++
			}
		}
	}
	for i := range finds {
		require.Equal(t, map[int]string{i: "T"}, words[fmt.Sprintf("number%d", i)], "its title")
		require.Equal(t, map[int]string{i: ""}, words[fmt.Sprintf("rare%d", i)], "its most telling word")
		require.LessOrEqual(t, held[i], fewestWords)
	}
}

func TestShortened(t *testing.T) {
	assert.Equal(t, "short", shortened("short"))
	got := shortened(strings.Repeat("grün ", 60))
	assert.LessOrEqual(t, len([]rune(got)), longSummary+1)
	assert.True(t, strings.HasSuffix(got, "grün…"), got)
}
