package publish

import (
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var errFull = errors.New("no room")

var second = files("index.html", "second", "pots/index.html", "pots")

// noExchange is a disk on which two folders cannot change places at once.
func noExchange() disk {
	d := onDisk
	d.exchange = func(_, _ string) error { return errors.ErrUnsupported }
	return d
}

// TestPublishFailsWhole makes one call to the disk fail after another and holds that the folder and
// all beside it is as it was.
func TestPublishFailsWhole(t *testing.T) {
	failOn := func(path string, write func(*os.Root, File) (int64, error)) func(d *disk) {
		return func(d *disk) {
			d.write = func(root *os.Root, f File) (int64, error) {
				if f.Path == path {
					return write(root, f)
				}
				return writeFile(root, f)
			}
		}
	}
	full := func(*os.Root, File) (int64, error) { return 0, errFull }
	half := func(root *os.Root, f File) (int64, error) {
		return writeFile(root, File{f.Path, f.Body[:len(f.Body)/2]})
	}
	lost := func(*os.Root, File) (int64, error) { return 0, nil }
	cases := map[string]struct {
		spoil func(d *disk)
		says  string
	}{
		"writing":             {failOn("pots/index.html", full), "cannot stage the site"},
		"the manifest":        {failOn(ManifestName, full), "cannot stage the site"},
		"half a file":         {failOn("pots/index.html", half), "has 2 bytes after 4 were written"},
		"a file that is lost": {failOn("index.html", lost), "has 0 bytes after 6 were written"},
		"half a manifest":     {failOn(ManifestName, half), "were written"},
		"setting aside":       {func(d *disk) { *d = noExchange(); d.rename = failNth(1) }, "cannot set"},
		"moving in":           {func(d *disk) { *d = noExchange(); d.rename = failNth(2) }, "cannot move the new site"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			dir := outDir(t)
			publishFirst(t, dir)
			before := tree(t, filepath.Dir(dir))
			d := onDisk
			c.spoil(&d)
			_, err := d.publish(dir, second)
			require.ErrorContains(t, err, c.says)
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
	dir := filepath.Join(t.TempDir(), "new", "deep", "public")
	d := onDisk
	d.rename = failNth(1)
	_, err := d.publish(dir, first)
	require.ErrorIs(t, err, errFull)
	assert.NoDirExists(t, filepath.Join(filepath.Dir(dir), ".."), "the folders made for it stayed")
}

// Where folders cannot change places at once, two renamings do the same.
func TestPublishByRenaming(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	report, err := noExchange().publish(dir, second)
	require.NoError(t, err)
	assert.Equal(t, Report{Written: 2, Removed: 2}, counts(report))
	assert.Equal(t, []string{"public"}, beside(t, dir))
	assert.Equal(t, "second", tree(t, dir)["index.html"])
}

// While sites take turns, whoever looks finds the folder.
func TestFolderIsThereAtEveryMoment(t *testing.T) {
	dir := outDir(t)
	require.NoError(t, os.Mkdir(dir, 0o755))
	if err := exchange(dir, t.TempDir()); err != nil {
		t.Skipf("two folders cannot change places at once here: %v", err)
	}
	publishFirst(t, dir)
	done := make(chan error)
	go func() {
		var err error
		for i := range 60 {
			_, next := Publish(dir, [][]File{second, first}[i%2])
			err = errors.Join(err, next)
		}
		done <- err
	}()
	for looks, missed := 0, 0; ; looks++ {
		select {
		case err := <-done:
			require.NoError(t, err)
			assert.Zero(t, missed, "of %d looks", looks)
			return
		default:
			if missing(dir) {
				missed++
			}
		}
	}
}

func TestPublishSaysWhereTheOldSiteIs(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	d := noExchange()
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

// A file that comes into the folder while the site is staged is not lost, nor one that comes in the very
// moment of the swap.
func TestPublishLooksOnceMoreBeforeTheSwap(t *testing.T) {
	prepared := map[string]func(*testing.T, string){
		"an old site":     publishFirst,
		"an empty folder": func(t *testing.T, dir string) { require.NoError(t, os.Mkdir(dir, 0o755)) },
	}
	moments := map[string]func(come func()) disk{
		"while staging": func(come func()) disk {
			d := onDisk
			d.write = func(root *os.Root, f File) (int64, error) { come(); return writeFile(root, f) }
			return d
		},
		"at the exchange": func(come func()) disk {
			d := onDisk
			d.exchange = func(a, b string) error { come(); return exchange(a, b) }
			return d
		},
		"at the renaming": func(come func()) disk {
			d := noExchange()
			d.rename = func(from, to string) error { come(); return os.Rename(from, to) }
			return d
		},
	}
	for before, prepare := range prepared {
		for moment, spoilt := range moments {
			t.Run(before+" "+moment, func(t *testing.T) {
				dir := outDir(t)
				prepare(t, dir)
				want := tree(t, dir)
				want["late.txt"] = "mine"
				come := sync.OnceFunc(func() { put(t, filepath.Join(dir, "late.txt"), "mine") })
				_, err := spoilt(come).publish(dir, second)
				assert.Equal(t, "output-foreign", refusal(t, err).Code)
				assert.Equal(t, want, tree(t, dir))
				assert.Equal(t, []string{"public"}, beside(t, dir))
			})
		}
	}
}

func TestPublishReportsWhatItCouldNotRemove(t *testing.T) {
	for name, d := range map[string]disk{"by exchange": onDisk, "by renaming": noExchange()} {
		t.Run(name, func(t *testing.T) {
			dir := outDir(t)
			publishFirst(t, dir)
			d.remove = func(string) error { return errFull }
			report, err := d.publish(dir, second)
			require.NoError(t, err)
			require.NotEmpty(t, report.Left)
			assert.Equal(t, "tubs", tree(t, report.Left)["notes/tubs/index.html"])
			assert.Equal(t, "second", tree(t, dir)["index.html"])

			report, err = Publish(dir, second)
			require.NoError(t, err)
			assert.Empty(t, report.Left)
			assert.Equal(t, []string{"public"}, beside(t, dir))
		})
	}
}

// Only folders that hold nothing but what their manifest lists are taken for leavings.
func TestPublishLeavesOthersFoldersAlone(t *testing.T) {
	dir := outDir(t)
	parent := filepath.Dir(dir)
	put(t, filepath.Join(parent, ".public.trug-stage-1", "mine"), "x")
	put(t, filepath.Join(parent, ".public.trug-stage-2", ManifestName), manifestHead+"\n")
	put(t, filepath.Join(parent, ".public.trug-stage-2", "mine"), "x")
	put(t, filepath.Join(parent, ".public.trug-stage-3"), "a file")
	put(t, filepath.Join(parent, ".public.trug-stage-6", stageMark, "mine"), "x")
	put(t, filepath.Join(parent, "public.trug-stage-7", stageMark), "")
	put(t, filepath.Join(parent, ".other.trug-stage-4", ManifestName), manifestHead+"\n")
	require.NoError(t, os.Symlink(".other.trug-stage-4", filepath.Join(parent, ".public.trug-stage-5")))
	want := tree(t, parent)
	publishFirst(t, dir)
	require.NoError(t, os.RemoveAll(dir))
	assert.Equal(t, want, tree(t, parent))
}
