package builder

import (
	"html/template"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/calcblocks/kit/diag"
)

// unit computes the blocks of a unit and, as soon as that can be, writes the note that holds them and their own
// pages: then their data and views can go. That is how a large handbook fits into memory.
func (s *rendering) unit(u *unit) error {
	if u.phase < 0 {
		return s.inFull(u)
	}
	s.ready.Do(s.spin)
	if s.broken || u.phase > 0 || u.note != nil && !s.apart[u.note.Path] {
		return s.inFull(u)
	}
	if s.known(u) && s.again(s.sheetKey(u)) {
		return nil
	}
	if err := s.inFull(u); err != nil {
		return err
	}
	for _, p := range u.blocks {
		if p.faulty {
			return nil // its note is read for dead links with the others
		}
	}
	if err := s.written(u, s.sheetKey(u)); err != nil {
		return err
	}
	s.release(u)
	return nil
}

// others writes the notes, and recipes of no note, that were not written as soon as they were computed.
func (s *rendering) others() error {
	var rest []*unit
	for _, n := range s.Notes {
		if !s.done[n.Path] {
			rest = append(rest, &unit{note: n, blocks: s.fencesOf(n)})
		}
	}
	for _, p := range s.recipes {
		if p.Note == nil && !s.done[p.ID] {
			rest = append(rest, &unit{blocks: []*Placed{p}})
		}
	}
	return s.each(len(rest), func(i int) error {
		key := ""
		if u := rest[i]; !s.broken && u.note != nil && s.apart[u.note.Path] {
			if key = s.sheetKey(u); s.again(key) {
				return nil
			}
		}
		return s.written(rest[i], key)
	})
}

// fencesOf returns the blocks that stand in a note.
func (s *rendering) fencesOf(n *notes.Note) []*Placed {
	var out []*Placed
	for _, p := range s.inNote[n.Path] {
		if p.fence != nil {
			out = append(out, p)
		}
	}
	return out
}

// written writes the note of a unit, where it has a published one, and the pages that its blocks have to themselves.
func (s *rendering) written(u *unit, key string) error {
	w := s.fork()
	w.sheet.key = key
	if u.note != nil && !u.note.Page.Hidden {
		w.sheet.note = u.note.Path
		if err := w.spare(w.notePage(u.note), ""); err != nil {
			return err
		}
	}
	for _, p := range u.blocks {
		at, own := ownAddress(p)
		if !own || !p.visible() || s.byID[p.ID] != p {
			continue
		}
		w.sheet.blocks = append(w.sheet.blocks, p.ID)
		if err := w.spare(w.ownPage(p, at), ""); err != nil {
			return err
		}
	}
	w.settle()
	return nil
}

// body is the HTML of a note.
func (s *rendering) body(n *notes.Note) template.HTML {
	return template.HTML(n.Document.HTML(markdown.Hooks{
		Block: func(b *markdown.Block) string { return s.blockHTML(n, b, 0) },
		Link:  func(target string, at diag.Position) string { return s.link(n, target, at) },
		Text:  s.figureWords,
		Image: func(i markdown.Image) markdown.Picture { return s.image(n, i) },
	}))
}

// known takes the results that an earlier build computed from the same; false when one is missing, or its numbers
// are asked for and are not kept.
func (s *rendering) known(u *unit) bool {
	for _, p := range u.blocks {
		was, found := s.Handbook.known(p)
		if !found || s.wanted[p.ID] && !was.whole {
			return false
		}
		s.take(p, was)
	}
	return true
}

// sheetKey is the sum of all that the sheet of a computed unit is written from, "" where that cannot be told: a picture
// may change under the same name.
func (s *rendering) sheetKey(u *unit) string {
	parts := []string{s.web.sum}
	if n := u.note; n != nil {
		if len(n.Document.Images) > 0 || n.Page.Picture != "" {
			return ""
		}
		parts = append(parts, n.Path, n.File.Text)
	}
	for _, p := range u.blocks {
		parts = append(parts, p.sum, p.ID)
		for _, n := range s.usedIn[p.ID] {
			parts = append(parts, n.Path)
		}
	}
	return sumOf(parts...)
}

// release lets go of the data and views of blocks that nobody asks for any more.
func (s *rendering) release(u *unit) {
	if s.keep {
		return
	}
	for _, p := range u.blocks {
		if !s.wanted[p.ID] {
			s.Handbook.release(p)
		}
	}
}
