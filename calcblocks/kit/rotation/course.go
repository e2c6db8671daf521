package rotation

import (
	"cmp"
	"slices"
	"time"

	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// A Course is the rotation of a handbook's pots, from the first event to the last plan.
type Course struct {
	// Conflicts are the plantings that come too soon, in the order of time.
	Conflicts []facts.Conflict

	lib  *reference.Library
	year units.GrowingYear
	lots map[string]*lot
	done map[planted]bool // plantings that were judged: what a plan asks for and a diary tells is one
}

type planted struct {
	pot, crop string
	year      int
}

// Conflicts returns the plantings that come too soon after their family or a disease, with both places.
func Conflicts(lib *reference.Library, year units.GrowingYear, events []facts.Event, plantings []facts.Planting, moves ...facts.Move) []facts.Conflict {
	return Follow(lib, year, events, plantings, moves...).Conflicts
}

// Follow goes through what was done and what is planned in the order of time, once. Years are growing years. What grew is what the
// diary tells; a plan counts for a pot and a year of which the diary tells no planting.
func Follow(lib *reference.Library, year units.GrowingYear, events []facts.Event, plantings []facts.Planting, moves ...facts.Move) *Course {
	c := &Course{lib: lib, year: year, lots: map[string]*lot{}, done: map[planted]bool{}}
	all := c.happenings(events, plantings, moves)
	for from := 0; from < len(all); {
		to := from + 1
		for to < len(all) && all[to].same(all[from]) {
			to++
		}
		c.step(all[from:to])
		from = to
	}
	return c
}

// The order of what happens on one day: old mix moves before it is replaced, a plan is judged before the
// planting that carries it out, and what is found on a crop is found after it was planted.
const (
	moving = iota
	renewing
	planning
	planting
	others
)

// A happening is one thing in the course of time.
type happening struct {
	on    time.Time
	rank  int
	event *facts.Event
	plan  *facts.Planting
	told  bool // a diary tells what was planted in the plan's pot and season
	move  *facts.Move
	whole bool // the renewal leaves nothing of the old mix
}

func (h happening) same(other happening) bool { return h.on.Equal(other.on) && h.rank == other.rank }

func (c *Course) happenings(events []facts.Event, plantings []facts.Planting, moves []facts.Move) []happening {
	var out []happening
	first := map[planted]time.Time{} // the first planting that a diary tells, by pot and year
	for i := range events {
		e := &events[i]
		h := happening{on: e.On, rank: others, event: e}
		switch e.Did {
		case "renewed":
			h.rank, h.whole = renewing, e.Fresh.Low > 1-1e-9
		case "planted", "sown":
			h.rank = planting
			key := planted{pot: e.Pot, year: c.year.Of(e.On)}
			if before, told := first[key]; !told || e.On.Before(before) {
				first[key] = e.On
			}
		}
		out = append(out, h)
	}
	season := map[string]int{}
	for i := range plantings {
		p := &plantings[i]
		season[p.Plan] = p.Season
		on, told := first[planted{pot: p.Pot, year: p.Season}]
		if !told {
			on = c.year.End(p.Season)
		}
		out = append(out, happening{on: on, rank: planning, plan: p, told: told})
	}
	for i := range moves {
		m := &moves[i]
		on := m.On
		if on.IsZero() {
			on = c.year.Begin(season[m.Plan])
		}
		out = append(out, happening{on: on, rank: moving, move: m})
	}
	slices.SortStableFunc(out, func(a, b happening) int { return cmp.Or(a.on.Compare(b.on), a.rank-b.rank) })
	return out
}

// step takes what happens at one time. Mix that moves at one time moves as it stood before.
func (c *Course) step(all []happening) {
	if all[0].rank == moving {
		taken := make([]*lot, len(all))
		for i, h := range all {
			taken[i] = c.lot(h.move.From).clone()
		}
		for i, h := range all {
			if to := h.move.To; to != "" && to != "heap" && to != "discard" {
				c.lot(to).take(taken[i])
			}
		}
		return
	}
	for _, h := range all {
		if h.plan != nil {
			c.planned(h)
		} else {
			c.happened(h)
		}
	}
}

func (c *Course) lot(pot string) *lot {
	if c.lots[pot] == nil {
		c.lots[pot] = newLot()
	}
	return c.lots[pot]
}

func (c *Course) planned(h happening) {
	p := h.plan
	if p.Crop == "" {
		return
	}
	want := wanted{at: p.At, plan: p.Plan, planted: planted{p.Pot, p.Crop, p.Season}, family: FamilyOf(c.lib, p.Crop)}
	c.judge(want)
	if !h.told {
		c.plant(want)
	}
}

func (c *Course) happened(h happening) {
	e, year := h.event, c.year.Of(h.event.On)
	family := FamilyOf(c.lib, e.Crop)
	switch {
	case h.whole:
		c.lots[e.Pot] = newLot()
	case h.rank == planting:
		want := wanted{at: e.At, planted: planted{e.Pot, e.Crop, year}, family: family}
		c.judge(want)
		c.plant(want)
	case e.Did == "harvested" && family != nil:
		c.lot(e.Pot).grow(family.ID, e.Pot, year)
	}
	if e.Disease != "" {
		c.lot(e.Pot).see(sighting{Finding{e.Disease, e.Unfit != ""}, year, e.Pot, e.At})
	}
}

// plant keeps a planting in the lot; what the reference knows no family of is left out.
func (c *Course) plant(w wanted) {
	if w.family != nil {
		c.lot(w.pot).add(w.family.ID, stay{w.year, w.year, w.crop, w.pot, w.at})
	}
}
