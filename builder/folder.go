package builder

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// A folder is the content folder as a file system that no path and no link leads out of. It holds nothing
// open: the folder may be renamed and another put in its place between two builds.
type folder string

// Open opens a file or a folder inside it.
func (f folder) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	return os.OpenInRoot(string(f), filepath.FromSlash(name))
}

// ReadFile reads a file.
func (f folder) ReadFile(name string) ([]byte, error) {
	file, err := f.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(file)
}
