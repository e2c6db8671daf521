package builder

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trug/builder/site"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// blends returns the materials of a recipe that the reference does not know.
func (s *rendering) blends(p *Placed) []*garden.Material {
	var out []*garden.Material
	for _, f := range p.Result.Facts {
		use, ok := f.(facts.Use)
		if !ok {
			continue
		}
		if m, known := s.Garden.Material(use.Amendment); known && m.Ref == nil && !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}

// A place is a page with its name, and where on it something stands.
type place struct {
	name string
	at   site.Address
	spot string // "" or an anchor with its "#"
}

// users returns the places of the published blocks that use a material.
func (s *rendering) users(id string) []place {
	return s.usedBy()[id]
}

func (s *rendering) findUsers() map[string][]place {
	out := map[string][]place{}
	for _, p := range s.Blocks {
		for _, f := range p.Result.Facts {
			home, shown := s.homeOf(p)
			if use, ok := f.(facts.Use); ok && shown {
				out[use.Amendment] = append(out[use.Amendment], home)
			}
		}
	}
	for id, places := range out {
		out[id] = distinct(places)
	}
	return out
}

// distinct leaves out a place that was there before.
func distinct(places []place) []place {
	seen := make(map[place]bool, len(places))
	return slices.DeleteFunc(places, func(p place) bool {
		was := seen[p]
		seen[p] = true
		return was
	})
}

// shown lists the materials of the cupboard page: the cupboard, then whatever else a recipe uses.
func (s *rendering) shown() []*garden.Material {
	out := slices.Clone(s.Garden.Cupboard())
	for _, id := range s.Garden.MaterialIDs() {
		in := slices.ContainsFunc(out, func(m *garden.Material) bool { return m.ID == id })
		if m, ok := s.Garden.Material(id); ok && !in && len(s.users(id)) > 0 {
			out = append(out, m)
		}
	}
	slices.SortStableFunc(out, func(a, b *garden.Material) int { return cmp.Compare(a.Name, b.Name) })
	return out
}

func (s *rendering) cupboardPage() error {
	const at = site.Address("cupboard/")
	var body layouts.CupboardPage
	for _, m := range s.shown() {
		body.Amendments = append(body.Amendments, s.amendment(m, at))
	}
	return s.page(at, layouts.Page{Title: "Cupboard", Description: "Every amendment used here: analysis, weight of a cup, source and cautions", Current: "Cupboard", Body: body})
}

func (s *rendering) amendment(m *garden.Material, at site.Address) layouts.Amendment {
	a := layouts.Amendment{ID: m.ID, Name: m.Name, Density: s.densityText(m)}
	for _, n := range reference.Nutrients {
		f := m.Content(n)
		a.Analysis = append(a.Analysis, layouts.Nutrient{Name: n.Symbol(), Text: percentText(f)})
		a.Sources = append(a.Sources, f.Source...)
	}
	a.Sources = append(a.Sources, m.Density().Source...)
	slices.Sort(a.Sources)
	a.Sources = slices.Compact(a.Sources)
	for _, p := range m.Packs {
		a.Prices = append(a.Prices, fmt.Sprintf("%s for %.2f %s", quantityText(p.Holds), p.Price.Float()/100, s.Garden.Handbook.Currency))
	}
	if m.Stock != nil {
		a.Stock = quantityText(*m.Stock)
	}
	if m.Ref != nil {
		for _, text := range m.Ref.Cautions {
			a.Cautions = append(a.Cautions, view.Caution{ID: m.ID, Word: "Caution", Text: text})
		}
	}
	a.UsedBy = few(s.users(m.ID), at)
	return a
}

func percentText(f reference.Figure) string {
	switch {
	case !f.Known:
		return "not known"
	case f.Low == f.High:
		return view.Number(f.Typical) + " %"
	}
	return view.Number(f.Typical) + " % (" + view.Span(f.Low, f.High) + ")"
}

// densityText gives the weight of the main set's level cup.
func (s *rendering) densityText(m *garden.Material) string {
	d := m.Density()
	if !d.Known {
		return "not known: weigh a cup"
	}
	cup := units.Weigh(s.Garden.Handbook.Main.Cup(), d.Density())
	text := "about " + view.Number(cup.Typical) + " g a cup"
	if cup.Low != cup.High {
		text += " (" + view.Span(cup.Low, cup.High) + ")"
	}
	return text
}

func quantityText(q units.Quantity) string {
	if q.Weighed {
		if g := q.Mass.Float(); g < 1000 {
			return view.Number(g) + " g"
		}
		return view.Number(q.Mass.Float()/1000) + " kg"
	}
	return view.Number(q.Volume.Float()/1000) + " L"
}

func owned(p *Placed) bool {
	_, own := ownAddress(p)
	return own
}

// homeOf is where a block stands: on its own page where it has one, else in its note. A block of a note that
// is not published stands nowhere.
func (s *rendering) homeOf(p *Placed) (place, bool) {
	switch at, own := ownAddress(p); {
	case !p.visible():
		return place{}, false
	case own:
		return place{name: p.Result.Title, at: at}, true
	}
	return place{name: p.Note.Title(), at: p.Note.Address}, true
}

// source returns an entry of the grower's files or of the reference, or what a block measured itself.
func (s *rendering) source(key string) (sources.Entry, bool) {
	if e, ok := s.Garden.Source(key); ok {
		return e, true
	}
	e, ok := s.measured()[key]
	return e, ok
}

func (s *rendering) findMeasured() map[string]sources.Entry {
	out := map[string]sources.Entry{}
	for _, p := range slices.Backward(s.Blocks) {
		for _, e := range p.Result.Sources {
			out[e.Key] = e
		}
	}
	return out
}

// mostUsers is how many pages are named where a work or an amendment is used by many.
const mostUsers = 60

// few links to the first of many places, and to where the rest are found.
func few(all []place, from site.Address) []layouts.Link {
	var out []layouts.Link
	for _, p := range all[:min(len(all), mostUsers)] {
		out = append(out, layouts.Link{Name: p.name, Href: from.To(p.at) + p.spot})
	}
	if more := len(all) - mostUsers; more > 0 {
		out = append(out, layouts.Link{Name: fmt.Sprintf("and %d more", more), Href: from.To(searchAt)})
	}
	return out
}

// potName is the name of the pot whose page an address is.
func (s *rendering) potName(at site.Address) string {
	id, _ := site.PotAt(at)
	if p, known := s.Garden.Pot(id); known {
		return p.Name
	}
	return string(at)
}

// sourcesPage lists every work that a published number rests on, with the way back to each.
func (s *rendering) sourcesPage() error {
	const at = site.Address("sources/")
	used := map[string][]place{}
	for _, p := range s.Blocks {
		home, shown := s.homeOf(p)
		for _, e := range p.Result.Sources {
			if shown {
				used[e.Key] = append(used[e.Key], home)
			}
		}
	}
	for key, pots := range s.cited {
		for _, pot := range pots {
			used[key] = append(used[key], place{name: s.potName(pot), at: pot})
		}
	}
	for _, m := range s.shown() {
		for _, key := range s.amendment(m, at).Sources {
			used[key] = append(used[key], place{"Cupboard: " + m.Name, "cupboard/", "#" + m.ID})
		}
	}
	var body layouts.SourcesPage
	for key, places := range used {
		if e, ok := s.source(key); ok {
			body.Sources = append(body.Sources, layouts.Source{
				Key: e.Key, Title: e.Title, Publisher: e.Publisher, Year: e.Year, Number: e.Number, URL: e.URL, Place: e.Place, UsedBy: few(distinct(places), at),
			})
		}
	}
	slices.SortFunc(body.Sources, func(a, b layouts.Source) int { return strings.Compare(a.Key, b.Key) })
	return s.page(at, layouts.Page{Title: "Sources", Description: "The works behind the numbers, and the numbers behind each work", Current: "Sources", Body: body})
}
