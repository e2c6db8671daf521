package publish

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPublishRefusesWhatIsNotItsOwn prepares folders that trug must not touch, publishes, and holds
// that every byte in and beside them is as it was.
func TestPublishRefusesWhatIsNotItsOwn(t *testing.T) {
	head := manifestHead + "\n"
	line := sum([]byte("1")) + "  a\n"
	cases := map[string]struct {
		prepare func(t *testing.T, dir string)
		code    string
		message string
	}{
		"no manifest": {func(t *testing.T, dir string) {
			put(t, filepath.Join(dir, "deep", "thesis.txt"), "years")
		}, "output-foreign", "it has no .trug-manifest"},
		"dropping": {func(t *testing.T, dir string) {
			publishFirst(t, dir)
			put(t, filepath.Join(dir, "notes", ".DS_Store"), "x")
		}, "output-foreign", `trug did not write: "notes/.DS_Store"`},
		"many": {func(t *testing.T, dir string) {
			publishFirst(t, dir)
			for _, name := range []string{"d", "b", "e", "a", "c"} {
				put(t, filepath.Join(dir, name), "x")
			}
		}, "output-foreign", `"a", "b", "c" and 2 more`},
		"other head": {func(t *testing.T, dir string) {
			put(t, filepath.Join(dir, ManifestName), "list of files\n"+line)
		}, "output-manifest", "line 1 is not"},
		"empty manifest": {func(t *testing.T, dir string) {
			put(t, filepath.Join(dir, ManifestName), "")
		}, "output-manifest", "line 1 is not"},
		"bad line": {func(t *testing.T, dir string) {
			put(t, filepath.Join(dir, ManifestName), head+line+"123  b\n")
		}, "output-manifest", `line 3, "123  b"`},
		"path out of the folder": {func(t *testing.T, dir string) {
			put(t, filepath.Join(dir, ManifestName), head+sum(nil)+"  ../a\n")
		}, "output-manifest", "line 2"},
		"a file": {func(t *testing.T, dir string) {
			put(t, dir, "a file")
		}, "output-folder", "is a file, not a folder"},
		"old name taken": {func(t *testing.T, dir string) {
			publishFirst(t, dir)
			put(t, filepath.Join(filepath.Dir(dir), ".public.trug-old", "mine"), "x")
		}, "output-old", "is in the way"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			dir := outDir(t)
			c.prepare(t, dir)
			before := tree(t, filepath.Dir(dir))
			_, err := Publish(dir, files("index.html", "new"))
			r := refusal(t, err)
			assert.Equal(t, c.code, r.Code)
			assert.Contains(t, r.Message, c.message)
			assert.NotEmpty(t, r.Hint)
			assert.Equal(t, before, tree(t, filepath.Dir(dir)))
		})
	}
}

func publishFirst(t *testing.T, dir string) {
	t.Helper()
	_, err := Publish(dir, first)
	require.NoError(t, err)
}

func TestPublishRefusesALinkAsFolder(t *testing.T) {
	for name, target := range map[string]string{"to a folder": "elsewhere", "to nothing": "missing"} {
		t.Run(name, func(t *testing.T) {
			dir := outDir(t)
			publishFirst(t, filepath.Join(filepath.Dir(dir), "elsewhere"))
			require.NoError(t, os.Symlink(target, dir))
			before := tree(t, filepath.Dir(dir))
			for _, shown := range []string{dir, dir + string(filepath.Separator)} {
				_, err := Publish(shown, files("index.html", "new"))
				assert.Equal(t, "output-link", refusal(t, err).Code)
			}
			assert.Equal(t, before, tree(t, filepath.Dir(dir)))
		})
	}
}

// A link inside the folder is never followed, not even under a name that the manifest lists.
func TestPublishRefusesALinkInside(t *testing.T) {
	for _, name := range []string{"index.html", "notes", ManifestName, "extra"} {
		t.Run(name, func(t *testing.T) {
			dir := outDir(t)
			publishFirst(t, dir)
			other := filepath.Join(filepath.Dir(dir), "other")
			put(t, filepath.Join(other, "tubs", "index.html"), "tubs")
			require.NoError(t, os.RemoveAll(filepath.Join(dir, name)))
			require.NoError(t, os.Symlink(other, filepath.Join(dir, name)))
			before := tree(t, filepath.Dir(dir))
			_, err := Publish(dir, files("index.html", "new"))
			assert.Equal(t, "output-foreign", refusal(t, err).Code)
			assert.Equal(t, before, tree(t, filepath.Dir(dir)))
		})
	}
}

func TestPublishThroughALinkedParent(t *testing.T) {
	top := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(top, "real"), 0o755))
	require.NoError(t, os.Symlink("real", filepath.Join(top, "link")))
	publishFirst(t, filepath.Join(top, "link", "public"))
	assert.FileExists(t, filepath.Join(top, "real", "public", "index.html"))
}

func TestPublishRefusesARoot(t *testing.T) {
	for _, dir := range []string{"", string(filepath.Separator)} {
		_, err := Publish(dir, first)
		assert.Equal(t, "output-folder", refusal(t, err).Code, dir)
	}
}

func TestInside(t *testing.T) {
	top := t.TempDir()
	at := func(parts ...string) string { return filepath.Join(append([]string{top}, parts...)...) }
	require.NoError(t, os.MkdirAll(at("content", "tubs"), 0o755))
	require.NoError(t, os.Mkdir(at("contents"), 0o755))
	require.NoError(t, os.Symlink("content", at("link")))
	cases := []struct {
		a, b string
		want bool
	}{
		{at("content"), at("content"), true},
		{at("content", "tubs"), at("content"), true},
		{at("content"), at("content", "tubs"), false},
		{at("contents"), at("content"), false},
		{at("content", "..", "contents"), at("content"), false},
		{at("link", "new", "deep"), at("content"), true},
		{at("content", "new"), at("link"), true},
		{at("new", "deep"), at("new"), true},
		{at("new"), at("other"), false},
		{at("content"), string(filepath.Separator), true},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, Inside(c.a, c.b), "%s in %s", c.a, c.b)
	}
	t.Chdir(at("content"))
	assert.True(t, Inside("public", "."))
	assert.False(t, Inside("../public", "."))
}
