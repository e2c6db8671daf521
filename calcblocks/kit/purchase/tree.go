package purchase

import (
	"slices"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/packs"
)

// A Bill is what the packs of one goal cost together. Missing names the materials that must be bought and of
// which no pack is known: they are no part of the cost. Known is false when nothing has a price.
type Bill struct {
	Cost    float64 // minor units
	Known   bool
	Missing []string
}

// BillOf adds up the offers of one of Goals.
func BillOf(needs []*Need, goal packs.Goal) Bill {
	out := Bill{Missing: []string{}}
	for _, n := range needs {
		if n.Missing() {
			out.Missing = append(out.Missing, n.Material.ID)
			continue
		}
		out.Known = true
		if i := slices.IndexFunc(n.Offers, func(o Offer) bool { return o.Goal == goal }); i >= 0 {
			out.Cost += n.Offers[i].Cost
		}
	}
	return out
}

// Money returns minor units as the JSON contract has money.
func Money(minor float64) data.Number { return data.Number(minor / 100) }

// goalKeys name the goals in JSON.
var goalKeys = map[packs.Goal]string{packs.Cheapest: "cheapest", packs.CheapestUnit: "cheapest_per_kilo", packs.LeastLeft: "least_left_over"}

// Tree returns needs as the JSON contract has them: packs, cost and left_g are those of the cheapest choice, null
// where something must be bought and no pack is known.
func Tree(needs []*Need) data.List {
	out := data.List{}
	for _, n := range needs {
		out = append(out, n.tree())
	}
	return out
}

func (n *Need) tree() data.Object {
	out := data.Object{
		{Key: "amendment", Value: data.Text(n.Material.ID)},
		{Key: "grams", Value: data.Number(n.Grams[1])},
		{Key: "grams_range", Value: data.Object{
			{Key: "low", Value: data.Number(n.Grams[0])},
			{Key: "high", Value: data.Number(n.Grams[1])},
			{Key: "least", Value: data.Number(n.Spread.Low)},
			{Key: "most", Value: data.Number(n.Spread.High)},
		}},
		{Key: "litres", Value: n.litresTree(n.Grams[1])},
		{Key: "pots", Value: data.Number(len(n.Takes))},
		{Key: "stock_g", Value: data.Null{}},
		{Key: "to_buy_g", Value: data.Number(n.ToBuy)},
	}
	if n.Stock != nil {
		out = out.With("stock_g", data.Number(*n.Stock))
	}
	return append(append(out, n.boughtTree()...), data.Field{Key: "choices", Value: n.choicesTree()})
}

// litresTree is the loose volume of a mass, null without a density.
func (n *Need) litresTree(grams float64) data.Value {
	d := n.Material.Density()
	if !d.Known {
		return data.Null{}
	}
	return data.Number(grams / d.Typical / 1000)
}

func (n *Need) boughtTree() data.Object {
	switch left, known := n.Left(); {
	case len(n.Offers) > 0:
		return n.offerTree(n.Offers[0])
	case known:
		return data.Object{
			{Key: "packs", Value: data.List{}},
			{Key: "cost", Value: data.Number(0)},
			{Key: "left_g", Value: data.Number(left)},
			{Key: "left_for_pots", Value: data.Number(n.MorePots(left))},
		}
	}
	return data.Object{
		{Key: "packs", Value: data.Null{}},
		{Key: "cost", Value: data.Null{}},
		{Key: "left_g", Value: data.Null{}},
		{Key: "left_for_pots", Value: data.Null{}},
	}
}

func (n *Need) offerTree(o Offer) data.Object {
	list := data.List{}
	for _, b := range o.Packs {
		pack := data.Object{
			{Key: "holds_g", Value: data.Number(b.Grams)},
			{Key: "holds_litres", Value: data.Null{}},
			{Key: "count", Value: data.Number(b.Count)},
			{Key: "price", Value: Money(b.Pack.Price.Float())},
			{Key: "price_per_kg", Value: Money(1000 * b.Pack.Price.Float() / b.Grams)},
		}
		if !b.Pack.Holds.Weighed {
			pack = pack.With("holds_litres", data.Number(b.Pack.Holds.Volume.Float()/1000))
		}
		list = append(list, pack)
	}
	return data.Object{
		{Key: "packs", Value: list},
		{Key: "cost", Value: Money(o.Cost)},
		{Key: "left_g", Value: data.Number(o.Left)},
		{Key: "left_for_pots", Value: data.Number(n.MorePots(o.Left))},
	}
}

// choicesTree holds the choice of every goal, empty without any.
func (n *Need) choicesTree() data.Object {
	out := data.Object{}
	for _, o := range n.Offers {
		out = append(out, data.Field{Key: goalKeys[o.Goal], Value: n.offerTree(o)})
	}
	return out
}

// BillTree returns a bill as a number of currency, null when nothing has a price.
func BillTree(b Bill) data.Value {
	if !b.Known {
		return data.Null{}
	}
	return Money(b.Cost)
}
