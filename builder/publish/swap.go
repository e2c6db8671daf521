package publish

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
)

const (
	fileMode   = 0o644
	folderMode = 0o755
)

// stage writes the site into a new folder beside the output folder and reads it back. On an error
// nothing of it is left.
func (d disk) stage(at place, s site) (string, error) {
	if err := os.MkdirAll(at.parent, folderMode); err != nil {
		return "", fmt.Errorf("cannot make the folder of %q: %w", at.shown, err)
	}
	stage, err := os.MkdirTemp(at.parent, at.prefix)
	if err != nil {
		return "", fmt.Errorf("cannot write beside %q: %w", at.shown, err)
	}
	if err := d.fill(stage, s); err != nil {
		err = fmt.Errorf("cannot stage the site for %q: %w", at.shown, err)
		return "", errAnd(err, d.clear(stage))
	}
	return stage, nil
}

// fill writes the manifest first, so that a run that is cut short leaves a folder that the next run
// knows as trug's own.
func (d disk) fill(stage string, s site) error {
	root, err := os.OpenRoot(stage)
	if err != nil {
		return err
	}
	defer root.Close()
	if err := os.Chmod(stage, folderMode); err != nil {
		return err
	}
	all := append([]File{{ManifestName, []byte(s.manifest)}}, s.files...)
	for _, f := range all {
		if err := d.write(root, f); err != nil {
			return err
		}
	}
	return verify(root, all)
}

// writeFile writes one file under root; a path that leads out of root fails. Modes are set after
// writing, because the process may be told to withhold some.
func writeFile(root *os.Root, f File) error {
	if dir := path.Dir(f.Path); dir != "." {
		if err := makeFolders(root, dir); err != nil {
			return err
		}
	}
	if err := root.WriteFile(filepath.FromSlash(f.Path), f.Body, fileMode); err != nil {
		return err
	}
	return root.Chmod(filepath.FromSlash(f.Path), fileMode)
}

func makeFolders(root *os.Root, dir string) error {
	made := ""
	for part := range strings.SplitSeq(dir, "/") {
		made = path.Join(made, part)
		name := filepath.FromSlash(made)
		err := root.Mkdir(name, folderMode)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err = errors.Join(err, root.Chmod(name, folderMode)); err != nil {
			return err
		}
	}
	return nil
}

// verify reads every staged file back: a full or faulty disk must not reach the published folder.
func verify(root *os.Root, files []File) error {
	for _, f := range files {
		body, err := root.ReadFile(filepath.FromSlash(f.Path))
		if err != nil {
			return err
		}
		if !bytes.Equal(body, f.Body) {
			return fmt.Errorf("%q reads back with other bytes than were written", f.Path)
		}
	}
	return nil
}

// swap puts the stage in the place of the output folder and leaves the old one under at.old.
// Renaming a folder onto one with files in it fails, so the old one is moved away first, looked
// through once more for files that came meanwhile, and put back if anything fails.
func (d disk) swap(at place, stage string) error {
	moved, err := d.setAside(at)
	if err != nil {
		return err
	}
	if err := d.rename(stage, at.dir); err != nil {
		err = fmt.Errorf("cannot move the new site to %q: %w", at.shown, err)
		if moved {
			err = d.putBack(at, err)
		}
		return err
	}
	return nil
}

// setAside moves the output folder to at.old and reports whether there was one.
func (d disk) setAside(at place) (bool, error) {
	if _, err := os.Lstat(at.dir); errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err := d.rename(at.dir, at.old); err != nil {
		return false, fmt.Errorf("cannot set %q aside: %w", at.shown, err)
	}
	c, err := read(at.old)
	if err := judge(at, c, err); err != nil {
		return false, d.putBack(at, err)
	}
	return true, nil
}

// putBack undoes setAside after err, and says where the old site is if that fails as well.
func (d disk) putBack(at place, err error) error {
	if back := d.rename(at.old, at.dir); back != nil {
		return fmt.Errorf("%w; the old site is in %q: %w", err, at.old, back)
	}
	return err
}

// tidy clears up after a run that was cut short: an old site that was set aside goes back if its
// place is empty, and folders that are trug's own are removed.
func (d disk) tidy(at place) error {
	if err := d.tidyOld(at); err != nil {
		return err
	}
	entries, err := os.ReadDir(at.parent)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("cannot read the folder of %q: %w", at.shown, err)
	}
	for _, e := range entries {
		name := filepath.Join(at.parent, e.Name())
		if !strings.HasPrefix(e.Name(), at.prefix) || !own(name) {
			continue
		}
		if err := d.clear(name); err != nil {
			return fmt.Errorf("cannot remove what a run that was cut short left: %w", err)
		}
	}
	return nil
}

func (d disk) tidyOld(at place) error {
	if _, err := os.Lstat(at.old); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if !own(at.old) {
		return refuse(at.shown, "output-old", "move it elsewhere: trug keeps the old site there while it swaps",
			"%q is in the way and holds files that trug did not write", at.old)
	}
	if _, err := os.Lstat(at.dir); errors.Is(err, fs.ErrNotExist) {
		if err := d.rename(at.old, at.dir); err != nil {
			return fmt.Errorf("cannot bring back the old site of a run that was cut short: %w", err)
		}
		return nil
	}
	if err := d.clear(at.old); err != nil {
		return fmt.Errorf("cannot remove the old site of a run that was cut short: %w", err)
	}
	return nil
}

// own reports whether a path is a real folder with nothing in it but what a manifest of trug lists.
func own(name string) bool {
	info, err := os.Lstat(name)
	if err != nil || !info.IsDir() {
		return false
	}
	c, err := read(name)
	return err == nil && len(c.foreign) == 0
}

// clear removes a folder that is trug's own, its manifest last: if it is cut short, the next run
// still knows the folder. A folder that is not there is no error.
func (d disk) clear(name string) error {
	entries, err := os.ReadDir(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.Name() == ManifestName {
			continue
		}
		if err := d.remove(filepath.Join(name, e.Name())); err != nil {
			return err
		}
	}
	return d.remove(name)
}
