package publish

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"
)

// still says whether a folder holds what it held when it was read, without reading it again: no folder in it has taken
// in or lost an entry since. Bytes of files may have changed; whoever relies on one looks at it.
func (c contents) still(dir string) bool {
	err := inParallel(slices.Collect(maps.Keys(c.rested)), func(below string) error {
		rested, err := restedSince(inside(dir, below))
		if err == nil && !rested.Equal(c.rested[below]) {
			err = errChanged
		}
		return err
	})
	return len(c.rested) > 0 && err == nil
}

// inspectAgain is inspect for a folder that was read before, perhaps under another name.
func inspectAgain(at place, dir string, before contents) (contents, error) {
	if before.still(dir) {
		return before, nil
	}
	return inspect(at, dir)
}

// restedSince returns when a folder last took in or lost an entry.
func restedSince(dir string) (time.Time, error) {
	info, err := os.Lstat(dir)
	if err != nil {
		return time.Time{}, err
	}
	if !info.IsDir() {
		return time.Time{}, errChanged
	}
	return info.ModTime(), nil
}

// knows returns what stands in the output folder, if it is what the last stage left there.
func (p *Spare) knows(dir string) (c contents, still bool) {
	if p == nil || len(p.site.rested) == 0 {
		return c, false
	}
	manifest, err := os.ReadFile(filepath.Join(dir, ManifestName))
	if err != nil || string(manifest) != p.site.manifest || !p.site.still(dir) {
		return c, false
	}
	return p.site, true
}

// setBack dates the folders of the staged site that changed while it was made a minute back, and returns when each of
// them last took in or lost an entry. The clocks of disks tick slowly: what comes into a folder in the tick in which
// it was made would leave no other time behind.
func (s *Stage) setBack() (rested map[string]time.Time, err error) {
	rested = map[string]time.Time{}
	var guard sync.Mutex
	err = inParallel(append(slices.Collect(maps.Values(s.paths.folders)), ""), func(folder string) error {
		full := inside(s.staged.dir, folder)
		at, err := restedSince(full)
		if before, known := s.staged.rested(folder); err == nil && !(known && at.Equal(before)) {
			at = at.Add(-time.Minute).Truncate(time.Second)
			err = os.Chtimes(full, time.Time{}, at)
		}
		guard.Lock()
		defer guard.Unlock()
		rested[folder] = at
		return err
	})
	return rested, err
}

// rested returns the time of a folder of the spare site.
func (a *area) rested(folder string) (at time.Time, known bool) {
	if a.was == nil {
		return at, false
	}
	at, known = a.was.rested[folder]
	return at, known
}

// asPublished is what the output folder holds once the staged site is in its place, for the next stage. It is empty
// where nobody asks, and where the times of folders cannot be set: then the next stage reads the folder.
func (s *Stage) asPublished(manifest string) contents {
	if s.spare == nil {
		return contents{}
	}
	rested, err := s.setBack()
	if err != nil {
		return contents{}
	}
	found := make(map[string]bool, len(s.sums))
	for file := range s.sums {
		found[file] = true
	}
	folders := slices.Sorted(maps.Values(s.paths.folders)) // so each comes after the one that it is in
	return contents{manifest: manifest, sums: s.sums, found: found, folders: folders, rested: rested}
}
