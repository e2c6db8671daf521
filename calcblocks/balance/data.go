package balance

import (
	"math"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/scoop"
	"trug/calcblocks/kit/units"
)

// tree returns the block's JSON contract, without stamp and sources.
func (c *computation) tree() data.Object {
	total := dose.Add(c.portions())
	return data.Object{
		{Key: "id", Value: data.Text(c.pass.ID)},
		{Key: "kind", Value: data.Text("balance")},
		{Key: "title", Value: data.Text(c.title)},
		{Key: "stamp", Value: data.Null{}},
		{Key: "for", Value: data.Object{{Key: "litres", Value: data.Number(c.litres)}}},
		{Key: "prefer", Value: data.Text(c.prefer)},
		{Key: "count", Value: data.Text(c.count)},
		{Key: "amounts", Value: c.amountsTree()},
		{Key: "bands", Value: c.bandsTree()},
		{Key: "no_band", Value: c.noBandTree()},
		{Key: "lime_equivalent_g", Value: limeTree(total)},
		{Key: "cost", Value: c.costTree(total.Cost)},
		{Key: "left_out", Value: c.leftTree()},
		{Key: "cautions", Value: care.Tree(c.guards(), c.cautions())},
		{Key: "sources", Value: data.Null{}},
	}
}

// amountsTree has the keys of a recipe's amounts, with the grams that were asked for, the most and what sets
// it.
func (c *computation) amountsTree() data.List {
	out := data.List{}
	for _, u := range c.used {
		o := scoop.Tree(u.scoop, u.scoop, c.pass.Garden.Handbook)
		most := data.Value(data.Null{})
		if u.mostWhy != "" {
			most = data.Number(u.most)
		}
		out = append(out, append(o,
			data.Field{Key: "asked_g", Value: data.Number(u.scoop.Wanted)},
			data.Field{Key: "most_g", Value: most},
		))
	}
	return out
}

func (c *computation) bandsTree() data.List {
	out := data.List{}
	for _, r := range c.results {
		held := data.List{}
		for _, h := range r.heldBy {
			held = append(held, data.Text(h.id))
		}
		out = append(out, data.Object{
			{Key: "nutrient", Value: data.Text(string(r.nutrient))},
			{Key: "low", Value: data.Number(r.low)},
			{Key: "high", Value: data.Number(r.high)},
			{Key: "reached", Value: data.Object{
				{Key: "low", Value: data.Number(r.reached.Low)},
				{Key: "typical", Value: data.Number(r.reached.Typical)},
				{Key: "high", Value: data.Number(r.reached.High)},
			}},
			{Key: "asked_g", Value: data.Number(clean(r.best))},
			{Key: "missed_by", Value: data.Number(r.missed)},
			{Key: "held_by", Value: held},
		})
	}
	return out
}

// clean takes away the rounding of the arithmetic, a billionth of a gram.
func clean(x float64) float64 { return math.Round(x*1e9) / 1e9 }

func (c *computation) noBandTree() data.List {
	out := data.List{}
	for _, b := range c.bands {
		if !b.known {
			out = append(out, data.Object{{Key: "nutrient", Value: data.Text(string(b.nutrient))}, {Key: "why", Value: data.Text(b.why)}})
		}
	}
	return out
}

func limeTree(t dose.Totals) data.Value {
	if !t.Lime.Known {
		return data.Null{}
	}
	out := data.Pair(t.Lime.Value.Typical, t.Lime.Value.Typical)
	out = append(out, data.Field{Key: "least", Value: data.Number(t.Lime.Value.Low)}, data.Field{Key: "most", Value: data.Number(t.Lime.Value.High)})
	return append(out, data.Field{Key: "missing", Value: data.Texts(t.Lime.Missing)})
}

func (c *computation) costTree(s dose.Sum[units.SomeMoney]) data.Object {
	money := data.Value(data.Null{})
	if s.Known {
		money = data.Number(dose.Money(s))
	}
	return data.Object{
		{Key: "low", Value: money},
		{Key: "high", Value: money},
		{Key: "currency", Value: data.Text(c.pass.Garden.Handbook.Currency)},
		{Key: "missing", Value: data.Texts(s.Missing)},
	}
}

func (c *computation) leftTree() data.List {
	out := data.List{}
	for _, l := range c.left {
		out = append(out, data.Object{{Key: "amendment", Value: data.Text(l.id)}, {Key: "why", Value: data.Text(l.why)}})
	}
	return out
}
