// Package layouts prints pages and parts as HTML. Its templates, style sheet and script are embedded; a
// handbook's own, in its dress folder, replace them by name.
package layouts

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"path"
	"slices"
	"strings"
)

//go:embed pages parts look
var ours embed.FS

// ownSheet is the style sheet of a dress; it comes after ours, so that a rule there wins.
const ownSheet = "dress.css"

// Layouts is the set of templates and the files that every page loads.
type Layouts struct {
	set    *template.Template
	assets []Asset
}

// An Asset is a file at the root of the site.
type Asset struct {
	Name string
	Body []byte
}

// New reads the templates, then those of the dress, which may be nil. In a dress, pages/NAME.html and
// parts/NAME.html replace the template of that name, look/trug.css and look/trug.js the files of that
// name, and dress.css is loaded after our style sheet. It fails on a template that does not parse and on
// a file that replaces nothing.
func New(dress fs.FS) (*Layouts, error) {
	l := &Layouts{set: template.New("layouts").Funcs(words)}
	for _, folder := range []string{"pages", "parts", "look"} {
		if err := l.read(ours, folder, nil); err != nil {
			return nil, err
		}
	}
	if dress == nil {
		return l, nil
	}
	return l, l.wear(dress)
}

// Assets returns the style sheets and the script, to be written at the root of the site.
func (l *Layouts) Assets() []Asset {
	return slices.Clone(l.assets)
}

// read takes the files of one folder in order of name. With known, a name outside it is an error.
func (l *Layouts) read(from fs.FS, folder string, known func(name string) bool) error {
	files, err := fs.ReadDir(from, folder)
	if err != nil {
		return err
	}
	for _, file := range files {
		name := path.Join(folder, file.Name())
		if known != nil && !known(name) {
			return fmt.Errorf("dress file %q replaces nothing: name it after one of the files in %s", name, folder)
		}
		text, err := fs.ReadFile(from, name)
		if err != nil {
			return err
		}
		if err := l.take(name, text); err != nil {
			return err
		}
	}
	return nil
}

// take adds a template or an asset, in the place of the one of the same name when there is one.
func (l *Layouts) take(name string, text []byte) error {
	if strings.HasSuffix(name, ".html") {
		if _, err := l.set.New(name).Parse(string(text)); err != nil {
			return fmt.Errorf("template %q: %w", name, err)
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

// wear reads a dress over what is there.
func (l *Layouts) wear(dress fs.FS) error {
	known := func(name string) bool {
		file, err := fs.Stat(ours, name)
		return err == nil && !file.IsDir()
	}
	for _, folder := range []string{"pages", "parts", "look"} {
		if _, err := fs.Stat(dress, folder); err != nil {
			continue // a dress holds what it changes and no more
		}
		if err := l.read(dress, folder, known); err != nil {
			return err
		}
	}
	if text, err := fs.ReadFile(dress, ownSheet); err == nil {
		return l.take(ownSheet, text)
	}
	return nil
}

// dressed says whether the dress has a style sheet of its own.
func (l *Layouts) dressed() bool {
	return slices.ContainsFunc(l.assets, func(a Asset) bool { return a.Name == ownSheet })
}

// print runs one template. What it returns is markup that the template has escaped.
func (l *Layouts) print(name string, model any) (template.HTML, error) {
	var b bytes.Buffer
	if err := l.set.ExecuteTemplate(&b, name, model); err != nil {
		return "", fmt.Errorf("template %q: %w", name, err)
	}
	return template.HTML(b.String()), nil
}
