package builder

import (
	"math"
	"slices"
	"strconv"

	"trug/builder/site"
	"trug/calcblocks/kit/garden"
	"trug/layouts"
)

// mostForPot is how many recipes the page of a pot names before it leads to all.
const mostForPot = 5

// recipesFor links to recipes at the size of a pot, those that were written with it among their sizes first: who
// comes by the code of its label wants to fill it. all is the way to the list of recipes, "" where none is left out.
func (s *rendering) recipesFor(p garden.Pot, at site.Address) (some []layouts.Link, all string) {
	var others []layouts.Link
	for _, r := range s.recipes {
		link := layouts.Link{Name: r.Result.Title, Href: at.To(site.Recipe(r.ID))}
		if slices.Contains(r.brief.sizes, p.Name) {
			link.Href = atSize(at, r, p.Name)
			some = append(some, link)
			continue
		}
		link.Href += ownSize(p, r.brief.own)
		others = append(others, link)
	}
	if some = append(some, others...); len(some) > mostForPot {
		return some[:mostForPot], at.To("recipes/")
	}
	return some, ""
}

// ownSize asks the page of a recipe for a size that it does not show, as a reader would share it: in hundredths of a litre,
// the middle where only a range is known. A pot beyond those that such a page works out is not asked for.
func ownSize(p garden.Pot, bounds [2]int) string {
	low, high := container(p).Litres()
	at := int(math.Round((low + high) * 50))
	if at < bounds[0] || at > bounds[1] {
		return ""
	}
	return "?pot=" + strconv.FormatFloat(float64(at)/100, 'f', -1, 64) + "-l"
}
