package builder

import (
	"fmt"
	"html/template"
	"io/fs"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/builder/publish"
	"trug/builder/site"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/pothistory"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// rendering makes the files of a site.
type rendering struct {
	*Handbook
	look      *layouts.Layouts
	dressed   string // what the look was made of beside our own files
	recipes   []*Placed
	usedIn    map[string][]site.Address // by recipe id: notes that link to it or hold it
	pages     []sitePage                // as they are written
	changes   []Change                  // of the history, for the feed
	season    []facts.Job               // in order
	past      *pothistory.History       // what the diaries tell of each pot
	plantings map[string]facts.Planting // by pot, of its newest plan
	potJobs   map[string][]facts.Job    // by pot
	cited     map[string][]site.Address // by work: pots whose history rests on it
	aims      []aim                     // of links to a place on a page
	out       []publish.File
	added     map[string]bool // paths in out
}

func newSite(h *Handbook, look *layouts.Layouts) *rendering {
	s := &rendering{Handbook: h, look: look, usedIn: map[string][]site.Address{}, changes: h.news()}
	for _, p := range h.Blocks {
		if p.Kind.Name == "recipe" && p.ID != "" && p.visible() {
			s.recipes = append(s.recipes, p)
		}
	}
	slices.SortStableFunc(s.recipes, func(a, b *Placed) int { return strings.Compare(a.ID, b.ID) })
	return s
}

// dress returns the grower's own templates and style, nil when there are none.
func (h *Handbook) dress() fs.FS {
	if info, err := fs.Stat(h.files, "dress"); err != nil || !info.IsDir() {
		return nil
	}
	sub, err := fs.Sub(h.files, "dress")
	if err != nil {
		return nil
	}
	return sub
}

// files returns every file of the site.
func (s *rendering) files() ([]publish.File, error) {
	for _, asset := range s.look.Assets() {
		s.add(site.Address(asset.Name), asset.Body)
	}
	bodies := s.noteBodies() // first, since they find out who links to what
	steps := []func() error{
		func() error { return s.notePages(bodies) }, s.recipePages, s.potPages, s.labelsPage, s.cupboardPage,
		s.listPages, s.seasonPages, s.howPages, s.sourcesPage, s.frontPage, s.notFoundPage,
		s.wholePage, s.searchPage, s.feedPages, s.offlineScript, // of the pages before them
	}
	for _, step := range steps {
		if err := s.spare(step(), ""); err != nil {
			return nil, err
		}
	}
	s.checkAims()
	slices.SortFunc(s.out, func(a, b publish.File) int { return strings.Compare(a.Path, b.Path) })
	return s.out, nil
}

func (s *rendering) add(at site.Address, body []byte) {
	if s.added[at.File()] {
		return // a picture that two notes show
	}
	if s.added == nil {
		s.added = map[string]bool{}
	}
	s.added[at.File()] = true
	s.out = append(s.out, publish.File{Path: at.File(), Body: body})
}

var bar = []struct {
	name string
	at   site.Address
}{
	{"Notes", "notes/"},
	{"Recipes", "recipes/"},
	{"Pots", "pots/"},
	{"Dates", "dates/"},
	{"Shopping", "shopping/"},
	{"Cupboard", "cupboard/"},
	{"Search", searchAt},
}

// foot leads to what a reader looks up now and then.
var foot = []struct {
	name string
	at   site.Address
}{{"Sources", "sources/"}, {"Pot labels", "labels/"}, {"How the numbers are made", howIndex}}

// page fills in what every page has and adds it.
func (s *rendering) page(at site.Address, p layouts.Page) error {
	hb := s.Garden.Handbook
	p.Root, p.Language, p.HandbookTitle, p.Author = s.root(at), hb.Language, hb.Title, hb.Author
	p.Canonical = s.absolute(at)
	s.pages = append(s.pages, sitePage{at, p.Title, p.Description})
	for _, item := range bar {
		p.Nav = append(p.Nav, layouts.NavItem{Name: item.name, Href: p.Root + item.at.File(), Current: item.name == p.Current})
	}
	for _, item := range foot {
		p.Foot = append(p.Foot, layouts.Link{Name: item.name, Href: p.Root + item.at.File()})
	}
	if s.hasFeed() {
		p.Alternates = append(slices.Clone(p.Alternates), layouts.File{Type: "application/atom+xml", Href: p.Root + feedAt.File(), Name: "New and changed"})
		p.Foot = append(p.Foot, layouts.Link{Name: "Feed", Href: p.Root + feedAt.File()})
	}
	html, err := s.look.Page(p)
	if err != nil {
		return s.spare(err, "the page "+strconv.Quote("/"+string(at)))
	}
	s.add(at, html)
	return nil
}

const notFound site.Address = "404.html"

// root is the way from a page back to the site's root. The not-found page is shown at any depth, so it
// alone uses the path of the handbook's address.
func (s *rendering) root(at site.Address) string {
	address, err := url.Parse(s.Garden.Handbook.Address)
	if at == notFound && err == nil && address.Path != "" {
		return address.Path
	}
	return at.Root()
}

// advice says once what the site lacks without an address.
func (s *rendering) advice() []string {
	if s.Garden.Handbook.Address == "" {
		return []string{"handbook.yaml has no address: the feed, the site map and canonical links are left out"}
	}
	return nil
}

// parts prints the parts of a block that has its page to itself.
func (s *rendering) parts(doc view.Doc, at site.Address, id string) (template.HTML, error) {
	return s.print(doc, layouts.Context{Root: at.Root(), BlockID: id, Heading: 2, Main: string(s.Garden.Handbook.Main)})
}

// partsOf prints the parts of a block on its own page.
func (s *rendering) partsOf(p *Placed, doc view.Doc, at site.Address) (template.HTML, error) {
	return s.print(doc, layouts.Context{
		Root: at.Root(), BlockID: p.ID, Heading: 2, Main: string(s.Garden.Handbook.Main), How: at.To(site.How(p.Kind.Name)),
	})
}

// noteBodies writes the HTML of every note.
func (s *rendering) noteBodies() map[*notes.Note]template.HTML {
	out := map[*notes.Note]template.HTML{}
	for _, n := range s.Notes {
		out[n] = template.HTML(n.Document.HTML(markdown.Hooks{
			Block: func(b *markdown.Block) string { return s.blockHTML(n, b, 0) },
			Link:  func(target string, at diag.Position) string { return s.link(n, target, at) },
			Text:  s.figureWords,
			Image: func(i markdown.Image) markdown.Picture { return s.image(n, i) },
		}))
	}
	return out
}

// blockHTML prints a computed block where it stands in its note, with a link to its own page. Its
// headings go deeper on a page of several notes.
func (s *rendering) blockHTML(n *notes.Note, fence *markdown.Block, deeper int) string {
	i := slices.IndexFunc(s.Blocks, func(p *Placed) bool { return p.fence == fence })
	if i < 0 || s.Faults() > 0 {
		return ""
	}
	p := s.Blocks[i]
	if p.ID != "" {
		s.uses(p.ID, n.Address)
	}
	html, err := s.print(inNote(p, n), layouts.Context{
		Root: n.Address.Root(), BlockID: blockName(p, i), Heading: max(fence.Under, 1) + 1 + deeper, InNote: true, Main: string(s.Garden.Handbook.Main),
		How: n.Address.To(site.How(p.Kind.Name)),
	})
	if err = s.spare(err, n.File.Name); err != nil {
		s.Report(diag.Errorf(p.At, "cannot-print", "this block cannot be printed: %s", err))
	}
	return string(html)
}

// blockName is a name for the block's ids and remembered ticks, unique in the handbook.
func blockName(p *Placed, place int) string {
	if p.ID != "" {
		return p.ID
	}
	return fmt.Sprintf("%s-%d", p.Kind.Name, place+1)
}

// inNote is a block's view as it stands in a note: titled and linked to its page.
func inNote(p *Placed, n *notes.Note) view.Doc {
	doc := p.Result.View
	if len(doc.Parts) == 0 {
		return doc
	}
	head := view.More{Title: p.Result.Title}
	if at, own := ownAddress(p); own {
		head.Text, head.Href = "This "+p.Kind.Name+" on a page of its own, with its files", n.Address.To(at)
	}
	doc.Parts = append([]view.Part{head}, doc.Parts...)
	return doc
}

func (s *rendering) uses(id string, at site.Address) {
	if !slices.Contains(s.usedIn[id], at) {
		s.usedIn[id] = append(s.usedIn[id], at)
	}
}
