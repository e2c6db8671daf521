package publish

import (
	"crypto/sha256"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestPublishRefusesPaths(t *testing.T) {
	cases := map[string][]string{
		"empty":                {""},
		"dot":                  {"."},
		"absolute":             {"/etc/passwd"},
		"parent":               {"../public2/index.html"},
		"parent inside":        {"notes/../../x"},
		"dot inside":           {"notes/./x"},
		"doubled":              {"notes//x"},
		"closing slash":        {"notes/"},
		"backslash":            {`notes\x`},
		"drive":                {"c:x"},
		"nul":                  {"notes/\x00x"},
		"line break":           {"notes\nx"},
		"not text":             {"notes/\xff"},
		"manifest":             {ManifestName},
		"manifest, other case": {"notes/.TRUG-Manifest"},
		"staging mark":         {".trug-stage"},
		"twice":                {"a", "a"},
		"case":                 {"Notes.html", "notes.html"},
		"case beyond ASCII":    {"käse", "KÄSE"},
		"case of a folder":     {"Notes/a", "notes/b"},
		"file and folder":      {"a", "a/b"},
		"folder and file":      {"a-/x", "a/b/c", "a/B"},
	}
	for name, paths := range cases {
		t.Run(name, func(t *testing.T) {
			dir := outDir(t)
			site := files("ok.html", "fine")
			for _, p := range paths {
				site = append(site, File{p, []byte("x")})
			}
			_, err := Publish(dir, site)
			require.Error(t, err)
			assert.Contains(t, err.Error(), "path")
			assert.Empty(t, beside(t, dir))
		})
	}
}

func TestPublishTakesUnusualPaths(t *testing.T) {
	dir := outDir(t)
	site := files("Käse/größe.html", "1", "a b/c.d.e", "2", ".well-known/x", "3", "a..b/...", "4", "notes/a", "5", "notes/b", "6")
	report, err := Publish(dir, site)
	require.NoError(t, err)
	assert.Equal(t, 6, report.Written)
	got := tree(t, dir)
	for _, f := range site {
		assert.Equal(t, string(f.Body), got[f.Path])
	}
	report, err = Publish(dir, site)
	require.NoError(t, err)
	assert.Equal(t, Report{Unchanged: 6}, counts(report))
}

func TestPublishRefusesNoFiles(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	before := tree(t, dir)
	_, err := Publish(dir, nil)
	require.ErrorContains(t, err, "no files to publish")
	assert.Equal(t, before, tree(t, dir))
}

// Whatever the paths are, publishing writes them below the folder or refuses: never beside it.
func TestPublishStaysInsideForAnyPath(t *testing.T) {
	top := t.TempDir()
	rapid.Check(t, func(rt *rapid.T) {
		dir := filepath.Join(top, "in", "public")
		paths := rapid.SliceOfN(rapid.StringMatching(`[aA./\\ :]{0,7}`), 1, 4).Draw(rt, "paths")
		var site []File
		for _, p := range paths {
			site = append(site, File{p, []byte(p)})
		}
		_, err := Publish(dir, site)
		if err == nil {
			got := tree(t, dir)
			require.Len(rt, got, len(site)+1)
			for _, f := range site {
				require.Equal(rt, f.Path, got[f.Path])
			}
		}
		entries, err := os.ReadDir(top)
		require.NoError(rt, err)
		require.LessOrEqual(rt, len(entries), 1)
	})
}

func TestManifestReadsBack(t *testing.T) {
	want := map[string]digest{}
	for _, f := range first {
		want[f.Path] = sha256.Sum256(f.Body)
	}
	got, err := readManifest(writeManifest(want))
	require.NoError(t, err)
	assert.Equal(t, want, got)
}

func TestManifestHoldsToTheOrderOfPaths(t *testing.T) {
	one, two := outDir(t), outDir(t)
	_, err := Publish(one, files("b", "1", "a/c", "2", "a-b", "3"))
	require.NoError(t, err)
	_, err = Publish(two, files("a-b", "3", "b", "1", "a/c", "2"))
	require.NoError(t, err)
	assert.Equal(t, tree(t, one), tree(t, two))
}
