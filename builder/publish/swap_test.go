package publish

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var errFull = errors.New("no room")

var second = files("index.html", "second", "pots/index.html", "pots")

// TestPublishFailsWhole makes one call to the disk fail after another and holds that the folder and
// all beside it is as it was.
func TestPublishFailsWhole(t *testing.T) {
	cases := map[string]func(d *disk){
		"writing": func(d *disk) {
			d.write = func(root *os.Root, f File) error {
				if f.Path == "pots/index.html" {
					return errFull
				}
				return writeFile(root, f)
			}
		},
		"the manifest": func(d *disk) {
			d.write = func(*os.Root, File) error { return errFull }
		},
		"half a file": func(d *disk) {
			d.write = func(root *os.Root, f File) error {
				f.Body = f.Body[:len(f.Body)/2]
				return writeFile(root, f)
			}
		},
		"a file that is lost": func(d *disk) {
			d.write = func(root *os.Root, f File) error {
				if f.Path == "index.html" {
					return nil
				}
				return writeFile(root, f)
			}
		},
		"setting aside": func(d *disk) { d.rename = failNth(1) },
		"moving in":     func(d *disk) { d.rename = failNth(2) },
	}
	for name, spoil := range cases {
		t.Run(name, func(t *testing.T) {
			dir := outDir(t)
			publishFirst(t, dir)
			before := tree(t, filepath.Dir(dir))
			d := onDisk
			spoil(&d)
			_, err := d.publish(dir, second)
			require.Error(t, err)
			assert.Equal(t, before, tree(t, filepath.Dir(dir)))
			assert.Equal(t, []string{"public"}, beside(t, dir))
		})
	}
}

// failNth renames until the nth call, which fails, and renames again after it.
func failNth(n int) func(from, to string) error {
	calls := 0
	return func(from, to string) error {
		if calls++; calls == n {
			return errFull
		}
		return os.Rename(from, to)
	}
}

func TestPublishFailsWholeTheFirstTime(t *testing.T) {
	dir := outDir(t)
	d := onDisk
	d.rename = failNth(1)
	_, err := d.publish(dir, first)
	require.ErrorIs(t, err, errFull)
	assert.Empty(t, beside(t, dir))
}

func TestPublishSaysWhereTheOldSiteIs(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	d := onDisk
	calls := 0
	d.rename = func(from, to string) error {
		if calls++; calls > 1 {
			return errFull
		}
		return os.Rename(from, to)
	}
	_, err := d.publish(dir, second)
	require.ErrorContains(t, err, ".public.trug-old")
	assert.Equal(t, []string{".public.trug-old"}, beside(t, dir))

	_, err = Publish(dir, second)
	require.NoError(t, err)
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

// A file that comes into the folder while the site is staged is not lost.
func TestPublishLooksOnceMoreBeforeTheSwap(t *testing.T) {
	for name, prepare := range map[string]func(*testing.T, string){
		"an old site":     publishFirst,
		"an empty folder": func(t *testing.T, dir string) { require.NoError(t, os.Mkdir(dir, 0o755)) },
	} {
		t.Run(name, func(t *testing.T) {
			dir := outDir(t)
			prepare(t, dir)
			want := tree(t, dir)
			want["late.txt"] = "mine"
			d := onDisk
			d.write = func(root *os.Root, f File) error {
				put(t, filepath.Join(dir, "late.txt"), "mine")
				return writeFile(root, f)
			}
			_, err := d.publish(dir, second)
			assert.Equal(t, "output-foreign", refusal(t, err).Code)
			assert.Equal(t, want, tree(t, dir))
			assert.Equal(t, []string{"public"}, beside(t, dir))
		})
	}
}

func TestPublishReportsWhatItCouldNotRemove(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	old := filepath.Join(filepath.Dir(dir), ".public.trug-old")
	d := onDisk
	d.remove = func(name string) error {
		if strings.HasPrefix(name, old) {
			return errFull
		}
		return os.RemoveAll(name)
	}
	report, err := d.publish(dir, second)
	require.NoError(t, err)
	assert.Equal(t, old, report.Left)
	assert.Equal(t, "second", tree(t, dir)["index.html"])
	assert.DirExists(t, old)

	report, err = Publish(dir, second)
	require.NoError(t, err)
	assert.Empty(t, report.Left)
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

// cutShort publishes and stops dead at the nth call to the disk, as a killed run would.
func cutShort(t *testing.T, dir string, n int) {
	t.Helper()
	calls := 0
	step := func() {
		if calls++; calls == n {
			panic(errFull)
		}
	}
	d := disk{
		write:  func(root *os.Root, f File) error { step(); return writeFile(root, f) },
		rename: func(from, to string) error { step(); return os.Rename(from, to) },
		remove: func(name string) error { step(); return os.RemoveAll(name) },
	}
	require.PanicsWithValue(t, errFull, func() { _, _ = d.publish(dir, second) })
}

// The calls are: three files written, two renames, then the removal of the old site entry by entry
// (its three entries and the folder with the manifest).
func TestPublishCleansUpAfterACutRun(t *testing.T) {
	for n := 1; n <= 9; n++ {
		dir := outDir(t)
		publishFirst(t, dir)
		cutShort(t, dir, n)
		require.Greater(t, len(beside(t, dir)), 0)
		_, err := Publish(dir, second)
		require.NoError(t, err, "cut at call %d", n)
		got := tree(t, dir)
		delete(got, ManifestName)
		assert.Equal(t, map[string]string{"index.html": "second", "pots/index.html": "pots"}, got)
		assert.Equal(t, []string{"public"}, beside(t, dir), "cut at call %d", n)
	}
}

// After a run that was cut between the two renames, even a run that fails brings the old site back.
func TestPublishBringsTheOldSiteBack(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	want := tree(t, dir)
	cutShort(t, dir, 5)
	require.NoDirExists(t, dir)
	d := onDisk
	d.write = func(*os.Root, File) error { return errFull }
	_, err := d.publish(dir, second)
	require.ErrorIs(t, err, errFull)
	assert.Equal(t, want, tree(t, dir))
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

// Only folders that hold nothing but what their manifest lists are taken for leavings.
func TestPublishLeavesOthersFoldersAlone(t *testing.T) {
	dir := outDir(t)
	parent := filepath.Dir(dir)
	put(t, filepath.Join(parent, ".public.trug-stage-1", "mine"), "x")
	put(t, filepath.Join(parent, ".public.trug-stage-2", ManifestName), manifestHead+"\n")
	put(t, filepath.Join(parent, ".public.trug-stage-2", "mine"), "x")
	put(t, filepath.Join(parent, ".public.trug-stage-3"), "a file")
	put(t, filepath.Join(parent, ".other.trug-stage-4", ManifestName), manifestHead+"\n")
	require.NoError(t, os.Symlink(".other.trug-stage-4", filepath.Join(parent, ".public.trug-stage-5")))
	want := tree(t, parent)
	publishFirst(t, dir)
	require.NoError(t, os.RemoveAll(dir))
	assert.Equal(t, want, tree(t, parent))
}
