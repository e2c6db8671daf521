// Package pothistory is what diaries tell of each pot over the years: what was done, what was added, what was
// harvested, how much of the first mix is left, and what the mix rests from.
package pothistory

import (
	"slices"
	"time"

	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/rotation"
)

// A History is the events of a handbook's diaries, by pot and in the order of time.
type History struct {
	lib    *reference.Library
	garden *garden.Garden
	pots   map[string][]facts.Event
	titles map[string]string // of recipes, by id
	course *rotation.Course
	years  map[addedKey][]Added // computed so far
}

// Of gathers the events, plantings, moves and titles of recipes among what the blocks told. It goes through them once.
func Of(lib *reference.Library, g *garden.Garden, told []facts.Fact) *History {
	var events []facts.Event
	var plantings []facts.Planting
	var moves []facts.Move
	titles := map[string]string{}
	for _, f := range told {
		switch f := f.(type) {
		case facts.Event:
			events = append(events, f)
		case facts.Planting:
			plantings = append(plantings, f)
		case facts.Move:
			moves = append(moves, f)
		case facts.Recipe:
			titles[f.ID] = f.Title
		}
	}
	return &History{lib, g, byPot(events), titles, rotation.Follow(lib, g.Handbook.Year(), events, plantings, moves...), map[addedKey][]Added{}}
}

// byPot returns the events of each pot by date, those of one day as the author wrote them.
func byPot(events []facts.Event) map[string][]facts.Event {
	out := map[string][]facts.Event{}
	for _, e := range events {
		out[e.Pot] = append(out[e.Pot], e)
	}
	for _, all := range out {
		slices.SortStableFunc(all, func(a, b facts.Event) int { return a.On.Compare(b.On) })
	}
	return out
}

func (h *History) growing(day time.Time) int { return h.garden.Handbook.Year().Of(day) }

// yearName prints a growing year.
func (h *History) yearName(year int) string { return h.garden.Handbook.Year().Name(year) }

// Conflicts returns the plantings that come too soon, of all pots, in the order of time.
func (h *History) Conflicts() []facts.Conflict { return h.course.Conflicts }

// litres returns the fill volume of a pot, low and high; false for one that the pot file does not have.
func (h *History) litres(pot string) (low, high float64, ok bool) {
	c, err := h.garden.Container(pot)
	if err != nil || c.Pot == "" {
		return 0, 0, false
	}
	low, high = c.Litres()
	return low, high, true
}

// Name returns the name of a pot, its id where the pot file does not have it.
func (h *History) Name(pot string) string {
	if p, ok := h.garden.Pot(pot); ok {
		return p.Name
	}
	return pot
}
