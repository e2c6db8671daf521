package builder

import (
	"maps"
	"slices"
	"strings"

	"trug/builder/notes"
	"trug/builder/site"
	"trug/calcblocks"
)

// A web is what pages know of each other before any of them is written.
type web struct {
	recipes   []*Placed // that are published, by id
	usedIn    map[string][]*notes.Note
	uses      map[string][]string // by the path of a note: ids of the blocks that it holds or links to
	apart     map[string]bool     // by path: notes that show nothing but what is their own
	wanted    map[string]bool     // ids of blocks whose numbers another note shows
	addresses map[site.Address]bool
	byAddress map[site.Address]*notes.Note
	targets   map[site.Address]bool  // pages that a link leads to a place on
	byHref    map[string]*notes.Note // as the page of the whole handbook links to notes
	bar, foot []way
	sum       string
	broken    bool // a fault stands in the way of every page
}

// spin makes the web, when it is known which notes are published.
func (s *rendering) spin() {
	s.web = web{
		usedIn: map[string][]*notes.Note{}, uses: map[string][]string{}, apart: map[string]bool{}, wanted: map[string]bool{},
		addresses: s.everyAddress(), byAddress: map[site.Address]*notes.Note{}, targets: map[site.Address]bool{}, byHref: map[string]*notes.Note{},
		broken: s.Faults() > 0,
	}
	for _, p := range s.Blocks {
		if p.Kind.Name == "recipe" && p.ID != "" && p.visible() {
			s.recipes = append(s.recipes, p)
		}
	}
	slices.SortStableFunc(s.recipes, func(a, b *Placed) int { return strings.Compare(a.ID, b.ID) })
	for _, n := range s.Notes {
		s.byAddress[n.Address] = n
		s.byHref[wholeAt.To(n.Address)] = n
		s.apart[n.Path] = s.readBlocks(n)
		for _, link := range n.Document.Links {
			s.readLink(n, link.Target)
		}
	}
	s.bar, s.foot = s.leading(bar), s.leading(foot)
	s.sum = s.webSum()
}

// readBlocks takes in the blocks of a note and says whether all of them are computed in the first of the phases that
// numbers are computed in.
func (s *rendering) readBlocks(n *notes.Note) bool {
	apart := true
	for _, p := range s.inNote[n.Path] {
		if p.fence != nil && p.ID != "" {
			s.use(p.ID, n)
		}
		apart = apart && (p.fence == nil || p.Kind.Phase <= 0)
	}
	return apart
}

// readLink takes in a link of a note: to a figure of a block, or to a page of the site.
func (s *rendering) readLink(n *notes.Note, target string) {
	if path, ok := strings.CutPrefix(target, figureScheme); ok {
		id, _, _ := strings.Cut(path, "/")
		p, there := s.Block(id)
		if !there {
			return // reported where it is written
		}
		if owned(p) {
			s.use(id, n)
		}
		if p.Note == nil || p.Note.Path != n.Path {
			s.wanted[id], s.apart[n.Path] = true, false
		}
		return
	}
	file, anchor, _ := strings.Cut(target, "#")
	if !strings.HasPrefix(file, "/") {
		return
	}
	to := pageAt(file)
	if anchor != "" {
		s.targets[to] = true
	}
	if p := s.byOwn[to]; p != nil && p.Kind.Name == "recipe" {
		s.use(p.ID, n)
		s.apart[n.Path] = s.apart[n.Path] && p.Note != nil && p.Note.Path == n.Path
	}
}

// pageAt is the page that a link from the site's root leads to.
func pageAt(file string) site.Address {
	return site.Address(strings.TrimSuffix(strings.TrimPrefix(file, "/"), "index.html"))
}

func (s *rendering) use(id string, n *notes.Note) {
	if !slices.Contains(s.uses[n.Path], id) {
		s.uses[n.Path] = append(s.uses[n.Path], id)
		s.usedIn[id] = append(s.usedIn[id], n)
	}
}

// everyAddress holds every page of the site.
func (s *rendering) everyAddress() map[site.Address]bool {
	out := map[site.Address]bool{"": true, wholeAt: true, dressAt: true}
	for _, item := range bar {
		out[item.at] = true
	}
	for _, n := range s.Notes {
		out[n.Address] = true
	}
	for _, item := range foot {
		out[item.at] = true
	}
	for at, p := range s.byOwn {
		if p.visible() {
			out[at] = true
		}
	}
	for _, name := range calcblocks.Names() {
		out[site.How(name)] = true
	}
	for _, p := range s.Garden.Pots {
		out[site.Pot(p.ID)] = true
	}
	return out
}

// webSum stands for all that a page of the first phase says of other pages, but for who links to it.
func (s *rendering) webSum() string {
	parts := []string{s.dressed, s.ground, s.recorded}
	for _, w := range slices.Concat(s.bar, s.foot) {
		parts = append(parts, string(w.at))
	}
	for _, n := range s.Notes {
		parts = append(parts, n.Path, n.Title(), day(newest(n)))
		for _, h := range n.Document.Headings {
			parts = append(parts, h.ID)
		}
	}
	for _, p := range s.recipes {
		parts = append(parts, p.ID)
	}
	for _, at := range slices.Sorted(maps.Keys(s.targets)) {
		parts = append(parts, string(at))
	}
	for _, p := range s.Blocks {
		if at, own := ownAddress(p); own {
			parts = append(parts, string(at))
		}
	}
	return sumOf(parts...)
}
