package mix

import (
	"math"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

func (c *computation) result() block.Result {
	entries := care.Entries(c.pass.Garden, c.keys())
	tree := care.Sealed(c.tree(), entries)
	r := block.Result{Title: c.name(), Data: tree, Working: c.working(), Sources: entries}
	for _, m := range c.materials() {
		r.Facts = append(r.Facts, facts.Use{Block: c.pass.ID, Amendment: m.ID})
	}
	r.View = view.Doc{Parts: c.view(entries)}
	return r
}

func (c *computation) tree() data.Object {
	out := data.Object{
		{Key: "id", Value: data.TextOrNull(c.pass.ID)},
		{Key: "kind", Value: data.Text("mix")},
		{Key: "title", Value: data.Text(c.name())},
		{Key: "stamp", Value: data.Null{}},
		{Key: "make_litres", Value: data.Number(c.litres)},
		{Key: "parts", Value: c.partsTree()},
		{Key: "amounts", Value: c.amountsTree()},
		{Key: "dry_kg", Value: kilograms(c.dry)},
		{Key: "watered_kg", Value: kilograms(c.watered)},
	}
	out = append(out, c.poresTree()...)
	return append(
		out,
		data.Field{Key: "ph", Value: c.phTree()},
		data.Field{Key: "added_g", Value: c.addedTree(1)},
		data.Field{Key: "added_mg_per_l", Value: c.addedTree(1000 / c.litres)},
		data.Field{Key: "cost", Value: c.costTree()},
		data.Field{Key: "cautions", Value: care.Tree(c.guards(), c.cautions())},
		data.Field{Key: "sources", Value: data.Null{}},
	)
}

func (c *computation) partsTree() data.List {
	out := data.List{}
	for _, p := range c.parts {
		bags := data.List{}
		for _, b := range c.bags(p) {
			bags = append(bags, data.Object{{Key: "holds_litres", Value: data.Number(b.holds)}, {Key: "count", Value: data.Number(b.count)}})
		}
		out = append(out, data.Object{
			{Key: "name", Value: data.Text(p.name)},
			{Key: "share_percent", Value: data.Number(100 * p.share)},
			{Key: "litres_loose", Value: data.Number(p.loose.Typical / 1000)},
			{Key: "litres_loose_least", Value: data.Number(p.loose.Low / 1000)},
			{Key: "litres_loose_most", Value: data.Number(p.loose.High / 1000)},
			{Key: "litres_firmed", Value: data.Number(p.firmed)},
			{Key: "dry_kg", Value: kilograms(p.dry)},
			{Key: "bags", Value: bags},
		})
	}
	return out
}

func (c *computation) amountsTree() data.List {
	hb := c.pass.Garden.Handbook
	out := data.List{}
	for _, p := range c.additions() {
		low, high := p.ends[0], p.ends[1]
		measures := data.Object{}
		for _, set := range hb.Sets() {
			measures = append(measures, data.Field{Key: string(set), Value: data.Object{
				{Key: "low", Value: data.TextOrNull(low.measures[set].Text)}, {Key: "high", Value: data.TextOrNull(high.measures[set].Text)},
			}})
		}
		ml := data.Value(data.Null{})
		if high.fill.Typical > 0 {
			ml = data.Pair(low.fill.Typical, high.fill.Typical)
		}
		rounding := data.Pair(0, 0)
		if !p.weighed() {
			rounding = data.Pair(low.measures[hb.Main].Error, high.measures[hb.Main].Error)
		}
		out = append(out, data.Object{
			{Key: "amendment", Value: data.Text(p.material.ID)},
			{Key: "measure", Value: measures},
			{Key: "ml", Value: ml},
			{Key: "grams", Value: data.Pair(low.mass.Typical, high.mass.Typical)},
			{Key: "grams_per_litre", Value: data.Pair(low.mass.Typical/c.litres, high.mass.Typical/c.litres)},
			{Key: "rounding_percent", Value: rounding},
		})
	}
	return out
}

// spread is low, typical and high of a belief.
func spread(low, typical, high float64) data.Object {
	return data.Object{{Key: "low", Value: data.Number(low)}, {Key: "typical", Value: data.Number(typical)}, {Key: "high", Value: data.Number(high)}}
}

func kilograms(m units.SomeMass) data.Object { return spread(m.Low/1000, m.Typical/1000, m.High/1000) }

// poresTree is null where no part was measured.
func (c *computation) poresTree() data.Object {
	air, water, porosity, guessed := data.Value(data.Null{}), data.Value(data.Null{}), data.Value(data.Null{}), []string(nil)
	if p := c.pores; p != nil {
		air, water = spread(p.air.Low, p.air.Typical, p.air.High), spread(p.water.Low, p.water.Typical, p.water.High)
		porosity, guessed = data.Number(TotalPorosity(p.air.Typical, p.water.Typical)), p.guessed
	}
	return data.Object{
		{Key: "air_percent", Value: air},
		{Key: "water_percent", Value: water},
		{Key: "total_porosity_percent", Value: porosity},
		{Key: "pores_guessed_for", Value: data.Texts(guessed)},
	}
}

func (c *computation) phTree() data.Value {
	if !c.acidity.known {
		return data.Null{}
	}
	return spread(c.acidity.ph.Low, c.acidity.ph.Typical, c.acidity.ph.High)
}

// added returns what parts and amendments bring of a nutrient at the author's low and high end; parts without
// figures are named. Where they alone could bring it, the sum is not known: nothing of it in a lime is not nothing in
// the compost.
func (c *computation) added(n reference.Nutrient) (low, high dose.Sum[units.SomeMass]) {
	low, high = c.low.Added[n], c.high.Added[n]
	missing := append([]string(nil), c.unlisted(n)...)
	for _, id := range high.Missing {
		if !contains(missing, id) {
			missing = append(missing, id)
		}
	}
	low.Missing, high.Missing = missing, missing
	if len(missing) > 0 && high.Value.High == 0 {
		low.Known, high.Known = false, false
	}
	return low, high
}

func contains(all []string, word string) bool {
	for _, w := range all {
		if w == word {
			return true
		}
	}
	return false
}

func (c *computation) addedTree(factor float64) data.Object {
	out := data.Object{}
	for _, n := range reference.Nutrients {
		low, high := c.added(n)
		number := func(x float64) data.Value {
			if !high.Known {
				return data.Null{}
			}
			return data.Number(factor * x)
		}
		one := data.Object{
			{Key: "low", Value: number(low.Value.Typical)},
			{Key: "high", Value: number(high.Value.Typical)},
			{Key: "least", Value: number(math.Min(low.Value.Low, high.Value.Low))},
			{Key: "most", Value: number(math.Max(low.Value.High, high.Value.High))},
		}
		if len(high.Missing) > 0 {
			one = append(one, data.Field{Key: "missing", Value: data.Texts(high.Missing)})
		}
		out = append(out, data.Field{Key: string(n), Value: one})
	}
	return out
}

// cost returns the price of what is used at the low and the high end, and what has no price.
func (c *computation) cost() (low, high dose.Sum[units.SomeMoney], missing []string) {
	missing = []string{}
	for _, p := range c.parts {
		if p.material == nil {
			missing = append(missing, p.name)
		}
	}
	return c.low.Cost, c.high.Cost, append(missing, c.high.Cost.Missing...)
}

func (c *computation) costTree() data.Object {
	low, high, missing := c.cost()
	money := func(s dose.Sum[units.SomeMoney]) data.Value {
		if !s.Known {
			return data.Null{}
		}
		return data.Number(math.Round(s.Value.Typical) / 100)
	}
	return data.Object{
		{Key: "low", Value: money(low)},
		{Key: "high", Value: money(high)},
		{Key: "currency", Value: data.Text(c.pass.Garden.Handbook.Currency)},
		{Key: "missing", Value: data.Texts(missing)},
	}
}

func (c *computation) keys() []string {
	return care.Cited(c.working(), c.guards(), c.cautions(), c.pass.Ref.Must("volumes", "bags", "sizes", "litres", "0").Source)
}
