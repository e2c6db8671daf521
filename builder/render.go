package builder

import (
	"fmt"
	"html/template"
	"io/fs"
	"net/url"
	"slices"
	"strconv"
	"sync"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/builder/site"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/pothistory"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// rendering makes the files of a site. Several goroutines write at once, each with a fork of its own.
type rendering struct {
	*Handbook
	*common
	sheet   *sheet // what this fork writes
	ofWhole bool   // the pages that it writes itself are of the whole; forks of it write others
	prints  map[*Placed]*layouts.Printed
}

// common is what the forks of a rendering share. What stands above guard is not changed while they write.
type common struct {
	look    *layouts.Layouts
	dressed string // sum of what the look was made of beside our own files
	to      sink
	keep    bool     // blocks keep their data and views after they are written
	changes []Change // of the history, for the feed
	album   album    // the pictures that pages show
	web
	ready sync.Once // of the web

	guard    sync.Mutex
	listed   map[string]made // by path
	pages    []sitePage
	aims     []aim                     // of links to a place on a page
	places   map[site.Address][]string // of the pages that an aim may lead to
	whole    map[string]layouts.WholeNote
	done     map[string]bool // notes by path, blocks with a page to themselves by id
	failed   error           // of the first file that could not be written
	finished []*sheet

	cited map[string][]site.Address // by work: pots whose history rests on it
	lore
}

// lore is what pages ask of all blocks together, found out when the first of them asks.
type lore struct {
	jobs      func() []facts.Job               // in order, each once, however many blocks name it
	repeated  func() map[*Placed]repetition    // by block of dates: what a plan's dates tell too
	past      func() *pothistory.History       // what the diaries tell of each pot
	plantings func() map[string]facts.Planting // by pot, of its newest plan
	potJobs   func() map[string][]facts.Job    // by pot
	usedBy    func() map[string][]place        // by material
	measured  func() map[string]sources.Entry  // what blocks cite
}

func newSite(h *Handbook, look *layouts.Layouts, to sink) *rendering {
	s := &rendering{Handbook: h, common: &common{look: look, to: to, changes: h.news()}, sheet: &sheet{}}
	s.listed, s.places = map[string]made{}, map[site.Address][]string{}
	s.whole, s.done, s.cited = map[string]layouts.WholeNote{}, map[string]bool{}, map[string][]site.Address{}
	s.lore = lore{
		jobs: sync.OnceValue(s.findJobs), repeated: sync.OnceValue(s.findRepeated),
		past:      sync.OnceValue(func() *pothistory.History { return pothistory.Of(s.Ref, s.Garden, s.toldInAll()) }),
		plantings: sync.OnceValue(s.findPlantings), potJobs: sync.OnceValue(s.findPotJobs),
		usedBy: sync.OnceValue(s.findUsers), measured: sync.OnceValue(s.findMeasured),
	}
	return s
}

// dress returns the grower's own templates and style, nil when there are none.
func dress(files fs.FS) fs.FS {
	if info, err := fs.Stat(files, "dress"); err != nil || !info.IsDir() {
		return nil
	}
	sub, err := fs.Sub(files, "dress")
	if err != nil {
		return nil
	}
	return sub
}

// write writes every file of the site, and computes the blocks on the way.
func (s *rendering) write() error {
	for _, asset := range s.look.Assets() {
		s.add(site.Address(asset.Name), asset.Body)
	}
	s.settle()
	if err := s.compute(s.unit); err != nil {
		return err
	}
	s.ready.Do(s.spin)
	if s.Faults() > 0 {
		s.to = nowhere{} // nothing is published, and all is read for what else is wrong
	}
	if err := s.writeTogether(); err != nil {
		return err
	}
	s.checkAims()
	return s.failed
}

// writeTogether writes the notes that had to wait, and the pages that are of the whole handbook. Those of one line are
// written at once; a later line needs what the pages before it told.
func (s *rendering) writeTogether() error {
	type step = func(*rendering) error
	for _, together := range [][]step{
		{
			(*rendering).others, (*rendering).potPages, (*rendering).cupboardPage, (*rendering).listPages, (*rendering).labelsPage,
			(*rendering).datesPage, (*rendering).shoppingPage, (*rendering).howPages, (*rendering).frontPage, (*rendering).notFoundPage,
		},
		{(*rendering).sourcesPage, (*rendering).wholePage},
		{(*rendering).searchPage, (*rendering).feedPages},
		{(*rendering).offlineScript},
	} {
		err := s.each(len(together), func(i int) error {
			fork := s.fork()
			fork.ofWhole = true
			defer fork.settle()
			return fork.spare(together[i](fork), "")
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// page fills in what every page has and adds it.
func (s *rendering) page(at site.Address, p layouts.Page) error {
	hb := s.Garden.Handbook
	p.Root, p.Language, p.HandbookTitle, p.Author = s.root(at), hb.Language, hb.Title, hb.Author
	p.Canonical = s.absolute(at)
	s.sheet.pages = append(s.sheet.pages, sitePage{at, p.Title, p.Description})
	for _, item := range s.bar {
		p.Nav = append(p.Nav, layouts.NavItem{Name: item.name, Href: p.Root + item.at.File(), Current: item.name == p.Current})
	}
	for _, item := range s.foot {
		p.Foot = append(p.Foot, layouts.Link{Name: item.name, Href: p.Root + item.at.File()})
	}
	if s.hasFeed() {
		p.Alternates = append(slices.Clone(p.Alternates), layouts.File{Type: "application/atom+xml", Href: p.Root + feedAt.File(), Name: "New and changed"})
		p.Foot = append(p.Foot, layouts.Link{Name: "Feed", Href: p.Root + feedAt.File()})
	}
	if s.samePage(at, p) {
		return nil
	}
	room := rooms.Get().(*[]byte)
	defer rooms.Put(room)
	html, err := s.look.AppendPage((*room)[:0], p)
	if err != nil {
		return s.spare(err, "the page "+strconv.Quote("/"+string(at)))
	}
	*room = html
	if s.targets[at] {
		s.sheet.places = append(s.sheet.places, placesOn(at, html))
	}
	s.add(at, html)
	s.keepPage(at, p)
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
	var out []string
	if s.Garden.Handbook.Address == "" {
		out = append(out, "handbook.yaml has no address: the feed, the site map and canonical links are left out")
	}
	if len(s.Notes) > mostOnWhole {
		out = append(out, fmt.Sprintf("the page of the whole handbook is left out: it is for up to %d notes", mostOnWhole))
	}
	if n := s.due(); n > 0 {
		out = append(out, fmt.Sprintf("blocks with other numbers than the history: %d; \"trug changes\" says which and why", n))
	}
	return out
}

// parts prints the parts of a block that has its page to itself.
func (s *rendering) parts(doc view.Doc, at site.Address, id string) (template.HTML, error) {
	return s.look.Parts(doc, layouts.Context{Root: at.Root(), BlockID: id, Heading: 2, Main: string(s.Garden.Handbook.Main)})
}

// partsOf prints the parts of a block on its own page.
func (s *rendering) partsOf(p *Placed, at site.Address) (template.HTML, error) {
	return s.printed(p, layouts.Context{
		Root: at.Root(), BlockID: p.ID, Heading: 2, Main: string(s.Garden.Handbook.Main), How: at.To(site.How(p.Kind.Name)),
	})
}

// blockHTML prints a computed block where it stands in its note, with a link to its own page. Its
// headings go deeper on a page of several notes.
func (s *rendering) blockHTML(n *notes.Note, fence *markdown.Block, deeper int) string {
	p := s.byFence[fence]
	if p == nil || p.faulty || s.broken {
		return ""
	}
	html, err := s.printed(p, layouts.Context{
		Root: n.Address.Root(), BlockID: blockName(p), Heading: max(fence.Under, 1) + 1 + deeper, InNote: true, Main: string(s.Garden.Handbook.Main),
		How: n.Address.To(site.How(p.Kind.Name)),
	}, headIn(p, n))
	if err = s.spare(err, n.File.Name); err != nil {
		s.Report(diag.Errorf(p.At, "cannot-print", "this block cannot be printed: %s", err))
	}
	return string(html)
}

// blockName is a name for the block's ids and remembered ticks, unique in the handbook.
func blockName(p *Placed) string {
	if p.ID != "" {
		return p.ID
	}
	return fmt.Sprintf("%s-%d", p.Kind.Name, p.place+1)
}

// headIn titles a block in its note and leads to its page.
func headIn(p *Placed, n *notes.Note) view.More {
	head := view.More{Title: p.Result.Title}
	if at, own := ownAddress(p); own {
		head.Text, head.Href = "This "+p.Kind.Name+" on a page of its own, with its files", n.Address.To(at)
	}
	return head
}

// printed prints a block at a place, the first time for all its places: in its note, on its own page, where it is
// followed by how it was written, and on the page of the whole handbook.
func (s *rendering) printed(p *Placed, c layouts.Context, heads ...view.More) (template.HTML, error) {
	once := s.prints[p]
	if once == nil {
		var own []view.Part
		if owned(p) {
			own = append(own, view.Listing{Title: "How this was written", Language: "yaml", Text: p.written()})
		}
		var err error
		if once, err = s.look.Print(p.Result.View, c, own...); err != nil {
			return "", err
		}
		if s.prints == nil {
			s.prints = map[*Placed]*layouts.Printed{}
		}
		s.prints[p] = once
	}
	return once.At(c, heads...)
}
