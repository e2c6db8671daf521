package main

import (
	"bytes"
	"context"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"text/template"
	"time"
)

//go:embed starter
var starter embed.FS

type startVerb struct {
	Dir      string `arg:"" help:"Folder of the new handbook; made if it is not there." placeholder:"DIR"`
	Measures string `help:"Measures that it is written in: us or metric." enum:"us,metric" default:"us"`
}

// Help is printed below the options.
func (v *startVerb) Help() string {
	return `Examples:
  trug start bench                      bench/content/ becomes a small handbook to change
  trug start bench --measures metric`
}

// Run writes the starter handbook into Dir/content: all of it, or nothing.
func (v *startVerb) Run(_ context.Context, c Console) error {
	if err := v.refuse(); err != nil {
		return err
	}
	files, err := v.files(c.Now())
	if err != nil {
		return err
	}
	if err := v.write(files); err != nil {
		return fmt.Errorf("cannot write a handbook into %q: %w", v.Dir, reasonOf(err))
	}
	fmt.Fprintf(c.Out, "%s: %s\n\nNext:\n", filepath.Join(v.Dir, "content"), count(len(files), "file"))
	for _, line := range v.next(called()) {
		fmt.Fprintf(c.Out, "  %s\n", line)
	}
	return nil
}

// refuse says what stands in the way of a new handbook: a file, or a folder that is not empty.
func (v *startVerb) refuse() error {
	info, err := os.Stat(v.Dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("cannot look into %q: %w", v.Dir, reasonOf(err))
	case !info.IsDir():
		return usageError{fmt.Sprintf("%q is a file, not a folder", v.Dir), "name a new or an empty folder"}
	}
	entries, err := os.ReadDir(v.Dir)
	if err != nil {
		return fmt.Errorf("cannot look into %q: %w", v.Dir, reasonOf(err))
	}
	if len(entries) > 0 {
		return usageError{
			fmt.Sprintf("the folder %q is not empty: it holds %q", v.Dir, entries[0].Name()),
			fmt.Sprintf("name a new or an empty folder, such as %q", filepath.Join(v.Dir, "bench")),
		}
	}
	return nil
}

// A starterFile is one file of the new handbook.
type starterFile struct {
	name string
	text []byte
}

// files returns the starter's files, written in the measures asked for.
func (v *startVerb) files(today time.Time) ([]starterFile, error) {
	pick := func(us, metric string) string {
		if v.Measures == "metric" {
			return metric
		}
		return us
	}
	all, err := template.New("").Funcs(template.FuncMap{"pick": pick}).ParseFS(starter, "starter/*")
	if err != nil {
		return nil, err
	}
	entries, err := starter.ReadDir("starter")
	var files []starterFile
	for _, e := range entries {
		var text bytes.Buffer
		err = errors.Join(err, all.ExecuteTemplate(&text, e.Name(), struct{ Today string }{today.Format(time.DateOnly)}))
		files = append(files, starterFile{path.Base(e.Name()), text.Bytes()})
	}
	return files, err
}

// write stages the files in a folder beside their place and renames it. What it made is taken away again
// when it fails.
func (v *startVerb) write(files []starterFile) (err error) {
	made := firstMissing(v.Dir)
	if err := os.MkdirAll(v.Dir, 0o755); err != nil {
		return errors.Join(err, clearAway(made))
	}
	stage, err := os.MkdirTemp(v.Dir, ".content-")
	if err != nil {
		return errors.Join(err, clearAway(made))
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.RemoveAll(stage), clearAway(made))
		}
	}()
	if err := os.Chmod(stage, 0o755); err != nil {
		return err
	}
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(stage, f.name), f.text, 0o644); err != nil {
			return err
		}
	}
	return os.Rename(stage, filepath.Join(v.Dir, "content"))
}

// firstMissing returns the topmost folder on the way to dir that is not there yet, "" when all are.
func firstMissing(dir string) string {
	missing := ""
	for {
		if _, err := os.Lstat(dir); !errors.Is(err, fs.ErrNotExist) {
			return missing
		}
		missing = dir
		up := filepath.Dir(dir)
		if up == dir {
			return missing
		}
		dir = up
	}
}

// clearAway removes a folder that this run made.
func clearAway(made string) error {
	if made == "" {
		return nil
	}
	return os.RemoveAll(made)
}

// reasonOf leaves the path out of an error of the file system: the message around it names the folder.
func reasonOf(err error) error {
	var at *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &at):
		return at.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// next returns the commands that come next, which work as they stand for how the program was called.
func (v *startVerb) next(trug string, moves bool) []string {
	dir := inShell(v.Dir)
	switch {
	case !moves:
		folders := " --in " + inShell(filepath.Join(v.Dir, "content")) + " --out " + inShell(filepath.Join(v.Dir, "public"))
		return []string{trug + " build" + folders, trug + " watch" + folders}
	case filepath.Clean(v.Dir) == ".":
		return []string{trug + " build", trug + " show spring-tubs"}
	}
	return []string{"cd " + dir, trug + " build"}
}
