package builder

import (
	"net/url"
	"path"
	"slices"
	"strings"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/builder/site"
	"trug/calcblocks"
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
	i := slices.IndexFunc(s.Notes, func(o *notes.Note) bool { return o.Path == name })
	if i < 0 {
		d := diag.Errorf(at, "dead-link", "there is no note %q", name)
		s.Report(d.Hint("%s", s.nearNote(name)))
		return ""
	}
	s.checkAnchor(s.Notes[i], anchor, at)
	return n.Address.To(s.Notes[i].Address) + withHash(anchor)
}

func (s *rendering) nearNote(name string) string {
	var paths []string
	for _, o := range s.Notes {
		paths = append(paths, o.Path)
		if path.Base(o.Path) == path.Base(name) {
			return "did you mean \"" + o.Path + "\"? a path counts from the note's own folder"
		}
	}
	if near := diag.Closest(name, paths); near != "" {
		return "did you mean \"" + near + "\"?"
	}
	return "link to a note by its path, such as \"../tubs/spring.md\", or to a page by its address, such as \"/recipes/spring-tubs/\""
}

// siteLink links to a page by its address from the site's root.
func (s *rendering) siteLink(n *notes.Note, file, anchor string, at diag.Position) string {
	to := site.Address(strings.TrimSuffix(file, "index.html"))
	if !slices.Contains(s.addresses(), to) {
		s.Report(diag.Errorf(at, "dead-link", "the site has no page %q", "/"+file).Hint("pages are, for example, /notes/, /recipes/ID/, /pots/ID/, /dates/, /cupboard/, /how/recipe/"))
		return ""
	}
	if id, ok := strings.CutPrefix(string(to), "recipes/"); ok && id != "" {
		s.uses(strings.TrimSuffix(id, "/"), n.Address)
	}
	return n.Address.To(to) + withHash(anchor)
}

// addresses lists every page of the site.
func (s *rendering) addresses() []site.Address {
	out := []site.Address{"", wholeAt, dressAt}
	for _, item := range bar {
		out = append(out, item.at)
	}
	for _, n := range s.Notes {
		out = append(out, n.Address)
	}
	for _, item := range foot {
		out = append(out, item.at)
	}
	for _, p := range s.Blocks {
		if at, own := ownAddress(p); own && p.visible() {
			out = append(out, at)
		}
	}
	for _, name := range calcblocks.Names() {
		out = append(out, site.How(name))
	}
	for _, p := range s.Garden.Pots {
		out = append(out, site.Pot(p.ID))
	}
	return out
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
