package diary

import (
	"slices"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/pothistory"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

func (c *computation) result(own []facts.Fact) block.Result {
	if len(c.events) == 0 {
		return block.Result{Title: "Diary"}
	}
	scope, conflicts := c.scope(), c.conflicts()
	working := append(once(c.steps), c.history.Working(scope)...)
	entries := care.Entries(c.pass.Garden, care.Keys(pothistory.Keys(working, conflicts), c.careKeys(conflicts)))
	tree := care.Sealed(c.tree(scope, conflicts), entries)
	parts := []view.Part{c.history.Entries("What was done", c.sorted())}
	if items := c.history.ConflictViews(conflicts, true); len(items) > 0 {
		parts = append(parts, view.Cautions{Title: "Rotation", Items: items})
	}
	parts = append(parts, c.history.Summary(scope)...)
	if len(working) > 0 {
		parts = append(parts, view.Working{Title: "Working", Steps: working})
	}
	if len(entries) > 0 {
		parts = append(parts, view.Bibliography{Title: "Sources", Entries: entries})
	}
	return block.Result{Title: "Diary", Data: tree, View: view.Doc{Parts: parts}, Facts: own, Working: working, Sources: entries}
}

// once leaves out steps that stand there already: the same amount of the same amendment on another day.
func once(steps []view.WorkingStep) []view.WorkingStep {
	seen := map[[2]string]bool{}
	return slices.DeleteFunc(slices.Clone(steps), func(s view.WorkingStep) bool {
		key := [2]string{s.What, s.Sum}
		again := seen[key]
		seen[key] = true
		return again
	})
}

// sorted returns the block's events by date.
func (c *computation) sorted() []facts.Event {
	out := slices.Clone(c.events)
	slices.SortStableFunc(out, func(a, b facts.Event) int { return a.On.Compare(b.On) })
	return out
}

// scope holds the pots that the lines name, as the pot file orders them, and the years of the lines.
func (c *computation) scope() pothistory.Scope {
	named := map[string]bool{}
	year := c.pass.Garden.Handbook.Year()
	out := pothistory.Scope{From: year.Of(c.events[0].On)}
	for _, e := range c.events {
		named[e.Pot] = true
		out.From, out.To = min(out.From, year.Of(e.On)), max(out.To, year.Of(e.On))
	}
	for _, p := range c.pass.Garden.Pots {
		if named[p.ID] {
			out.Pots = append(out.Pots, p.ID)
		}
	}
	return out
}

// conflicts returns the conflicts of which one end or the other stands in this block.
func (c *computation) conflicts() []facts.Conflict {
	own := map[diag.Position]bool{}
	for _, e := range c.events {
		own[e.At] = true
	}
	var out []facts.Conflict
	for _, found := range c.history.Conflicts() {
		if own[found.At] || own[found.Before] {
			out = append(out, found)
		}
	}
	return out
}

// unfit says whether a conflict says to throw mix away.
func unfit(conflicts []facts.Conflict) bool {
	return slices.ContainsFunc(conflicts, func(f facts.Conflict) bool { return f.Never })
}

// cautions are those of the reference on what the conflicts make a grower do.
func (c *computation) cautions(conflicts []facts.Conflict) []*reference.Caution {
	if caution, ok := c.pass.Ref.Caution("discarded-mix"); ok && unfit(conflicts) {
		return []*reference.Caution{caution}
	}
	return nil
}

func (c *computation) careKeys(conflicts []facts.Conflict) []string {
	var out []string
	for _, caution := range c.cautions(conflicts) {
		out = append(out, caution.Source...)
	}
	return out
}

func (c *computation) guards(conflicts []facts.Conflict) []care.Guard {
	var out []care.Guard
	for _, found := range conflicts {
		g := care.Guard{ID: "rotation", Text: found.Text, Sources: care.Keys(found.Sources)}
		if found.Never {
			g.ID = "unfit-mix"
		}
		out = append(out, g)
	}
	return out
}

func (c *computation) tree(scope pothistory.Scope, conflicts []facts.Conflict) data.Object {
	lines := map[string]data.List{}
	for _, e := range c.sorted() {
		lines[e.Pot] = append(lines[e.Pot], line(e))
	}
	byPot := data.Object{}
	for _, pot := range scope.Pots {
		byPot = append(byPot, data.Field{Key: pot, Value: lines[pot]})
	}
	out := data.Object{
		{Key: "id", Value: data.TextOrNull(c.pass.ID)},
		{Key: "kind", Value: data.Text("diary")},
		{Key: "title", Value: data.Text("Diary")},
		{Key: "stamp", Value: data.Null{}},
		{Key: "pots", Value: byPot},
	}
	out = append(out, c.history.Tree(scope)...)
	return append(out,
		data.Field{Key: "conflicts", Value: pothistory.ConflictTree(conflicts)},
		data.Field{Key: "cautions", Value: care.Tree(c.guards(conflicts), c.cautions(conflicts))},
		data.Field{Key: "sources", Value: data.Null{}},
	)
}

// line is one event; what was not told is null.
func line(e facts.Event) data.Object {
	out := data.Object{
		{Key: "on", Value: data.Text(pothistory.Day(e.On))},
		{Key: "did", Value: data.Text(e.Did)},
		{Key: "crop", Value: data.TextOrNull(e.Crop)},
		{Key: "plants", Value: data.Null{}},
		{Key: "with", Value: data.TextOrNull(e.With)},
		{Key: "picks", Value: data.Texts(e.Picks)},
		{Key: "amount", Value: data.TextOrNull(e.Amount)},
		{Key: "grams", Value: grams(e)},
		{Key: "fresh_percent", Value: data.Null{}},
		{Key: "old_mix_to", Value: data.TextOrNull(e.OldMixTo)},
		{Key: "yield_kg", Value: data.Null{}},
		{Key: "note", Value: data.TextOrNull(e.Note)},
		{Key: "disease", Value: data.TextOrNull(e.Disease)},
		{Key: "unfit", Value: data.Flag(e.Unfit != "")},
	}
	if e.Plants > 0 {
		out = out.With("plants", data.Number(float64(e.Plants)))
	}
	if e.Fresh.High > 0 {
		out = out.With("fresh_percent", data.Pair(100*e.Fresh.Low, 100*e.Fresh.High))
	}
	if e.Yield.Sign() > 0 {
		out = out.With("yield_kg", data.Number(e.Yield.Float()/1000))
	}
	return out
}

// grams are the masses of what was added by amendment, compost too; null when nothing was weighed.
func grams(e facts.Event) data.Value {
	if len(e.Portions[0]) == 0 {
		return data.Null{}
	}
	out := data.Object{}
	for i, p := range e.Portions[0] {
		var low, high units.SomeMass = p.Mass, e.Portions[1][i].Mass
		out = append(out, data.Field{Key: p.Material.ID, Value: data.Pair(low.Typical, high.Typical)})
	}
	return out
}
