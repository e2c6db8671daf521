// Package layouts prints pages and parts as HTML. Its templates, style sheet and script are embedded; a
// handbook's own, in its dress folder, replace them by name.
package layouts

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
)

//go:embed pages parts look
var ours embed.FS

// ownSheet is the style sheet of a dress; it comes after ours, so that a rule there wins.
const ownSheet = "dress.css"

// Layouts is the set of templates and the files that every page loads.
type Layouts struct {
	set    *template.Template
	assets []Asset
	own    map[string]string // the dress's templates by name

	// what comes again in many blocks
	terms recurring[string]
	cites recurring[string]
	works recurring[workModel]
}

// An Asset is a file at the root of the site.
type Asset struct {
	Name string
	Body []byte
}

// New reads the templates, then those of the dress, which may be nil. In a dress, pages/NAME.html and
// parts/NAME.html replace the template of that name, look/trug.css and look/trug.js the files of that
// name, and dress.css is loaded after our style sheet. A template that does not parse and a file that replaces
// nothing are slips, all of which are returned joined.
func New(dress fs.FS) (*Layouts, error) {
	l := &Layouts{set: template.New("layouts").Funcs(words), own: map[string]string{}}
	for _, folder := range folders {
		if err := l.read(ours, folder, false); err != nil {
			return nil, err
		}
	}
	if dress == nil {
		return l, nil
	}
	if err := l.wear(dress); err != nil {
		return nil, err
	}
	return l, nil
}

// Assets returns the style sheets and the script, to be written at the root of the site.
func (l *Layouts) Assets() []Asset {
	return slices.Clone(l.assets)
}

// read takes the files of one folder in order of name. Those of a dress have to replace one of ours.
func (l *Layouts) read(from fs.FS, folder string, isDress bool) error {
	files, err := fs.ReadDir(from, folder)
	if err != nil {
		return err
	}
	var wrong []error
	for _, file := range files {
		name := path.Join(folder, file.Name())
		text, err := fs.ReadFile(from, name)
		switch {
		case isDress && !replaces(name):
			wrong = append(wrong, &Slip{Name: name, Message: "this file replaces nothing", Wrong: name, There: names(folder)})
			continue
		case err != nil:
			return err
		case isDress:
			l.own[name] = string(text)
		}
		wrong = append(wrong, l.take(name, text))
	}
	return errors.Join(wrong...)
}

// take adds a template or an asset, in the place of the one of the same name when there is one.
func (l *Layouts) take(name string, text []byte) error {
	if strings.HasSuffix(name, ".html") {
		if _, err := l.set.New(name).Parse(string(text)); err != nil {
			return l.slip(name, err)
		}
		return nil
	}
	asset := Asset{Name: path.Base(name), Body: text}
	at := slices.IndexFunc(l.assets, func(a Asset) bool { return a.Name == asset.Name })
	if at < 0 {
		l.assets = append(l.assets, asset)
	} else {
		l.assets[at] = asset
	}
	return nil
}

// folders are those of our templates and assets, and of a dress.
var folders = []string{"pages", "parts", "look"}

// wear reads a dress over what is there. A dress holds what it changes and no more.
func (l *Layouts) wear(dress fs.FS) error {
	files, err := fs.ReadDir(dress, ".")
	if err != nil {
		return err
	}
	var wrong []error
	for _, file := range files {
		switch name := file.Name(); {
		case slices.Contains(folders, name):
			wrong = append(wrong, l.read(dress, name, true))
		case name == ownSheet:
			text, err := fs.ReadFile(dress, name)
			wrong = append(wrong, err, l.take(name, text))
		case !strings.HasPrefix(name, "."):
			wrong = append(wrong, &Slip{Name: name, Message: "this file replaces nothing", Wrong: name, There: append([]string{ownSheet}, folders...)})
		}
	}
	return errors.Join(wrong...)
}

// replaces says whether we have a file of that name.
func replaces(name string) bool {
	file, err := fs.Stat(ours, name)
	return err == nil && !file.IsDir()
}

// names lists our files in a folder.
func names(folder string) []string {
	files, _ := fs.ReadDir(ours, folder) // embedded
	var out []string
	for _, f := range files {
		out = append(out, path.Join(folder, f.Name()))
	}
	return out
}

// dressed says whether the dress has a style sheet of its own.
func (l *Layouts) dressed() bool {
	return slices.ContainsFunc(l.assets, func(a Asset) bool { return a.Name == ownSheet })
}

// print runs one template. What it returns is markup that the template has escaped.
func (l *Layouts) print(name string, model any) (template.HTML, error) {
	if !reads(name, model) {
		return "", fmt.Errorf("layouts: the template %q is given a %T, and described otherwise", name, model)
	}
	b := sheets.Get().(*bytes.Buffer)
	defer sheets.Put(b)
	b.Reset()
	if err := l.set.ExecuteTemplate(b, name, model); err != nil {
		return "", l.slip(name, err)
	}
	return template.HTML(b.String()), nil
}

// sheets are buffers to print on, each grown to what was printed before.
var sheets = sync.Pool{New: func() any { return new(bytes.Buffer) }}
