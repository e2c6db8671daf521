package reference

import (
	"trug/calcblocks/kit/form"
)

// A Crop is one vegetable or herb in containers.
type Crop struct {
	ID, Name, Family string
	Feeder           string // heavy, medium, light
	Uptake           map[Nutrient]Figure
	Yield            Figure // kg a plant
	MixMin, MixGood  Figure // litres a plant: the least that works, and what the yield assumes
	Depth            Figure // cm of mix
	Salinity         Salinity
	PH               Figure // of mineral soil; a peat or bark mix about 0.5 lower
	Hardiness        string // hardy, half-hardy, tender, very-tender; "" = not known
	TransplantAge    Figure // weeks
	SowIndoors       Figure // weeks from the average last spring frost; negative = before; Typical is the pick
	SowOutdoors      Figure
	Transplant       Figure
	SoilMin          Figure // C, germination
	SoilOptimum      Figure
	SoilRange        Figure
	SoilRealistic    Figure // C: a gate for sowing or planting
	DaysToMaturity   Figure // OpenHigh = "or more"
	DaysFrom         string // transplant, seed; "" = the source does not say
	Emergence        []Emergence
	Note             string
	Evidence         []Evidence
}

// Salinity is the Maas-Hoffman line: yield % = 100 - Slope x (EC of the saturated paste - Threshold), never
// above 100 nor below 0 (Maas and Hoffman 1977; the figures' own source stands beside them).
type Salinity struct {
	Threshold Figure // dS/m
	Slope     Figure // % per dS/m
}

// Emergence is how many days seed takes at one temperature; not known = did not emerge or not tested.
type Emergence struct {
	TemperatureC float64
	Days         Figure
}

// Germination holds what is known of the seed of a plant, whether or not it is a crop of the reference.
type Germination struct {
	Plant     string
	Realistic Figure
	Emergence []Emergence
}

var cropKeys = []string{
	"id", "name", "family", "feeder", "uptake_g_per_kg", "yield_kg_per_plant", "mix_l_per_plant", "depth_cm",
	"salinity", "ph", "hardiness", "transplant_age_weeks", "sow_indoors_weeks", "sow_outdoors_weeks",
	"transplant_weeks", "soil_temp_c", "days_to_maturity", "note", "sources",
}

func (r *reader) crops(l *Library, root *form.Node) {
	m := root.Fields("crops", "realistic_soil_temp_c", "emergence_days")
	l.Germination = r.germination(m)
	for _, item := range m.Need("crops", "").Items() {
		c := r.crop(item.Fields(cropKeys...))
		if g, ok := l.GerminationOf(c.ID); ok {
			c.SoilRealistic, c.Emergence = g.Realistic, g.Emergence
		}
		l.Crops = append(l.Crops, c)
	}
}

func (r *reader) crop(m form.Mapping) *Crop {
	c := &Crop{
		ID: r.need(m, "id"), Name: r.need(m, "name"), Family: r.need(m, "family"),
		Feeder: r.text(m.Get("feeder")), Hardiness: r.text(m.Get("hardiness")), Note: r.text(m.Get("note")),
		Evidence: r.evidence(m.Need("sources", "")),
	}
	by := credit(c.Evidence)
	c.Uptake = r.uptake(m.Get("uptake_g_per_kg"), by)
	r.room(c, m, by)
	r.tolerance(c, m, by)
	r.calendar(c, m, by)
	return c
}

func (r *reader) uptake(n *form.Node, by credits) map[Nutrient]Figure {
	out := map[Nutrient]Figure{}
	if n == nil || n.IsNull() {
		return out
	}
	m := n.Fields("n", "p2o5", "k2o", "ca", "mg", "s", "confidence")
	for _, nutrient := range Nutrients {
		in := measure{"g/kg", "kg of fresh marketable yield, whole plant"}
		f := by.sign(r.span(nil, m.Get(string(nutrient)), nil, in), "uptake", string(nutrient))
		out[nutrient] = f.asWeakAs(r.confidence(m.Get("confidence")))
	}
	return out
}

// room reads what a plant yields and the mix that it needs.
func (r *reader) room(c *Crop, m form.Mapping, by credits) {
	c.Yield = r.rangeIn(m, "yield_kg_per_plant", "", by, measure{"kg", "plant, fresh marketable yield of a good container season"})
	c.Depth = r.rangeIn(m, "depth_cm", "", by, measure{"cm", "depth of mix"})
	mix := r.part(m.Get("mix_l_per_plant"), "min", "good")
	in := measure{"L", "plant, litres of mix"}
	c.MixMin = by.sign(r.span(nil, mix.Get("min"), nil, in), "mix_l_per_plant", "min")
	c.MixGood = by.sign(r.span(nil, mix.Get("good"), nil, in), "mix_l_per_plant", "good")
}

func (r *reader) tolerance(c *Crop, m form.Mapping, by credits) {
	c.PH = r.rangeIn(m, "ph", "", by, measure{"pH", "mineral soil"})
	salt := r.part(m.Get("salinity"), "threshold_ds_m", "slope_percent", "confidence")
	own := r.confidence(salt.Get("confidence"))
	paste := measure{"dS/m", "EC of the saturated paste, mineral soil with sodium chloride"}
	loss := measure{"% per dS/m", "yield lost above the threshold"}
	c.Salinity.Threshold = by.sign(r.span(nil, salt.Get("threshold_ds_m"), nil, paste), "salinity", "").asWeakAs(own)
	c.Salinity.Slope = by.sign(r.span(nil, salt.Get("slope_percent"), nil, loss), "salinity", "").asWeakAs(own)
}

func (r *reader) calendar(c *Crop, m form.Mapping, by credits) {
	frost := measure{"weeks", "from the average last spring frost, negative before it"}
	c.TransplantAge = r.rangeIn(m, "transplant_age_weeks", "", by, measure{"weeks", "age of the seedling when planted out"})
	c.SowIndoors = r.rangeIn(m, "sow_indoors_weeks", "pick", by, frost)
	c.SowOutdoors = r.rangeIn(m, "sow_outdoors_weeks", "pick", by, frost)
	c.Transplant = r.rangeIn(m, "transplant_weeks", "pick", by, frost)
	soil := r.part(m.Get("soil_temp_c"), "min", "optimum", "low", "high")
	in := measure{"C", "soil, for germination"}
	c.SoilMin = by.sign(r.span(nil, soil.Get("min"), nil, in), "soil_temp_c", "min")
	c.SoilOptimum = by.sign(r.span(nil, soil.Get("optimum"), nil, in), "soil_temp_c", "optimum")
	c.SoilRange = by.sign(r.span(soil.Get("low"), nil, soil.Get("high"), in), "soil_temp_c", "range")
	days := r.part(m.Get("days_to_maturity"), "low", "high", "from")
	c.DaysFrom = r.text(days.Get("from"))
	from := measure{"days", "from " + c.DaysFrom}
	if c.DaysFrom == "" {
		from.basis = "start of the count not stated"
	}
	c.DaysToMaturity = by.sign(r.span(days.Get("low"), nil, days.Get("high"), from), "days_to_maturity", "")
}

// rangeIn reads {low, high} with an optional pick.
func (r *reader) rangeIn(m form.Mapping, key, pick string, by credits, in measure) Figure {
	part := r.part(m.Get(key), "low", "high", "pick")
	return by.sign(r.span(part.Get("low"), part.Get(pick), part.Get("high"), in), key, "")
}

// part returns the entries of a mapping that may be null or absent.
func (r *reader) part(n *form.Node, keys ...string) form.Mapping {
	if n == nil || n.IsNull() {
		return form.Mapping{}
	}
	return n.Fields(keys...)
}
