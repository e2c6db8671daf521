package reading

import (
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/extract"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

func (c *computation) title() string {
	if c.hasPot {
		return "Reading of " + c.pot.Label
	}
	if c.compost {
		return "Reading of a compost"
	}
	return "Reading of a mix"
}

func (c *computation) result() block.Result {
	entries := c.entries()
	tree := care.Sealed(c.tree(), entries)
	return block.Result{
		Title: c.title(), Data: tree, Working: c.working(), Sources: entries, Facts: c.fact(),
		View: view.Doc{Parts: c.parts(entries)},
	}
}

func (c *computation) entries() []sources.Entry {
	var set sources.Set
	set.Add(care.Entries(c.pass.Garden, c.keys())...)
	set.Add(c.own)
	return set.Sorted()
}

func (c *computation) keys() []string {
	var more []string
	for _, row := range c.classed() {
		more = append(more, row.lab...)
	}
	return care.Cited(c.working(), c.guards(), c.cautions(), more)
}

func field(key string, v data.Value) data.Field { return data.Field{Key: key, Value: v} }

// spread writes a belief: one number where nothing is in doubt.
func spread[D any](b units.Belief[D], times float64) data.Value {
	if b.Low == b.High {
		return data.Number(b.Typical * times)
	}
	return data.Object{field("low", data.Number(b.Low*times)), field("typical", data.Number(b.Typical*times)), field("high", data.Number(b.High*times))}
}

// ecKeys are the methods by their keys in the result.
var ecKeys = []struct {
	key    string
	method extract.Method
}{
	{"sme", extract.SME}, {"pour_through", extract.PourThrough}, {"dilution_1_2", extract.OneToTwo}, {"dilution_1_5", extract.OneToFive},
}

func (c *computation) tree() data.Object {
	return data.Object{
		field("id", data.TextOrNull(c.pass.ID)),
		field("kind", data.Text("reading")),
		field("title", data.Text(c.title())),
		field("stamp", data.Null{}),
		field("method", data.TextOrNull(string(c.method))),
		field("on", c.onTree()),
		field("pot", data.TextOrNull(c.pot.Pot)),
		field("ec_measured_ms_cm", optional(c.ec)),
		field("ec", c.ecTree(func(b units.SomeEC) data.Value { return data.Number(b.Typical) })),
		field("ec_range", c.ecTree(func(b units.SomeEC) data.Value { return data.Pair(b.Low, b.High) })),
		field("salts_mg_per_l", c.saltsTree()),
		field("ph", optional(c.ph)),
		field("classes", c.classTree()),
		field("mg_per_l", c.valuesTree()),
		field("ratios", c.ratioTree()),
		field("yield_percent", c.yieldTree(false)),
		field("yield_percent_soilless", c.yieldTree(true)),
		field("flush_litres", c.flushTree()),
		field("leaching", c.leachingTree()),
		field("lime_g_per_l", c.byPH(spread(c.limePerLitre(), 1))),
		field("lime_g", c.byPH(c.perPot(c.limePerLitre()))),
		field("lime_working_by_day_7_percent", c.worksTree()),
		field("sulfur_g_per_l", c.byPH(spread(c.sulfur(), 1))),
		field("sulfur_g", c.byPH(c.perPot(c.sulfur()))),
		field("compost_share_by_salt_percent", c.shareTree()),
		field("soluble_g_per_l", c.solubleTree()),
		field("findings", c.findingTree()),
		field("verdict", data.Text(c.verdict())),
		field("cautions", care.Tree(c.guards(), c.cautions())),
		field("sources", data.Null{}),
	}
}

func optional(x *float64) data.Value {
	if x == nil {
		return data.Null{}
	}
	return data.Number(*x)
}

func (c *computation) onTree() data.Value {
	if c.on.IsZero() {
		return data.Null{}
	}
	return data.Text(c.on.Format("2006-01-02"))
}

// ecTree holds the EC that each method would show; null where it cannot be told.
func (c *computation) ecTree(of func(units.SomeEC) data.Value) data.Object {
	out := data.Object{}
	for _, k := range ecKeys {
		if ec, ok := c.converted[k.method]; ok {
			out = append(out, field(k.key, of(ec)))
			continue
		}
		out = append(out, field(k.key, data.Null{}))
	}
	return out
}

func (c *computation) saltsTree() data.Value {
	if c.ec == nil {
		return data.Null{}
	}
	return data.Number(c.salts())
}

func (c *computation) salts() float64 {
	return extract.DissolvedSalts(*c.ec, c.pass.Ref.Number("judging", "ec_conversion", "ec_to_salts_ppm_per_ms_cm"))
}

// classTree names the class of each value; null where no band is held.
func (c *computation) classTree() data.Object {
	out := data.Object{field("ec", data.Null{})}
	if class, ok := c.ecClass(); ok {
		out = out.With("ec", data.Text(class.Name))
	}
	if c.ph != nil {
		out = append(out, field("ph", data.Text(c.phRow().class)))
	}
	for _, v := range c.values {
		class, _ := c.classOf(v)
		out = append(out, field(v.element.key, data.TextOrNull(class.Name)))
	}
	return out
}

func (c *computation) valuesTree() data.Object {
	out := data.Object{}
	for _, v := range c.values {
		out = append(out, field(v.element.key, data.Number(v.mg)))
	}
	return out
}

func (c *computation) ratioTree() data.Object {
	out := data.Object{}
	for _, pair := range [][2]string{{"k", "mg"}, {"ca", "mg"}, {"ca", "k"}} {
		value := data.Value(data.Null{})
		if r, ok := c.ratio(pair[0], pair[1]); ok {
			value = data.Number(r)
		}
		out = append(out, field(pair[0]+"_to_"+pair[1], value))
	}
	return out
}

func (c *computation) yieldTree(soilless bool) data.Value {
	table, more, ok := c.yields()
	switch {
	case !ok:
		return data.Null{}
	case soilless:
		return spread(more, 1)
	}
	return spread(table, 1)
}

// flushTree is litres for a flush, null without a pot.
func (c *computation) flushTree() data.Value {
	if !c.hasPot {
		return data.Null{}
	}
	low, high := c.pot.Litres()
	times := c.flushTimes().Typical
	if low == high {
		return data.Number(extract.Flush(low, times))
	}
	return data.Pair(extract.Flush(low, times), extract.Flush(high, times))
}

func (c *computation) leachingTree() data.Object {
	out := data.Object{field("fraction_percent", data.Null{}), field("required_percent", data.Null{})}
	if c.applied != nil {
		out = out.With("fraction_percent", data.Number(100*extract.LeachingFraction(c.drained, c.applied.Float()/1000)))
	}
	if share, ok := c.required(); ok {
		out = out.With("required_percent", data.Number(100*share))
	}
	return out
}

// required is the share of the water that has to drain for the crop to stand at its threshold; ok is false
// without the water's EC and the crop's threshold, or where no share is enough.
func (c *computation) required() (float64, bool) {
	if c.water == nil || c.plant == nil || !c.plant.Salinity.Threshold.Known {
		return 0, false
	}
	return extract.LeachingRequirement(*c.water, c.plant.Salinity.Threshold.Typical)
}

// byPH is null where no pH was read, or where the reading is of a neat compost, which is not limed.
func (c *computation) byPH(v data.Value) data.Value {
	if c.ph == nil || c.compost {
		return data.Null{}
	}
	return v
}

// perPot is a dose for the pot, null without one.
func (c *computation) perPot(dose units.SomeDose) data.Value {
	if !c.hasPot {
		return data.Null{}
	}
	return spread(c.forPot(dose), 1)
}

func (c *computation) forPot(dose units.SomeDose) units.SomeMass {
	low, high := c.pot.Litres()
	return units.SomeMass{Low: dose.Low * low, Typical: dose.Typical * (low + high) / 2, High: dose.High * high}
}

func (c *computation) worksTree() data.Value {
	if c.works == nil {
		return data.Null{}
	}
	return data.Number(100 * *c.works)
}

func (c *computation) shareTree() data.Object {
	out := data.Object{}
	for _, l := range c.shareLimits() {
		value := data.Value(data.Null{})
		if s, ok := c.saltShare(l.ec); ok {
			value = spread(s, 100)
		}
		out = append(out, field(l.key, value))
	}
	return out
}

// A shareLimit is an EC that a mix with the compost should not pass.
type shareLimit struct {
	key, words string
	ec         float64
}

func (c *computation) shareLimits() []shareLimit {
	plants := c.pass.Ref.Number("judging", "ec_limits_sme", "fine_below")
	seedlings := c.pass.Ref.Number("judging", "ec_limit_seedlings_sme", "below")
	return []shareLimit{{"plants", "for plants", plants}, {"seedlings", "for seedlings", seedlings}}
}

func (c *computation) solubleTree() data.Object {
	out := data.Object{}
	dissolved := c.soluble()
	for _, l := range solubleOrder {
		if dose, ok := dissolved[l]; ok {
			out = append(out, field(string(l), spread(dose, 1)))
		}
	}
	return out
}

func (c *computation) findingTree() data.List {
	out := data.List{}
	for _, f := range c.findings() {
		out = append(out, data.Object{field("id", data.Text(f.ID)), field("text", data.Text(f.Text)), field("sources", data.Texts(f.Sources))})
	}
	return out
}
