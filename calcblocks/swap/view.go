package swap

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/scoop"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

func (c *computation) title() string { return "Instead of " + care.InWords(c.material) }

// result puts the data, the view and the facts together.
func (c *computation) result() block.Result {
	entries := care.Entries(c.pass.Garden, c.keys())
	tree := care.Sealed(c.tree(), entries)
	return block.Result{
		Title: c.title(), Data: tree, Facts: c.uses(), Sources: entries, Working: c.working(),
		View: view.Doc{Parts: c.parts(entries)},
	}
}

func (c *computation) keys() []string {
	return care.Cited(c.working(), c.guards(), c.cautions())
}

func (c *computation) parts(entries []sources.Entry) []view.Part {
	parts := []view.Part{view.Paragraph{Text: c.intro()}}
	near, far := c.split()
	if c.from != nil {
		parts = append(parts, c.tables("As much brings one of these", near)...)
	} else {
		cupboard := func(o option) bool { return o.InCupboard }
		parts = append(parts, c.tables("From the cupboard, one of these brings as much", kept(near, cupboard))...)
		parts = append(parts, c.tables("From the whole catalogue, one of these", dropped(near, cupboard))...)
	}
	if text := c.rest(far); text != "" {
		parts = append(parts, view.Paragraph{Text: text})
	}
	if guards := care.GuardViews(c.guards()); len(guards) > 0 {
		parts = append(parts, view.Cautions{Items: guards})
	}
	return append(parts,
		view.Working{Title: "Working", Steps: c.working()},
		view.Cautions{Title: "Take care", Items: care.Views(c.cautions())},
		view.Bibliography{Title: "Sources", Entries: entries},
	)
}

func (c *computation) intro() string {
	text := fmt.Sprintf("Instead of %s of %s (%s g), which brings %s g of %s.", c.amountText, care.InWords(c.material), view.Span(c.ends[0].Typical, c.ends[1].Typical), view.Span(c.kept(0), c.kept(1)), c.what())
	near, _ := c.split()
	switch {
	case len(c.options) == 0:
		return text + " Nothing here brings it."
	case len(near) == 0:
		return text + " Nothing here brings it without too much else."
	}
	text += " Take one of them: each brings as much, and something else."
	if c.container != nil {
		text += " Checked for " + c.container.Label + " of mix."
	}
	return text
}

// A substitute is shown when it has at most so many times the weight of the original, and adds of no other
// main nutrient more than so many times what is kept: more is no swap but another recipe (this program's own
// choice).
const manyTimes, muchElse = 10, 3

// split parts what is offered from what would bring too much with it, be it at hand or not. The author's own list is
// offered as it is.
func (c *computation) split() (near, far []option) {
	for _, o := range c.options {
		if c.from == nil && c.tooMuch(o) {
			far = append(far, o)
		} else {
			near = append(near, o)
		}
	}
	return near, far
}

func (c *computation) tooMuch(o option) bool {
	if o.exact[1].Typical > manyTimes*c.ends[1].Typical {
		return true
	}
	for _, n := range []reference.Nutrient{reference.N, reference.P2O5, reference.K2O} {
		if change := o.effects.Change[n]; n != c.same && change.Known && change.Value > muchElse*c.kept(1) {
			return true
		}
	}
	return false
}

func kept(options []option, fits func(option) bool) []option {
	return slices.DeleteFunc(slices.Clone(options), func(o option) bool { return !fits(o) })
}

func dropped(options []option, fits func(option) bool) []option {
	return slices.DeleteFunc(slices.Clone(options), fits)
}

// tables shows amounts, and beside them what else changes; nothing without options.
func (c *computation) tables(title string, options []option) []view.Part {
	if len(options) == 0 {
		return nil
	}
	hb := c.pass.Garden.Handbook
	much := view.Table{Caption: title, Columns: []view.Column{{Head: "Instead"}}}
	for _, set := range hb.Sets() {
		much.Columns = append(much.Columns, view.Column{Head: string(set)})
	}
	much.Columns = append(much.Columns, view.Column{Head: "Weight", Numeric: true}, view.Column{Head: "Cost in " + hb.Currency, Numeric: true})
	effects := view.Table{Caption: "What else changes", Columns: []view.Column{
		{Head: "Instead"}, {Head: "Comes along"}, {Head: "Goes missing"}, {Head: "pH"}, {Head: "Salt"}, {Head: "Mind"},
	}}
	if at := c.highEnd(); at != "" {
		much.Notes = append(much.Notes, "Cost is"+at+".")
		effects.Notes = append(effects.Notes, "All of it is"+at+".")
	}
	for _, o := range options {
		amount := scoop.View(o.ends[0], o.ends[1], hb)
		row := []string{o.Material.Name}
		for _, set := range hb.Sets() {
			row = append(row, amount.Measures[string(set)])
		}
		much.Rows = append(much.Rows, append(row, amount.Grams, c.costText(o)))
		effects.Rows = append(effects.Rows, []string{o.Material.Name, dash(c.along(o)), dash(c.missing(o)), phText(o.effects.Lime), saltText(o.effects.Salt), dash(mind(o))})
		if unknown := unknown(o); len(unknown) > 0 {
			effects.Notes = append(effects.Notes, o.Material.Name+": not known what changes of "+view.And(unknown)+".")
		}
	}
	return []view.Part{much, effects}
}

// highEnd tells at which end of the author's range a figure stands, "" where there is none.
func (c *computation) highEnd() string {
	if c.ends[0] == c.ends[1] {
		return ""
	}
	return fmt.Sprintf(" at the high end, instead of %s g of %s", view.Number(c.ends[1].Typical), care.InWords(c.material))
}

func dash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

// mind names the cautions that the original did not call for.
func mind(o option) string {
	var out []string
	if o.over != "" {
		out = append(out, "over its usual most")
	}
	for _, caution := range o.effects.Cautions {
		out = append(out, view.Small(caution.View().Word))
	}
	return strings.Join(out, ", ")
}

// rest names what would take too much, and what cannot stand in.
func (c *computation) rest(far []option) string {
	var sentences []string
	if len(far) > 0 {
		var names []string
		for _, o := range far {
			name := care.InWords(o.Material)
			if o.InCupboard {
				name += " of the cupboard"
			}
			names = append(names, fmt.Sprintf("%s (%s g)", name, view.Number(o.exact[1].Typical)))
		}
		sentences = append(sentences, fmt.Sprintf("%s, but only with over %d times the weight of %s or with over %d times as much of another main nutrient as is kept: %s.", broughtToo(len(far)), manyTimes, care.InWords(c.material), muchElse, view.And(names)))
	}
	for _, l := range c.left {
		sentences = append(sentences, "Not "+l.id+": "+l.why+".")
	}
	return strings.Join(sentences, " ")
}

func broughtToo(count int) string {
	if count == 1 {
		return "One more brings it too"
	}
	return fmt.Sprintf("%d more bring it too", count)
}

// guards names the substitutes that are over their usual most for the mix, and those whose measure is coarse.
func (c *computation) guards() []care.Guard {
	var out []care.Guard
	near, _ := c.split()
	for _, o := range near {
		if o.over != "" {
			out = append(out, care.Guard{ID: "over-limit", Word: "Over the usual most", Text: o.over + ".", Sources: o.overSources})
		}
		out = append(out, c.coarse(o)...)
	}
	return out
}

// cautions returns those of the reference that concern the substitutes at hand, or those that the author
// listed.
func (c *computation) cautions() []*reference.Caution {
	var materials []*garden.Material
	tasks := []string{"mixing", "spreading", "watering"}
	for _, o := range c.options {
		if !o.InCupboard && c.from == nil {
			continue
		}
		materials = append(materials, o.Material)
		switch {
		case o.Material.ID == "wood-ash":
			tasks = append(tasks, "spreading-ash")
		case o.Material.Class() == "liming":
			tasks = append(tasks, "liming")
		}
	}
	var out []*reference.Caution
	for _, caution := range c.pass.Ref.Cautions { // each alone: they are never used together
		if slices.ContainsFunc(materials, func(m *garden.Material) bool {
			return slices.Contains(care.Concerning(c.pass.Ref, []*garden.Material{m}, tasks), caution)
		}) || slices.Contains(care.Concerning(c.pass.Ref, nil, nil), caution) {
			out = append(out, caution)
		}
	}
	return out
}
