package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// swap puts the stage in the place of the output folder and removes the old one. That is looked through once
// more after it was moved away, when no more files come into it: if some came meanwhile, all is put back.
// It returns the name of what could not be removed. With a spare the old one stays as that. before is what was in the
// output folder when the stage began.
func (d disk) swap(at place, stage string, before contents, spare *Spare) (left string, err error) {
	if missing(at.dir) {
		return "", d.moveIn(at, stage)
	}
	old, was := stage, contents{}
	if err := d.exchange(at.dir, stage); err != nil {
		old = at.old
		was, err = d.swapByRenaming(at, stage, before)
		if err != nil {
			return "", err
		}
	} else if was, err = inspectAgain(at, stage, before); err != nil {
		return "", errAnd(err, d.exchange(at.dir, stage))
	} else if spare != nil {
		spare.dir, spare.was = stage, was
		return "", nil
	}
	if d.removeListed(old, was) != nil {
		return old, nil
	}
	return "", nil
}

func (d disk) moveIn(at place, stage string) error {
	if err := d.rename(stage, at.dir); err != nil {
		return fmt.Errorf("cannot move the new site to %q: %w", at.shown, err)
	}
	return nil
}

// swapByRenaming is for systems and disks that cannot let two folders change places at once. Renaming a
// folder onto one with files in it fails, so the old one is moved away first; for a moment there is none.
func (d disk) swapByRenaming(at place, stage string, before contents) (was contents, err error) {
	if err := d.rename(at.dir, at.old); err != nil {
		return was, fmt.Errorf("cannot set %q aside: %w", at.shown, err)
	}
	if was, err = inspectAgain(at, at.old, before); err == nil {
		err = d.moveIn(at, stage)
	}
	if err != nil {
		err = d.putBack(at, err)
	}
	return was, err
}

// putBack brings the old site back after err, and says where it is if that fails as well.
func (d disk) putBack(at place, err error) error {
	if back := d.rename(at.old, at.dir); back != nil {
		return fmt.Errorf("%w; the old site is in %q: %w", err, at.old, back)
	}
	return err
}

// tidy clears up after a run that was cut short: an old site that was set aside goes back if its
// place is empty, and folders that are trug's own are removed.
func (d disk) tidy(at place, spare *Spare) error {
	if err := d.tidyOld(at); err != nil {
		return err
	}
	entries, err := os.ReadDir(at.parent)
	if err != nil {
		return fmt.Errorf("cannot read the folder of %q: %w", at.shown, err)
	}
	for _, e := range entries {
		name := filepath.Join(at.parent, e.Name())
		if !strings.HasPrefix(e.Name(), at.prefix) || !e.IsDir() || spare.holds(name) {
			continue
		}
		if err := d.removeLeaving(name); err != nil {
			return fmt.Errorf("cannot remove what a run that was cut short left: %w", err)
		}
	}
	return nil
}

func (d disk) tidyOld(at place) error {
	if missing(at.old) {
		return nil
	}
	c, own := readOwn(at.old)
	if !own {
		return refuse(at.shown, "output-old", "move it elsewhere: trug keeps the old site there while it swaps",
			"%q is in the way and holds files that trug did not write", at.old)
	}
	if missing(at.dir) {
		if err := d.rename(at.old, at.dir); err != nil {
			return fmt.Errorf("cannot bring back the old site of a run that was cut short: %w", err)
		}
		return nil
	}
	if err := d.removeListed(at.old, c); err != nil {
		return fmt.Errorf("cannot remove the old site of a run that was cut short: %w", err)
	}
	return nil
}

// removeLeaving removes a folder beside the output folder if it is a staging folder of a run that was cut
// short, or an old site that such a run took out of its place.
func (d disk) removeLeaving(name string) error {
	if info, err := os.Lstat(filepath.Join(name, stageMark)); err == nil && info.Mode().IsRegular() {
		return d.removeStage(name)
	}
	if c, own := readOwn(name); own {
		return d.removeListed(name, c)
	}
	return nil
}

// readOwn reads a folder and reports whether it is a real one with nothing in it but what a manifest of trug
// lists.
func readOwn(name string) (c contents, own bool) {
	info, err := os.Lstat(name)
	if err != nil || !info.IsDir() {
		return c, false
	}
	c, err = read(name)
	return c, err == nil && len(c.foreign) == 0
}

// removeStage removes a staging folder, by what it is known as such last: if it is cut short, the next run
// still knows the folder. A folder that is not there is no error.
func (d disk) removeStage(name string) error {
	entries, err := os.ReadDir(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.Name() == stageMark {
			continue
		}
		if err := d.removeAll(filepath.Join(name, e.Name())); err != nil {
			return err
		}
	}
	return d.removeAll(name)
}

// removeListed removes a site file by file, so that no other goes with it, and its manifest last.
func (d disk) removeListed(name string, c contents) error {
	gone := func(path string) error {
		if err := d.remove(inside(name, path)); !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return nil
	}
	for _, together := range append([][]string{slices.Collect(maps.Keys(c.found))}, byDepth(c.folders)...) {
		if err := atOnce(removers, together, gone); err != nil {
			return err
		}
	}
	if err := gone(ManifestName); err != nil {
		return err
	}
	return gone("")
}

// removers is how many files or folders are removed at once: on some disks a core mostly waits for each.
const removers = 32

// byDepth returns folders in groups, the deepest first.
func byDepth(folders []string) (groups [][]string) {
	for _, f := range folders {
		depth := strings.Count(f, "/")
		for len(groups) <= depth {
			groups = append(groups, nil)
		}
		groups[depth] = append(groups[depth], f)
	}
	slices.Reverse(groups)
	return groups
}
