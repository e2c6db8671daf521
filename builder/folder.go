package builder

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// A folder is the content folder as a file system that no path and no link leads out of. It holds nothing
// open: the folder may be renamed and another put in its place between two builds.
type folder struct {
	dir   string
	cache *Cache // told of every file that is read; nil = none
}

// Open opens a file or a folder inside it.
func (f *folder) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	return os.OpenInRoot(f.dir, filepath.FromSlash(name))
}

// ReadFile reads a file and tells the cache what was found.
func (f *folder) ReadFile(name string) ([]byte, error) {
	text, err := f.read(name)
	f.cache.took(name, text, err)
	return text, err
}

func (f *folder) read(name string) ([]byte, error) {
	file, err := f.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(file)
}
