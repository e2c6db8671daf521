package topup

import (
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

func (c *computation) result() block.Result {
	entries := care.Entries(c.pass.Garden, c.keys())
	tree := care.Sealed(c.tree(), entries)
	r := block.Result{Title: "Top up " + c.pot.Label, Data: tree, Working: c.working(), Sources: entries}
	if c.material != nil {
		r.Facts = append(r.Facts, facts.Use{Block: c.pass.ID, Amendment: c.material.ID})
	}
	r.View = view.Doc{Parts: c.parts(entries)}
	return r
}

func field(key string, v data.Value) data.Field { return data.Field{Key: key, Value: v} }

func num(x float64) data.Number { return data.Number(x) }

func (c *computation) tree() data.Object {
	b := c.balance
	_, out, gain := c.weights()
	fresh, _, _ := c.weights()
	low, high := c.pot.Litres()
	return data.Object{
		field("id", data.TextOrNull(c.pass.ID)),
		field("kind", data.Text("topup")),
		field("title", data.Text("Top up "+c.pot.Label)),
		field("stamp", data.Null{}),
		field("container", data.Object{field("label", data.Text(c.pot.Label)), field("litres", data.Pair(low, high))}),
		field("fill_litres", num(b.Fill)),
		field("left_litres", num(b.Left)),
		field("old_mix_out_litres", num(b.Out)),
		field("room_litres", num(b.Room())),
		field("compost_litres", c.fillTree(b.Compost)),
		field("mix_litres", c.fillTree(b.NewMix)),
		field("compost_before_screen_litres", num(c.beforeScreen())),
		field("fresh_share_percent", num(100*b.FreshShare())),
		field("original_left_percent", numbers(c.originalLeft())),
		field("bags", c.bagsTree()),
		field("added_kg", num(fresh.Typical)),
		field("old_mix_out_kg", num(out.Typical)),
		field("gained_kg", rangeTree(gain)),
		field("n_tied_up_g", c.tieTree()),
		field("old_mix_to", data.TextOrNull(c.where)),
		field("cautions", care.Tree(c.guards(), c.cautions())),
		field("sources", data.Null{}),
	}
}

func (c *computation) fillTree(firmed float64) data.Object {
	loose := c.loose(firmed)
	return data.Object{
		field("firmed", num(firmed)), field("loose", num(loose.typical)),
		field("loose_least", num(loose.low)), field("loose_most", num(loose.high)),
	}
}

func rangeTree(m units.SomeMass) data.Object {
	return data.Object{field("low", num(m.Low)), field("typical", num(m.Typical)), field("high", num(m.High))}
}

func (c *computation) tieTree() data.Value {
	if c.roots == nil {
		return data.Null{}
	}
	return rangeTree(c.tieUp())
}

func numbers(xs []float64) data.List {
	var out data.List
	for _, x := range xs {
		out = append(out, num(x))
	}
	return out
}

func (c *computation) bagsTree() data.List {
	out := data.List{}
	for _, b := range c.bags() {
		out = append(out, data.Object{field("holds_litres", num(b.holds)), field("count", num(float64(b.count)))})
	}
	return out
}

// guards are the cautions that the numbers raise.
func (c *computation) guards() []care.Guard {
	var out []care.Guard
	if c.material != nil {
		percent := 100 * c.balance.Compost / c.balance.Fill
		out = append(care.CompostShare(c.pass.Ref, percent), care.OwnShare(c.pass.Ref, c.material, percent)...)
	}
	return append(out, care.SizeKnown(c.pass.Ref, c.pot)...)
}

func (c *computation) cautions() []*reference.Caution {
	var materials []*garden.Material
	if c.material != nil {
		materials = append(materials, c.material)
	}
	tasks := []string{"opening-mix", "filling-container", "lifting", "sourcing-compost"}
	if c.balance.Out > 0 {
		tasks = append(tasks, "discarding-mix")
	}
	return care.Concerning(c.pass.Ref, materials, tasks)
}

// keys lists the sources of the result.
func (c *computation) keys() []string {
	var more []string
	for _, row := range advice {
		more = append(more, row.source)
	}
	return care.Cited(c.working(), c.guards(), c.cautions(), more)
}
