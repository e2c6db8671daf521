package publish

import (
	"crypto/sha256"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// begin begins on a disk of a test's own.
func begin(t *testing.T, d disk, dir string) *Stage {
	t.Helper()
	s, err := d.begin(dir, nil)
	require.NoError(t, err)
	return s
}

// states returns what the system says of every file and folder, below a folder, by its path.
func states(t *testing.T, dir string) map[string]fs.FileInfo {
	t.Helper()
	out := map[string]fs.FileInfo{}
	require.NoError(t, filepath.WalkDir(dir, func(name string, _ fs.DirEntry, err error) error {
		if err == nil {
			out[name], err = os.Lstat(name)
		}
		return err
	}))
	return out
}

// An unchanged site is not touched: each file and folder is the same one, of the same time. All of it was made
// long ago, so that any writing would show.
func TestUnchangedTouchesNothing(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	old := time.Date(2020, 2, 3, 4, 5, 6, 0, time.UTC)
	for name := range states(t, dir) {
		require.NoError(t, os.Chtimes(name, old, old))
	}
	before := states(t, dir)
	d := disk{} // calls to it panic
	report, err := d.publish(dir, first)
	require.NoError(t, err)
	assert.Equal(t, Report{Unchanged: 3}, counts(report))
	after := states(t, dir)
	require.Len(t, after, len(before))
	for name, was := range before {
		assert.True(t, os.SameFile(was, after[name]) && was.ModTime().Equal(after[name].ModTime()), name)
	}
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

// What stays is the same file in the new site, with the time that it was written; only what changed is written.
func TestKeptFilesAreLinked(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	before := stat(t, filepath.Join(dir, "notes/tubs/index.html"))
	d, written := onDisk, []string{}
	d.write = func(root *os.Root, f File) (int64, error) {
		written = append(written, f.Path)
		return writeFile(root, f)
	}
	report, err := d.publish(dir, files("index.html", "front", "notes/tubs/index.html", "tubs", "empty.txt", "no more"))
	require.NoError(t, err)
	assert.Equal(t, Report{Written: 1, Unchanged: 2}, counts(report))
	assert.Equal(t, []string{"empty.txt", ManifestName}, written)
	assert.True(t, os.SameFile(before, stat(t, filepath.Join(dir, "notes/tubs/index.html"))))
	assert.Equal(t, "no more", tree(t, dir)["empty.txt"])
}

func TestKeptFilesAreCopiedWhereNoLinkCanBe(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	d := onDisk
	d.link = func(_, _ string) error { return errFull }
	report, err := d.publish(dir, append(files("new", "new"), first...))
	require.NoError(t, err)
	assert.Equal(t, Report{Written: 1, Unchanged: 3}, counts(report))
	fresh := outDir(t)
	_, err = Publish(fresh, append(files("new", "new"), first...))
	require.NoError(t, err)
	assert.Equal(t, tree(t, fresh), tree(t, dir))
}

// A link would bring the mode along.
func TestKeptFilesGetTheirMode(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("windows has no such file modes")
	}
	dir := outDir(t)
	publishFirst(t, dir)
	require.NoError(t, os.Chmod(filepath.Join(dir, "index.html"), 0o600))
	report, err := Publish(dir, first)
	require.NoError(t, err)
	assert.Equal(t, Report{Unchanged: 3}, counts(report), "a mode alone is no reason to publish")
	_, err = Publish(dir, append(files("new", "new"), first...))
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o644), stat(t, filepath.Join(dir, "index.html")).Mode().Perm())
}

// A file that keeps its size and changes otherwise is written anew, wherever the change is.
func TestAddComparesEveryByte(t *testing.T) {
	long := make([]byte, 200<<10)
	for _, at := range []int{0, 64<<10 - 1, 64 << 10, len(long) - 1} {
		dir := outDir(t)
		site := []File{{"long", long}, {"new", []byte("x")}}
		_, err := Publish(dir, site)
		require.NoError(t, err)
		spoilt := append([]byte{}, long...)
		spoilt[at] = 1
		put(t, filepath.Join(dir, "long"), string(spoilt))
		report, err := Publish(dir, site)
		require.NoError(t, err)
		assert.Equal(t, Report{Written: 1, Unchanged: 1}, counts(report), "byte %d", at)
		assert.Equal(t, string(long), tree(t, dir)["long"])
	}
}

func TestAddTakesNoHoldOfTheBody(t *testing.T) {
	dir := outDir(t)
	s := begin(t, onDisk, dir)
	body := []byte("0")
	for i := range 10 {
		body[0] = byte('0' + i)
		require.NoError(t, s.Add(fmt.Sprint(i), body))
	}
	_, err := s.Publish()
	require.NoError(t, err)
	for i := range 10 {
		assert.Equal(t, fmt.Sprint(i), tree(t, dir)[fmt.Sprint(i)])
	}
}

// Many goroutines add at once, some of it new, some not; in folders that they have in common.
func TestAddFromManyGoroutines(t *testing.T) {
	dir := outDir(t)
	for round := range 2 {
		s := begin(t, onDisk, dir)
		var wg sync.WaitGroup
		errs := make([]error, 400)
		for i := range errs {
			wg.Go(func() {
				errs[i] = s.Add(fmt.Sprintf("a/b%d/c/%d.html", i%7, i), fmt.Append(nil, i, i%2*round))
			})
		}
		wg.Wait()
		for _, err := range errs {
			require.NoError(t, err)
		}
		report, err := s.Publish()
		require.NoError(t, err)
		assert.Equal(t, []Report{{Written: 400}, {Written: 200, Unchanged: 200}}[round], counts(report))
	}
	got := tree(t, dir)
	require.Len(t, got, 401)
	for i := range 400 {
		assert.Equal(t, fmt.Sprint(i, i%2), got[fmt.Sprintf("a/b%d/c/%d.html", i%7, i)])
	}
}

// A site with a hole is never published, even if nobody looks at the error of Add.
func TestFailedAddFailsPublish(t *testing.T) {
	for name, spoil := range map[string]func(s *Stage) error{
		"path":  func(s *Stage) error { return s.Add("../out", nil) },
		"clash": func(s *Stage) error { return s.Add("INDEX.html", nil) },
		"disk": func(s *Stage) error {
			s.disk.write = func(*os.Root, File) (int64, error) { return 0, errFull }
			return s.Add("late", nil)
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := outDir(t)
			publishFirst(t, dir)
			before := tree(t, dir)
			s := begin(t, onDisk, dir)
			require.NoError(t, s.Add("index.html", []byte("new")))
			failed := spoil(s)
			require.Error(t, failed)
			_, err := s.Publish()
			require.ErrorIs(t, err, failed)
			assert.Equal(t, before, tree(t, dir))
			assert.Equal(t, []string{"public"}, beside(t, dir))
		})
	}
}

func TestDropLeavesNothing(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "deep", "public")
	s := begin(t, onDisk, dir)
	for _, f := range first {
		require.NoError(t, s.Add(f.Path, f.Body))
	}
	require.Len(t, beside(t, dir), 2, "a staging folder and a lock")
	require.NoError(t, s.Drop())
	assert.NoDirExists(t, filepath.Dir(filepath.Dir(dir)))
	require.NoError(t, s.Drop())
	require.ErrorIs(t, s.Add("a", nil), errEnded)
	_, err := s.Publish()
	require.ErrorIs(t, err, errEnded)
}

func TestDropAfterPublishDoesNothing(t *testing.T) {
	dir := outDir(t)
	s := begin(t, onDisk, dir)
	require.NoError(t, s.Add("a", []byte("1")))
	_, err := s.Publish()
	require.NoError(t, err)
	before := tree(t, dir)
	require.NoError(t, s.Drop())
	assert.Equal(t, before, tree(t, dir))
	_, err = s.Publish()
	require.ErrorIs(t, err, errEnded)
}

// Drop may come from elsewhere, as when the program is told to stop, while files are being added.
func TestDropWhileAdding(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	before := tree(t, dir)
	s := begin(t, onDisk, dir)
	var wg sync.WaitGroup
	for w := range 4 {
		wg.Go(func() {
			for i := 0; s.Add(fmt.Sprintf("%d/%d", w, i), []byte("x")) == nil; i++ {
				if i == 20 && w == 0 {
					wg.Go(func() { assert.NoError(t, s.Drop()) })
				}
			}
		})
	}
	wg.Wait()
	assert.Equal(t, before, tree(t, dir))
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

// The output folder goes while the site is made: what was to be kept is nowhere any more.
func TestFolderVanishes(t *testing.T) {
	cases := map[string]struct {
		files []File
		says  string
	}{
		"all kept":    {first, "public"},
		"some kept":   {append(files("new", "new"), first...), "cannot stage the site for"},
		"nothing old": {files("new", "new"), ""},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			dir := outDir(t)
			publishFirst(t, dir)
			s := begin(t, onDisk, dir)
			for _, f := range c.files {
				require.NoError(t, s.Add(f.Path, f.Body))
			}
			require.NoError(t, os.RemoveAll(dir))
			_, err := s.Publish()
			if c.says == "" {
				require.NoError(t, err)
				assert.Equal(t, "new", tree(t, dir)["new"])
				return
			}
			require.ErrorContains(t, err, c.says)
			require.ErrorIs(t, err, fs.ErrNotExist)
			assert.Empty(t, beside(t, dir))
			publishFirst(t, dir)
		})
	}
}

func TestFolderOfTheFolderVanishes(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "public")
	publishFirst(t, dir)
	s := begin(t, onDisk, dir)
	require.NoError(t, s.Add("a", []byte("1")))
	require.NoError(t, os.RemoveAll(filepath.Dir(dir)))
	require.ErrorContains(t, s.Add("b", []byte("2")), "cannot stage the site for")
	require.NoError(t, s.Drop())
	assert.NoDirExists(t, filepath.Dir(dir))
}

// A kept file that cannot be linked is looked at again while it is copied.
func TestKeptFileChangesMeanwhile(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	d := onDisk
	d.link = func(_, _ string) error { return errFull }
	s := begin(t, d, dir)
	for _, f := range append(files("new", "new"), first...) {
		require.NoError(t, s.Add(f.Path, f.Body))
	}
	put(t, filepath.Join(dir, "index.html"), "other")
	_, err := s.Publish()
	require.ErrorContains(t, err, `"index.html" was changed while the site was made`)
	assert.Equal(t, "other", tree(t, dir)["index.html"])
	assert.Equal(t, []string{"public"}, beside(t, dir))
}

// A page of several files is made anew when one of them no longer stands.
func TestAddAfterAgain(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	s := begin(t, onDisk, dir)
	for _, f := range first {
		require.True(t, s.Again(f.Path, len(f.Body), sha256.Sum256(f.Body)))
		require.True(t, s.Again(f.Path, len(f.Body), sha256.Sum256(f.Body)), "two pages may have a file in common")
	}
	require.NoError(t, s.Add("index.html", []byte("front")))
	require.NoError(t, s.Add("empty.txt", []byte("no more")))
	require.ErrorContains(t, s.Add("EMPTY.txt", nil), "differ only by case")
	require.NoError(t, s.Drop())

	s = begin(t, onDisk, dir)
	require.True(t, s.Again("empty.txt", 0, sha256.Sum256(nil)))
	require.NoError(t, s.Add("empty.txt", []byte("no more")))
	report, err := s.Publish()
	require.NoError(t, err)
	assert.Equal(t, Report{Written: 1, Removed: 2}, counts(report))
	assert.Equal(t, "no more", tree(t, dir)["empty.txt"])
}

func TestAgain(t *testing.T) {
	dir := outDir(t)
	publishFirst(t, dir)
	s := begin(t, onDisk, dir)
	front := first[0]
	same, other := sha256.Sum256(front.Body), sha256.Sum256([]byte("other"))
	assert.False(t, s.Again(front.Path, len(front.Body), other), "another sum")
	assert.False(t, s.Again(front.Path, 1, same), "another size")
	assert.False(t, s.Again("nowhere", len(front.Body), same))
	assert.True(t, s.Again(front.Path, len(front.Body), same))
	report, err := s.Publish()
	require.NoError(t, err)
	assert.Equal(t, Report{Unchanged: 1, Removed: 2}, counts(report))
	assert.Equal(t, "front", tree(t, dir)["index.html"])
	assert.False(t, s.Again(front.Path, len(front.Body), same), "the stage has ended")
}
