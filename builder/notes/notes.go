// Package notes finds the notes of a handbook and holds each one's text for positions.
package notes

import (
	"io/fs"
	"path"
	"strings"
	"unicode"
	"unicode/utf8"

	"trug/builder/markdown"
	"trug/builder/site"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
)

// A Note is one Markdown file of the content folder.
type Note struct {
	Path     string // "tubs/spring.md"
	Address  site.Address
	File     *diag.File
	Document *markdown.Document
	Page     facts.Page // filled in when the note's page block is computed
}

// Title returns the note's first heading, or its file name where it has none.
func (n *Note) Title() string {
	if n.Document.Title != "" {
		return n.Document.Title
	}
	return strings.TrimSuffix(path.Base(n.Path), ".md")
}

// TitleID returns the id of the heading that is the note's title, "" when the title is no heading of its own.
func (n *Note) TitleID() string {
	if all := n.Document.Headings; len(all) > 0 && all[0].Level == 1 {
		return all[0].ID
	}
	return ""
}

// Find lists the notes of a content folder, in the order of their paths. name is the folder as messages print
// it. Hidden files and the folder of the grower's own dress are left out.
func Find(content fs.FS, name string, report func(diag.Diagnostic)) []string {
	var out []string
	walk := func(file string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			report(diag.Unread(diag.Whole(path.Join(name, file)), "this", err))
		case skip(file, d):
			return fs.SkipDir
		case !d.IsDir() && strings.HasSuffix(file, ".md") && !strings.HasPrefix(path.Base(file), "."):
			out = append(out, file)
		case d.Type()&fs.ModeSymlink != 0 && !strings.HasPrefix(path.Base(file), "."):
			leavesOut(content, name, file, report)
		}
		return nil
	}
	if err := fs.WalkDir(content, ".", walk); err != nil {
		report(diag.Unread(diag.Whole(name), "the folder", err))
	}
	return out
}

// Apart leaves out the notes that would stand at the address of one before, which it reports.
func Apart(all []*Note, report func(diag.Diagnostic)) []*Note {
	var out []*Note
	places := map[site.Address]*Note{}
	for _, n := range all {
		for part := range strings.SplitSeq(strings.TrimSuffix(n.Path, ".md"), "/") {
			if slug := data.Slug(part); data.Reserved(slug) {
				d := diag.Errorf(diag.Position{File: n.File}, "reserved-name", "%q is a name that some computers keep for themselves", slug)
				report(d.Hint("give the note or its folder another name"))
			}
		}
		if before := places[n.Address]; before != nil {
			d := diag.Errorf(diag.Position{File: n.File}, "same-address", "this note would stand at the same address as %q", before.Path)
			report(d.Hint("give one of them another file name"))
			continue
		}
		places[n.Address] = n
		out = append(out, n)
	}
	return out
}

func skip(file string, d fs.DirEntry) bool {
	return d.IsDir() && file != "." && (strings.HasPrefix(d.Name(), ".") || file == "dress")
}

// leavesOut reports a link, other than to a note, that leads to a folder or to nothing in the content folder: what
// stands there is left out.
func leavesOut(content fs.FS, name, file string, report func(diag.Diagnostic)) {
	info, err := fs.Stat(content, file)
	if err == nil && !info.IsDir() {
		return
	}
	d := diag.Errorf(diag.Whole(path.Join(name, file)), "left-out", "this link to a folder is not followed").Hint("move the folder itself here")
	if err != nil {
		d = diag.Unread(d.At, "what this link leads to", err)
	}
	d.Severity = diag.Doubt
	report(d)
}

// foreign returns where a text holds a byte that is not UTF-8, else where it holds the first control character,
// else -1.
func foreign(text string) int {
	control := -1
	for i, r := range text {
		if r == utf8.RuneError && !strings.HasPrefix(text[i:], string(utf8.RuneError)) {
			return i
		}
		if control < 0 && unicode.IsControl(r) && !strings.ContainsRune("\n\t\r\f", r) {
			control = i
		}
	}
	return control
}

// Text reads the text of a note that Find listed, nil when it is no text, which is reported.
func Text(content fs.FS, name, file string, report func(diag.Diagnostic)) *diag.File {
	full := path.Join(name, file)
	text, err := fs.ReadFile(content, file)
	if err != nil {
		report(diag.Unread(diag.Whole(full), "this note", err))
		return nil
	}
	f := diag.NewFile(full, string(text))
	if at := foreign(f.Text); at >= 0 {
		d := diag.Errorf(f.At(at), "control-character", "this note holds a control character").Hint("take it out")
		if !utf8.Valid(text) {
			d = diag.Errorf(f.At(at), "not-utf-8", "this note is not UTF-8 text").Hint("save it as UTF-8")
		}
		report(d)
		return nil
	}
	return f
}

// Parse reads the note at a path of the content folder from its text.
func Parse(file string, text *diag.File, kinds []string, report func(diag.Diagnostic)) *Note {
	return &Note{
		Path: file, Address: site.Note(file), File: text,
		Document: markdown.Parse(text, markdown.Options{Kinds: kinds}, report),
	}
}
