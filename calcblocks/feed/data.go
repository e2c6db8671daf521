package feed

import (
	"math/big"
	"slices"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

func (c *computation) title() string { return "Liquid feed: " + c.name }

func (c *computation) result() block.Result {
	entries := c.entries()
	tree := care.Sealed(c.tree(), entries)
	r := block.Result{Title: c.title(), Data: tree, Working: c.working(), Sources: entries}
	if c.material != nil {
		r.Facts = append(r.Facts, facts.Use{Block: c.pass.ID, Amendment: c.material.ID})
	}
	r.View = view.Doc{Parts: c.parts(entries)}
	return r
}

// entries are the works behind the result, those of the reference and the grower's own.
func (c *computation) entries() []sources.Entry {
	var set sources.Set
	set.Add(care.Entries(c.pass.Garden, c.keys())...)
	set.Add(c.own...)
	return set.Sorted()
}

func (c *computation) keys() []string {
	var more []string
	for _, p := range c.published() {
		if !c.hasNitrogen() {
			break
		}
		more = append(more, p.figure.Source...)
	}
	return care.Cited(c.working(), c.guards(), c.cautions(), more)
}

func field(key string, v data.Value) data.Field { return data.Field{Key: key, Value: v} }

// span is a number at the low and the high end of the strength, each with the least and the most that the
// figures' own ranges allow.
type span struct{ low, high, least, most float64 }

// tree is one number where nothing is in doubt, else both ends with least and most.
func (s span) tree() data.Value {
	if s.low == s.high && s.least == s.most {
		return data.Number(s.low)
	}
	out := data.Pair(s.low, s.high)
	if s.least != s.low || s.most != s.high {
		out = append(out, field("least", data.Number(s.least)), field("most", data.Number(s.most)))
	}
	return out
}

// sure is a span without doubt but for the strength's own range.
func sure(of func(end int) float64) span {
	low, high := of(0), of(1)
	return span{low, high, low, high}
}

func (c *computation) tree() data.Object {
	return data.Object{
		field("id", data.TextOrNull(c.pass.ID)),
		field("kind", data.Text("feed")),
		field("title", data.Text(c.title())),
		field("stamp", data.Null{}),
		field("strength", data.Object{
			field("nutrient", data.Text(c.strength.nutrient.symbol)),
			field("mg_per_l", sure(c.asked).tree()),
		}),
		field("can_litres", c.canTree()),
		field("product_g", c.perCan(func(end int) float64 { return c.grams(*c.can, end).Float() })),
		field("product_ml", c.volumeTree()),
		field("measure", c.measureTree()),
		field("g_per_l", sure(func(end int) float64 { return c.gramsPerLitre(end) }).tree()),
		field("oz_per_100_us_gal", sure(c.ounces).tree()),
		field("mg_per_l", c.nutrientTree(c.reached)),
		field("spooned_mg_per_l", c.spoonedTree()),
		field("stock", c.stockTree()),
		field("ec_added_ms_cm", c.saltTree()),
		field("cautions", care.Tree(c.guards(), c.cautions())),
		field("sources", data.Null{}),
	}
}

func (c *computation) asked(end int) float64 {
	x, _ := [2]*big.Rat{c.strength.low, c.strength.high}[end].Float64()
	return x
}

func (c *computation) gramsPerLitre(end int) float64 {
	x, _ := c.perLitre[end].Float64()
	return x / 1000
}

func (c *computation) canTree() data.Value {
	if c.can == nil {
		return data.Null{}
	}
	return data.Number(c.can.Float() / 1000)
}

// perCan is null without a can.
func (c *computation) perCan(of func(end int) float64) data.Value {
	if c.can == nil {
		return data.Null{}
	}
	return sure(of).tree()
}

// volumeTree is null without a can or a density.
func (c *computation) volumeTree() data.Value {
	if s, ok := c.volume(); ok {
		return s.tree()
	}
	return data.Null{}
}

// volume returns mL of product for a can.
func (c *computation) volume() (span, bool) {
	d, _, known := c.density()
	if c.can == nil || !known {
		return span{}, false
	}
	low, high := c.grams(*c.can, 0).Float(), c.grams(*c.can, 1).Float()
	return span{low / d.Typical, high / d.Typical, low / d.High, high / d.Low}, true
}

func (c *computation) measureTree() data.Value {
	if c.spoons == nil {
		return data.Null{}
	}
	out := data.Object{}
	for _, set := range c.pass.Garden.Handbook.Sets() {
		ends := c.spoons[set]
		out = append(out, field(string(set), data.Object{field("low", data.TextOrNull(ends[0].Text)), field("high", data.TextOrNull(ends[1].Text))}))
	}
	return out
}

func (c *computation) nutrientTree(of func(nutrient, int) (mg some, known bool)) data.Object {
	out := data.Object{}
	for _, n := range nutrients {
		if s, known := c.nutrientSpan(n, of); known {
			out = append(out, field(n.key, s.tree()))
			continue
		}
		out = append(out, field(n.key, data.Null{}))
	}
	return out
}

func (c *computation) nutrientSpan(n nutrient, of func(nutrient, int) (mg some, known bool)) (span, bool) {
	low, known := of(n, 0)
	high, _ := of(n, 1)
	return span{low.Typical, high.Typical, low.Low, high.High}, known
}

func (c *computation) spoonedTree() data.Value {
	if c.spoons == nil {
		return data.Null{}
	}
	return c.nutrientTree(c.spooned)
}

func (c *computation) stockTree() data.Value {
	if c.injector == nil {
		return data.Null{}
	}
	ratio, _ := c.injector.Float64()
	out := data.Object{
		field("injector", data.Number(ratio)),
		field("g_per_l", sure(c.stockPerLitre).tree()),
		field("oz_per_100_us_gal", sure(func(end int) float64 { return c.ounces(end) * ratio }).tree()),
		field("litres", data.Null{}), field("product_g", data.Null{}),
	}
	if c.stock != nil {
		out = out.With("litres", data.Number(c.stock.Float()/1000))
		out = out.With("product_g", sure(func(end int) float64 { return c.stockGrams(end).Float() }).tree())
	}
	return out
}

func (c *computation) saltTree() data.Object {
	return data.Pair(c.salt(0).Low, c.salt(1).High)
}

// sets returns the sets of spoons as the view wants them.
func (c *computation) sets() []string {
	var out []string
	for _, set := range c.pass.Garden.Handbook.Sets() {
		out = append(out, string(set))
	}
	return slices.Clip(out)
}
