package compost

import (
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/heap"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

const title = "Compost heap"

func (c *computation) result() block.Result {
	entries := c.entries()
	tree := care.Sealed(c.tree(), entries)
	r := block.Result{Title: title, Data: tree, Working: c.working(), Sources: entries, View: view.Doc{Parts: c.parts(entries)}}
	for _, s := range c.stuffs {
		if s.garden != nil {
			r.Facts = append(r.Facts, facts.Use{Block: c.pass.ID, Amendment: s.garden.ID})
		}
	}
	return r
}

func (c *computation) entries() []sources.Entry {
	var set sources.Set
	set.Add(care.Entries(c.pass.Garden, c.keys())...)
	for _, s := range c.stuffs {
		set.Add(s.own...)
	}
	return set.Sorted()
}

func (c *computation) keys() []string {
	var more []string
	for _, t := range c.targets() {
		more = append(more, t.sources...)
	}
	return care.Cited(c.working(), c.guards(), c.cautions(), more)
}

// band is a published band for a heap as it is built.
func (c *computation) band(key string) reference.Figure {
	return c.pass.Ref.Must("heap", "targets", key)
}

func field(key string, v data.Value) data.Field { return data.Field{Key: key, Value: v} }

// tree writes a belief: one number where nothing is in doubt.
func tree(b units.SomeShare, times float64) data.Value {
	if b.Low == b.High {
		return data.Number(b.Typical * times)
	}
	return data.Object{field("low", data.Number(b.Low*times)), field("typical", data.Number(b.Typical*times)), field("high", data.Number(b.High*times))}
}

func (c *computation) tree() data.Object {
	b := c.shown()
	return data.Object{
		field("id", data.TextOrNull(c.pass.ID)),
		field("kind", data.Text("compost")),
		field("title", data.Text(title)),
		field("stamp", data.Null{}),
		field("materials", c.materialsTree()),
		field("kg", tree(b.kg, 1)),
		field("dry_kg", tree(b.dry, 1)),
		field("c_to_n", tree(b.ratio, 1)),
		field("moisture_percent", tree(b.moisture, 100)),
		field("c_to_n_as_given", c.givenTree()),
		field("wanted_c_to_n", numberOrNull(c.goal)),
		field("wanted_moisture_percent", numberOrNull(100*c.moisture)),
		field("needed", c.neededTree(c.goal > 0, c.forRatio)),
		field("needed_for_moisture", c.neededTree(c.moisture > 0, c.forWater)),
		field("water_to_add_kg", tree(b.addWater, 1)),
		field("too_wet", data.Flag(c.tooWet())),
		field("too_dry", data.Flag(c.tooDry())),
		field("conflict", data.Flag(c.conflict())),
		field("verdict", data.Text(c.verdict())),
		field("n_tied_up_g", tree(units.SomeShare(c.tiedUp()), 1)),
		field("cautions", care.Tree(c.guards(), c.cautions())),
		field("sources", data.Null{}),
	}
}

func numberOrNull(x float64) data.Value {
	if x == 0 {
		return data.Null{}
	}
	return data.Number(x)
}

// givenTree is the C:N with the amounts that the author wrote, null where one was solved for.
func (c *computation) givenTree() data.Value {
	if c.change != nil && !c.change.known {
		return data.Null{}
	}
	return tree(c.blend.ratio, 1)
}

func (c *computation) materialsTree() data.List {
	out := data.List{}
	for i, s := range c.stuffs {
		m := c.amountOf(s)
		o := data.Object{
			field("name", data.Text(s.name)), field("kg", data.Null{}), field("moisture_percent", tree(m.Moisture, 100)),
			field("c_percent", tree(m.Carbon, 100)), field("n_percent", tree(m.Nitrogen, 100)), field("c_to_n", tree(m.CToN, 1)),
			field("decays_percent", tree(s.decays, 100)), field("n_tied_up_g", data.Null{}),
		}
		if s.known || c.reached() {
			o = o.With("kg", tree(m.Kg, 1)).With("n_tied_up_g", tree(units.SomeShare(c.tied[i]), 1))
		}
		out = append(out, o)
	}
	return out
}

// neededTree is null without a goal; kg is null where the goal is out of reach, and its high end where the
// figures leave it open.
func (c *computation) neededTree(wanted bool, a heap.Amount) data.Value {
	if !wanted || c.change == nil {
		return data.Null{}
	}
	out := data.Object{field("material", data.Text(c.change.name)), field("kg", data.Null{}), field("add_kg", data.Null{}), field("reached", data.Flag(a.Reached))}
	if !a.Reached {
		return out
	}
	kg := tree(a.Kg, 1)
	if o, ok := kg.(data.Object); ok && a.Open {
		kg = o.With("high", data.Null{})
	}
	out = out.With("kg", kg)
	if c.change.known {
		out = append(out.With("add_kg", data.Number(a.Kg.Typical-c.change.material.Kg.Typical)), field("written_kg", tree(c.change.material.Kg, 1)))
	}
	return out
}
