package publish

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"sync"
)

const (
	fileMode   = 0o644
	folderMode = 0o755
)

// stageMark is an empty file in a staging folder as long as it has no manifest. Without it the next run
// could not tell the leavings of a run that was cut short from somebody's folder.
const stageMark = ".trug-stage"

// An area is the folder in which a site is staged.
type area struct {
	dir   string
	root  *os.Root
	shy   bool     // new files and folders get fewer permissions than they are asked for
	exist sync.Map // folders that are made

	was     *contents  // of the site that the folder held before; nil = it is new
	turning sync.Mutex // held while a file makes room for a folder
	touched sync.Map   // folders that hold another thing than before
}

func (a *area) open() (err error) {
	if a.root, err = os.OpenRoot(a.dir); err != nil {
		return err
	}
	if a.shy, err = mark(a.root); err != nil {
		return err
	}
	return os.Chmod(a.dir, folderMode)
}

// mark makes the mark and finds out whether the process withholds permissions: asking once spares a
// change of mode at each file.
func mark(root *os.Root) (shy bool, err error) {
	f, err := root.OpenFile(stageMark, os.O_WRONLY|os.O_CREATE|os.O_EXCL, fileMode|folderMode)
	if err != nil {
		return false, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return false, err
	}
	const wanted = fileMode | folderMode
	return runtime.GOOS != "windows" && info.Mode()&wanted != wanted, nil
}

// write puts a new file into the area. Its bytes are not read back: a write that fell short is an error of
// the write or of closing. Only its size is asked for, which costs next to nothing.
func (a *area) write(d disk, f File) error {
	if err := a.makeFolder(path.Dir(f.Path)); err != nil {
		return err
	}
	if err := a.makeRoom(d, f.Path); err != nil {
		return err
	}
	size, err := d.write(a.root, f)
	if err != nil {
		return err
	}
	if size != int64(len(f.Body)) {
		return fmt.Errorf("%q has %d bytes after %d were written", f.Path, size, len(f.Body))
	}
	if a.shy {
		return a.root.Chmod(filepath.FromSlash(f.Path), fileMode)
	}
	return nil
}

func (a *area) makeFolder(dir string) error {
	if dir == "." {
		return nil
	}
	if _, exists := a.exist.Load(dir); exists {
		return nil
	}
	if err := a.makeFolder(path.Dir(dir)); err != nil {
		return err
	}
	name := filepath.FromSlash(dir)
	err := a.root.Mkdir(name, folderMode)
	if err == nil {
		a.touch(dir)
	}
	if errors.Is(err, fs.ErrExist) {
		err = a.turnFolder(name)
	}
	if err != nil {
		return err
	}
	if a.shy {
		if err := a.root.Chmod(name, folderMode); err != nil {
			return err
		}
	}
	a.exist.Store(dir, true)
	return nil
}

// finish writes the manifest, flushes it to the disk, and only then takes the mark away.
func (a *area) finish(d disk, manifest string) error {
	if err := a.write(d, File{ManifestName, []byte(manifest)}); err != nil {
		return err
	}
	f, err := a.root.OpenFile(ManifestName, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return err
	}
	return a.root.Remove(stageMark)
}

// close lets go of the folder, so that every system lets it be moved and removed.
func (a *area) close() {
	if a.root != nil {
		_ = a.root.Close()
	}
}

// writeFile writes one new file under root; a path that leads out of root fails.
func writeFile(root *os.Root, f File) (size int64, err error) {
	file, err := root.OpenFile(filepath.FromSlash(f.Path), os.O_WRONLY|os.O_CREATE|os.O_EXCL, fileMode)
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	if _, err = file.Write(f.Body); err != nil {
		return 0, err
	}
	info, err := file.Stat()
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}

var chunks = sync.Pool{New: func() any { return new([64 << 10]byte) }}

// holds reports whether a file holds just the body, and whether its mode is that of a new file.
func holds(name string, body []byte) (same, usual bool) {
	f, err := os.Open(name)
	if err != nil {
		return false, false
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() || info.Size() != int64(len(body)) {
		return false, false
	}
	chunk := chunks.Get().(*[64 << 10]byte)
	defer chunks.Put(chunk)
	for len(body) > 0 {
		n, err := io.ReadFull(f, chunk[:min(len(chunk), len(body))])
		if err != nil || !bytes.Equal(chunk[:n], body[:n]) {
			return false, false
		}
		body = body[n:]
	}
	return true, runtime.GOOS == "windows" || info.Mode().Perm() == fileMode
}

// makeFolders makes a folder and those above it and returns the new ones, the outermost first.
func makeFolders(dir string) (made []string, err error) {
	for up := dir; ; up = filepath.Dir(up) {
		if _, err := os.Stat(up); !errors.Is(err, fs.ErrNotExist) || up == filepath.Dir(up) {
			break
		}
		made = append([]string{up}, made...)
	}
	return made, os.MkdirAll(dir, folderMode)
}

// removeEmpty removes the folders that are still empty, the innermost first.
func removeEmpty(made []string) {
	for i := len(made) - 1; i >= 0; i-- {
		_ = os.Remove(made[i])
	}
}
