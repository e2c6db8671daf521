package publish

import (
	"fmt"
	"io/fs"
	"path"
	"strings"
	"unicode"
)

// checkPath says why a path cannot be a file of a site, or returns nil. It keeps every file inside
// the folder on each kind of disk, and every path on one line of the manifest.
func checkPath(p string) error {
	switch {
	case p == "" || p == ".":
		return fmt.Errorf("path %q names no file", p)
	case strings.ContainsAny(p, `\:`):
		return fmt.Errorf(`path %q holds a backslash or colon: parts are set off by "/"`, p)
	case strings.ContainsFunc(p, unicode.IsControl):
		return fmt.Errorf("path %q holds a control character", p)
	case !fs.ValidPath(p):
		return fmt.Errorf(`path %q must stay inside the site: no leading, doubled or closing "/", no "." or ".."`, p)
	case fold(path.Base(p)) == fold(ManifestName):
		return fmt.Errorf("path %q is the name of the manifest", p)
	case fold(path.Base(p)) == fold(stageMark):
		return fmt.Errorf("path %q is the name of the mark of a staging folder", p)
	}
	return nil
}

// A pathSet finds paths that cannot stand in one folder together on some disk.
type pathSet struct {
	files   map[string]string // folded path of a file: the path as first seen
	folders map[string]string // folded path of a folder: the path as first seen
}

func newPathSet() pathSet {
	return pathSet{files: map[string]string{}, folders: map[string]string{}}
}

// add takes the path of a file that checkPath lets pass, or says which earlier path it collides with.
func (s pathSet) add(p string) error {
	key := fold(p)
	if seen, taken := s.files[key]; taken {
		return clash(p, seen)
	}
	if seen, taken := s.folders[key]; taken {
		return fmt.Errorf("path %q is a file and also the folder %q", p, seen)
	}
	s.files[key] = p
	return s.addFolder(path.Dir(p))
}

// addFolder takes in a folder and those above it.
func (s pathSet) addFolder(dir string) error {
	key := fold(dir)
	if dir == "." || s.folders[key] == dir {
		return nil
	}
	if seen, taken := s.files[key]; taken {
		return fmt.Errorf("path %q is a folder and also the file %q", dir, seen)
	}
	if seen, taken := s.folders[key]; taken {
		return clash(dir, seen)
	}
	s.folders[key] = dir
	return s.addFolder(path.Dir(dir))
}

func clash(p, seen string) error {
	if p == seen {
		return fmt.Errorf("path %q comes twice", p)
	}
	return fmt.Errorf("paths %q and %q differ only by case and are one on some disks", seen, p)
}

// fold maps letters that differ only by case to one letter: the least of its simple case folding
// orbit (Unicode Standard, section 3.13), which is a small one if it is of ASCII. So most paths are their own
// folding.
func fold(s string) string {
	if !strings.ContainsFunc(s, func(r rune) bool { return r >= unicode.MaxASCII || unicode.IsUpper(r) }) {
		return s
	}
	return strings.Map(func(r rune) rune {
		least := r
		for next := unicode.SimpleFold(r); next != r; next = unicode.SimpleFold(next) {
			least = min(least, next)
		}
		if 'A' <= least && least <= 'Z' {
			least += 'a' - 'A'
		}
		return least
	}, s)
}
