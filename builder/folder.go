package builder

import (
	"bytes"
	"io/fs"
	"os"
	"path"
	"path/filepath"

	"trug/builder/history"
	"trug/calcblocks/kit/diag"
)

// A folder is the content folder as a file system that no path and no link leads out of. It holds nothing
// open: the folder may be renamed and another put in its place between two builds.
type folder string

// Open opens a file or a folder inside it. A pipe or a device is neither: reading one would never end.
func (f folder) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	root, err := os.OpenRoot(string(f))
	if err != nil {
		return nil, err
	}
	defer root.Close()
	info, err := root.Stat(filepath.FromSlash(name))
	if err == nil && !info.Mode().IsRegular() && !info.IsDir() {
		err = &fs.PathError{Op: "open", Path: name, Err: diag.ErrNoFile}
	}
	if err != nil {
		return nil, err
	}
	return root.Open(filepath.FromSlash(name))
}

// ReadFile reads a file that is not larger than its kind may be.
func (f folder) ReadFile(name string) ([]byte, error) {
	file, err := f.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err == nil && info.Size() > mostBytes(name) {
		err = &fs.PathError{Op: "read", Path: name, Err: diag.TooLarge{Bytes: info.Size(), Most: mostBytes(name)}}
	}
	if err != nil {
		return nil, err
	}
	text := bytes.NewBuffer(make([]byte, 0, info.Size()+bytes.MinRead))
	_, err = text.ReadFrom(file)
	return text.Bytes(), err
}

func mostBytes(name string) int64 {
	switch ending := path.Ext(name); {
	case name == history.File: // the program writes it
		return diag.MostFile
	case ending == ".md", ending == ".yaml", ending == ".html", ending == ".css", ending == ".js":
		return diag.MostText
	case ending == ".csv":
		return diag.MostTable
	}
	return diag.MostFile
}
