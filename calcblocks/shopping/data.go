package shopping

import (
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/packs"
	"trug/calcblocks/kit/purchase"
	"trug/calcblocks/kit/renewal"
	"trug/calcblocks/kit/view"
)

func (c *computation) title() string { return "Shopping list, " + view.Small(c.plan.Title) }

func (c *computation) result() block.Result {
	working := c.working()
	entries := care.Entries(c.pass.Garden, c.keys(working))
	tree := care.Sealed(c.tree(), entries)
	return block.Result{Title: c.title(), Data: tree, Working: working, Sources: entries, View: view.Doc{Parts: c.parts(working, entries)}}
}

func field(key string, v data.Value) data.Field { return data.Field{Key: key, Value: v} }

func num(x float64) data.Number { return data.Number(x) }

// bill is what the cheapest choice costs.
func (c *computation) bill() purchase.Bill { return purchase.BillOf(c.needs, packs.Cheapest) }

func (c *computation) tree() data.Object {
	pots := data.Object{}
	for _, p := range c.plantings {
		pots = append(pots, field(p.Pot, p.Data))
	}
	bill := c.bill()
	return data.Object{
		field("id", data.TextOrNull(c.pass.ID)),
		field("kind", data.Text("shopping")),
		field("title", data.Text(c.title())),
		field("stamp", data.Null{}),
		field("plan", data.Text(c.plan.ID)),
		field("season", num(float64(c.plan.Season))),
		field("pots", pots),
		field("needs", purchase.Tree(c.needs)),
		field("new_mix_litres", num(c.plan.NewMix)),
		field("new_mix_loose_litres", num(c.loose())),
		field("total_cost", purchase.BillTree(bill)),
		field("currency", data.Text(c.pass.Garden.Handbook.Currency)),
		field("missing", data.Texts(bill.Missing)),
		field("cost_per_pot", c.per(bill, float64(len(c.plantings)))),
		field("cost_per_litre", c.per(bill, c.litres)),
		field("total_cost_cheapest_per_kilo", purchase.BillTree(purchase.BillOf(c.needs, packs.CheapestUnit))),
		field("total_cost_least_left_over", purchase.BillTree(purchase.BillOf(c.needs, packs.LeastLeft))),
		field("cautions", care.Tree(nil, c.cautions())),
		field("sources", data.Null{}),
	}
}

// per returns a share of the bill, null when nothing has a price.
func (c *computation) per(b purchase.Bill, n float64) data.Value {
	if !b.Known || n == 0 {
		return data.Null{}
	}
	return purchase.Money(b.Cost / n)
}

// loose returns the loose litres of new mix to make or to buy (volumes.yaml, packing).
func (c *computation) loose() float64 {
	return renewal.Loose(c.plan.NewMix, c.pass.Ref.Must("volumes", "packing", "ratio").Typical)
}
