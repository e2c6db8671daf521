package builder

import (
	"math"
	"slices"
	"strconv"

	"trug/builder/site"
	"trug/calcblocks/kit/data"
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
			link.Href += "#for-" + data.Slug(p.Name)
			some = append(some, link)
			continue
		}
		link.Href += "?pot=" + ownSize(p)
		others = append(others, link)
	}
	if some = append(some, others...); len(some) > mostForPot {
		return some[:mostForPot], at.To("recipes/")
	}
	return some, ""
}

// ownSize names the size of a pot as the page of a recipe shares one that it does not show: in hundredths of a litre, the
// middle where only a range is known.
func ownSize(p garden.Pot) string {
	low, high := container(p).Litres()
	return strconv.FormatFloat(math.Round((low+high)*50)/100, 'f', -1, 64) + "-l"
}
