package publish

import (
	"crypto/sha256"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sum is the SHA-256 of a body as a manifest has it.
func sum(body []byte) string { return digest(sha256.Sum256(body)).String() }

func files(pairs ...string) []File {
	var out []File
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, File{pairs[i], []byte(pairs[i+1])})
	}
	return out
}

// counts is a report without the sum of the manifest.
func counts(r Report) Report {
	r.Manifest = digest{}
	return r
}

// outDir returns an output folder's path in a fresh parent.
func outDir(t *testing.T) string {
	t.Helper()
	return filepath.Join(t.TempDir(), "public")
}

func put(t *testing.T, name, text string) {
	t.Helper()
	require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
	require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
}

// tree returns every file below dir with its text; links show where they lead.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, p)
		require.NoError(t, err)
		if e.Type()&fs.ModeSymlink != 0 {
			to, err := os.Readlink(p)
			out[filepath.ToSlash(rel)] = "-> " + to
			return err
		}
		body, err := os.ReadFile(p)
		out[filepath.ToSlash(rel)] = string(body)
		return err
	})
	require.NoError(t, err)
	return out
}

// beside lists the names in the parent of dir.
func beside(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(dir))
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func refusal(t *testing.T, err error) *Refusal {
	t.Helper()
	var r *Refusal
	require.ErrorAs(t, err, &r)
	return r
}

var first = files("index.html", "front", "notes/tubs/index.html", "tubs", "empty.txt", "")

func TestPublishWritesAWholeSite(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "public")
	report, err := Publish(dir, first)
	require.NoError(t, err)
	assert.Equal(t, Report{Written: 3}, counts(report))
	assert.Equal(t, map[string]string{
		"index.html": "front", "notes/tubs/index.html": "tubs", "empty.txt": "",
		ManifestName: manifestHead + "\n" +
			"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  empty.txt\n" +
			sum([]byte("front")) + "  index.html\n" +
			sum([]byte("tubs")) + "  notes/tubs/index.html\n",
	}, tree(t, dir))
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

func TestPublishReplacesTheOldSite(t *testing.T) {
	dir := outDir(t)
	_, err := Publish(dir, first)
	require.NoError(t, err)
	report, err := Publish(dir, files("index.html", "front", "notes/index.html", "all", "empty.txt", "no more"))
	require.NoError(t, err)
	assert.Equal(t, Report{Written: 2, Unchanged: 1, Removed: 1}, counts(report))
	got := tree(t, dir)
	delete(got, ManifestName)
	assert.Equal(t, map[string]string{"index.html": "front", "notes/index.html": "all", "empty.txt": "no more"}, got)
	assert.NoDirExists(t, filepath.Join(dir, "notes", "tubs"))
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

func TestPublishLeavesAnUnchangedSiteAlone(t *testing.T) {
	dir := outDir(t)
	_, err := Publish(dir, first)
	require.NoError(t, err)
	before, want := tree(t, dir), stat(t, dir)
	report, err := Publish(dir, files("empty.txt", "", "notes/tubs/index.html", "tubs", "index.html", "front"))
	require.NoError(t, err)
	assert.Equal(t, Report{Unchanged: 3}, counts(report))
	assert.Equal(t, before, tree(t, dir))
	assert.True(t, os.SameFile(want, stat(t, dir)), "the folder was swapped though nothing changed")
}

func stat(t *testing.T, name string) fs.FileInfo {
	t.Helper()
	info, err := os.Lstat(name)
	require.NoError(t, err)
	return info
}

func TestPublishMendsItsOwnFiles(t *testing.T) {
	dir := outDir(t)
	_, err := Publish(dir, first)
	require.NoError(t, err)
	put(t, filepath.Join(dir, "index.html"), "changed by hand")
	require.NoError(t, os.Remove(filepath.Join(dir, "empty.txt")))
	report, err := Publish(dir, first)
	require.NoError(t, err)
	assert.Equal(t, Report{Written: 2, Unchanged: 1}, counts(report))
	assert.Equal(t, "front", tree(t, dir)["index.html"])
}

func TestPublishReadsAManifestWithCarriageReturns(t *testing.T) {
	dir := outDir(t)
	_, err := Publish(dir, files("a", "1"))
	require.NoError(t, err)
	name := filepath.Join(dir, ManifestName)
	put(t, name, manifestHead+"\r\n"+sum([]byte("1"))+"  a\r\n")
	report, err := Publish(dir, files("a", "1"))
	require.NoError(t, err)
	assert.Equal(t, Report{Unchanged: 1}, counts(report))
	assert.NotContains(t, tree(t, dir)[ManifestName], "\r")
}

func TestPublishSetsModes(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("windows has no such file modes")
	}
	dir := outDir(t)
	_, err := Publish(dir, files("notes/tubs/index.html", "x"))
	require.NoError(t, err)
	for name, want := range map[string]fs.FileMode{
		"": 0o755, "notes": 0o755, "notes/tubs": 0o755, "notes/tubs/index.html": 0o644, ManifestName: 0o644,
	} {
		assert.Equal(t, want, stat(t, filepath.Join(dir, name)).Mode().Perm(), name)
	}
}

func TestPublishFillsAnEmptyFolder(t *testing.T) {
	dir := outDir(t)
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "empty"), 0o755))
	report, err := Publish(dir, first)
	require.NoError(t, err)
	assert.Equal(t, Report{Written: 3}, counts(report))
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

func TestPublishNamesTheFolderAsGiven(t *testing.T) {
	t.Chdir(t.TempDir())
	_, err := Publish("public/", files("a", "1"))
	require.NoError(t, err)
	assert.FileExists(t, "public/a")
	put(t, "public/b", "mine")
	_, err = Publish("public", files("a", "2"))
	require.ErrorContains(t, err, `"public" holds files that trug did not write: "b"`)
}

func TestRefusalIsADiagnostic(t *testing.T) {
	dir := outDir(t)
	put(t, filepath.Join(dir, "mine.txt"), "mine")
	_, err := Publish(dir, first)
	d := refusal(t, err).Diagnostic()
	assert.Equal(t, dir, d.At.Name())
	assert.Equal(t, "output-foreign", d.Code)
	assert.Contains(t, d.Message, ManifestName)
	require.Len(t, d.Hints, 1)
	assert.Contains(t, d.Hints[0], "--out")
	assert.False(t, errors.Is(err, fs.ErrNotExist))
}
