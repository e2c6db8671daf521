package topup

import (
	"cmp"
	"fmt"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// advice is what others say about renewing a mix, to hold the result against (volumes.md, section 6).
var advice = []struct{ what, figure, source string }{
	{"new mix to add, with fertiliser", "a third", "uc-orange-mix"},
	{"old mix, at most", "half, and only without disease or pest", "toronto-mg"},
	{"compost to add, or new mix", "a quarter, or a half", "garden-columns"},
	{"mature compost in a mix, at most", "a fifth", "eugene-compost"},
	{"compost when filling beds", "half", "umd-raised-bed-2019"},
}

func (c *computation) parts(entries []sources.Entry) []view.Part {
	parts := []view.Part{c.section(), c.figures()}
	if guards := care.GuardViews(c.guards()); len(guards) > 0 {
		parts = append(parts, view.Cautions{Items: guards})
	}
	for _, text := range append(c.assumed, care.Notes(c.guards())...) {
		parts = append(parts, view.Paragraph{Text: text})
	}
	parts = append(parts, c.stepsView(), c.bagsView(), c.yearsView(), c.adviceView())
	return append(parts,
		view.Working{Title: "Working", Steps: c.working()},
		view.Cautions{Title: "Take care", Items: care.Views(c.cautions())},
		view.Bibliography{Title: "Sources", Entries: entries},
	)
}

// section is the cut through the pot: what stays, what goes in, what stays free.
func (c *computation) section() view.Section {
	s := view.Section{Title: c.pot.Label + ", cut open", Pot: care.PotView(c.pot)}
	v := c.pot.Vessel
	layer := func(kind, label string, from, to float64) {
		if to-from > 0.01 {
			s.Layers = append(s.Layers, view.Layer{Kind: kind, Label: label, FromCM: from, ToCM: to, Width: view.Number(v.LengthAt(to)) + " cm"})
		}
	}
	mixTo := v.HeightOf((c.litres(c.after) + c.balance.NewMix) * 1000)
	layer("old", "old mix, "+view.Number(c.litres(c.after))+" L", 0, c.after)
	layer("mix", "new mix, "+view.Number(c.balance.NewMix)+" L", c.after, mixTo)
	layer("compost", c.withName()+", "+view.Number(c.balance.Compost)+" L", mixTo, c.refill)
	layer("headspace", "headspace", c.refill, v.Depth)
	if c.surface-c.after > 0.01 {
		s.Marks = append(s.Marks, view.Mark{Label: "old mix before", AtCM: c.surface})
	}
	return s
}

func (c *computation) withName() string {
	if c.material == nil {
		return "new mix"
	}
	return care.InWords(c.material)
}

func (c *computation) figures() view.Figures {
	b := c.balance
	fresh, out, gain := c.weights()
	f := view.Figures{Title: "What moves"}
	row := func(label, value, note string) {
		f.Rows = append(f.Rows, view.Figure{Label: label, Value: value, Note: note})
	}
	row("Old mix out", "about "+view.Number(b.Out)+" L", c.outNote())
	row("Room for fresh material", "about "+view.Number(b.Room())+" L", "")
	if b.NewMix > 0 {
		row("New mix in", "about "+view.Number(b.NewMix)+" L firmed", c.buyNote(b.NewMix))
	}
	if c.material != nil {
		row(c.material.Name+" in", "about "+view.Number(b.Compost)+" L firmed", c.buyNote(b.Compost))
	}
	if c.screened != nil {
		row("Compost to put through the screen", "about "+view.Number(c.beforeScreen())+" L loose", view.Number(100*c.screened.Float())+" % passes")
	}
	row("Fresh in the pot", "about "+view.Number(100*b.FreshShare())+" %", "20 to 33 % a year is usual")
	row("To carry", fmt.Sprintf("about %s kg in, %s kg out", view.Number(fresh.Typical), view.Number(out.Typical)), "as bought, and as dug out")
	row("The pot, watered", changeText(gain.Typical), "between "+view.Number(gain.Low)+" and "+view.Number(gain.High)+" kg")
	if c.rootsLeft {
		tie := c.tieUp()
		row("Nitrogen that old roots tie up", "about "+view.Number(tie.Typical)+" g", view.Span(tie.Low, tie.High)+" g; from memory, weak")
	}
	return f
}

// changeText says what a pot gains or loses.
func changeText(kg float64) string {
	if kg < 0 {
		return "loses about " + view.Number(-kg) + " kg"
	}
	return "gains about " + view.Number(kg) + " kg"
}

func (c *computation) outNote() string {
	if c.balance.Out < 0.005 {
		return "none has to come out"
	}
	if c.where == "" {
		return ""
	}
	return "goes to " + c.where
}

func (c *computation) buyNote(firmed float64) string {
	l := c.loose(firmed)
	return fmt.Sprintf("about %s L loose (%s)", view.Number(l.typical), view.Span(l.low, l.high))
}

func (c *computation) stepsView() view.Steps {
	s := view.Steps{Title: "Steps"}
	step := func(format string, args ...any) {
		s.Items = append(s.Items, view.Step{Text: fmt.Sprintf(format, args...)})
	}
	if c.balance.Out > 0.005 {
		where := ""
		if c.where != "" {
			where = " It goes to " + c.where + ", if it was healthy."
		}
		step("Take out old mix until it stands %s cm below %s: about %s L.%s", view.Number(c.pot.Vessel.Depth-c.after), c.edge(), view.Number(c.balance.Out), where)
	}
	switch {
	case c.rootsLeft:
		step("Shake the old roots loose and leave them: they rot in place.")
	case c.roots != nil:
		step("Pick out the old roots, grubs and eggs.")
	}
	step("Lay the dry amendments of the recipe on the old mix, if there are any, and work them in.")
	switch mix := view.Number(c.balance.NewMix); {
	case c.material == nil:
		step("Fill in %s L of new mix and firm it gently, up to %s.", mix, c.lineText())
	case c.balance.NewMix > 0:
		step("Fill in %s L of new mix and firm it gently.", mix)
	}
	if c.material != nil {
		step("Cover with %s and firm it gently, up to %s.", c.withName(), c.lineText())
	}
	step("Water until a little runs out at the bottom, let it settle, and top up what sank.")
	return s
}

// lineText says where the line to fill to is.
func (c *computation) lineText() string {
	if free := c.pot.Vessel.Depth - c.refill; free >= 0.05 {
		return view.Number(free) + " cm below " + c.edge()
	}
	return c.edge()
}

// edge is what heights are told from: the rim, or the fill line of a pot whose volume was measured and whose
// rim nobody knows.
func (c *computation) edge() string {
	if c.pot.Vessel.Measured[1] > 0 {
		return "the fill line"
	}
	return "the rim"
}

func (c *computation) bagsView() view.Table {
	t := view.Table{Caption: "Bags to buy, one size or another", Columns: []view.Column{{Head: "Bag"}, {Head: "Litres", Numeric: true}, {Head: "Bags", Numeric: true}}}
	bags := slices.SortedStableFunc(slices.Values(c.bags()), func(a, b bag) int { return cmp.Compare(a.holds, b.holds) })
	enough := false
	for _, b := range bags {
		if !enough || b.own { // beyond the first that is enough, only what the cupboard knows
			t.Rows = append(t.Rows, []string{b.name, view.Number(b.holds), fmt.Sprint(b.count)})
		}
		enough = enough || b.count == 1
	}
	t.Notes = append(t.Notes, "Part bags are bought whole. Bags hold loose material.")
	if c.balance.NewMix > 0 && c.balance.Compost > 0 {
		t.Notes = append(t.Notes, "Compost and new mix are in bags of their own: the number is of both.")
	}
	return t
}

func (c *computation) yearsView() view.Table {
	t := view.Table{Caption: "First mix left, renewed alike every year", Columns: []view.Column{{Head: "After"}, {Head: "Percent", Numeric: true}}}
	for i, percent := range c.originalLeft() {
		years := fmt.Sprintf("%d years", i+1)
		if i == 0 {
			years = "1 year"
		}
		t.Rows = append(t.Rows, []string{years, view.Number(percent)})
	}
	if c.material != nil {
		t.Notes = append(t.Notes, "The mix drifts towards compost: renew its bark and perlite too.")
	}
	return t
}

func (c *computation) adviceView() view.Table {
	t := view.Table{Caption: fmt.Sprintf("Published advice, beside %s %% fresh here", view.Number(100*c.balance.FreshShare())), Columns: []view.Column{{Head: "Advice"}, {Head: "Share of the volume"}, {Head: "Source"}}}
	for _, a := range advice {
		t.Rows = append(t.Rows, []string{a.what, a.figure, "[" + a.source + "]"})
	}
	return t
}
