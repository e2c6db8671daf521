package builder

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestStampsOutliveProse: a card stays current when a line of prose comes above the blocks of every note, and comments
// above all else in the grower's files. No number changes by that, whatever places the numbers were read from.
func TestStampsOutliveProse(t *testing.T) {
	before := stampsIn(t, "../content")
	require.Greater(t, len(before), 30)
	dir := filepath.Join(t.TempDir(), "content")
	require.NoError(t, os.CopyFS(dir, os.DirFS("../content")))
	require.NoError(t, filepath.WalkDir(dir, func(name string, _ fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		text, _ := os.ReadFile(name) // nothing of a folder
		switch {
		case strings.HasSuffix(name, ".md"):
			text = bytes.Replace(text, []byte("\n# "), []byte("\n\nA line more.\n\n# "), 1)
		case strings.HasSuffix(name, ".yaml") && filepath.Base(name) != "history.yaml":
			text = append([]byte("# a comment more\n"), text...)
		default:
			return nil
		}
		return os.WriteFile(name, text, 0o644)
	}))
	assert.Equal(t, before, stampsIn(t, dir))
}

// stampsIn returns the stamps of a handbook's blocks in order, those that have one.
func stampsIn(t *testing.T, content string) (out []string) {
	t.Helper()
	h, err := Read(content, today)
	require.NoError(t, err)
	require.Zero(t, h.Faults(), printed(h.Sorted()))
	for _, p := range h.Blocks {
		if p.brief.stamp != "" {
			out = append(out, p.Kind.Name+" "+p.ID+" "+p.brief.stamp)
		}
	}
	return out
}
