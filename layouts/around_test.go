package layouts

import (
	"io/fs"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestAroundReadsAsTheWhole: a page whose long texts are set in reads as one that is printed as a whole, as a dress's
// are, here of our own templates. What looks like the mark in a note's words stays what it is.
func TestAroundReadsAsTheWhole(t *testing.T) {
	dress := fstest.MapFS{}
	for _, name := range []string{"pages/frame.html", "pages/note.html", "pages/recipe.html"} {
		text, err := fs.ReadFile(ours, name)
		require.NoError(t, err)
		dress[name] = &fstest.MapFile{Data: text}
	}
	dressed, err := New(dress)
	require.NoError(t, err)
	l := ourLayouts(t)
	pages := samplePages(t, l)
	pages["marked"] = Page{Title: bodyMark, Description: bodyMark, Body: NotePage{Title: bodyMark, Summary: bodyMark, Body: "<p>" + bodyMark + "</p>"}}
	pages["empty"] = Page{Title: "Empty", Body: RecipePage{}}
	for name, page := range pages {
		want, err := dressed.Page(page)
		require.NoError(t, err, name)
		got, err := l.AppendPage([]byte("before "), page)
		require.NoError(t, err, name)
		assert.Equal(t, "before "+string(want), string(got), name)
	}
}
