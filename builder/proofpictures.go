package builder

import (
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"trug/builder/notes"
	"trug/calcblocks/kit/diag"
)

// pictureEndings are those of pictures that a page can show.
var pictureEndings = []string{".png", ".jpg", ".jpeg", ".gif", ".webp"}

// unusedPictures doubts a picture of the content folder that no note shows. A note that is not published yet
// counts: its pictures wait with it. A name in other letters is its own fault.
func (p *proofreader) unusedPictures() {
	used := map[string]bool{}
	mark := func(n *notes.Note, target string) { used[strings.ToLower(path.Join(path.Dir(n.Path), target))] = true }
	for _, n := range p.allNotes() {
		used[path.Join(path.Dir(n.Path), n.Page.Picture)] = true
		for _, i := range n.Document.Images {
			mark(n, i.Target)
		}
	}
	for _, name := range picturesIn(p.Handbook.files) {
		if !used[strings.ToLower(name)] {
			p.doubt(diag.Whole(path.Join(p.folder, name)), "unused-picture", "show it in a note, or take it out of the folder", "no note shows this picture")
		}
	}
}

// picturesIn lists the pictures of a content folder. What stands in hidden folders and in the grower's own
// dress is not looked at.
func picturesIn(content fs.FS) []string {
	var out []string
	_ = fs.WalkDir(content, ".", func(name string, d fs.DirEntry, err error) error { // what cannot be read was reported
		hidden := name != "." && strings.HasPrefix(path.Base(name), ".")
		switch {
		case err != nil:
			return nil
		case d.IsDir() && (hidden || name == "dress"):
			return fs.SkipDir
		case !d.IsDir() && !hidden && slices.Contains(pictureEndings, strings.ToLower(path.Ext(name))):
			out = append(out, name)
		}
		return nil
	})
	return out
}

// allNotes returns the notes, those that are not published among them.
func (p *proofreader) allNotes() []*notes.Note {
	return slices.SortedFunc(maps.Values(p.byPath), func(a, b *notes.Note) int { return strings.Compare(a.Path, b.Path) })
}
