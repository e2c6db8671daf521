package balance

import (
	"fmt"
	"math"
	"strings"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/scoop"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// result puts the data, the view and the facts together.
func (c *computation) result() block.Result {
	entries := c.entries()
	tree := care.Sealed(c.tree(), entries)
	return block.Result{
		Title: c.title, Data: tree, Facts: c.uses(), Sources: entries, Working: c.working(),
		View: view.Doc{Parts: c.parts(entries)},
	}
}

// entries lists the sources that the result rests on, the author's own targets among them.
func (c *computation) entries() []sources.Entry {
	keys := care.Cited(c.working(), c.guards(), c.cautions())
	var set sources.Set
	for _, e := range append(care.Entries(c.pass.Garden, keys), c.own...) {
		set.Add(e)
	}
	return set.Sorted()
}

func (c *computation) parts(entries []sources.Entry) []view.Part {
	parts := []view.Part{view.Paragraph{Text: c.intro()}}
	if len(c.used) > 0 {
		parts = append(parts, c.amountsView())
	}
	parts = append(parts, c.bars(), c.table(), c.figures())
	if guards := care.GuardViews(c.guards()); len(guards) > 0 {
		parts = append(parts, view.Cautions{Items: guards})
	}
	if len(c.used) > 0 {
		parts = append(parts, view.Listing{Title: "Use as a recipe: put these lines into a recipe block", Language: "yaml", Text: c.recipe()})
	}
	return append(parts,
		view.Working{Title: "Working", Steps: c.working()},
		view.Cautions{Title: "Take care", Items: care.Views(c.cautions())},
		view.Bibliography{Title: "Sources", Entries: entries},
	)
}

// intro says what the amounts are for and whether they reach it.
func (c *computation) intro() string {
	text := "Amounts for " + c.container.Label
	if litres := view.Number(c.litres) + " L"; litres != c.container.Label {
		text += " (" + litres + " of mix)"
	}
	if c.cropOK != nil && c.plants > 0 {
		text += fmt.Sprintf(" with %d %s of %s", c.plants, plural(c.plants, "plant"), view.Small(c.cropOK.Name))
	}
	text += ", " + aims[c.prefer] + ", counting " + counts[c.count] + "."
	for _, n := range care.Notes(c.guards()) {
		text += " " + n
	}
	return text + " " + c.verdict()
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

var aims = map[string]string{
	"cheapest": "the cheapest that stay within every limit",
	"closest":  "as near the middle of each band as the limits allow",
	"fewest":   "with as few materials as will do",
}

var counts = map[string]string{
	"available": "what becomes available in a season",
	"total":     "all that the labels state",
}

// verdict names the bands that are missed.
func (c *computation) verdict() string {
	var missed []string
	for _, r := range c.results {
		if r.missed != 0 {
			missed = append(missed, r.nutrient.Name())
		}
	}
	if len(missed) == 0 {
		return "The measures bring every nutrient into its band."
	}
	return "Out of band: " + view.And(missed) + ". The table says by how much and what is in the way."
}

func (c *computation) amountsView() view.Amounts {
	hb := c.pass.Garden.Handbook
	out := view.Amounts{Title: "What goes in"}
	for _, set := range hb.Sets() {
		out.Sets = append(out.Sets, string(set))
	}
	for _, u := range c.used {
		row := scoop.View(u.scoop, u.scoop, hb)
		row.Reason = c.brings(u)
		if off := u.scoop.Error(); math.Abs(off) >= 1 {
			row.Error = fmt.Sprintf("%s %% %s than asked", view.Number(math.Abs(off)), care.MoreOrLess(off))
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// brings names what counts of one material: "1.2 g N, 0.6 g K2O".
func (c *computation) brings(u use) string {
	var out []string
	for _, b := range c.wanted() {
		if g := u.scoop.Mass.Typical * u.counts[b.nutrient].value.Typical; math.Abs(g) >= 0.05 {
			out = append(out, view.Number(g)+" g "+b.nutrient.Symbol())
		}
	}
	return strings.Join(out, ", ")
}

func (c *computation) bars() view.Bars {
	out := view.Bars{Title: "What the measures bring, against what is wanted", Unit: "g"}
	for _, r := range c.results {
		out.Rows = append(out.Rows, view.Bar{
			Label: r.nutrient.Symbol(), Low: r.reached.Low, High: r.reached.High, Need: &view.Band{Low: r.low, High: r.high},
			Text: view.Span(r.reached.Low, r.reached.High) + " g",
		})
	}
	return out
}

func (c *computation) table() view.Table {
	t := view.Table{Caption: "Grams of each nutrient: wanted, brought, and by how much a band is missed", Columns: []view.Column{
		{Head: "Nutrient"}, {Head: "Wanted", Numeric: true}, {Head: "Brought", Numeric: true}, {Head: "Range", Numeric: true}, {Head: "Missed by", Numeric: true}, {Head: "In the way"},
	}}
	for _, r := range c.results {
		var held []string
		for _, h := range r.heldBy {
			held = append(held, h.words)
		}
		t.Rows = append(t.Rows, []string{
			r.nutrient.Symbol(), view.Span(r.low, r.high), view.Number(r.reached.Typical), view.Span(r.reached.Low, r.reached.High), missedText(r.missed), strings.Join(held, "; "),
		})
	}
	for _, b := range c.bands {
		if !b.known {
			t.Notes = append(t.Notes, view.Capital(b.nutrient.Name())+" has no band: "+b.why+".")
		}
	}
	return t
}

func missedText(x float64) string {
	switch {
	case x < 0:
		return small(-x) + " short"
	case x > 0:
		return small(x) + " over"
	}
	return "-"
}

// small prints an amount that must not look like nothing.
func small(x float64) string {
	if text := view.Number(x); text != "0" {
		return text
	}
	return "under 0.01"
}

func (c *computation) figures() view.Figures {
	total := dose.Add(c.portions())
	f := view.Figures{Title: "Worth knowing", Rows: []view.Figure{
		{Label: "Cost", Value: c.costText(total), Note: c.costNote(total)},
	}}
	if total.Lime.Known {
		f.Rows = append(f.Rows, view.Figure{Label: "Lime equivalent", Value: "about " + view.Number(total.Lime.Value.Typical) + " g CaCO3", Note: without(total.Lime.Missing)})
	}
	for _, l := range c.left {
		f.Rows = append(f.Rows, view.Figure{Label: "Left out: " + l.id, Value: l.why})
	}
	return f
}

func without(missing []string) string {
	if len(missing) == 0 {
		return ""
	}
	return "without " + strings.Join(missing, ", ")
}

func (c *computation) costText(t dose.Totals) string {
	if !t.Cost.Known {
		return "no price known"
	}
	return fmt.Sprintf("about %.2f %s", dose.Money(t.Cost), c.pass.Garden.Handbook.Currency)
}

// costNote names what has no price, and the rule for it.
func (c *computation) costNote(t dose.Totals) string {
	if len(t.Cost.Missing) == 0 {
		return ""
	}
	if c.prefer == "fewest" {
		return "no price for " + strings.Join(t.Cost.Missing, ", ")
	}
	return "no price for " + strings.Join(t.Cost.Missing, ", ") + ": such materials are used only as far as the priced ones do not reach"
}
