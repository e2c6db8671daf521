package builder

import (
	"fmt"
	"net/url"
	"path"
	"slices"
	"strings"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/builder/site"
	"trug/calcblocks/kit/diag"
)

// link turns the target of a link in a note into the address to write, and reports one that leads
// nowhere: to a note by its path, to a page of the site by its address from the root ("/recipes/x/"), to
// a heading ("#heading"), or out of the site.
func (s *rendering) link(n *notes.Note, target string, at diag.Position) string {
	if strings.HasPrefix(target, figureScheme) {
		return s.figureHref(n, target, at)
	}
	if out, err := url.Parse(target); err == nil && out.Scheme != "" {
		return target
	}
	file, anchor, _ := strings.Cut(target, "#")
	if decoded, err := url.PathUnescape(anchor); err == nil {
		anchor = decoded
	}
	switch {
	case file == "":
		s.checkAnchor(n, anchor, at)
		return "#" + anchor
	case strings.HasPrefix(file, "/"):
		return s.siteLink(n, strings.TrimPrefix(file, "/"), anchor, at)
	}
	return s.noteLink(n, file, anchor, at)
}

func (s *rendering) noteLink(n *notes.Note, file, anchor string, at diag.Position) string {
	if decoded, err := url.PathUnescape(file); err == nil {
		file = decoded
	}
	name := path.Join(path.Dir(n.Path), file)
	to := s.byPath[name]
	if to == nil || to.Page.Hidden {
		d := diag.Errorf(at, "dead-link", "there is no note %q", name)
		s.Report(d.Hint("%s", s.nearNote(n, name)))
		return ""
	}
	s.checkAnchor(to, anchor, at)
	return n.Address.To(to.Address) + withHash(anchor)
}

// nearNote suggests the note that a path may have meant, as a link from n has to write it.
func (s *rendering) nearNote(n *notes.Note, name string) string {
	var paths []string
	for _, o := range s.Notes {
		paths = append(paths, o.Path)
	}
	if near := nearPath(name, paths); near != "" {
		return didYouMean(n, near)
	}
	return "link to a note by its path, such as \"../tubs/spring.md\", or to a page by its address, such as \"/recipes/spring-tubs/\""
}

// nearPath returns the path that may have been meant: the same in other letters, a slip away, or in another
// folder.
func nearPath(name string, paths []string) string {
	for _, p := range paths {
		if strings.EqualFold(p, name) {
			return p
		}
	}
	if near := diag.Closest(name, paths); near != "" {
		return near
	}
	for _, p := range paths {
		if strings.EqualFold(path.Base(p), path.Base(name)) {
			return p
		}
	}
	return ""
}

// didYouMean suggests a path of the content folder as a note has to write it.
func didYouMean(n *notes.Note, near string) string {
	from := site.Address(path.Dir(n.Path) + "/")
	if from == "./" {
		from = ""
	}
	return fmt.Sprintf("did you mean %q? a path counts from the note's own folder", from.To(site.Address(near)))
}

// siteLink links to a page by its address from the site's root.
func (s *rendering) siteLink(n *notes.Note, file, anchor string, at diag.Position) string {
	to := pageAt(file)
	switch {
	case to == wholeAt && !s.hasWhole():
		s.Report(diag.Errorf(at, "dead-link", "the site has no page %q", "/"+file).Hint("a handbook of more than %d notes has no page of the whole", mostOnWhole))
		return ""
	case !s.addresses[to]:
		d := diag.Errorf(at, "dead-link", "the site has no page %q", "/"+file)
		if near := s.nearPage(to); near != "" {
			d = d.Hint("did you mean %q?", "/"+near)
		} else {
			d = d.Hint("pages are, for example, /notes/, /recipes/ID/, /pots/ID/, /dates/, /cupboard/, /how/recipe/")
		}
		s.Report(d)
		return ""
	}
	if anchor != "" {
		s.sheet.aims = append(s.sheet.aims, aim{to, anchor, at})
	}
	return n.Address.To(to) + withHash(anchor)
}

// nearPage returns the address that a slip of the hand turned into another, "" where there is none.
func (s *rendering) nearPage(to site.Address) string {
	var all []string
	for address := range s.addresses {
		all = append(all, string(address))
	}
	slices.Sort(all)
	return diag.Closest(string(to), all)
}

// An aim is a link from a note to a place on a page that is no note.
type aim struct {
	to     site.Address
	anchor string
	at     diag.Position
}

// checkAims reports links to a place that its page does not have. It runs when all pages are written.
func (s *rendering) checkAims() {
	if s.Faults() > 0 {
		return // no page is whole
	}
	for _, a := range s.aims {
		ids, there := s.places[a.to] // not there: a page that this handbook has nothing for
		if there && !slices.Contains(ids, a.anchor) {
			s.Report(noPlace(a, ids))
		}
	}
}

func noPlace(a aim, ids []string) diag.Diagnostic {
	d := diag.Errorf(a.at, "dead-anchor", "the page %q has no place %q", "/"+string(a.to), a.anchor)
	ids = slices.DeleteFunc(ids, func(id string) bool { return id == "main" || strings.Contains(id, "--") }) // for scripts and drawings
	switch near := diag.Closest(a.anchor, ids); {
	case near != "":
		return d.Hint("did you mean %q?", near)
	case len(ids) == 0:
		return d.Hint("leave out what stands behind the #")
	}
	return d.Hint("its places are %s", strings.Join(ids[:min(len(ids), 12)], ", "))
}

func withHash(anchor string) string {
	if anchor == "" {
		return ""
	}
	return "#" + anchor
}

func (s *rendering) checkAnchor(n *notes.Note, anchor string, at diag.Position) {
	if anchor == "" || slices.ContainsFunc(n.Document.Headings, func(h markdown.Heading) bool { return h.ID == anchor }) {
		return
	}
	var ids []string
	for _, h := range n.Document.Headings {
		ids = append(ids, h.ID)
	}
	d := diag.Errorf(at, "dead-anchor", "the note %q has no heading %q", n.Path, anchor)
	if near := diag.Closest(anchor, ids); near != "" {
		d = d.Hint("did you mean %q?", near)
	} else {
		d = d.Hint("its headings are %s", strings.Join(ids, ", "))
	}
	s.Report(d)
}
