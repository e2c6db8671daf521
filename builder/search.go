package builder

import (
	"cmp"
	"slices"
	"strings"

	"trug/builder/notes"
	"trug/builder/output"
	"trug/builder/site"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/layouts"
)

const (
	searchAt    = site.Address("search/")
	searchIndex = site.Address("search-index.js")
)

// sitePage is what the search and the site map remember of a page that was written.
type sitePage struct {
	at           site.Address
	title, about string
}

// searchKind is one list of the search page; the first folder of a page's address puts it into one.
type searchKind struct{ folder, one, all string }

var searchKinds = []searchKind{
	{"notes", "Note", "Notes"},
	{"recipes", "Recipe", "Recipes"},
	{"plans", "Plan", "Plans"},
	{"trials", "Trial", "Trials"},
	{"crops", "Crop", "Crops"},
	{"cupboard", "Amendment", "Amendments"},
	{"pots", "Pot", "Pots"},
	{"how", "Formula", "Formulas"},
	{"", "Page", "Other pages"},
}

// searchPage writes the page, which lists everything by itself, and the index that its script narrows it
// down with. It goes over the pages that are written by then.
func (s *rendering) searchPage() error {
	finds, err := s.finds()
	if err != nil {
		return err
	}
	worded := make([]output.Worded, len(finds))
	err = s.each(len(finds), func(i int) error {
		worded[i] = s.inWords(finds[i])
		return nil
	})
	if err != nil {
		return err
	}
	s.add(searchIndex, output.SearchIndex(worded))
	body := layouts.SearchPage{Topics: s.topics(searchAt)}
	for _, k := range searchKinds[1:] {
		body.Lists = append(body.Lists, searchList(k, finds))
	}
	return s.page(searchAt, layouts.Page{
		Title: "Search", Description: "Everything in this handbook, by topic and by name", Current: "Search", Body: body,
		Scripts: []string{string(searchIndex), "search.js"},
	})
}

// inWords takes a find apart, unless an earlier build did.
func (s *rendering) inWords(f output.Find) output.Worded {
	if s.cache == nil {
		return output.InWords(f)
	}
	key := sumOf(append([]string{f.Kind, f.Title, f.Href, f.Summary, f.Words}, f.Heads...)...)
	if was, found := s.cache.worded.get(key, s.cache.build); found {
		return was
	}
	fresh := output.InWords(f)
	s.cache.worded.put(key, fresh, s.cache.build)
	return fresh
}

// searchList lists the finds of one kind. Where several have one name, as a crop has in many places, each says where it is.
func searchList(k searchKind, finds []output.Find) layouts.SearchList {
	named := map[string]int{}
	for _, f := range finds {
		if f.Kind == k.one {
			named[f.Title]++
		}
	}
	out := layouts.SearchList{Name: k.all}
	for _, f := range finds {
		name := f.Title
		if named[name] > 1 && f.Summary != "" {
			name += ": " + f.Summary
		}
		if f.Kind == k.one {
			out.Links = append(out.Links, layouts.Link{Name: name, Href: searchAt.Root() + f.Href})
		}
	}
	return out
}

// finds lists what the search finds: the pages by kind and address, and what stands on a page with others,
// such as an amendment.
func (s *rendering) finds() ([]output.Find, error) {
	pages := slices.DeleteFunc(s.pagesSoFar(), func(p sitePage) bool {
		return p.at == "" || p.at == notFound || strings.HasSuffix(string(p.at), "/card/")
	})
	out := make([]output.Find, len(pages))
	err := s.each(len(pages), func(i int) error {
		p := pages[i]
		folder, rest, _ := strings.Cut(string(p.at), "/")
		if rest == "" {
			folder = "" // a list is a page like others
		}
		out[i] = s.enriched(output.Find{Kind: kindOf(folder), Title: p.title, Href: p.at.File(), Summary: p.about}, p.at)
		return nil
	})
	out = slices.Concat(s.crops(), s.materials(), out)
	slices.SortStableFunc(out, func(a, b output.Find) int {
		return cmp.Or(cmp.Compare(kindRank(a.Kind), kindRank(b.Kind)), cmp.Compare(a.Href, b.Href), cmp.Compare(a.Title, b.Title))
	})
	return out, err
}

func kindOf(folder string) string {
	i := slices.IndexFunc(searchKinds, func(k searchKind) bool { return k.folder == folder })
	if i < 0 {
		i = len(searchKinds) - 1
	}
	return searchKinds[i].one
}

func kindRank(kind string) int {
	return slices.IndexFunc(searchKinds, func(k searchKind) bool { return k.one == kind })
}

// enriched adds what a page holds beyond its title and description.
func (s *rendering) enriched(f output.Find, at site.Address) output.Find {
	if n := s.byAddress[at]; n != nil {
		return s.noteFind(f, n)
	}
	if p := s.byOwn[at]; p != nil {
		f.Heads = append(f.Heads, s.namesIn(p)...)
		f.Summary = cmp.Or(s.used(p), f.Summary)
	}
	if id, of := site.PotAt(at); of {
		if p, known := s.Garden.Pot(id); known {
			f.Heads = append(f.Heads, p.ID, p.Place)
		}
	}
	return f
}

func (s *rendering) noteFind(f output.Find, n *notes.Note) output.Find {
	f.Heads, f.Words = slices.Clone(n.Page.Topics), n.Document.Prose()
	for _, h := range n.Document.Headings {
		f.Heads = append(f.Heads, h.Text)
	}
	for _, p := range s.inNote[n.Path] {
		f.Words += " " + p.Result.Title + " " + strings.Join(s.namesIn(p), " ")
	}
	return f
}

// namesIn returns what a block speaks of by its facts: amendments, crops, pots, and the choices of a recipe.
func (s *rendering) namesIn(p *Placed) []string {
	var out []string
	for _, f := range p.Result.Facts {
		switch f := f.(type) {
		case facts.Use:
			if m, ok := s.Garden.Material(f.Amendment); ok {
				out = append(out, m.Name)
			}
		case facts.Planting:
			if pot, ok := s.Garden.Pot(f.Pot); ok {
				out = append(out, pot.Name)
			}
		case facts.Event:
			out = append(out, f.Note)
		}
		out = append(out, s.cropNames(cropOf(f))...)
	}
	out = append(out, p.brief.choices...)
	slices.Sort(out)
	return slices.Compact(out)
}

func cropOf(f facts.Fact) string {
	switch f := f.(type) {
	case facts.Recipe:
		return f.Crop
	case facts.Planting:
		return f.Crop
	case facts.Job:
		return f.Crop
	case facts.Event:
		return f.Crop
	}
	return ""
}

// cropNames returns a crop's names: its own, and its family's.
func (s *rendering) cropNames(id string) []string {
	c, ok := s.Ref.Crop(id)
	if !ok {
		return nil
	}
	out := []string{c.Name, c.ID, c.Family}
	if f, ok := s.Ref.Family(c.Family); ok {
		out = append(out, f.Name)
	}
	return out
}

// crops finds each crop where a published block speaks of it.
func (s *rendering) crops() []output.Find {
	var out []output.Find
	seen := map[[2]string]bool{}
	for _, p := range s.Blocks {
		home, shown := s.homeOf(p)
		for _, f := range p.Result.Facts {
			c, ok := s.Ref.Crop(cropOf(f))
			if key := [2]string{cropOf(f), string(home.at)}; ok && shown && !seen[key] {
				seen[key] = true
				out = append(out, output.Find{Kind: kindOf("crops"), Title: c.Name, Href: home.at.File(), Summary: home.name, Heads: s.cropNames(c.ID)})
			}
		}
	}
	return out
}

// materials finds each amendment of the cupboard page.
func (s *rendering) materials() []output.Find {
	var out []output.Find
	for _, m := range s.shown() {
		f := output.Find{Kind: kindOf("cupboard"), Title: m.Name, Href: site.Address("cupboard/").File() + "#" + m.ID, Heads: []string{m.ID, m.Class(), mostOf(m)}}
		f.Summary = grade(m)
		if m.Ref != nil {
			f.Heads = append(f.Heads, m.Ref.Also...)
			f.Words = strings.Join(m.Ref.Cautions, " ")
		}
		out = append(out, f)
	}
	return out
}

// grade is an amendment in one line: what it holds of the three that every label names.
func grade(m *garden.Material) string {
	var parts []string
	for _, n := range []reference.Nutrient{reference.N, reference.P2O5, reference.K2O} {
		parts = append(parts, n.Symbol()+" "+percentText(m.Content(n)))
	}
	return strings.Join(parts, ", ")
}

// mostOf names the nutrient that a material holds most of, "" when nothing is known of it.
func mostOf(m *garden.Material) string {
	name, most := "", 0.0
	for _, n := range reference.Nutrients {
		if f := m.Content(n); f.Known && f.Typical > most {
			name, most = n.Name(), f.Typical
		}
	}
	return name
}
