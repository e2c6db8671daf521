package builder

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
)

// FuzzFigure follows a figure link to anything. It gives a figure with words, found again by the path that it was
// found by, or it is told what is wrong, with a hint and a place in the link; and whatever the author writes
// beside it, the two are compared to an end.
func FuzzFigure(f *testing.F) {
	h, err := Read("../content", today)
	require.NoError(f, err)
	for _, p := range h.Blocks {
		f.Add(p.ID, "1/2 cup")
		n := 0
		data.Walk(p.Result.Data, func(path string, leaf data.Value) {
			if n++; n%400 == 0 {
				f.Add(p.ID+"/"+path, "about 1,234.5 to 2 000 g")
			}
		})
	}
	for _, s := range []string{"", "/", "//", "spring-tubs//cost", "spring-tubs/20-l/../..", "spring-tubs/%32%30-l/cost", "spring-tubs/%zz", "SPRING-TUBS/cost", "spring-tubs/blue-tub/cost", "spring-tubs/20 L/cost/"} {
		f.Add(s, "1/0 cup + 1/010 g, 12 April 99999, $ -3 %")
	}
	f.Fuzz(func(t *testing.T, path, written string) {
		if !utf8.ValidString(path) || !utf8.ValidString(written) || strings.ContainsAny(path, "\n\r") {
			return // no note holds such a link
		}
		note := diag.NewFile("a.md", "[x]("+figureScheme+path+")")
		found, wrong := h.resolve(figureScheme+path, note.At(4))
		if wrong != nil {
			require.NotEmpty(t, wrong.Code)
			require.NotEmpty(t, wrong.Hints, wrong.Message)
			require.Equal(t, 1, wrong.At.Line)
			require.GreaterOrEqual(t, wrong.At.Column, 5)
			require.LessOrEqual(t, wrong.At.Column, utf8.RuneCountInString(note.Text)+1)
		}
		if found.text == "" {
			return
		}
		require.False(t, disagrees(found.text, found, h.Garden.Handbook), found.text)
		disagrees(written, found, h.Garden.Handbook)
		again, wrong := h.resolve(figureScheme+found.block.ID+"/"+found.Path, note.At(4))
		require.Nil(t, wrong, found.Path)
		require.Equal(t, found.text, again.text)
	})
}

// A link to a figure is written as one whatever its path holds.
func TestHostileFigureLinks(t *testing.T) {
	handbookIn(t, txtar.Parse([]byte("-- a.md --\n# A\n\n[x](<figure:\"><script>window.ran=1</script>>) [y](figure:tub/%22%3E%3Cscript%3E)\n")))
	report, err := Build(Options{Content: "content", Out: "public", Today: today})
	require.NoError(t, err)
	require.Positive(t, report.Faults)
	require.NoDirExists(t, "public")
}
