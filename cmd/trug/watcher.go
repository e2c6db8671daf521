package main

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

const (
	rest   = 150 * time.Millisecond // without an event: the editor is done
	atMost = 2 * time.Second        // of waiting for a rest, where something writes all the time
	look   = time.Second            // how often to look where events do not reach
)

// A watcher tells when a folder, or anything below it, has changed and come to rest.
type watcher struct {
	dir    string
	notify *fsnotify.Watcher
	seen   string // what the last scan found: names, sizes, times and modes
	blind  bool   // some part cannot be watched now: it is looked at from time to time
}

// newWatcher watches a folder, which must be there. The caller closes it.
func newWatcher(dir string) (*watcher, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("cannot read the content folder %q: %w", dir, reasonOf(err))
	}
	root.Close()
	w := &watcher{dir: dir}
	return w, w.scan()
}

func (w *watcher) close() { w.notify.Close() }

// scan watches every folder that is there now. It starts afresh each time, since the system's watches follow
// folders that were renamed away and forget those that were made anew. Each folder is watched before it is
// read: what comes later is told by an event.
func (w *watcher) scan() error {
	fresh, err := fsnotify.NewWatcher()
	if err != nil {
		return fmt.Errorf("cannot watch %q: %w", w.dir, err)
	}
	w.blind = false
	start, found := w.dir, sha256.New()
	if real, err := filepath.EvalSymlinks(w.dir); err == nil {
		start = real
	}
	walk := func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			w.blind = true
			fmt.Fprintln(found, name, err)
			return nil
		case unseen(name) && name != start && d.IsDir():
			return fs.SkipDir
		case unseen(name) && name != start:
			return nil
		case d.IsDir() && fresh.Add(name) != nil:
			w.blind = true
		}
		if info, err := d.Info(); err == nil {
			fmt.Fprintln(found, name, info.Size(), info.ModTime().UnixNano(), info.Mode())
		}
		return nil
	}
	_ = filepath.WalkDir(start, walk) // walk keeps every error
	if w.notify != nil {
		w.notify.Close()
	}
	w.notify, w.seen = fresh, string(found.Sum(nil))
	return nil
}

// unseen says whether a file is none of the handbook: hidden, or an editor's copy.
func unseen(name string) bool {
	base := filepath.Base(name)
	return strings.HasPrefix(base, ".") && base != "." && base != ".." || strings.HasSuffix(base, "~")
}

// wait returns true when something has changed and then no event came for a while, false when the context ends.
func (w *watcher) wait(ctx context.Context) bool {
	var quiet, late <-chan time.Time
	changed := false
	for {
		due := false
		select {
		case <-ctx.Done():
			return false
		case event := <-w.notify.Events:
			if unseen(event.Name) {
				continue
			}
			changed = changed || event.Op != fsnotify.Chmod
		case <-w.notify.Errors: // events were lost
			changed = true
		case <-quiet:
			due = true
		case <-late:
			due = true
		case <-w.again(quiet == nil):
			due = true
		}
		if !due {
			quiet = time.After(rest)
			if late == nil {
				late = time.After(atMost)
			}
			continue
		}
		if w.differs() || changed {
			return true
		}
		quiet, late = nil, nil
	}
}

// again comes when it is time to look where events do not reach; it never comes where they do.
func (w *watcher) again(idle bool) <-chan time.Time {
	if !w.blind || !idle {
		return nil
	}
	return time.After(look)
}

// differs scans and says whether anything is not as it was at the last scan.
func (w *watcher) differs() bool {
	before := w.seen
	if err := w.scan(); err != nil {
		w.blind = true // with the old watches, until there is room for new ones
	}
	return w.seen != before
}
