package builder

import (
	"cmp"
	"html/template"
	"slices"
	"time"

	"trug/builder/notes"
	"trug/builder/site"
	"trug/calcblocks/kit/data"
	"trug/layouts"
)

func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

// newest is the later of a note's two dates.
func newest(n *notes.Note) time.Time {
	if n.Page.Revised.After(n.Page.Written) {
		return n.Page.Revised
	}
	return n.Page.Written
}

func (s *rendering) item(from site.Address, n *notes.Note) layouts.Item {
	return layouts.Item{
		Name: n.Title(), Href: from.To(n.Address), Summary: n.Page.Summary,
		Written: day(n.Page.Written), Revised: day(n.Page.Revised),
	}
}

func (s *rendering) notePage(n *notes.Note) error {
	at := n.Address
	body := layouts.NotePage{
		Title: n.Title(), Summary: n.Page.Summary, Written: day(n.Page.Written), Revised: day(n.Page.Revised),
		Topics: topicLinks(n, at), Body: s.body(n), Recipes: s.recipesOf(n), Anchor: n.TitleID(),
	}
	picture, atHead := s.headPicture(n)
	if atHead {
		body.Picture = &picture
	}
	if s.hasWhole() {
		whole := s.wholeNote(n)
		s.sheet.whole = &whole
	}
	return s.page(at, layouts.Page{
		Title: n.Title(), Description: n.Page.Summary, Current: "Notes", Body: body, Picture: s.abroad(picture),
		Trail: []layouts.Link{{Name: "Notes", Href: at.To("notes/")}},
	})
}

func topicLinks(n *notes.Note, at site.Address) []layouts.Link {
	var out []layouts.Link
	for _, t := range n.Page.Topics {
		out = append(out, layouts.Link{Name: t, Href: at.To("notes/") + "#" + topicAnchor(t)})
	}
	return out
}

func topicAnchor(topic string) string { return "topic-" + data.Slug(topic) }

func (s *rendering) recipesOf(n *notes.Note) []layouts.Link {
	var out []layouts.Link
	for _, id := range slices.Sorted(slices.Values(s.uses[n.Path])) {
		if p := s.byID[id]; p.Kind.Name == "recipe" && p.visible() {
			out = append(out, layouts.Link{Name: p.Result.Title, Href: n.Address.To(site.Recipe(p.ID))})
		}
	}
	return out
}

func (s *rendering) listPages() error {
	if err := s.notesPage(); err != nil {
		return err
	}
	var body layouts.RecipesPage
	for _, p := range s.recipes {
		body.Recipes = append(body.Recipes, s.recipeItem(p))
	}
	return s.page("recipes/", layouts.Page{Title: "Recipes", Description: "All recipes", Current: "Recipes", Body: body})
}

func (s *rendering) frontPage() error {
	hb := s.Garden.Handbook
	intro, err := s.intro()
	if err != nil {
		return err
	}
	body := layouts.FrontPage{Title: hb.Title, Intro: intro, Topics: atAGlance(s.topics(""))}
	body.Season = seasonInBrief(s.jobs())
	body.DatesAt = site.Address("").To("dates/")
	body.Newest = s.newestItems()
	return s.page("", layouts.Page{Title: hb.Title, Description: "A growing handbook with amounts worked out for every container size", Body: body})
}

// mostNewest is how many of the newest notes and changes the front page names.
const mostNewest = 6

// newestItems returns the newest notes and the newest changes of the history, of one day the notes first.
func (s *rendering) newestItems() []layouts.Item {
	var out []layouts.Item
	for _, n := range s.Notes {
		if !newest(n).IsZero() {
			out = append(out, s.item("", n))
		}
	}
	for _, c := range s.changes {
		out = append(out, layouts.Item{Name: c.name(), Href: site.Address("").To(s.whereNow(c)), Summary: c.Short, Written: day(c.Date)})
	}
	last := func(i layouts.Item) string { return cmp.Or(i.Revised, i.Written) }
	slices.SortStableFunc(out, func(a, b layouts.Item) int { return cmp.Compare(last(b), last(a)) })
	return out[:min(len(out), mostNewest)]
}

// intro says what this handbook is and leads to its parts.
func (s *rendering) intro() (template.HTML, error) {
	const at = site.Address("")
	i := layouts.Intro{
		Notes: len(s.Notes), Recipes: len(s.recipes), Pots: len(s.Garden.Standing()),
		NotesAt: at.To("notes/"), RecipesAt: at.To("recipes/"), PotsAt: at.To("pots/"), CupboardAt: at.To("cupboard/"),
	}
	if len(s.recipes) > 0 {
		i.FirstRecipe, i.FirstWay = s.recipes[0].Result.Title, at.To(site.Recipe(s.recipes[0].ID))
	}
	return s.look.Intro(i)
}

func (s *rendering) notFoundPage() error {
	return s.page(notFound, layouts.Page{Title: "Not found", Body: layouts.NotFoundPage{}})
}
