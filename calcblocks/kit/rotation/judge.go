package rotation

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// wanted is a planting to judge.
type wanted struct {
	planted
	at     diag.Position
	plan   string
	family *reference.Family // nil when it is not known
}

// A reason is why a planting comes too soon.
type reason struct {
	rest Rest
	last int
	pot  string
	at   diag.Position
	what string // "tomato grew", "clubroot: found"
	link string // how the crop's family comes into it: "too", "which it attacks"
}

// judge adds the conflict of a planting, if it has one: mix that is unfit before anything else, then the
// longest wait. What was judged once, as a plan or as done, is not told twice.
func (c *Course) judge(w wanted) {
	if c.done[w.planted] {
		return
	}
	c.done[w.planted] = true
	if s, bad := c.lot(w.pot).unfit(); bad {
		c.Conflicts = append(c.Conflicts, c.discard(w, s))
		return
	}
	var worst reason
	for _, r := range c.reasons(w) {
		since := w.year - r.last
		if r.rest.Verdict(since) != TooSoon {
			continue
		}
		if !worst.rest.Known || r.rest.Never || !worst.rest.Never && r.rest.Wait(since) > worst.rest.Wait(w.year-worst.last) {
			worst = r
		}
	}
	if worst.rest.Known {
		c.Conflicts = append(c.Conflicts, c.conflict(w, worst))
	}
}

// reasons are the family's last stay in the lot, and the diseases found in it that attack the family.
func (c *Course) reasons(w wanted) []reason {
	if w.family == nil {
		return nil
	}
	var out []reason
	l := c.lot(w.pot)
	last, grew := l.latest(w.family.ID, w.pot, w.year)
	if grew {
		out = append(out, reason{AfterFamily(w.family), last.last, last.pot, last.at, PlantName(last.crop) + " grew", " too"})
	}
	for _, s := range l.found {
		r := reason{AfterDisease(w.family, s.Name), s.year, s.pot, s.at, s.Name + ": found", ", which it attacks"}
		if grew && last.last > s.year {
			r.last = last.last // the rest counts from the last host
		}
		out = append(out, r)
	}
	return out
}

// conflict words a return that comes too soon.
func (c *Course) conflict(w wanted, r reason) facts.Conflict {
	since := w.year - r.last
	out := c.conflictAt(w, r.at, r.last)
	out.Never, out.Sources = r.rest.Never, r.rest.Sources
	out.Text = fmt.Sprintf("%s in %s. ", view.Capital(r.what), c.placeIn(w.pot, r.pot, r.last))
	same := fmt.Sprintf("%s is of the %s%s", view.Capital(PlantName(w.crop)), w.family.Name, r.link)
	if r.rest.Never {
		out.Text += same + ": it is not planted in that mix again."
		return out
	}
	out.Wait = r.rest.Wait(since)
	out.Text += fmt.Sprintf("%s: %s lie between as a rule, so wait until %s, choose another family, or replace all of the mix.",
		same, years(int(r.rest.Years)), c.year.Name(w.year+out.Wait))
	return out
}

// discard words a planting in a mix that is unfit for any crop.
func (c *Course) discard(w wanted, s sighting) facts.Conflict {
	out := c.conflictAt(w, s.at, s.year)
	out.Never = true
	if source, ok := c.lib.Text("families", "persistence", "0", "source"); ok {
		out.Sources = []string{source}
	}
	out.Text = fmt.Sprintf("%s: found in %s. It lasts in the mix for years, so this mix is thrown away rather than rotated: bag it, keep it off compost and beds, clean the pot, and fill it anew.",
		view.Capital(s.Name), c.placeIn(w.pot, s.pot, s.year))
	return out
}

func (c *Course) conflictAt(w wanted, before diag.Position, last int) facts.Conflict {
	out := facts.Conflict{At: w.at, Before: before, Plan: w.plan, Pot: w.pot, Crop: w.crop, Year: w.year, LastYear: last}
	if w.family != nil {
		out.Family = w.family.ID
	}
	return out
}

// placeIn says where and when something was: "this pot in 2026", or another pot whose mix came here.
func (c *Course) placeIn(pot, was string, year int) string {
	if was == pot {
		return "this pot in " + c.year.Name(year)
	}
	return fmt.Sprintf("%q in %s, and old mix from there is in this pot", was, c.year.Name(year))
}

func years(n int) string {
	if n == 1 {
		return "1 year"
	}
	return fmt.Sprintf("%d years", n)
}

// PlantName returns a crop as the grower names it, in words.
func PlantName(crop string) string { return strings.ReplaceAll(crop, "-", " ") }
