package plan

import (
	"fmt"
	"math"
	"slices"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/purchase"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/rotation"
	"trug/calcblocks/kit/view"
)

func (c *computation) result() block.Result {
	working := c.working()
	entries := care.Entries(c.pass.Garden, c.keys(working))
	tree := care.Sealed(c.tree(), entries)
	r := block.Result{Title: c.name(), Data: tree, Working: working, Sources: entries, Facts: []facts.Fact{c.fact()}}
	for _, p := range c.plantings {
		r.Facts = append(r.Facts, p)
	}
	for _, m := range c.moves {
		r.Facts = append(r.Facts, m)
	}
	for _, conflict := range c.conflicts {
		r.Facts = append(r.Facts, conflict)
	}
	r.View = view.Doc{Parts: c.parts(working, entries)}
	return r
}

// fact says that the plan is there, whatever faults it has.
func (c *computation) fact() facts.Plan {
	return facts.Plan{At: c.pass.At, ID: c.pass.ID, Title: c.name(), Season: c.season, NewMix: c.totals().short}
}

func field(key string, v data.Value) data.Field { return data.Field{Key: key, Value: v} }

func num(x float64) data.Number { return data.Number(x) }

func (c *computation) tree() data.Object {
	pots := data.Object{}
	for _, p := range c.plantings {
		pots = append(pots, field(p.Pot, p.Data))
	}
	return data.Object{
		field("id", data.TextOrNull(c.pass.ID)),
		field("kind", data.Text("plan")),
		field("title", data.Text(c.name())),
		field("stamp", data.Null{}),
		field("season", num(float64(c.season))),
		field("pots", pots),
		field("needs", purchase.Tree(c.needs)),
		field("mix", c.totalsTree()),
		field("conflicts", c.conflictsTree()),
		field("total_cost", c.totalCost()),
		field("cautions", care.Tree(c.guards(), c.cautions())),
		field("sources", data.Null{}),
	}
}

func (c *computation) potTree(r *row) data.Object {
	out := data.Object{
		field("recipe", data.Null{}), field("with", data.Texts(r.with)), field("crop", data.Null{}), field("plants", data.Null{}),
		field("litres", data.Pair(r.litres[0], r.litres[1])),
		field("amounts", data.List{}), field("compost", data.Null{}),
		field("cost", c.costTree(r)),
		field("mix", mixTree(r)),
	}
	if r.crop != nil {
		out = out.With("crop", data.Text(r.crop.ID))
	}
	if r.plants > 0 {
		out = out.With("plants", num(float64(r.plants)))
	}
	if r.recipe != nil {
		out = out.With("recipe", data.Text(r.recipe.ID))
		out = out.With("amounts", r.content.Data.Get("amounts")).With("compost", r.content.Data.Get("compost"))
	}
	return out
}

// minor returns the whole minor units of a pot's cost at one end, rounded once so that the costs shown add up to
// the total shown; false when nothing in it has a price.
func (r *row) minor(end int) (float64, bool) {
	return math.Round(r.cost[end].Value.Typical), r.cost[end].Known
}

// costTree is null for a pot without a recipe: what it takes is not told.
func (c *computation) costTree(r *row) data.Value {
	if r.recipe == nil {
		return data.Null{}
	}
	out := data.Object{field("low", data.Null{}), field("high", data.Null{}), field("currency", data.Text(c.pass.Garden.Handbook.Currency)), field("missing", data.Texts(r.cost[1].Missing))}
	for end, key := range []string{"low", "high"} {
		if x, known := r.minor(end); known {
			out = out.With(key, purchase.Money(x))
		}
	}
	return out
}

// cost adds up the pots' costs in minor units and names what has no price.
func (c *computation) cost() (sum [2]float64, known bool, missing []string) {
	missing = []string{}
	for _, r := range c.rows {
		for end := range 2 {
			x, ok := r.minor(end)
			if ok {
				sum[end] += x
				known = true
			}
		}
		missing = append(missing, r.cost[1].Missing...)
	}
	slices.Sort(missing)
	return sum, known, slices.Compact(missing)
}

func (c *computation) totalCost() data.Object {
	sum, known, missing := c.cost()
	out := data.Object{field("low", data.Null{}), field("high", data.Null{}), field("currency", data.Text(c.pass.Garden.Handbook.Currency)), field("missing", data.Texts(missing))}
	if known {
		out = out.With("low", purchase.Money(sum[0])).With("high", purchase.Money(sum[1]))
	}
	return out
}

// mixTree is null where neither the fall of the level nor what comes out is told.
func mixTree(r *row) data.Value {
	m := r.mix
	if !m.known {
		return data.Null{}
	}
	return data.Object{
		field("fill_litres", num(m.balance.Fill)),
		field("left_litres", num(m.balance.Left)),
		field("old_mix_out_litres", num(m.balance.Out)),
		field("old_mix_to", data.TextOrNull(m.to)),
		field("room_litres", num(m.balance.Room())),
		field("compost_litres", num(m.balance.Compost)),
		field("compost_without_room_litres", num(m.noRoom)),
		field("comes_in_litres", num(m.in)),
		field("too_much_litres", num(m.over)),
		field("new_mix_litres", num(m.short)),
	}
}

func (c *computation) totalsTree() data.Value {
	t := c.totals()
	if t.followed == 0 {
		return data.Null{}
	}
	return data.Object{
		field("pots_followed", num(float64(t.followed))),
		field("old_mix_out_litres", num(t.out)),
		field("to_pots_litres", num(t.used)),
		field("too_much_litres", num(t.over)),
		field("to_heap_litres", num(t.heap)),
		field("to_discard_litres", num(t.discard)),
		field("to_other_pots_litres", num(t.elsewhere)),
		field("without_place_litres", num(t.untold)),
		field("wanted_litres", num(t.wanted)),
		field("new_mix_litres", num(t.short)),
		field("new_mix_loose_litres", num(c.loose(t.short))),
	}
}

func (c *computation) conflictsTree() data.List {
	out := data.List{}
	for _, k := range c.conflicts {
		wait := data.Value(num(float64(k.Wait)))
		if k.Never {
			wait = data.Null{} // waiting does not make it fit
		}
		out = append(out, data.Object{
			field("pot", data.Text(k.Pot)), field("crop", data.Text(k.Crop)), field("family", data.TextOrNull(k.Family)),
			field("last_year", num(float64(k.LastYear))), field("wait_years", wait), field("discard", data.Flag(k.Never)), field("text", data.Text(k.Text)),
		})
	}
	return out
}

// guards are the cautions that the plan's numbers raise: what comes back too soon, then pot by pot, then what several pots have in common.
func (c *computation) guards() []care.Guard {
	var out []care.Guard
	for _, k := range c.conflicts {
		out = append(out, care.Guard{ID: "rotation", Word: conflictWord(k), Sources: k.Sources, Text: c.label(k.Pot) + ": " + rotation.Told(k, c.pass.Garden.Place)})
	}
	for _, r := range c.rows {
		for _, g := range r.guards {
			if !slices.ContainsFunc(r.brief, func(b brief) bool { return b.id == g.ID }) {
				out = append(out, g)
			}
		}
		out = append(out, c.mixGuards(r)...)
	}
	return append(out, c.briefs()...)
}

func conflictWord(k facts.Conflict) string {
	if k.Never {
		return "Unfit mix"
	}
	return "Too soon"
}

func (c *computation) label(pot string) string { return c.pots[pot].Name }

// mixGuards name what does not close: compost without room, more old mix than fits.
func (c *computation) mixGuards(r *row) []care.Guard {
	var out []care.Guard
	m := r.mix
	if m.noRoom > 0.005 {
		out = append(out, care.Guard{ID: "compost-without-room", Word: "No room", Text: fmt.Sprintf("%s: of the recipe's compost %s L have no room: take out more old mix.", r.pot.Label, view.Number(m.noRoom))})
	}
	if m.over > 0.005 {
		out = append(out, care.Guard{ID: "too-much-old-mix", Word: "Too much comes in", Text: fmt.Sprintf("%s: %s L of old mix come in and %s L fit: send %s L elsewhere.", r.pot.Label, view.Number(m.in), view.Number(m.balance.NewMix), view.Number(m.over))})
	}
	return out
}

// tasks are what a plan has people do.
var tasks = []string{"opening-mix", "mixing", "spreading", "filling-container", "lifting", "sourcing-compost"}

func (c *computation) cautions() []*reference.Caution {
	var materials []*garden.Material
	for _, n := range c.needs {
		materials = append(materials, n.Material)
	}
	doing := tasks
	if c.totals().out > 0 {
		doing = append(slices.Clone(tasks), "discarding-mix")
	}
	return care.Concerning(c.pass.Ref, materials, doing)
}

func (c *computation) keys(working []view.WorkingStep) []string {
	var more []string
	for _, r := range c.rows {
		more = append(more, care.CitedIn(r.content.Parts)...)
	}
	return care.Cited(working, c.guards(), c.cautions(), more)
}
