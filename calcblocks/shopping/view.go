package shopping

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/packs"
	"trug/calcblocks/kit/purchase"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

func money(minor float64) string { return fmt.Sprintf("%.2f", minor/100) }

func (c *computation) currency() string { return c.pass.Garden.Handbook.Currency }

func (c *computation) parts(working []view.WorkingStep, entries []sources.Entry) []view.Part {
	parts := []view.Part{view.Paragraph{Text: c.intro()}}
	if ticks := c.ticks(); len(ticks.Items) > 0 {
		parts = append(parts, ticks)
	} else {
		parts = append(parts, view.Paragraph{Text: "Nothing has to be bought."})
	}
	if len(c.needs) > 0 {
		parts = append(parts, c.figures())
	}
	if text := c.missing(); text != "" {
		parts = append(parts, view.Paragraph{Text: text})
	}
	if len(c.needs) > 0 {
		parts = append(parts, c.needsTable())
	}
	if choices := c.choicesTable(); len(choices.Rows) > 0 {
		parts = append(parts, choices)
	}
	return append(parts,
		c.potsTable(),
		view.Working{Title: "Working", Steps: working},
		view.Cautions{Title: "Take care", Items: care.Views(c.cautions())},
		view.Bibliography{Title: "Sources", Entries: entries},
	)
}

func (c *computation) intro() string {
	return fmt.Sprintf("For %s of %q, with about %s L of mix. The high end of each amount is counted, so that nothing runs short; what is in stock is taken off.",
		potsText(len(c.plantings)), c.plan.Title, view.Number(c.litres))
}

func potsText(n int) string {
	if n == 1 {
		return "1 pot"
	}
	return fmt.Sprintf("%d pots", n)
}

// ticks is the list to take along: what must be bought, the cheapest choice of packs.
func (c *computation) ticks() view.Ticks {
	t := view.Ticks{Title: "To buy"}
	for _, n := range c.needs {
		if n.ToBuy <= 0 {
			continue
		}
		item := view.Tick{ID: n.Material.ID, Text: n.Material.Name, Much: "about " + n.Amount(n.ToBuy), Detail: "no pack is in the cupboard file"}
		if len(n.Offers) > 0 {
			o := n.Offers[0]
			item.Much, item.Detail = packsText(n, o), c.offerText(n, o)
		}
		t.Items = append(t.Items, item)
	}
	if c.plan.NewMix > 0.005 {
		t.Items = append(t.Items, view.Tick{
			ID: "new-mix", Text: "New mix, made or bought", Much: "about " + view.Number(c.loose()) + " L",
			Detail: view.Number(c.plan.NewMix) + " L in the pots, firmed; no part of the cost",
		})
	}
	return t
}

// packsText writes "1 × 2 kg + 3 × 500 g".
func packsText(n *purchase.Need, o purchase.Offer) string {
	var out []string
	for _, b := range o.Packs {
		out = append(out, fmt.Sprintf("%d × %s", b.Count, holdsText(b.Pack)))
	}
	return strings.Join(out, " + ")
}

// holdsText prints what a pack holds.
func holdsText(p garden.Pack) string {
	switch {
	case !p.Holds.Weighed:
		return view.Number(p.Holds.Volume.Float()/1000) + " L"
	case p.Holds.Mass.Float() >= 1000:
		return view.Number(p.Holds.Mass.Float()/1000) + " kg"
	}
	return view.Number(p.Holds.Mass.Float()) + " g"
}

func (c *computation) offerText(n *purchase.Need, o purchase.Offer) string {
	text := fmt.Sprintf("%s %s; %s wanted", money(o.Cost), c.currency(), n.Amount(n.ToBuy))
	return text + "; " + leftText(n, o.Left)
}

// leftText says how much is left over and how long it lasts.
func leftText(n *purchase.Need, grams float64) string {
	if grams < 0.5 {
		return "nothing is left over"
	}
	more, left := n.MorePots(grams), n.Amount(grams)
	if more < 1-1e-9 {
		return left + " left over, not enough for one more pot"
	}
	if n := int(more + 1e-9); n > 1 {
		return fmt.Sprintf("%s left over, enough for about %d more pots", left, n)
	}
	return left + " left over, enough for 1 more pot"
}

func (c *computation) figures() view.Figures {
	f := view.Figures{Title: "What it costs"}
	bill := c.bill()
	row := func(label, value, note string) {
		f.Rows = append(f.Rows, view.Figure{Label: label, Value: value, Note: note})
	}
	if !bill.Known {
		row("In all", "no price known", "")
		return f
	}
	note := ""
	if len(bill.Missing) > 0 {
		note = "without " + view.And(bill.Missing)
	}
	row("In all, whole packs", money(bill.Cost)+" "+c.currency(), note)
	row("For each pot", money(bill.Cost/float64(len(c.plantings)))+" "+c.currency(), "what is left over counts in full")
	row("For each litre of mix", fmt.Sprintf("%.3f %s", bill.Cost/c.litres/100, c.currency()), "")
	return f
}

func (c *computation) missing() string {
	var names []string
	for _, n := range c.needs {
		if n.Missing() {
			names = append(names, fmt.Sprintf("%s (%s)", care.InWords(n.Material), n.Amount(n.ToBuy)))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "No pack and no price is known of " + view.And(names) + ": it is not counted. Write \"packs\" in cupboard.yaml."
}

func (c *computation) needsTable() view.Table {
	t := view.Table{Caption: "What the season takes", Columns: []view.Column{
		{Head: "Material"}, {Head: "Pots", Numeric: true}, {Head: "Takes", Numeric: true}, {Head: "By its weight's range", Numeric: true}, {Head: "In stock", Numeric: true}, {Head: "To buy", Numeric: true}, {Head: "Left over", Numeric: true},
	}}
	for _, n := range c.needs {
		stock, left := "not told", "not known"
		if n.Stock != nil {
			stock = n.Amount(*n.Stock)
		}
		if grams, ok := n.Left(); ok {
			left = n.Amount(grams)
		}
		t.Rows = append(t.Rows, []string{n.Material.Name, fmt.Sprint(len(n.Takes)), n.Between(n.Grams[0], n.Grams[1]), n.Between(n.Spread.Low, n.Spread.High), stock, n.Amount(n.ToBuy), left})
	}
	t.Notes = append(t.Notes, "A stock or a pack by volume is weighed at the usual density. Litres are loose, as compost is sold.")
	return t
}

var goalNames = map[packs.Goal]string{packs.Cheapest: "cheapest", packs.CheapestUnit: "cheapest per kilo", packs.LeastLeft: "least left over"}

// choicesTable compares the ways to buy a material where they differ.
func (c *computation) choicesTable() view.Table {
	t := view.Table{Caption: "Other ways to buy", Columns: []view.Column{
		{Head: "Material"}, {Head: "What counts"}, {Head: "Packs"}, {Head: "Cost, " + c.currency(), Numeric: true}, {Head: "Per kilo", Numeric: true}, {Head: "Left over", Numeric: true},
	}}
	for _, n := range c.needs {
		if !differ(n) {
			continue
		}
		for _, o := range n.Offers {
			t.Rows = append(t.Rows, []string{n.Material.Name, goalNames[o.Goal], packsText(n, o), money(o.Cost), money(1000 * o.Cost / o.Grams), n.Amount(o.Left)})
		}
	}
	return t
}

func differ(n *purchase.Need) bool {
	for _, o := range n.Offers {
		if packsText(n, o) != packsText(n, n.Offers[0]) {
			return true
		}
	}
	return false
}

// potsTable shows each pot's own share, by what it uses of each pack.
func (c *computation) potsTable() view.Table {
	t := view.Table{Caption: "Pot by pot", Columns: []view.Column{{Head: "Pot"}, {Head: "Litres", Numeric: true}, {Head: "Takes"}}}
	names, takes := map[string]string{}, map[string][]string{}
	for _, pot := range c.pass.Garden.Pots {
		names[pot.ID] = pot.Name
	}
	for _, n := range c.needs {
		for _, take := range n.Takes {
			takes[take.Pot] = append(takes[take.Pot], n.Between(take.Grams[0], take.Grams[1])+" "+care.InWords(n.Material))
		}
	}
	for _, p := range c.plantings {
		t.Rows = append(t.Rows, []string{names[p.Pot], view.Span(p.Content.Litres[0], p.Content.Litres[1]), strings.Join(takes[p.Pot], ", ")})
	}
	return t
}

func (c *computation) cautions() []*reference.Caution {
	var materials []*garden.Material
	for _, n := range c.needs {
		materials = append(materials, n.Material)
	}
	return care.Concerning(c.pass.Ref, materials, []string{"sourcing-compost", "storing", "lifting"})
}

func (c *computation) keys(working []view.WorkingStep) []string {
	return care.Cited(working, nil, c.cautions())
}

func (c *computation) working() []view.WorkingStep {
	var steps []view.WorkingStep
	for _, n := range c.needs {
		steps = append(steps, purchase.Sums([]*purchase.Need{n})...)
		steps = append(steps, c.buySteps(n)...)
	}
	if c.plan.NewMix > 0.005 {
		r := c.pass.Ref.Must("volumes", "packing", "ratio")
		steps = append(steps, view.WorkingStep{What: "new mix, loose", Sum: fmt.Sprintf("%s L / %s = %s L", view.Exact(c.plan.NewMix), view.Exact(r.Typical), view.Exact(c.loose())), Sources: r.Source})
	}
	if bill := c.bill(); bill.Known {
		steps = append(steps, c.billSteps(bill)...)
	}
	return steps
}

func (c *computation) buySteps(n *purchase.Need) []view.WorkingStep {
	if len(n.Offers) == 0 {
		return nil
	}
	o, terms := n.Offers[0], []string{}
	for _, b := range o.Packs {
		terms = append(terms, fmt.Sprintf("%d x %s g at %s", b.Count, view.Exact(b.Grams), money(b.Pack.Price.Float())))
	}
	sum := fmt.Sprintf("%s = %s g for %s %s; left over %s g + %s g - %s g = %s g", strings.Join(terms, " + "), view.Exact(o.Grams), money(o.Cost), c.currency(),
		view.Exact(n.Had()), view.Exact(o.Grams), view.Exact(n.Grams[1]), view.Exact(o.Left))
	return []view.WorkingStep{{What: n.Material.Name + ", the cheapest packs of every number of every size", Sum: sum}}
}

func (c *computation) billSteps(b purchase.Bill) []view.WorkingStep {
	var terms []string
	for _, n := range c.needs {
		if len(n.Offers) > 0 {
			terms = append(terms, money(n.Offers[0].Cost))
		}
	}
	if len(terms) == 0 {
		terms = []string{"0.00"}
	}
	sum := fmt.Sprintf("%s = %s %s", strings.Join(terms, " + "), money(b.Cost), c.currency())
	if len(b.Missing) > 0 {
		sum += "; no price for " + view.And(b.Missing)
	}
	share := fmt.Sprintf("%s / %s = %s; / %s L = %.3f", money(b.Cost), potsText(len(c.plantings)), money(b.Cost/float64(len(c.plantings))), view.Exact(c.litres), b.Cost/c.litres/100)
	return []view.WorkingStep{{What: "cost of all packs", Sum: sum}, {What: "cost for each pot and each litre", Sum: share}}
}
