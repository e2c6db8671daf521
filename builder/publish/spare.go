package publish

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
)

// A Spare is the site before the published one, kept beside it for a program that publishes again and again: the next
// stage starts from its files and folders, and only where they differ is anything linked, written or removed. Laying
// a site of 7,000 files out anew takes longer than making the pages that one edit changes. The folder is what a run
// that was cut short would leave: if the program is killed, the next run clears it up. The zero value is ready and
// holds no site yet.
type Spare struct {
	dir  string   // "" = none
	was  contents // of dir
	site contents // of the published site; without dates nothing is known of it
}

// Begin is the Begin of a stage that starts from the spare site, and makes the site that it replaces the spare one.
func (p *Spare) Begin(dir string) (*Stage, error) { return onDisk.begin(dir, p) }

// Drop removes the spare site.
func (p *Spare) Drop() error { return p.drop(onDisk) }

func (p *Spare) drop(d disk) error {
	dir := p.take()
	if dir == "" {
		return nil
	}
	return d.removeLeaving(dir)
}

// holds says whether a folder is the spare site.
func (p *Spare) holds(dir string) bool { return p != nil && p.dir == dir }

// take hands the folder over.
func (p *Spare) take() (dir string) {
	if p == nil {
		return ""
	}
	dir, p.dir = p.dir, ""
	return dir
}

// openSpare makes the spare site the staging folder, if it is still whole and nobody else's. A disk that takes two
// cases of a name for one would keep the old case, so there the stage is laid out anew.
func (s *Stage) openSpare() (*area, error) {
	dir := s.spare.take()
	if dir == "" {
		return nil, nil
	}
	was, own := s.spare.was, true
	if !was.still(dir) {
		was, own = readOwn(dir)
	}
	_, err := os.Lstat(filepath.Join(dir, strings.ToUpper(ManifestName)))
	if !own || was.sums == nil || err == nil {
		return nil, s.disk.removeLeaving(dir)
	}
	return &area{dir: dir, was: &was}, nil
}

// same says whether the area has a file of the published site already: not one that looks like it, but the same
// file, by another name.
func (a *area) same(published, file string) bool {
	if a.was == nil || !a.was.found[file] {
		return false
	}
	there, err := os.Lstat(published)
	if err != nil {
		return false
	}
	here, err := os.Lstat(inside(a.dir, file))
	return err == nil && os.SameFile(there, here)
}

// makeRoom removes what the spare site has where a file is due. The file itself is shared with the published site, so
// it must never be written over.
func (a *area) makeRoom(d disk, file string) error {
	a.touch(file)
	if a.was == nil {
		return nil
	}
	return d.clear(a.root, file)
}

// turnFolder makes a folder where something is: a folder that is there already, or a file of the spare site, which goes.
func (a *area) turnFolder(name string) error {
	a.turning.Lock()
	defer a.turning.Unlock()
	info, err := a.root.Lstat(name)
	if err != nil || info.IsDir() {
		return err
	}
	if err := a.root.Remove(name); err != nil {
		return err
	}
	a.touch(filepath.ToSlash(name))
	if err := a.root.Mkdir(name, folderMode); !errors.Is(err, fs.ErrExist) {
		return err
	}
	return nil // another goroutine was quicker
}

// shed removes what the spare site has and the new one has not: folders with all in them, then files.
func (a *area) shed(d disk, files map[string]digest, paths pathSet) error {
	if a.was == nil {
		return nil
	}
	stays := func(folder string) bool { return folder == "." || paths.folders[fold(folder)] == folder }
	for _, folder := range a.was.folders {
		if _, turned := files[folder]; !turned && !stays(folder) && stays(path.Dir(folder)) {
			a.touch(folder)
			if err := d.clear(a.root, folder); err != nil {
				return err
			}
		}
	}
	for file := range a.was.found {
		if _, same := files[file]; !same && stays(path.Dir(file)) && !stays(file) {
			a.touch(file)
			if err := d.clear(a.root, file); err != nil {
				return err
			}
		}
	}
	return nil
}

// clearPath removes a file or folder under root; a path that leads out of root fails.
func clearPath(root *os.Root, path string) error { return root.RemoveAll(filepath.FromSlash(path)) }
