package form

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
)

// FuzzRead reads any text as a block. Each fault has a code, a hint and a place inside the text; a text that
// gives nothing says why; and what is put in quotes is read as it stands.
func FuzzRead(f *testing.F) {
	for _, file := range []string{"testdata/traps.txtar", "testdata/legal.txtar"} {
		archive, err := txtar.ParseFile(filepath.FromSlash(file))
		require.NoError(f, err)
		for _, c := range archive.Files {
			if c.Name != "want" {
				f.Add(string(c.Data))
			}
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, l := read(text)
		dump(n, "")
		assertPlaces(t, text, l)
		if n == nil && hasWords(text) {
			require.NotEmpty(t, l.Sorted(), "a text that gives nothing and says nothing")
		}
		assertQuoted(t, text)
	})
}

func assertPlaces(t *testing.T, text string, l *diag.List) {
	lines := strings.Split(diag.NewFile("", text).Text, "\n")
	for _, d := range l.Sorted() {
		require.NotEmpty(t, d.Code)
		require.NotEmpty(t, d.Hints, d.Message)
		for _, at := range append([]diag.Position{d.At}, places(d.Related)...) {
			require.GreaterOrEqual(t, at.Line, 1, d.Message)
			require.LessOrEqual(t, at.Line, len(lines), d.Message)
			require.GreaterOrEqual(t, at.Column, 1, d.Message)
			require.LessOrEqual(t, at.Column, utf8.RuneCountInString(lines[at.Line-1])+1, d.Message)
		}
	}
}

func places(all []diag.Related) []diag.Position {
	var out []diag.Position
	for _, r := range all {
		out = append(out, r.At)
	}
	return out
}

// hasWords says whether a line of a text is more than blanks and a remark, or the marks of a document.
func hasWords(text string) bool {
	for _, line := range strings.Split(diag.NewFile("", text).Text, "\n") {
		line = strings.TrimSpace(line)
		if line != "" && line[0] != '#' && line[0] != '%' && !strings.HasPrefix(line, "---") && !strings.HasPrefix(line, "...") {
			return true
		}
	}
	return false
}

// assertQuoted writes a text in quotes, as JSON does, which YAML 1.2 reads alike, and finds it again.
func assertQuoted(t *testing.T, text string) {
	text = strings.TrimSpace(text)
	if !utf8.ValidString(text) || text == "" || strings.ContainsFunc(text, func(r rune) bool { return r > ' ' && odd(r) }) {
		return
	}
	quoted, err := json.Marshal(text)
	require.NoError(t, err)
	n, l := read("title: " + string(quoted) + "\n")
	got, ok := n.Mapping().Get("title").Text()
	require.Empty(t, l.Sorted(), "%s", quoted)
	require.True(t, ok)
	require.Equal(t, text, got)
}
