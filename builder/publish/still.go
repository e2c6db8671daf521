package publish

import (
	"errors"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// still says whether a folder holds what a stage left in it, without reading it: no folder in it has another time than
// the stage gave it. Bytes of files may have changed; whoever relies on one looks at it.
func (c contents) still(dir string) bool {
	if c.dates == nil || !c.onTop(dir) {
		return false
	}
	return inParallel(slices.Collect(maps.Keys(c.dates)), func(folder string) error {
		at, err := timeOf(inside(dir, folder))
		if err == nil && !at.Equal(c.dates[folder]) {
			err = errChanged
		}
		return err
	}) == nil
}

// onTop says whether the folder itself holds what it held. It is read, and keeps the time of its last change: others may
// go by that.
func (c contents) onTop(dir string) bool {
	names := map[string]bool{ManifestName: false} // whether it is a folder
	for file := range c.found {
		if !strings.Contains(file, "/") {
			names[file] = false
		}
	}
	for _, folder := range c.folders {
		if !strings.Contains(folder, "/") {
			names[folder] = true
		}
	}
	entries, err := os.ReadDir(dir)
	for _, e := range entries {
		folder, known := names[e.Name()]
		if !known || folder != e.IsDir() || !folder && !e.Type().IsRegular() {
			return false
		}
	}
	return err == nil && len(entries) == len(names)
}

// timeOf returns the time of a folder.
func timeOf(dir string) (time.Time, error) {
	info, err := os.Lstat(dir)
	if err != nil {
		return time.Time{}, err
	}
	if !info.IsDir() {
		return time.Time{}, errChanged
	}
	return info.ModTime(), nil
}

// inspectAgain is inspect for a folder whose contents were known when the stage began, perhaps under another name.
func inspectAgain(at place, dir string, before contents) (contents, error) {
	if before.still(dir) {
		return before, nil
	}
	return inspect(at, dir)
}

// knows returns what stands in the output folder, if it is what the last stage left there.
func (p *Spare) knows(dir string) (c contents, still bool) {
	if p == nil || p.site.dates == nil {
		return c, false
	}
	manifest, err := os.ReadFile(filepath.Join(dir, ManifestName))
	if err != nil || string(manifest) != p.site.manifest || !p.site.still(dir) {
		return c, false
	}
	return p.site, true
}

// asPublished is what the output folder holds once the staged site is in its place, for the next stage: empty where
// the times of its folders do not tell, or nobody asks.
func (s *Stage) asPublished(manifest string) contents {
	if s.dates == nil {
		return contents{}
	}
	found := make(map[string]bool, len(s.sums))
	for file := range s.sums {
		found[file] = true
	}
	return contents{manifest: manifest, sums: s.sums, found: found, folders: s.foldersInOrder(), dates: s.dates}
}

// foldersInOrder are the folders of the site, each after the one that it is in.
func (s *Stage) foldersInOrder() []string { return slices.Sorted(maps.Values(s.paths.folders)) }

// dateFolders gives each folder of the staged site a time by which the next stage knows it: any other means that an
// entry came or went. It returns nil where that cannot be.
func (s *Stage) dateFolders(a *area) map[string]time.Time {
	if s.spare == nil {
		return nil
	}
	folders, entries, dates := s.foldersInOrder(), s.entries(), map[string]time.Time{}
	var guard sync.Mutex
	err := inParallel(folders, func(folder string) error {
		at, err := a.dated(folder, entries[folder])
		guard.Lock()
		defer guard.Unlock()
		dates[folder] = at
		return err
	})
	if err != nil || len(folders) > 0 && !a.datesMove(folders[0], dates[folders[0]]) {
		return nil
	}
	return dates
}

// entries counts what each folder of the site holds.
func (s *Stage) entries() map[string]int {
	out := map[string]int{}
	for file := range s.sums {
		out[path.Dir(file)]++
	}
	for _, folder := range s.paths.folders {
		out[path.Dir(folder)]++
	}
	return out
}

// dated returns the time of a folder of the area. One that the stage changed is dated a minute back, and counted
// afterwards: the clocks of disks tick slowly, and what others put into it in the tick in which the stage did would
// leave no other time behind. One that the stage did not touch has the time that it had in the spare site.
func (a *area) dated(folder string, entries int) (time.Time, error) {
	full := inside(a.dir, folder)
	at, err := timeOf(full)
	if err != nil {
		return at, err
	}
	_, touched := a.touched.Load(folder)
	if before, known := a.dateBefore(folder); known && !touched {
		if !at.Equal(before) {
			err = errChanged
		}
		return at, err
	}
	if err := os.Chtimes(full, time.Time{}, at.Add(-time.Minute).Truncate(time.Second)); err != nil {
		return at, err
	}
	if listed, err := list(full); err != nil || len(listed) != entries {
		return at, errors.Join(err, errChanged)
	}
	return timeOf(full) // as the disk keeps it
}

// dateBefore returns the time of a folder of the spare site.
func (a *area) dateBefore(folder string) (at time.Time, known bool) {
	if a.was == nil {
		return at, false
	}
	at, known = a.was.dates[folder]
	return at, known
}

// datesMove says whether a folder's time tells that an entry came, which not every disk does. It tries, and leaves
// the folder as it was.
func (a *area) datesMove(folder string, date time.Time) bool {
	name, full := path.Join(folder, stageMark), inside(a.dir, folder)
	f, err := a.root.OpenFile(filepath.FromSlash(name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, fileMode)
	if err != nil {
		return false
	}
	err = errors.Join(f.Close(), a.root.Remove(filepath.FromSlash(name)))
	at, timeErr := timeOf(full)
	err = errors.Join(err, timeErr, os.Chtimes(full, time.Time{}, date))
	return err == nil && !at.Equal(date)
}

// touch notes that the stage changes what the folder of a path holds.
func (a *area) touch(file string) { a.touched.Store(path.Dir(file), true) }
