package plan

import (
	"fmt"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/renewal"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// loose returns the loose litres to buy for firmed ones (volumes.yaml, packing).
func (c *computation) loose(firmed float64) float64 {
	return renewal.Loose(firmed, c.pass.Ref.Must("volumes", "packing", "ratio").Typical)
}

func (c *computation) parts(working []view.WorkingStep, entries []sources.Entry) []view.Part {
	parts := []view.Part{c.figures()}
	if guards := care.GuardViews(c.guards()); len(guards) > 0 {
		parts = append(parts, view.Cautions{Title: "Look at these first", Items: guards})
	}
	parts = append(parts, c.potsTable(), c.potByPot())
	if c.totals().followed > 0 {
		parts = append(parts, c.mixTable(), c.mixFigures())
	}
	if len(c.needs) > 0 {
		parts = append(parts, c.needsTable())
	}
	return append(parts,
		view.Working{Title: "Working", Steps: working},
		view.Cautions{Title: "Take care", Items: care.Views(c.cautions())},
		view.Bibliography{Title: "Sources", Entries: entries},
	)
}

func (c *computation) figures() view.Figures {
	litres, plants := 0.0, 0
	for _, r := range c.rows {
		litres += r.litres[1]
		plants += r.plants
	}
	f := view.Figures{Title: "In brief"}
	f.Rows = append(f.Rows, view.Figure{Label: "Pots", Value: fmt.Sprint(len(c.rows)), Note: "about " + view.Number(litres) + " L of mix"})
	if plants > 0 {
		f.Rows = append(f.Rows, view.Figure{Label: "Plants", Value: fmt.Sprint(plants)})
	}
	sum, known, missing := c.cost()
	if !known && len(missing) == 0 {
		return f
	}
	cost := view.Figure{Label: "What goes in costs", Value: c.money(sum, known), Note: "by the share of each pack that is used; whole packs stand in the shopping list"}
	if len(missing) > 0 {
		cost.Note = "without " + view.And(missing) + ": no price is known; " + cost.Note
	}
	f.Rows = append(f.Rows, cost)
	return f
}

func (c *computation) money(sum [2]float64, known bool) string {
	if !known {
		return "no price known"
	}
	currency := c.pass.Garden.Handbook.Currency
	low, high := fmt.Sprintf("%.2f", sum[0]/100), fmt.Sprintf("%.2f", sum[1]/100)
	if low == high {
		return "about " + low + " " + currency
	}
	return "about " + low + " to " + high + " " + currency
}

func (r *row) cropName() string {
	if r.crop == nil {
		return ""
	}
	return r.crop.Name
}

func (r *row) recipeTitle() string {
	if r.recipe == nil {
		return ""
	}
	return r.recipe.Title
}

func (r *row) plantsText() string {
	if r.plants == 0 {
		return ""
	}
	return fmt.Sprint(r.plants)
}

func (c *computation) potCost(r *row) string {
	low, known := r.minor(0)
	high, _ := r.minor(1)
	switch {
	case r.recipe == nil:
		return ""
	case !known:
		return "no price known"
	case low == high:
		return fmt.Sprintf("%.2f", high/100)
	}
	return fmt.Sprintf("%.2f to %.2f", low/100, high/100)
}

func (c *computation) potsTable() view.Table {
	t := view.Table{Caption: "What grows where", Columns: []view.Column{
		{Head: "Pot"}, {Head: "Crop"}, {Head: "Plants", Numeric: true}, {Head: "Recipe"}, {Head: "Litres", Numeric: true}, {Head: "Costs, " + c.pass.Garden.Handbook.Currency, Numeric: true},
	}}
	for _, r := range c.rows {
		t.Rows = append(t.Rows, []string{r.pot.Label, r.cropName(), r.plantsText(), r.recipeTitle(), view.Span(r.litres[0], r.litres[1]), c.potCost(r)})
	}
	return t
}

// potByPot lets a reader look at one pot at a time.
func (c *computation) potByPot() view.Sizes {
	s := view.Sizes{Title: "Pot by pot"}
	for i, r := range c.rows {
		anchor := "for-" + r.pot.Pot
		pot := care.PotView(r.pot)
		pot.Anchor = anchor
		s.Items = append(s.Items, view.Size{
			Label: r.pot.Label, Anchor: anchor, Litres: view.Span(r.litres[0], r.litres[1]) + " L", Pot: pot,
			Notes: care.Notes(care.SizeKnown(c.pass.Ref, r.pot)), Parts: c.plantings[i].Parts,
		})
	}
	return s
}

// potParts is a pot's season for its own page: what moves, and what the recipe gives.
func (c *computation) potParts(r *row) []view.Part {
	f := view.Figures{}
	row := func(label, value, note string) {
		f.Rows = append(f.Rows, view.Figure{Label: label, Value: value, Note: note})
	}
	if r.crop != nil {
		note := ""
		if r.plants > 0 {
			note = plantsOf(r.plants)
		}
		row("Crop", r.crop.Name, note)
	}
	if r.recipe != nil {
		row("Recipe", r.recipe.Title, "")
	}
	c.mixRows(r, row)
	if old, ok := c.oldMixFigure(r); ok {
		f.Rows = append(f.Rows, old)
	}
	parts := []view.Part{f}
	if guards := care.GuardViews(append(append([]care.Guard{}, r.guards...), c.mixGuards(r)...)); len(guards) > 0 {
		parts = append(parts, view.Cautions{Items: guards})
	}
	return append(parts, r.content.Parts...)
}

func plantsOf(n int) string {
	if n == 1 {
		return "1 plant"
	}
	return fmt.Sprintf("%d plants", n)
}

func (c *computation) mixRows(r *row, row func(label, value, note string)) {
	m := r.mix
	if !m.known {
		return
	}
	row("Old mix out", "about "+view.Number(m.balance.Out)+" L", c.toText(r))
	row("Room", "about "+view.Number(m.balance.Room())+" L", "")
	if m.balance.Compost > 0 {
		row("Compost in", "about "+view.Number(m.balance.Compost)+" L firmed", "")
	}
	if m.in > 0 {
		row("Old mix that comes in", "about "+view.Number(m.in)+" L", "")
	}
	if m.short > 0 {
		row("New mix wanted besides", "about "+view.Number(m.short)+" L firmed", "about "+view.Number(c.loose(m.short))+" L loose")
	}
}

// toText says where the old mix of a pot goes.
func (c *computation) toText(r *row) string {
	switch m := r.mix; {
	case m.balance.Out < 0.005:
		return "none has to come out"
	case m.to == "":
		return "where it goes is not told"
	case m.to == heap:
		return "goes to the heap, if it was healthy"
	case m.to == discard:
		return "is thrown away"
	default:
		return "goes to " + view.Small(c.label(m.to)) + ", if it was healthy"
	}
}

func (c *computation) mixTable() view.Table {
	t := view.Table{Caption: "Where the mix goes, in litres", Columns: []view.Column{
		{Head: "Pot"}, {Head: "Out", Numeric: true}, {Head: "To"}, {Head: "Room", Numeric: true}, {Head: "Compost", Numeric: true}, {Head: "Comes in", Numeric: true}, {Head: "New mix", Numeric: true},
	}}
	unknown := 0
	for _, r := range c.rows {
		m := r.mix
		if !m.known {
			unknown++
			continue
		}
		to := m.to
		if _, isPot := c.pots[to]; isPot {
			to = c.label(to)
		}
		t.Rows = append(t.Rows, []string{r.pot.Label, view.Number(m.balance.Out), to, view.Number(m.balance.Room()), view.Number(m.balance.Compost), view.Number(m.in), view.Number(m.short)})
	}
	t.Notes = append(t.Notes, "Firmed, as it lies in the pot. Old mix that was sick goes to no pot and no heap.")
	if unknown > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("Not followed in %s: neither the fall of the level nor what comes out is told.", potsText(unknown)))
	}
	return t
}

func potsText(n int) string {
	if n == 1 {
		return "1 pot"
	}
	return fmt.Sprintf("%d pots", n)
}

func (c *computation) mixFigures() view.Figures {
	t := c.totals()
	f := view.Figures{Title: "The mix in all"}
	row := func(label string, litres float64, note string) {
		if litres > 0.005 {
			f.Rows = append(f.Rows, view.Figure{Label: label, Value: "about " + view.Number(litres) + " L", Note: note})
		}
	}
	row("Old mix out", t.out, "")
	row("into other pots", t.used, "")
	row("to pots of which nothing is told", t.elsewhere, "whether it fits is not known")
	row("more than fits where it goes", t.over, "send it elsewhere")
	row("to the heap", t.heap, "")
	row("thrown away", t.discard, "")
	row("without a place", t.untold, "write \"old mix to\"")
	row("New mix wanted", t.short, "about "+view.Number(c.loose(t.short))+" L loose; no part of the costs above")
	return f
}

func (c *computation) needsTable() view.Table {
	t := view.Table{Caption: "What the season takes", Columns: []view.Column{
		{Head: "Material"}, {Head: "Takes", Numeric: true}, {Head: "In stock", Numeric: true}, {Head: "To buy", Numeric: true},
	}}
	for _, n := range c.needs {
		stock := "not told"
		if n.Stock != nil {
			stock = n.Amount(*n.Stock)
		}
		t.Rows = append(t.Rows, []string{n.Material.Name, n.Between(n.Grams[0], n.Grams[1]), stock, n.Amount(n.ToBuy)})
	}
	t.Notes = append(t.Notes, "To buy counts the high end of each amount, so that nothing runs short.")
	return t
}
