package builder

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(name)
		rel, _ := filepath.Rel(dir, name)
		out[rel] = string(text)
		return err
	}))
	return out
}

// TestPublicIsBuilt builds the demo handbook anew: the committed site is that build to the byte.
func TestPublicIsBuilt(t *testing.T) {
	out := filepath.Join(t.TempDir(), "site")
	report, err := Build(Options{Content: "../content", Out: out, Today: today})
	require.NoError(t, err)
	require.Zero(t, report.Faults, printed(report.Diagnostics))
	built, committed := tree(t, out), tree(t, "../public")
	require.NotEmpty(t, built)
	for name, text := range built {
		if committed[name] != text {
			assert.Fail(t, "public is not what content builds", "%s differs: run \"go run ./cmd/trug build\" and commit public", name)
		}
	}
	for name := range committed {
		assert.Contains(t, built, name, "public holds a file that content does not build")
	}
}

// TestSameInputSameBytes builds twice, on different days and from a copy of the content in a folder of
// another name.
func TestSameInputSameBytes(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(dir, "my notes"), os.DirFS("../content")))
	one, two := filepath.Join(dir, "one"), filepath.Join(dir, "two")
	_, err := Build(Options{Content: "../content", Out: one, Today: today})
	require.NoError(t, err)
	_, err = Build(Options{Content: filepath.Join(dir, "my notes"), Out: two, Today: today.Add(200 * 24 * time.Hour)})
	require.NoError(t, err)
	assert.Equal(t, tree(t, one), tree(t, two))
}
