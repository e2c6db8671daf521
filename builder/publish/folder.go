package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// A place is the output folder and the names beside it that publishing uses.
type place struct {
	shown  string // as the grower named it
	dir    string
	parent string
	lock   string // the file that says that a run is at work
	old    string // where the old site waits during a swap by two renamings
	prefix string // the names of staging folders start with it
}

func newPlace(dir string) (place, error) {
	full, err := filepath.Abs(dir)
	if err != nil {
		return place{}, fmt.Errorf("cannot find the folder %q: %w", dir, err)
	}
	if file, found := fileAbove(dir); found {
		return place{}, refuse(dir, "output-folder", `choose a folder such as "public" with --out`, "%q is a file, not a folder", file)
	}
	parent, base := filepath.Split(full)
	if base == "" || dir == "" {
		return place{}, refuse(dir, "output-folder", `choose a folder such as "public" with --out`,
			"%q cannot be the output folder", dir)
	}
	return place{
		shown: dir, dir: full, parent: filepath.Clean(parent),
		lock:   filepath.Join(parent, "."+base+".trug-lock"),
		old:    filepath.Join(parent, "."+base+".trug-old"),
		prefix: "." + base + ".trug-stage-",
	}, nil
}

// inside returns the name of a site's file in a folder.
func inside(dir, path string) string { return filepath.Join(dir, filepath.FromSlash(path)) }

// fileAbove returns the file that stands where a folder above dir is due.
func fileAbove(dir string) (string, bool) {
	for up := filepath.Dir(dir); ; up = filepath.Dir(up) {
		if info, err := os.Stat(up); err == nil {
			return up, !info.IsDir()
		}
		if up == filepath.Dir(up) {
			return "", false
		}
	}
}

func refuse(dir, code, hint, format string, args ...any) *Refusal {
	return &Refusal{Dir: dir, Code: code, Message: fmt.Sprintf(format, args...), Hint: hint}
}

// contents is what stands in a folder: its manifest with the sums that it lists, which of the listed files
// are there, and the paths of all else.
type contents struct {
	manifest string
	sums     map[string]digest // nil = no manifest
	found    map[string]bool
	foreign  []string
	folders  []string             // each after the one that it is in
	dates    map[string]time.Time // times that a stage gave the folders; nil = they tell nothing
}

var errNoManifest = errors.New("no " + ManifestName)

// read walks a folder without following links; it opens no file but the manifest. A folder with files but
// without a manifest that reads is an error; a folder that is missing, or holds no files at all, is none.
func read(dir string) (contents, error) {
	c := contents{found: map[string]bool{}}
	if missing(dir) {
		return c, nil
	}
	if err := c.readListed(dir); err != nil {
		return c, err
	}
	err := c.walk(dir)
	if err == nil && c.sums == nil && len(c.foreign) > 0 {
		err = errNoManifest
	}
	return c, err
}

// walk takes in what stands in a folder: all folders of one depth at once, then those in them.
func (c *contents) walk(dir string) error {
	for level := []string{""}; len(level) > 0; {
		listed := make(map[string][]fs.DirEntry, len(level))
		var guard sync.Mutex
		err := inParallel(level, func(below string) error {
			entries, err := list(inside(dir, below))
			guard.Lock()
			defer guard.Unlock()
			listed[below] = entries
			return err
		})
		if err != nil {
			return err
		}
		level = c.takeAll(level, listed)
	}
	return nil
}

// list is os.ReadDir without its order.
func list(dir string) ([]fs.DirEntry, error) {
	f, err := os.Open(dir)
	if err != nil {
		return nil, err
	}
	entries, err := f.ReadDir(-1)
	return entries, errors.Join(err, f.Close())
}

// takeAll takes in what folders hold, and returns the folders in them.
func (c *contents) takeAll(folders []string, listed map[string][]fs.DirEntry) (deeper []string) {
	for _, below := range folders {
		for _, e := range listed[below] {
			rel := path.Join(below, e.Name())
			if e.IsDir() {
				deeper = append(deeper, rel)
				continue
			}
			c.take(rel, e)
		}
	}
	c.folders = append(c.folders, deeper...)
	return deeper
}

// readListed reads the folder's manifest, if there is one.
func (c *contents) readListed(dir string) error {
	name := filepath.Join(dir, ManifestName)
	info, err := os.Lstat(name)
	if err != nil || !info.Mode().IsRegular() {
		return nil // a link or folder of that name is met on the walk, as a foreign file
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	c.manifest = string(text)
	c.sums, err = readManifest(c.manifest)
	return err
}

func (c *contents) take(rel string, e fs.DirEntry) {
	if rel == ManifestName && c.sums != nil {
		return
	}
	if _, ours := c.sums[rel]; !ours || !e.Type().IsRegular() {
		c.foreign = append(c.foreign, rel)
		return
	}
	c.found[rel] = true
}

// look reads the output folder and refuses it unless all in it is trug's own.
func look(at place, spare *Spare) (contents, error) {
	info, err := os.Lstat(at.dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return contents{}, nil
	case err != nil:
		return contents{}, err
	case info.Mode()&fs.ModeSymlink != 0:
		return contents{}, refuse(at.shown, "output-link", "name the folder that it points to with --out",
			"%q is a symbolic link", at.shown)
	case !info.IsDir():
		return contents{}, refuse(at.shown, "output-folder", "move it elsewhere, or choose another folder with --out",
			"%q is a file, not a folder", at.shown)
	}
	if known, still := spare.knows(at.dir); still {
		return known, nil
	}
	return inspect(at, at.dir)
}

// inspect reads the output folder under the name that it has at the moment.
func inspect(at place, dir string) (contents, error) {
	c, err := read(dir)
	return c, judge(at, c, err)
}

// judge turns what was found in the output folder into a refusal, or nil.
func judge(at place, c contents, err error) error {
	const elsewhere = "move the files elsewhere, or choose another folder with --out"
	var pathErr *fs.PathError
	switch {
	case errors.Is(err, errNoManifest):
		return refuse(at.shown, "output-foreign", elsewhere,
			"%q holds files that trug did not write: it has no %s", at.shown, ManifestName)
	case errors.As(err, &pathErr):
		return fmt.Errorf("cannot read the folder %q: %w", at.shown, err)
	case err != nil:
		return refuse(at.shown, "output-manifest", "bring the file back as it was, or "+elsewhere,
			"%q cannot be read: %v", filepath.Join(at.shown, ManifestName), err)
	case len(c.foreign) > 0:
		return refuse(at.shown, "output-foreign", elsewhere,
			"%q holds files that trug did not write: %s", at.shown, some(c.foreign))
	}
	return nil
}

// some names up to three paths and counts the rest.
func some(paths []string) string {
	paths = slices.Sorted(slices.Values(paths))
	shown := paths[:min(3, len(paths))]
	quoted := make([]string, len(shown))
	for i, p := range shown {
		quoted[i] = fmt.Sprintf("%q", p)
	}
	text := strings.Join(quoted, ", ")
	if rest := len(paths) - len(shown); rest > 0 {
		text += fmt.Sprintf(" and %d more", rest)
	}
	return text
}
