package balance

import (
	"fmt"
	"math"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/elements"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// limit finds the most of a material, g: the smallest of its usual most (amendments.yaml, per litre of mix
// where one is known, else per surface, and its share of the mix; wood ash by both) and the author's limit. A
// material without any is held to twice what alone would fill the widest band, which no best answer reaches.
func (c *computation) limit(o *offer) {
	o.most = math.Inf(1)
	if m := o.material; m.Ref != nil {
		c.usual(o, m)
	}
	for _, l := range c.limits {
		if l.id == o.material.ID {
			c.authors(o, l)
		}
	}
	if math.IsInf(o.most, 1) {
		o.most = 0
		for _, b := range c.wanted() {
			if held := o.counts[b.nutrient].value.Typical; held > 0 {
				o.most = max(o.most, 2*b.high/held)
			}
		}
	}
}

func (c *computation) usual(o *offer, m *garden.Material) {
	limit := m.Ref.Limit
	if f := limit.GramsPerLitre; f.Known {
		o.atMost(f.Typical*c.litres, "the usual most", fmt.Sprintf("%s g/L x %s L", view.Exact(f.Typical), view.Exact(c.litres)), f.Source)
	}
	if f := limit.GramsPerM2; f.Known && (!limit.GramsPerLitre.Known || m.ID == "wood-ash") {
		o.atMost(f.Typical*c.areaM2, "the usual most", fmt.Sprintf("%s g/m2 x %s m2 of surface", view.Exact(f.Typical), view.Exact(c.areaM2)), f.Source)
	}
	if f := limit.PercentOfMix; f.Known && m.Density().Known {
		grams := f.Typical / 100 * c.litres * 1000 * m.Density().Typical
		o.atMost(grams, "the usual most", fmt.Sprintf("%s %% of %s L x %s g/mL", view.Exact(f.Typical), view.Exact(c.litres), view.Exact(m.Density().Typical)), f.Source)
	}
}

// authors takes the author's limit where it is the smaller one.
func (c *computation) authors(o *offer, l limit) {
	litres := units.Millilitres(c.litres * 1000)
	var grams float64
	ok := true
	switch {
	case l.rate != nil && l.rate.Weighed:
		grams = units.Need(l.rate.Mass, litres).Float()
	case l.rate != nil:
		grams, ok = c.weighed(o.material, units.NeedVolume(l.rate.Volume, litres))
	case l.amount.Weighed:
		grams = l.amount.Mass.Float()
	default:
		grams, ok = c.weighed(o.material, l.amount.Volume)
	}
	if !ok {
		l.value.Fault("no-density", "write the limit in grams, or weigh a level cup and add \"cup weighs\" to cupboard.yaml", "the weight of a cup of %q is not known", l.id)
		return
	}
	o.atMost(grams, "your limit", "your limit of "+l.value.Raw(), nil)
}

func (c *computation) weighed(m *garden.Material, v units.Volume) (float64, bool) {
	d := m.Density()
	if !d.Known {
		return 0, false
	}
	return units.Weigh(v, d.Density()).Typical, true
}

func (o *offer) atMost(grams float64, why, sum string, sources []string) {
	if grams < o.most {
		o.most, o.mostWhy, o.sources = grams, why, sources
		o.mostSum = fmt.Sprintf("%s = %s g", sum, view.Exact(grams))
	}
}

// checkLimits reports a limit of something that is not on offer.
func (c *computation) checkLimits(materials []*garden.Material) {
	for _, l := range c.limits {
		if !slices.ContainsFunc(materials, func(m *garden.Material) bool { return m.ID == l.id }) {
			l.key.Fault("limit-without-material", "name it under \"from\" too, or take the limit out", "%q has a limit but is not among the materials", l.id)
		}
	}
}

// A bound is a guard as a line of the program: what each offer adds per gram, and the most of the sum.
type bound struct {
	id, word string
	of       []float64
	most     float64
	unit     string
	text     string // what to do about more, or what more does
	way      string // the guard's name in a sentence
	sources  []string
	missing  []string // ids of offers whose figure is not known; they do not count
}

// findBounds lists the guards that hold the answer, with the figures of judging.yaml.
func (c *computation) findBounds() {
	c.bounds = append(c.bounds, c.fastNitrogen(), c.composts(), c.potash(), c.salt())
}

func (c *computation) bound(b bound, per func(o offer) (float64, bool)) bound {
	for _, o := range c.offers {
		x, known := per(o)
		if !known {
			b.missing = append(b.missing, o.material.ID)
		}
		b.of = append(b.of, x)
	}
	return b
}

// fastNitrogen holds the nitrogen of what gives it off at once to 0.5 g per litre in one dose (single_dose_n_cap).
func (c *computation) fastNitrogen() bound {
	f := c.pass.Ref.Must("judging", "single_dose_n_cap", "0", "g_n_per_l")
	b := bound{
		id: "fast-nitrogen", word: "Much fast nitrogen at once", most: f.Typical * c.litres, unit: "g of fast nitrogen", way: "the guard on fast nitrogen in one dose", sources: f.Source,
		text: "split it, or mix it in 2 to 3 weeks before planting, and never sow into it",
	}
	return c.bound(b, func(o offer) (float64, bool) {
		if !supply.IsFast(o.material) {
			return 0, true
		}
		n := o.material.Content(reference.N)
		return n.Typical / 100, n.Known
	})
}

// composts holds their loose volume together to the share above which salt and settling grow
// (compost_limits).
func (c *computation) composts() bound {
	f := c.pass.Ref.Must("judging", "compost_limits", "share_by_volume_percent", "warn_above")
	b := bound{id: "compost-share", word: "Much compost", most: f.Typical / 100 * c.litres, unit: "L of compost", way: "the guard on the share of compost", sources: f.Source, text: "salt and settling grow with more"}
	return c.bound(b, func(o offer) (float64, bool) {
		d := o.material.Density()
		if o.material.Class() != "compost" || !d.Known {
			return 0, o.material.Class() != "compost"
		}
		return 1 / d.Typical / 1000, true
	})
}

// potash keeps added K2O at or below four times the MgO (cation_balance); what is not known counts as none. A
// trace, as much as wood ash brings at its cap (wood_ash, at_cap), is free: else no meal could be used
// without a magnesium salt.
func (c *computation) potash() bound {
	f := c.pass.Ref.Must("judging", "cation_balance", "added_k2o_to_mgo_max")
	trace := c.pass.Ref.Must("judging", "wood_ash", "at_cap", "k2o_g_per_l")
	b := bound{
		id: "potash-to-magnesia", word: "Much potash for the magnesium", way: "the guard on potash beside magnesium",
		most: trace.High * c.litres, unit: "g of potash over " + view.Number(f.Typical) + " times the magnesia",
		sources: care.Keys(f.Source, trace.Source), text: "roots take up too little magnesium",
	}
	return c.bound(b, func(o offer) (float64, bool) {
		k, mg := o.material.Content(reference.K2O), o.material.Content(reference.Mg)
		x := 0.0
		if k.Known {
			x = k.Typical / 100
		}
		if mg.Known {
			x -= f.Typical * elements.Convert("Mg", "MgO") * mg.Typical / 100
		}
		return x, k.Known && (mg.Known || x == 0)
	})
}

// salt holds the estimated EC that all together add to the lower of the edge of the SME class and the crop's
// threshold + 1.0 (salinity_use); materials without a salt index do not count.
func (c *computation) salt() bound {
	edge := c.pass.Ref.Must("judging", "ec_limits_sme", "fine_below")
	most, sources := edge.Typical, edge.Source
	if c.cropOK != nil && c.cropOK.Salinity.Threshold.Known {
		tolerance := c.pass.Ref.Must("judging", "salinity_use", "warn_rule", "above_threshold_ds_m")
		most = min(most, c.cropOK.Salinity.Threshold.Typical+tolerance.Typical)
		sources = slices.Concat(sources, c.cropOK.Salinity.Threshold.Source, tolerance.Source)
	}
	per := c.pass.Ref.Must("judging", "salinity_use", "ec_per_gram_salt")
	potash, _ := c.pass.Ref.Amendment("potassium-sulfate")
	b := bound{
		id: "salt", word: "Much salt", most: most, unit: "mS/cm of salt added, estimated", way: "the guard on salt", sources: care.Keys(sources, per.Source),
		text: "give a part of it later as a feed",
	}
	return c.bound(b, func(o offer) (float64, bool) {
		f := o.material.SaltIndex()
		if !f.Known {
			return 0, false
		}
		return per.Typical * f.Typical / potash.SaltIndex.Typical / c.litres, true
	})
}
