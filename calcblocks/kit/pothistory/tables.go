package pothistory

import (
	"fmt"
	"strconv"

	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/rotation"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// table returns an empty table whose rows are headed by a pot where there are several.
func table(s Scope, caption string, columns ...view.Column) view.Table {
	t := view.Table{Caption: caption}
	if len(s.Pots) > 1 {
		t.Columns = append(t.Columns, view.Column{Head: "Pot"})
	}
	t.Columns = append(t.Columns, columns...)
	return t
}

// put adds a row of a pot.
func (h *History) put(t *view.Table, s Scope, pot string, cells ...string) {
	if len(s.Pots) > 1 {
		cells = append([]string{h.Name(pot)}, cells...)
	}
	t.Rows = append(t.Rows, cells)
}

func text(head string) view.Column   { return view.Column{Head: head} }
func number(head string) view.Column { return view.Column{Head: head, Numeric: true} }

// some keeps the tables that have rows.
func some(tables ...view.Table) []view.Part {
	var out []view.Part
	for _, t := range tables {
		if len(t.Rows) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// Entries returns the table of some events.
func (h *History) Entries(caption string, events []facts.Event) view.Table {
	t := view.Table{Caption: caption, Columns: []view.Column{text("Day"), text("Pot"), text("What"), text("Note")}}
	for _, e := range events {
		t.Rows = append(t.Rows, []string{Day(e.On), h.Name(e.Pot), view.Capital(h.Words(e)), Remarks(e)})
	}
	return t
}

// year returns the table of one pot's events of a year.
func (h *History) year(events []facts.Event) view.Table {
	t := view.Table{Caption: h.yearName(h.growing(events[0].On)), Columns: []view.Column{text("Day"), text("What"), text("Note")}}
	for _, e := range events {
		t.Rows = append(t.Rows, []string{Day(e.On), view.Capital(h.Words(e)), Remarks(e)})
	}
	return t
}

// Summary returns the tables of a scope: what was added, what was harvested, how much of the first mix is left
// and what the mix rests from. What nothing was told of is left out.
func (h *History) Summary(s Scope) []view.Part {
	return some(h.addedTable(s), h.phosphateTable(s), h.harvestTable(s), h.originalTable(s), h.restingTable(s))
}

func (h *History) addedTable(s Scope) view.Table {
	columns := []view.Column{text("Year")}
	for _, n := range reference.Nutrients {
		columns = append(columns, number(n.Symbol()))
	}
	t := table(s, "Added in a year, grams", columns...)
	var missing []string
	for _, pot := range s.Pots {
		for _, a := range h.added(s, pot) {
			cells := []string{h.yearName(a.Year)}
			for _, n := range reference.Nutrients {
				cells = append(cells, sumText(a.Low[n], a.High[n]))
			}
			h.put(&t, s, pot, cells...)
			missing = union(missing, a.Unweighed)
		}
	}
	t.Notes = notCounted(missing)
	if len(t.Rows) > 0 {
		t.Notes = append(t.Notes, "Amendments and compost together, all that they hold: not all of it is given off in the year. A \"+\" means that some of what was added has no figure.")
	}
	return t
}

// sumText prints a sum at its two ends; one that lacks figures of some of the materials is marked.
func sumText(low, high dose.Sum[units.SomeMass]) string {
	if !low.Known {
		return "not known"
	}
	out := view.Span(low.Value.Typical, high.Value.Typical)
	if len(high.Missing) > 0 {
		out += " +"
	}
	return out
}

func notCounted(ids []string) []string {
	if len(ids) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("Not counted, because the amount was not told or cannot be weighed: %s.", view.And(ids))}
}

func (h *History) phosphateTable(s Scope) view.Table {
	t := table(s, "Phosphate (P2O5) so far", text("Up to"), number("Grams"), number("mg a litre of mix"))
	for _, pot := range s.Pots {
		low, high, known := h.litres(pot)
		for _, a := range h.added(s, pot) {
			r := a.Phosphate.Total
			perLitre := "not known"
			if known && r[0].Known {
				perLitre = view.Span(1000*r[0].Value.Typical/high, 1000*r[1].Value.Typical/low)
			}
			h.put(&t, s, pot, h.yearName(a.Year), sumText(r[0], r[1]), perLitre)
		}
	}
	if len(t.Rows) > 0 {
		t.Notes = []string{"Phosphorus stays in a mix. This is all that was added since the diary begins, or since all of the mix was replaced; what left with crops, water or a part of the old mix is not taken off."}
	}
	return t
}

func (h *History) harvestTable(s Scope) view.Table {
	t := table(s, "Harvests", text("Year"), text("Crop"), number("Pickings"), text("Yield"), number("Grams a litre of mix"))
	unweighed := 0
	for _, pot := range s.Pots {
		for _, r := range h.Harvests(pot) {
			if !s.holds(r.Year) {
				continue
			}
			yield, perLitre := "not weighed", "not known"
			if r.Mass.Sign() > 0 {
				yield = h.Weight(r.Mass)
				if r.Litres[1] > 0 {
					perLitre = view.Span(r.PerLitre[0], r.PerLitre[1])
				}
				unweighed += r.Unweighed
			}
			h.put(&t, s, pot, h.yearName(r.Year), view.Capital(rotation.PlantName(r.Crop)), strconv.Itoa(r.Pickings), yield, perLitre)
		}
	}
	if unweighed > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("The yield leaves out %s.", counted(unweighed, "picking")+" without a weight"))
	}
	return t
}

func (h *History) originalTable(s Scope) view.Table {
	t := table(s, "What is left of the first mix", text("Renewed on"), number("New mix or compost"), number("First mix left"))
	lost := false
	for _, pot := range s.Pots {
		for _, r := range h.Renewals(pot) {
			if !s.holds(h.growing(r.On)) {
				continue
			}
			fresh, left := "not told", "not known"
			if r.Fresh.High > 0 {
				fresh = percent(r.Fresh)
			}
			if r.Known {
				left = percent(r.Left)
			}
			lost = lost || !r.Known
			h.put(&t, s, pot, Day(r.On), fresh, left)
		}
	}
	if len(t.Rows) > 0 {
		t.Notes = []string{"The first mix is what the pot held when the diary begins, or when all of it was replaced. Old and new are taken to be mixed through."}
	}
	if lost {
		t.Notes = append(t.Notes, "Write \"share: 25 %\" or \"depth: 8 cm\" with a renewal to say how much of the mix was replaced.")
	}
	return t
}

func (h *History) restingTable(s Scope) view.Table {
	t := table(s, "What the mix rests from", text("What"), text("Last"), text("Again from"))
	for _, pot := range s.Pots {
		for _, r := range h.course.Resting(pot) {
			what := view.Capital(r.Finding.Name)
			if r.Crop != "" {
				what = view.Capital(r.Name) + " (" + rotation.PlantName(r.Crop) + ")"
			}
			if r.Pot != pot {
				what += ", in mix from " + h.Name(r.Pot)
			}
			h.put(&t, s, pot, what, h.yearName(r.Year), h.again(r))
		}
	}
	if len(t.Rows) > 0 {
		t.Notes = []string{"Rotation lowers the risk of a disease and does not clear it. The rest counts for the mix: replaced whole, it begins anew."}
	}
	return t
}

// again says when what a mix rests from may come back.
func (h *History) again(r rotation.Resting) string {
	year, ok := r.FreeIn()
	switch {
	case r.Finding.Unfit:
		return "never: throw the mix away"
	case ok:
		return h.yearName(year)
	case r.Rest.Never:
		return "never in this mix"
	}
	return "no interval is published"
}
