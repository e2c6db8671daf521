package builder

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"trug/builder/notes"
	"trug/builder/output"
	"trug/builder/site"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

func (s *rendering) recipeItem(p *Placed) layouts.RecipeItem {
	const at = site.Address("recipes/")
	item := layouts.RecipeItem{Name: p.Result.Title, Href: at.To(site.Recipe(p.ID)), For: p.brief.mix, UsedIn: s.links(at, s.usedIn[p.ID])}
	for _, size := range p.brief.sizes {
		item.Sizes = append(item.Sizes, layouts.Link{Name: size, Href: atSize(at, p, size)})
	}
	return item
}

func (s *rendering) links(from site.Address, to []*notes.Note) []layouts.Link {
	var out []layouts.Link
	for _, n := range to {
		out = append(out, layouts.Link{Name: n.Title(), Href: from.To(n.Address)})
	}
	return out
}

// recipePage writes a recipe's page with its card, and its JSON, CSV and recipe file beside it.
func (s *rendering) recipePage(p *Placed) error {
	at := site.Recipe(p.ID)
	parts, err := s.partsOf(p, at)
	if err != nil {
		return err
	}
	stamp := p.brief.stamp
	body := layouts.RecipePage{Title: p.Result.Title, Parts: parts, Files: s.recipeFiles(p, at), UsedIn: s.links(at, s.usedIn[p.ID]), Stamp: stamp, Stamps: s.stamps(p, stamp)}
	if err := s.cardPage(p); err != nil {
		return err
	}
	body.Card = at.To(site.Card(p.ID))
	return s.page(at, layouts.Page{
		Title: p.Result.Title, Current: "Recipes", Body: body, Alternates: body.Files, LinkedData: s.howTo(p),
		Description: fmt.Sprintf("Amounts in spoons and grams for %d container sizes, with sources and cautions", len(p.brief.sizes)),
		Trail:       []layouts.Link{{Name: "Recipes", Href: at.To("recipes/")}},
	})
}

// written is the block as its author wrote it.
func (p *Placed) written() string {
	if p.fence != nil {
		return p.fence.Fenced()
	}
	return p.Source
}

// atSize is the way to one of the sizes on a recipe's page.
func atSize(from site.Address, p *Placed, size string) string {
	return from.To(site.Recipe(p.ID)) + "#for-" + data.Slug(size)
}

// dataFiles writes a block's numbers beside its page.
func (s *rendering) dataFiles(p *Placed, at site.Address) []layouts.File {
	room := rooms.Get().(*[]byte)
	defer rooms.Put(room)
	*room = data.AppendJSON((*room)[:0], p.Result.Data)
	asJSON := s.fileBeside(at, ".json", "application/json", "JSON", *room)
	*room = data.AppendCSV((*room)[:0], p.Result.Data)
	return []layouts.File{asJSON, s.fileBeside(at, ".csv", "text/csv", "CSV", *room)}
}

// rooms are what the numbers of blocks are written into, each grown to the largest so far: a sink keeps no body.
var rooms = sync.Pool{New: func() any { return new([]byte) }}

func (s *rendering) recipeFiles(p *Placed, at site.Address) []layouts.File {
	return append(s.dataFiles(p, at), s.fileBeside(at, ".recipe.yaml", "application/yaml", "Recipe file", s.recipeFile(p)))
}

// fileBeside adds a file named after a page: "recipes/x.json" beside "recipes/x/".
func (s *rendering) fileBeside(at site.Address, ending, kind, name string, body []byte) layouts.File {
	place := site.Address(strings.TrimSuffix(string(at), "/") + ending)
	s.add(place, body)
	return layouts.File{Type: kind, Href: at.To(place), Name: name}
}

// recipeFile is the recipe for another handbook: as it was written, but for its sizes, and with the blends that the
// reference does not know.
func (s *rendering) recipeFile(p *Placed) []byte {
	sizes := s.sizesElsewhere(p)
	if p.Note == nil {
		return []byte(output.WithSizes(p.Source, sizes))
	}
	return output.RecipeFile{ID: p.ID, Set: string(s.Garden.Handbook.Main), Root: p.root, Body: p.Source, Sizes: sizes, Blends: s.blends(p)}.Text()
}

// sizesElsewhere returns a recipe's sizes as another handbook can read them, each pot as what it holds; nil where none is a
// pot.
func (s *rendering) sizesElsewhere(p *Placed) []string {
	list := p.root.Mapping().Get("sizes")
	if list == nil {
		return nil
	}
	var out []string
	some := false
	for _, text := range list.Texts() {
		if pot, ok := s.Garden.Pot(text); ok {
			text, some = elsewhere(pot), true
		}
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	if !some {
		return nil
	}
	return out
}

// elsewhere says what a pot holds in words that mean the same in a handbook that does not have it: its class, what was
// measured, else the litres up to its fill line.
func elsewhere(p garden.Pot) string {
	switch {
	case p.Vessel.Class != "":
		return "nursery class " + p.Vessel.Class
	case p.Holds != "":
		return p.Holds
	}
	low, high := container(p).Litres()
	return view.Number((low+high)/2) + " L"
}
