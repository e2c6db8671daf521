package builder

import (
	"html/template"
	"io/fs"
	"net/url"
	"path"
	"slices"
	"strings"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/builder/publish"
	"trug/builder/site"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// rendering makes the files of a site.
type rendering struct {
	*Handbook
	look    *layouts.Layouts
	recipes []*Placed
	usedIn  map[string][]site.Address // by recipe id: notes that link to it or hold it
	out     []publish.File
}

func newSite(h *Handbook, look *layouts.Layouts) *rendering {
	s := &rendering{Handbook: h, look: look, usedIn: map[string][]site.Address{}}
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
		func() error { return s.notePages(bodies) }, s.recipePages, s.potPages, s.cupboardPage,
		s.listPages, s.sourcesPage, s.frontPage, s.notFoundPage,
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return nil, err
		}
	}
	slices.SortFunc(s.out, func(a, b publish.File) int { return strings.Compare(a.Path, b.Path) })
	return s.out, nil
}

func (s *rendering) add(at site.Address, body []byte) {
	if slices.ContainsFunc(s.out, func(f publish.File) bool { return f.Path == at.File() }) {
		return // a picture that two notes show
	}
	s.out = append(s.out, publish.File{Path: at.File(), Body: body})
}

var bar = []struct {
	name string
	at   site.Address
}{{"Notes", "notes/"}, {"Recipes", "recipes/"}, {"Pots", "pots/"}, {"Cupboard", "cupboard/"}, {"Sources", "sources/"}}

// page fills in what every page has and adds it.
func (s *rendering) page(at site.Address, p layouts.Page) error {
	hb := s.Garden.Handbook
	p.Root, p.Language, p.HandbookTitle, p.Author = s.root(at), hb.Language, hb.Title, hb.Author
	if hb.Address != "" {
		p.Canonical = hb.Address + string(at)
	}
	for _, item := range bar {
		p.Nav = append(p.Nav, layouts.NavItem{Name: item.name, Href: p.Root + item.at.File(), Current: item.name == p.Current})
	}
	html, err := s.look.Page(p)
	if err != nil {
		return err
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
		return []string{"handbook.yaml has no address: canonical links are left out"}
	}
	return nil
}

// parts prints a block's parts.
func (s *rendering) parts(doc view.Doc, at site.Address, id string, heading int) (template.HTML, error) {
	return s.look.Parts(doc, layouts.Context{Root: at.Root(), BlockID: id, Heading: heading, Main: string(s.Garden.Handbook.Main)})
}

// noteBodies writes the HTML of every note.
func (s *rendering) noteBodies() map[*notes.Note]template.HTML {
	out := map[*notes.Note]template.HTML{}
	for _, n := range s.Notes {
		out[n] = template.HTML(n.Document.HTML(markdown.Hooks{
			Block: func(b *markdown.Block) string { return s.blockHTML(n, b) },
			Link:  func(target string, at diag.Position) string { return s.link(n, target, at) },
			Image: func(target string, at diag.Position) string { return s.image(n, target, at) },
		}))
	}
	return out
}

// blockHTML prints a computed block where it stands in its note, with a link to its own page.
func (s *rendering) blockHTML(n *notes.Note, fence *markdown.Block) string {
	i := slices.IndexFunc(s.Blocks, func(p *Placed) bool { return p.fence == fence })
	if i < 0 || s.Faults() > 0 {
		return ""
	}
	p := s.Blocks[i]
	if p.ID != "" {
		s.uses(p.ID, n.Address)
	}
	html, err := s.parts(inNote(p, n), n.Address, p.ID, 3)
	if err != nil {
		s.Report(diag.Errorf(p.At, "cannot-print", "this block cannot be printed: %s", err))
	}
	return string(html)
}

// inNote is a block's view as it stands in a note: titled and linked to its page.
func inNote(p *Placed, n *notes.Note) view.Doc {
	doc := p.Result.View
	if p.ID == "" {
		return doc
	}
	link := view.More{Title: p.Result.Title, Text: "This recipe on a page of its own, with its files", Href: n.Address.To(site.Recipe(p.ID))}
	doc.Parts = append([]view.Part{link}, doc.Parts...)
	return doc
}

func (s *rendering) uses(id string, at site.Address) {
	if !slices.Contains(s.usedIn[id], at) {
		s.usedIn[id] = append(s.usedIn[id], at)
	}
}

// image copies a picture and returns where it stands.
func (s *rendering) image(n *notes.Note, target string, at diag.Position) string {
	if strings.Contains(target, "://") {
		s.Report(diag.Errorf(at, "far-picture", "the picture %q is not in the content folder", target).Hint("save it there: pages ask nothing of other hosts"))
		return ""
	}
	name := path.Join(path.Dir(n.Path), target)
	if !slices.Contains([]string{".png", ".jpg", ".jpeg", ".gif", ".webp"}, strings.ToLower(path.Ext(name))) {
		s.Report(diag.Errorf(at, "not-a-picture", "%q is not a picture that can be shown", target).Hint("use png, jpg, gif or webp"))
		return ""
	}
	body, err := fs.ReadFile(s.Handbook.files, name)
	if err != nil || strings.HasPrefix(name, "..") {
		s.Report(diag.Errorf(at, "no-picture", "there is no picture %q in the content folder", name).Hint("the path counts from the note's own folder"))
		return ""
	}
	place := site.Address("pictures/" + pictureName(name))
	s.add(place, body)
	return n.Address.To(place)
}

// pictureName keeps the folders and the ending, and makes each part fit for an address.
func pictureName(name string) string {
	ext := path.Ext(name)
	parts := strings.Split(strings.TrimSuffix(name, ext), "/")
	for i, p := range parts {
		parts[i] = data.Slug(p)
	}
	return strings.Join(parts, "/") + strings.ToLower(ext)
}
