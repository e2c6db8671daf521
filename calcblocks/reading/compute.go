package reading

import (
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/extract"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
)

// computation carries one Compute. EC in mS/cm, elements in mg/L, volumes in litres.
type computation struct {
	*reading
	pass    *block.Pass
	own     sources.Entry
	plant   *reference.Crop
	pot     garden.Container
	hasPot  bool
	lime    lime
	works   *float64 // share of the lime that works by day 7
	drained float64  // litres

	converted map[extract.Method]units.SomeEC // without those that cannot be told
}

// Compute computes one reading.
func (r *reading) Compute(p *block.Pass) block.Result {
	c := &computation{reading: r, pass: p, own: care.Own(p.Garden, r.at.At(), "Reading: own test or laboratory sheet")}
	ok := c.findCrop()
	ok = c.findPot() && ok
	ok = c.findLime() && ok
	ok = c.findDrained() && ok
	if !ok || r.ec == nil && r.ph == nil && len(r.values) == 0 || r.method == "" && (r.ec != nil || len(r.values) > 0) {
		return block.Result{Title: "Reading"}
	}
	c.convert()
	return c.result()
}

func (c *computation) findCrop() bool {
	if c.crop == nil {
		return true
	}
	id, ok := c.crop.Text()
	if !ok {
		return false
	}
	plant, known := c.pass.Crop(id, c.crop.At())
	if known {
		c.plant = plant
	}
	return known
}

// findPot finds the container, or the one that a reader asked for.
func (c *computation) findPot() bool {
	pot, asked, ok := c.pass.Asked()
	switch {
	case asked:
		c.pot, c.hasPot = pot, ok
		return ok
	case c.container == nil:
		return true
	}
	c.pot, c.hasPot = form.Value(c.container, c.pass.Garden.Container)
	return c.hasPot
}

// findDrained reads what ran out: it cannot be more than what was poured on.
func (c *computation) findDrained() bool {
	if c.reading.drained == nil || c.applied == nil {
		return true
	}
	v, ok := form.Value(c.reading.drained, c.reading.drained.Values().Volume)
	if !ok {
		return false
	}
	if v.Cmp(*c.applied) >= 0 {
		c.pass.Report(diag.Errorf(c.reading.drained.At(), "drained-too-much", "%q is not less than what was poured on", c.reading.drained.Raw()).Hint("write what ran out of the pot below"))
		return false
	}
	c.drained = v.Float() / 1000
	return true
}

// convert finds the EC that each method would be expected to show.
func (c *computation) convert() {
	c.converted = map[extract.Method]units.SomeEC{}
	if c.ec == nil {
		return
	}
	for _, m := range extract.Methods {
		if ec, ok := extract.Convert(c.pass.Ref, c.method, m, *c.ec); ok {
			c.converted[m] = ec
		}
	}
}

// sme is the EC of the saturated media extract; ok is false where it was not measured or lies beyond the table.
func (c *computation) sme() (units.SomeEC, bool) {
	ec, ok := c.converted[extract.SME]
	return ec, ok
}

// extreme says whether the EC lies above its method's last break point.
func (c *computation) extreme() bool {
	return c.ec != nil && c.method.Extreme(c.pass.Ref, *c.ec)
}

// ecClass is the class of the EC by the bands of its own method. A neat compost has none.
func (c *computation) ecClass() (extract.Class, bool) {
	if c.ec == nil || c.compost {
		return extract.Class{}, false
	}
	return extract.ClassOf(c.pass.Ref, c.method, *c.ec)
}

// classOf is the class of an element: five classes where the saturated media extract has them, else its one
// normal band, else the limits of sodium and chloride. The bands hold for that extract of a soilless mix only.
func (c *computation) classOf(v value) (extract.Class, bool) {
	if c.method != extract.SME || c.compost {
		return extract.Class{}, false
	}
	if class, ok := extract.SMEClass(c.pass.Ref, v.element.key, v.mg); ok {
		return class, true
	}
	if class, ok := extract.Normal(c.pass.Ref, v.element.key, v.mg); ok {
		return class, true
	}
	return c.saltClass(v)
}

// saltClass judges sodium and chloride (judging.yaml, sme_sodium_chloride, from memory).
func (c *computation) saltClass(v value) (extract.Class, bool) {
	at := func(path ...string) reference.Figure {
		return c.pass.Ref.Must("judging", append([]string{"sme_sodium_chloride"}, path...)...)
	}
	var low, high reference.Figure
	switch v.element.key {
	case "na":
		low, high = at("na_mg_l", "ideal_below"), at("na_mg_l", "warn_above")
	case "cl":
		low, high = at("cl_mg_l", "limit_low"), at("cl_mg_l", "limit_high")
	default:
		return extract.Class{}, false
	}
	name := "raised"
	switch {
	case v.mg < low.Typical:
		name = "usual"
	case v.mg > high.Typical:
		name = "high"
	}
	band := low
	band.Low, band.High = 0, low.Typical
	return extract.Class{Name: name, Band: band, Lab: low.Source[0]}, true
}

// mg returns a tested element.
func (c *computation) mg(key string) (float64, bool) {
	for _, v := range c.values {
		if v.element.key == key {
			return v.mg, true
		}
	}
	return 0, false
}

// ratio is one element against another by weight; ok is false where either was not tested or is nil.
func (c *computation) ratio(a, b string) (float64, bool) {
	x, hasA := c.mg(a)
	y, hasB := c.mg(b)
	if !hasA || !hasB || y == 0 || c.method != extract.SME {
		return 0, false
	}
	return x / y, true
}

// tolerance is how much more salt a soilless mix bears than the crop table says, since much of its EC is
// nutrient (judging.yaml, salinity_use, from memory).
func (c *computation) tolerance() reference.Figure {
	return c.pass.Ref.Must("judging", "salinity_use", "soilless_tolerance_ds_m")
}

// yields returns percent of the full yield by the crop's published line, and with the tolerance of a soilless
// mix; ok is false without a crop, its line or an EC in the table.
func (c *computation) yields() (table, soilless units.SomeShare, ok bool) {
	ec, known := c.sme()
	if !known || c.plant == nil || !c.plant.Salinity.Threshold.Known || !c.plant.Salinity.Slope.Known {
		return table, soilless, false
	}
	a, b, more := c.plant.Salinity.Threshold.Typical, c.plant.Salinity.Slope.Typical, c.tolerance()
	table = extract.YieldOf(ec, units.SomeEC{Low: a, Typical: a, High: a}, b)
	soilless = extract.YieldOf(ec, units.SomeEC{Low: a + more.Low, Typical: a + more.Typical, High: a + more.High}, b)
	return table, soilless, true
}

// limits are the EC of the saturated media extract at which a mix is no longer fine, and above which to stop.
type limits struct {
	fine, stop float64
	byCrop     bool // fine is the crop's own, the most that it bears; else the lower edge of the class "high"
	keys       []string
}

// limits takes the crop's own line where it warns sooner than the class (judging.yaml, salinity_use, warn_rule).
func (c *computation) limits() limits {
	f := c.pass.Ref.Must("judging", "ec_limits_sme", "fine_below")
	l := limits{fine: f.Typical, stop: c.pass.Ref.Must("judging", "ec_limits_sme", "stop_above").Typical, keys: f.Source}
	if c.plant == nil || !c.plant.Salinity.Threshold.Known {
		return l
	}
	above := c.pass.Ref.Must("judging", "salinity_use", "warn_rule", "above_threshold_ds_m")
	if own := c.plant.Salinity.Threshold.Typical + above.Typical; own < l.fine {
		l.fine, l.byCrop, l.keys = own, true, care.Keys(l.keys, c.plant.Salinity.Threshold.Source)
	}
	return l
}

// felt says whether an EC is too much: yield falls above a crop's threshold, not at it, and a class begins at its
// edge. A conversion may miss a limit by the last bits of a number.
func (l limits) felt(ec float64) bool {
	if l.byCrop {
		return ec > l.fine*(1+1e-9)
	}
	return ec >= l.fine*(1-1e-9)
}

// words says from where on salt is felt.
func (l limits) words(fine string) string {
	if l.byCrop {
		return "above " + fine
	}
	return "from " + fine + " on"
}

// flushTimes is how many pot volumes of water a flush takes.
func (c *computation) flushTimes() reference.Figure {
	return c.pass.Ref.Must("judging", "leaching", "flush", "volume_times_pot")
}

// saltShare is the largest share of the tested compost by volume that keeps a mix at an EC limit, from an
// ordinary base (judging.yaml, compost_limits, salt_limited_share).
func (c *computation) saltShare(limit float64) (units.SomeShare, bool) {
	ec, ok := c.sme()
	if !ok || !c.compost {
		return units.SomeShare{}, false
	}
	base := c.baseEC().Typical
	return units.SomeShare{
		Low: extract.ShareBySalt(base, ec.High, limit), Typical: extract.ShareBySalt(base, ec.Typical, limit), High: extract.ShareBySalt(base, ec.Low, limit),
	}, true
}

func (c *computation) baseEC() reference.Figure {
	return c.pass.Ref.Must("judging", "compost_limits", "salt_limited_share", "examples", "0", "base")
}

// fact tells the rest of the site what was found in the mix of a pot.
func (c *computation) fact() []facts.Fact {
	if c.compost {
		return nil
	}
	f := facts.Reading{At: c.at.At(), Block: c.pass.ID, Pot: c.pot.Pot, On: c.on, Method: string(c.method), MgPerL: map[string]float64{}}
	for _, v := range c.values {
		f.MgPerL[v.element.key] = v.mg
	}
	f.Soluble, f.Sources = c.soluble(), c.water1().Source
	return []facts.Fact{f}
}

// soluble returns grams of dissolved nutrients in a litre of mix: mg/L of the saturated media extract x the
// litres of water that a litre of saturated mix holds (judging.yaml, salinity_use, from memory).
func (c *computation) soluble() map[reference.Nutrient]units.SomeDose {
	if c.method != extract.SME || c.compost {
		return nil
	}
	water := c.water1()
	out := map[reference.Nutrient]units.SomeDose{}
	add := func(n reference.Nutrient, mg float64) {
		have := out[n]
		out[n] = have.Add(units.SomeDose{Low: mg * water.Low / 1000, Typical: mg * water.Typical / 1000, High: mg * water.High / 1000})
	}
	for _, v := range c.values {
		if n, factor, ok := labelled(v.element.key); ok {
			add(n, v.mg*factor)
		}
	}
	return out
}

// water1 is litres of water in a litre of saturated mix.
func (c *computation) water1() reference.Figure {
	return c.pass.Ref.Must("judging", "salinity_use", "sme_water")
}
