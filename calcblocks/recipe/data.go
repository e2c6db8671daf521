package recipe

import (
	"math"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// tree returns the block's JSON contract, without stamp and sources.
func (c *computation) tree() data.Object {
	sizes := data.List{}
	for _, s := range c.sizes {
		sizes = append(sizes, c.sizeTree(s))
	}
	return data.Object{
		{Key: "id", Value: data.Text(c.pass.ID)},
		{Key: "kind", Value: data.Text("recipe")},
		{Key: "title", Value: data.Text(c.title)},
		{Key: "stamp", Value: data.Null{}},
		{Key: "for", Value: data.Object{{Key: "litres", Value: data.Number(c.mix.Float() / 1000)}}},
		{Key: "sizes", Value: sizes},
		{Key: "weeks_n_mg_per_l", Value: weeksTree(c.season)},
		{Key: "sources", Value: data.Null{}},
	}
}

func (c *computation) sizeTree(s scaled) data.Object {
	out := s.combos[0]
	low, high := out.ends[0], out.ends[1]
	perLitre := func(n reference.Nutrient) data.Value {
		return spanTree(scaleSum(low.Added[n], 1000/s.litres[0]), scaleSum(high.Added[n], 1000/s.litres[1]))
	}
	return data.Object{
		{Key: "label", Value: data.Text(s.container.Label)},
		{Key: "litres", Value: data.Pair(s.litres[0], s.litres[1])},
		{Key: "amounts", Value: c.amountsTree(s)},
		{Key: "choices", Value: c.choicesTree(s)},
		{Key: "added_g", Value: addedTree(low, high)},
		{Key: "added_mg_per_l", Value: nutrientsTree(perLitre)},
		{Key: "blend_percent", Value: blendTree(low, high)},
		{Key: "c_to_n", Value: spanTree(low.CToN, high.CToN)},
		{Key: "available_n_g", Value: availableTree(out.supplied)},
		{Key: "available_g", Value: seasonTree(out.supplied)},
		{Key: "need_g", Value: c.needTree(&s)},
		{Key: "need_met_percent", Value: c.metTree(&s, out.supplied)},
		{Key: "lime_equivalent_g", Value: spanTree(low.Lime, high.Lime)},
		{Key: "ec_added_ms_cm", Value: spanTree(out.salt[0], out.salt[1])},
		{Key: "compost", Value: c.compostTree(s.compost)},
		{Key: "wait_weeks", Value: waitTree(out.blend)},
		{Key: "cost", Value: c.costTree(low.Cost, high.Cost)},
		{Key: "cautions", Value: care.Tree(out.guards, out.cautions)},
		{Key: "combinations", Value: combinationsTree(s)},
	}
}

func (c *computation) amountsTree(s scaled) data.List {
	out := data.List{}
	for i, l := range s.lines {
		out = append(out, c.portionTree(l.options[s.combos[0].picks[i]]))
	}
	return out
}

func (c *computation) choicesTree(s scaled) data.List {
	out := data.List{}
	for _, l := range s.lines {
		if l.choice == "" {
			continue
		}
		options := data.List{}
		for _, p := range l.options {
			low, high := p.alone[0], p.alone[1]
			o := c.portionTree(p)
			o = append(o, data.Field{Key: "added_g", Value: addedTree(low, high)})
			options = append(options, append(o, data.Field{Key: "cost", Value: c.optionCost(low.Cost, high.Cost)}))
		}
		out = append(out, data.Object{{Key: "name", Value: data.Text(l.choice)}, {Key: "options", Value: options}})
	}
	return out
}

func (c *computation) portionTree(p portion) data.Object {
	hb := c.pass.Garden.Handbook
	low, high := p.ends[0], p.ends[1]
	measures := data.Object{}
	for _, set := range hb.Sets() {
		measures = append(measures, data.Field{Key: string(set), Value: data.Object{
			{Key: "low", Value: data.TextOrNull(low.in(set).Text)}, {Key: "high", Value: data.TextOrNull(high.in(set).Text)},
		}})
	}
	rounding := data.Pair(0, 0)
	if !p.amount.Low.Weighed {
		rounding = data.Pair(low.in(hb.Main).Error, high.in(hb.Main).Error)
	}
	return data.Object{
		{Key: "amendment", Value: data.Text(p.material.ID)},
		{Key: "measure", Value: measures},
		{Key: "ml", Value: fillTree(low, high)},
		{Key: "grams", Value: data.Pair(low.mass.Typical, high.mass.Typical)},
		{Key: "rounding_percent", Value: rounding},
	}
}

// fillTree is null for a weighed amount whose density is not known.
func fillTree(low, high end) data.Value {
	if high.fill.Typical == 0 {
		return data.Null{}
	}
	return data.Pair(low.fill.Typical, high.fill.Typical)
}

func nutrientsTree(value func(reference.Nutrient) data.Value) data.Object {
	out := data.Object{}
	for _, n := range reference.Nutrients {
		out = append(out, data.Field{Key: string(n), Value: value(n)})
	}
	return out
}

func addedTree(low, high dose.Totals) data.Object {
	return nutrientsTree(func(n reference.Nutrient) data.Value { return spanTree(low.Added[n], high.Added[n]) })
}

// quantity is any belief: its three figures.
type quantity interface {
	units.SomeMass | units.SomeShare | units.SomeMoney | units.SomeVolume
}

func scaleSum(s dose.Sum[units.SomeMass], factor float64) dose.Sum[units.SomeMass] {
	s.Value = s.Value.Scale(factor)
	return s
}

// spanTree gives the two ends of the author's range at the typical figures (low, high), and the same
// with the figures' own ranges (least, most). What lacks a figure is named; when all do, the numbers are
// null.
func spanTree[T quantity](low, high dose.Sum[T]) data.Value {
	a, b := units.SomeMass(low.Value), units.SomeMass(high.Value)
	out := data.Object{
		{Key: "low", Value: data.Number(a.Typical)},
		{Key: "high", Value: data.Number(b.Typical)},
		{Key: "least", Value: data.Number(math.Min(a.Low, b.Low))},
		{Key: "most", Value: data.Number(math.Max(a.High, b.High))},
	}
	if !low.Known {
		out = data.Object{{Key: "low", Value: data.Null{}}, {Key: "high", Value: data.Null{}}, {Key: "least", Value: data.Null{}}, {Key: "most", Value: data.Null{}}}
	}
	if len(high.Missing) > 0 {
		out = append(out, data.Field{Key: "missing", Value: data.Texts(high.Missing)})
	}
	return out
}

// blendTree is the label-style analysis of the amendments together: nutrient / mass x 100.
func blendTree(low, high dose.Totals) data.Object {
	out := data.Object{}
	for _, n := range []reference.Nutrient{reference.N, reference.P2O5, reference.K2O} {
		if len(high.Added[n].Missing) > 0 {
			out = append(out, data.Field{Key: string(n), Value: data.Null{}})
			continue
		}
		percent := func(t dose.Totals) float64 { return 100 * t.Added[n].Value.Typical / t.Mass.Typical }
		out = append(out, data.Field{Key: string(n), Value: data.Pair(percent(low), percent(high))})
	}
	return out
}

func (c *computation) costTree(low, high dose.Sum[units.SomeMoney]) data.Object {
	return data.Object{
		{Key: "low", Value: moneyTree(low)},
		{Key: "high", Value: moneyTree(high)},
		{Key: "currency", Value: data.Text(c.pass.Garden.Handbook.Currency)},
		{Key: "missing", Value: data.Texts(high.Missing)},
	}
}

func (c *computation) optionCost(low, high dose.Sum[units.SomeMoney]) data.Value {
	if !low.Known {
		return data.Null{}
	}
	return data.Object{{Key: "low", Value: moneyTree(low)}, {Key: "high", Value: moneyTree(high)}}
}

// moneyTree rounds minor units once, at the end.
func moneyTree(s dose.Sum[units.SomeMoney]) data.Value {
	if !s.Known {
		return data.Null{}
	}
	return data.Number(dose.Money(s))
}

func (c *computation) compostTree(l *layer) data.Value {
	if l == nil {
		return data.Null{}
	}
	return data.Object{
		{Key: "amendment", Value: data.Text(l.material.ID)},
		{Key: "firmed_litres", Value: data.Pair(l.firmed[0], l.firmed[1])},
		{Key: "loose_litres", Value: data.Object{
			{Key: "low", Value: data.Number(l.loose[0].Typical / 1000)},
			{Key: "high", Value: data.Number(l.loose[1].Typical / 1000)},
			{Key: "least", Value: data.Number(l.loose[0].Low / 1000)},
			{Key: "most", Value: data.Number(l.loose[1].High / 1000)},
		}},
		{Key: "added_g", Value: addedTree(l.totals[0], l.totals[1])},
		{Key: "available_n_g", Value: availableTree(l.supplied)},
		{Key: "available_g", Value: seasonTree(l.supplied)},
		{Key: "cost", Value: c.optionCost(l.totals[0].Cost, l.totals[1].Cost)},
	}
}

func waitTree(b *blend) data.Object {
	return data.Object{{Key: "sow", Value: data.Number(b.sow)}, {Key: "plant", Value: data.Number(b.plant)}}
}

// combinationsTree names the guards that every combination of picks trips.
func combinationsTree(s scaled) data.List {
	out := data.List{}
	for _, combo := range s.combos {
		var ids []string
		for _, g := range combo.guards {
			ids = append(ids, g.ID)
		}
		out = append(out, data.Object{{Key: "with", Value: data.Texts(combo.with)}, {Key: "guards", Value: data.Texts(ids)}})
	}
	return out
}
