package publish

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A spare knows what it published without reading the folder, until somebody puts a thing in or takes one out, be it
// in the same tick of the disk's clock. What is written into a file is for those to see who rely on the file.
func TestSpareKnows(t *testing.T) {
	for name, c := range map[string]struct {
		do    func(t *testing.T, dir string)
		knows bool
	}{
		"nothing":          {func(*testing.T, string) {}, true},
		"bytes":            {func(t *testing.T, dir string) { put(t, filepath.Join(dir, "index.html"), "by hand") }, true},
		"a new file":       {func(t *testing.T, dir string) { put(t, filepath.Join(dir, "mine.txt"), "mine") }, false},
		"a new file below": {func(t *testing.T, dir string) { put(t, filepath.Join(dir, "notes", "tubs", "mine.txt"), "mine") }, false},
		"an empty folder": {func(t *testing.T, dir string) {
			require.NoError(t, os.Mkdir(filepath.Join(dir, "notes", "mine"), 0o755))
		}, false},
		"a file taken out":   {func(t *testing.T, dir string) { require.NoError(t, os.Remove(filepath.Join(dir, "index.html"))) }, false},
		"a folder taken out": {func(t *testing.T, dir string) { require.NoError(t, os.RemoveAll(filepath.Join(dir, "notes"))) }, false},
		"all taken out":      {func(t *testing.T, dir string) { require.NoError(t, os.RemoveAll(dir)) }, false},
		"another manifest":   {func(t *testing.T, dir string) { put(t, filepath.Join(dir, ManifestName), manifestHead+"\n") }, false},
		"another publishing": {func(t *testing.T, dir string) { _, err := Publish(dir, siteOf(0)); require.NoError(t, err) }, false},
		"a file for a folder": {func(t *testing.T, dir string) {
			require.NoError(t, os.RemoveAll(filepath.Join(dir, "notes")))
			put(t, filepath.Join(dir, "notes"), "a file")
		}, false},
	} {
		t.Run(name, func(t *testing.T) {
			dir, p := outDir(t), &Spare{}
			for n := range 3 {
				_, err := publishOver(onDisk, p, dir, append(siteOf(n), File{"notes/tubs/index.html", []byte("tubs")}))
				require.NoError(t, err)
			}
			c.do(t, dir)
			known, still := p.knows(dir)
			assert.Equal(t, c.knows, still)
			if c.knows {
				read, err := read(dir)
				require.NoError(t, err)
				assert.ElementsMatch(t, read.folders, known.folders)
				read.folders, known.folders, known.dates = nil, nil, nil
				assert.Equal(t, read, known, "as if it had been read")
			}
		})
	}
}

// What comes into the published folder while the next site is made is seen before the old one is given up, and all is
// put back.
func TestSpareMeetsAFileOfOthers(t *testing.T) {
	dir, p := outDir(t), &Spare{}
	for n := range 2 {
		_, err := publishOver(onDisk, p, dir, siteOf(n))
		require.NoError(t, err)
	}
	s, err := p.Begin(dir)
	require.NoError(t, err)
	for _, f := range siteOf(0) {
		require.NoError(t, s.Add(f.Path, f.Body))
	}
	put(t, filepath.Join(dir, "mine.txt"), "mine")
	before := tree(t, dir)
	_, err = s.Publish()
	var refusal *Refusal
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, "output-foreign", refusal.Code)
	assert.Equal(t, before, tree(t, dir))
}

// A stage that knows nothing by dates reads the old site once more when that has left its place: what came meanwhile is
// seen whatever the time of its folder says, for on many disks two changes within one tick leave one time.
func TestAFileInTheSameTick(t *testing.T) {
	for name, p := range map[string]*Spare{"once": nil, "again and again": {}} {
		t.Run(name, func(t *testing.T) {
			dir := outDir(t)
			_, err := Publish(dir, siteOf(0))
			require.NoError(t, err)
			s, err := onDisk.begin(dir, p)
			require.NoError(t, err)
			for _, f := range siteOf(1) {
				require.NoError(t, s.Add(f.Path, f.Body))
			}
			folder := filepath.Join(dir, "notes")
			info, err := os.Stat(folder)
			require.NoError(t, err)
			put(t, filepath.Join(folder, "mine.txt"), "mine")
			require.NoError(t, os.Chtimes(folder, info.ModTime(), info.ModTime()))
			_, err = s.Publish()
			var refusal *Refusal
			require.ErrorAs(t, err, &refusal)
			assert.FileExists(t, filepath.Join(folder, "mine.txt"))
		})
	}
}

// What others put into the staged site leaves the next stage without knowledge: it reads the folder, and refuses.
func TestAFileInTheStage(t *testing.T) {
	for _, folder := range []string{"notes/3/3", "notes/8/8", "recipes/0", "."} { // touched or not
		t.Run(folder, func(t *testing.T) {
			dir, p := outDir(t), &Spare{}
			site := siteOf(0)
			publish := func() error { _, err := publishOver(onDisk, p, dir, site); return err }
			for n := range 3 {
				site[1].Body = fmt.Append(nil, "round ", n)
				require.NoError(t, publish())
			}
			s, err := p.Begin(dir)
			require.NoError(t, err)
			site[1].Body, site[4].Body = []byte("now"), []byte("now")
			for _, f := range site {
				require.NoError(t, s.Add(f.Path, f.Body))
			}
			put(t, filepath.Join(s.staged.dir, filepath.FromSlash(folder), "theirs.txt"), "theirs")
			_, err = s.Publish()
			require.NoError(t, err)
			_, still := p.knows(dir)
			assert.False(t, still)
			require.ErrorContains(t, publish(), "theirs.txt")
		})
	}
}
