package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/builder"
	"trug/calcblocks"
)

var firstExample = regexp.MustCompile("(?s)```yaml\n(.*?)```")

// everyKind reads the demo handbook, with the example of its doc for each kind that the demo does without.
func everyKind(t *testing.T) *builder.Handbook {
	t.Helper()
	content := filepath.Join(t.TempDir(), "content")
	require.NoError(t, os.CopyFS(content, os.DirFS("../../content")))
	h, err := builder.Read(content, today)
	require.NoError(t, err)
	note := "# Examples\n"
	for _, k := range calcblocks.All() {
		if !slices.ContainsFunc(h.Blocks, func(p *builder.Placed) bool { return p.Kind.Name == k.Name }) {
			note += fmt.Sprintf("\n```%s example-%s\n%s```\n", k.Name, k.Name, firstExample.FindStringSubmatch(k.Doc)[1])
		}
	}
	require.NoError(t, os.WriteFile(filepath.Join(content, "examples.md"), []byte(note), 0o644))
	h, err = builder.Read(content, today)
	require.NoError(t, err)
	require.Zero(t, h.Faults())
	return h
}

// TestShowFitsTheTerminal: every block of every kind, in words and as its working, has a title and more, and
// fits 80 columns. A line that is one word may be longer: an address cannot be broken.
func TestShowFitsTheTerminal(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range everyKind(t).Blocks {
		seen[p.Kind.Name] = true
		for _, as := range []string{"text", "working"} {
			text := shown(t, p, as)
			title, rest, _ := strings.Cut(text, "\n")
			assert.NotEmpty(t, title, p.Place())
			assert.NotEmpty(t, strings.TrimSpace(rest), "%s as %s", p.Place(), as)
			for _, line := range strings.Split(text, "\n") {
				oneWord := !strings.Contains(strings.TrimSpace(line), " ")
				assert.True(t, utf8.RuneCountInString(line) <= 80 || oneWord, "%s %s as %s: %s", p.Kind.Name, p.Place(), as, line)
			}
		}
		assert.True(t, strings.HasPrefix(shown(t, p, "json"), "{\n"), p.Place())
		assert.NotEmpty(t, shown(t, p, "csv"), p.Place())
	}
	assert.Len(t, seen, len(calcblocks.All()))
}

// TestEveryBlockIsFound: the list names each block by its place, and by that place "show" finds it; only what a
// plan implies stands nowhere.
func TestEveryBlockIsFound(t *testing.T) {
	h, err := builder.Read("../../content", today)
	require.NoError(t, err)
	for _, p := range h.Blocks {
		found, ok := h.Named(p.Place())
		require.True(t, ok, p.Place())
		if !p.Implied() {
			assert.Same(t, p, found, p.Place())
		}
		if p.ID != "" {
			found, ok = h.Named(p.ID)
			require.True(t, ok, p.ID)
			assert.Same(t, p, found, p.ID)
		}
	}
	_, ok := h.Named("")
	assert.False(t, ok)
}

func shown(t *testing.T, p *builder.Placed, as string) string {
	t.Helper()
	var out strings.Builder
	r := p.Result
	if r.Title == "" {
		r.Title = titleOf(p)
	}
	require.NoError(t, Console{Out: &out}.show(r, as))
	return out.String()
}
