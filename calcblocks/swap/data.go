package swap

import (
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/scoop"
	"trug/calcblocks/kit/substitute"
)

// tree returns the block's JSON contract, without stamp and sources.
func (c *computation) tree() data.Object {
	options := data.List{}
	for _, o := range c.options {
		options = append(options, c.optionTree(o))
	}
	left := data.List{}
	for _, l := range c.left {
		left = append(left, data.Object{{Key: "amendment", Value: data.Text(l.id)}, {Key: "why", Value: data.Text(l.why)}})
	}
	return data.Object{
		{Key: "id", Value: data.TextOrNull(c.pass.ID)},
		{Key: "kind", Value: data.Text("swap")},
		{Key: "title", Value: data.Text(c.title())},
		{Key: "stamp", Value: data.Null{}},
		{Key: "instead_of", Value: data.Text(c.material.ID)},
		{Key: "grams", Value: data.Pair(c.ends[0].Typical, c.ends[1].Typical)},
		{Key: "basis", Value: data.Text(string(c.same))},
		{Key: "basis_g", Value: data.Pair(c.kept(0), c.kept(1))},
		{Key: "substitutes", Value: options},
		{Key: "left_out", Value: left},
		{Key: "cautions", Value: care.Tree(c.guards(), c.cautions())},
		{Key: "sources", Value: data.Null{}},
	}
}

// kept is what is kept the same, g, at one of the author's ends.
func (c *computation) kept(end int) float64 { return c.ends[end].Typical * c.worth.Value.Typical }

// optionTree has the keys of a recipe's amounts: the grams that the spoons hold, beside those that bring as
// much. also_g is what the spoons bring, change_g that less what the original brought, both at the author's
// high end.
func (c *computation) optionTree(o option) data.Object {
	out := scoop.Tree(o.ends[0], o.ends[1], c.pass.Garden.Handbook)
	also, changes := data.Object{}, data.Object{}
	for _, n := range reference.Nutrients {
		brings := data.Value(data.Null{})
		if sum := o.effects.Brings.Added[n]; sum.Known {
			brings = data.Number(sum.Value.Typical)
		}
		also = append(also, data.Field{Key: string(n), Value: brings})
		changes = append(changes, data.Field{Key: string(n), Value: changeTree(o.effects.Change[n])})
	}
	lime := data.Value(data.Null{})
	if sum := o.effects.Brings.Lime; sum.Known {
		lime = data.Number(sum.Value.Typical)
	}
	cost := data.Value(data.Null{})
	if sum := o.effects.Brings.Cost; sum.Known {
		cost = data.Number(cents(sum.Value.Typical))
	}
	costChange := o.effects.Cost
	costChange.Value = cents(costChange.Value)
	return append(
		out,
		data.Field{Key: "in_cupboard", Value: data.Flag(o.InCupboard)},
		data.Field{Key: "asked_g", Value: data.Object{
			{Key: "low", Value: data.Number(o.exact[0].Typical)},
			{Key: "high", Value: data.Number(o.exact[1].Typical)},
			{Key: "least", Value: data.Number(o.exact[0].Low)},
			{Key: "most", Value: data.Number(o.exact[1].High)},
		}},
		data.Field{Key: "also_g", Value: also},
		data.Field{Key: "change_g", Value: changes},
		data.Field{Key: "lime_equivalent_g", Value: lime},
		data.Field{Key: "lime_change_g", Value: changeTree(o.effects.Lime)},
		data.Field{Key: "salt", Value: data.Text(saltText(o.effects.Salt))},
		data.Field{Key: "ec_added_ms_cm", Value: c.saltTree(o)},
		data.Field{Key: "cost", Value: cost},
		data.Field{Key: "cost_change", Value: changeTree(costChange)},
		data.Field{Key: "over_usual_most", Value: data.Flag(o.over != "")},
		data.Field{Key: "more_cautions", Value: cautionIDs(o)},
	)
}

func cautionIDs(o option) data.List {
	ids := []string{}
	for _, caution := range o.effects.Cautions {
		ids = append(ids, caution.ID)
	}
	return data.Texts(ids)
}

func changeTree(c substitute.Change) data.Value {
	if !c.Known {
		return data.Null{}
	}
	return data.Number(c.Value)
}

// saltTree is null where the mix is not told.
func (c *computation) saltTree(o option) data.Value {
	if c.container == nil || !o.salt.Known {
		return data.Null{}
	}
	return data.Pair(o.salt.Value.Low, o.salt.Value.High)
}
