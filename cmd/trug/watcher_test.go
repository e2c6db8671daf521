package main

import (
	"context"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A pond is a folder that a test stirs, with its watcher.
type pond struct {
	t   *testing.T
	dir string
	w   *watcher
}

func newPond(t *testing.T) *pond {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "content")
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "tubs", "deep"), 0o755))
	p := &pond{t: t, dir: dir}
	p.write("tubs/a.md", "one")
	w, err := newWatcher(dir)
	require.NoError(t, err)
	p.w = w
	t.Cleanup(func() { w.close() })
	return p
}

func (p *pond) path(name string) string { return filepath.Join(p.dir, filepath.FromSlash(name)) }

func (p *pond) write(name, text string) {
	require.NoError(p.t, os.WriteFile(p.path(name), []byte(text), 0o644))
}

// told waits for the watcher to tell of a change. A change that is never told of fails the test.
func (p *pond) told(what string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.t.Context(), time.Minute)
	defer cancel()
	require.True(p.t, p.w.wait(ctx), "nothing was told of: %s", what)
}

// still says that nothing is told of: a change made afterwards is what comes first.
func (p *pond) still(what string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.t.Context(), 4*rest)
	defer cancel()
	assert.False(p.t, p.w.wait(ctx), what)
}

func TestSavesAreTold(t *testing.T) {
	p := newPond(t)
	p.write("tubs/a.md", "two")
	p.told("a save")
	p.write("tubs/deep/b.md", "new")
	p.told("a new note in a folder below")
	p.write("tubs/.a.md.new", "three")
	require.NoError(t, os.Rename(p.path("tubs/.a.md.new"), p.path("tubs/a.md")))
	p.told("a save by renaming a hidden file")
	p.write("tubs/.a.md.new", "four")
	p.write("tubs/a.md~", "four")
	p.still("hidden files and an editor's copies are none of the handbook's")
	require.NoError(t, os.Remove(p.path("tubs/a.md")))
	p.told("a removal")
}

// TestFoldersComeAndGo: the watcher follows folders that are made, renamed and removed, and new ones of old names.
func TestFoldersComeAndGo(t *testing.T) {
	p := newPond(t)
	require.NoError(t, os.MkdirAll(p.path("new/er/est"), 0o755))
	p.told("new folders")
	p.write("new/er/est/c.md", "c")
	p.told("a note in the innermost of them")
	require.NoError(t, os.Rename(p.path("new"), p.path("renamed")))
	p.told("a renamed folder")
	p.write("renamed/er/est/c.md", "d")
	p.told("a save below its new name")
	require.NoError(t, os.MkdirAll(p.path("new/er"), 0o755))
	p.told("a folder of the old name")
	p.write("new/er/e.md", "e")
	p.told("a note in it")
	p.write("renamed/er/est/c.md", "f")
	p.told("a save in the renamed one, still")
	require.NoError(t, os.RemoveAll(p.path("tubs")))
	p.told("a removed folder")
	require.NoError(t, os.MkdirAll(p.path("tubs/deep"), 0o755))
	p.told("the folder made anew")
	p.write("tubs/deep/f.md", "f")
	p.told("a note in it")
}

// TestTheFolderItselfMayGo: another may come in its place.
func TestTheFolderItselfMayGo(t *testing.T) {
	p := newPond(t)
	require.NoError(t, os.Rename(p.dir, p.dir+".away"))
	p.told("the folder is gone")
	require.NoError(t, os.MkdirAll(p.path("tubs"), 0o755))
	p.told("another is there")
	p.write("tubs/a.md", "new")
	p.told("a save in it")
}

// TestABurstIsToldOnce: a hundred saves are one change, told when the last has been made.
func TestABurstIsToldOnce(t *testing.T) {
	p := newPond(t)
	for i := range 100 {
		p.write("tubs/a.md", strconv.Itoa(i))
	}
	p.told("a burst")
	p.still("the burst was told of")
}

func TestWaitingEndsWithTheContext(t *testing.T) {
	p := newPond(t)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	assert.False(t, p.w.wait(ctx))
}

func TestNothingToWatch(t *testing.T) {
	_, err := newWatcher(filepath.Join(t.TempDir(), "nowhere"))
	assert.ErrorContains(t, err, "cannot read the content folder")
}
