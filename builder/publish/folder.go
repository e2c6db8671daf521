package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// A place is the output folder and the names beside it that publishing uses.
type place struct {
	shown  string // as the grower named it
	dir    string
	parent string
	old    string // where the old site waits during the swap
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
		old:    filepath.Join(parent, "."+base+".trug-old"),
		prefix: "." + base + ".trug-stage-",
	}, nil
}

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

// contents is what stands in a folder: its manifest, the sum of every file that the manifest lists,
// and the paths of all else.
type contents struct {
	there    bool
	manifest string
	sums     map[string]string
	foreign  []string
}

var errNoManifest = errors.New("no " + ManifestName)

// read walks a folder without following links. A folder with files but without a manifest that
// reads is an error; a folder that is missing, or holds no files at all, is none.
func read(dir string) (contents, error) {
	c := contents{sums: map[string]string{}}
	if _, err := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) {
		return c, nil
	}
	c.there = true
	listed, err := c.readListed(dir)
	if err != nil {
		return c, err
	}
	err = filepath.WalkDir(dir, func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		return c.take(dir, p, e, listed)
	})
	if err == nil && listed == nil && len(c.foreign) > 0 {
		err = errNoManifest
	}
	return c, err
}

// readListed returns the sums of the folder's manifest, nil when there is none.
func (c *contents) readListed(dir string) (map[string]string, error) {
	name := filepath.Join(dir, ManifestName)
	info, err := os.Lstat(name)
	if err != nil || !info.Mode().IsRegular() {
		return nil, nil // a link or folder of that name is met on the walk, as a foreign file
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	c.manifest = string(text)
	return readManifest(c.manifest)
}

func (c *contents) take(dir, p string, e fs.DirEntry, listed map[string]string) error {
	rel, err := filepath.Rel(dir, p)
	if err != nil {
		return err
	}
	rel = filepath.ToSlash(rel)
	if rel == ManifestName && c.manifest != "" {
		return nil
	}
	if _, ours := listed[rel]; !ours || !e.Type().IsRegular() {
		c.foreign = append(c.foreign, rel)
		return nil
	}
	body, err := os.ReadFile(p)
	if err != nil {
		return err
	}
	c.sums[rel] = sum(body)
	return nil
}

// look reads the output folder and refuses it unless all in it is trug's own.
func look(at place) (contents, error) {
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
	c, err := read(at.dir)
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
