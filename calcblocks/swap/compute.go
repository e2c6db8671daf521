package swap

import (
	"math"
	"slices"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/scoop"
	"trug/calcblocks/kit/substitute"
	"trug/calcblocks/kit/units"
)

// computation carries one Compute.
type computation struct {
	*swap
	pass      *block.Pass
	material  *garden.Material
	worth     substitute.Worth
	ends      [2]units.SomeMass // g of the original at the author's low and high end
	container *garden.Container // nil = not told
	litres    float64
	areaM2    float64
	options   []option
	left      []leftOut
}

// An option is one substitute, measured.
type option struct {
	substitute.Substitute                           // of the author's high end
	ends                  [2]scoop.Scoop            // as the spoons hold it, for the low and high end
	exact                 [2]units.SomeMass         // g that bring as much
	effects               substitute.Effects        // of what the spoons hold, at the high end
	salt                  dose.Sum[units.SomeShare] // mS/cm that it adds, where the mix is told
	over                  string                    // what says that it is over its usual most
	overSources           []string
}

// A leftOut is a material that cannot stand in, and why.
type leftOut struct{ id, why string }

// Compute finds the substitutes.
func (s *swap) Compute(p *block.Pass) block.Result {
	c := &computation{swap: s, pass: p}
	ok := c.findOriginal()
	ok = c.findContainer() && ok
	listed, fine := c.listed()
	if !ok || !fine || s.same == "" || s.amount == nil {
		return block.Result{}
	}
	c.worth = substitute.Of(p.Ref, c.material, s.same)
	if !c.worth.Known || c.worth.Value.Typical <= 0 {
		c.cannot()
		return block.Result{}
	}
	c.findOptions(listed)
	return c.result()
}

// cannot reports an original that does not bring what is to be kept.
func (c *computation) cannot() {
	if !c.worth.Known {
		c.sameAt.Fault("no-figure", "keep something else the same, or add the nutrient to its label in cupboard.yaml", "%q cannot be swapped so: %s", c.material.ID, c.worth.Why)
		return
	}
	c.sameAt.Fault("brings-none", "keep something else the same", "%q brings no %s that counts", c.material.ID, purposeName(c.same))
}

func (c *computation) findOriginal() bool {
	id, ok := c.original.Text()
	if !ok {
		return false
	}
	m, ok := c.pass.Material(id, c.original.At())
	if !ok || c.amount == nil {
		return false
	}
	c.material = m
	if !m.Density().Known && !c.amount.Low.Weighed {
		c.amountAt.Fault("no-density", "weigh a level cup and add \"cup weighs\" to cupboard.yaml, or give the amount in grams", "the weight of a cup of %q is not known", id)
		return false
	}
	for i, q := range []units.Quantity{c.amount.Low, c.amount.High} {
		c.ends[i] = massOf(m, q)
	}
	return true
}

func massOf(m *garden.Material, q units.Quantity) units.SomeMass {
	if q.Weighed {
		return q.Mass.Certain()
	}
	return units.Weigh(q.Volume, m.Density().Density())
}

// findContainer resolves what it goes into: the reader's container, or the block's.
func (c *computation) findContainer() bool {
	container, asked, ok := c.pass.Asked()
	switch {
	case !asked && c.mix == nil:
		return true
	case !asked:
		container, ok = form.Value(c.mix, c.pass.Garden.Container)
	}
	if !ok {
		return false
	}
	c.container = &container
	c.litres, _ = container.Litres()
	low, _ := container.Vessel.Ends()
	c.areaM2 = low.AreaAt(low.FillHeight()) / 1e4
	return true
}

// listed resolves the author's list; nil = no list.
func (c *computation) listed() ([]string, bool) {
	fine := true
	var ids []string
	for _, n := range c.from {
		id, _ := n.Text()
		m, ok := c.pass.Material(id, n.At())
		switch {
		case !ok:
			fine = false
		case c.material != nil && m.ID == c.material.ID:
			n.Fault("same-material", "take it out of the list", "%q cannot stand in for itself", id)
			fine = false
		default:
			ids = append(ids, id)
		}
	}
	return ids, fine
}

func (c *computation) findOptions(listed []string) {
	low := substitute.For(c.pass.Ref, c.pass.Garden, c.material, c.ends[0], c.same)
	for i, s := range substitute.For(c.pass.Ref, c.pass.Garden, c.material, c.ends[1], c.same) {
		if c.from == nil || slices.Contains(listed, s.Material.ID) {
			c.options = append(c.options, c.option(s, [2]units.SomeMass{low[i].Mass, s.Mass}))
		}
	}
	for _, id := range listed {
		c.leave(id)
	}
	if c.from == nil {
		for _, id := range substitute.Left(c.pass.Ref, c.pass.Garden, c.material, c.same) {
			c.leave(id)
		}
	}
}

// leave tells why a named material, or one of the cupboard, is not among the options.
func (c *computation) leave(id string) {
	if slices.ContainsFunc(c.options, func(o option) bool { return o.Material.ID == id }) {
		return
	}
	m, _ := c.pass.Garden.Material(id)
	w := substitute.Of(c.pass.Ref, m, c.same)
	why := w.Why
	if w.Known {
		why = "it brings no " + purposeName(c.same) + " that counts"
	}
	c.left = append(c.left, leftOut{id, why})
}

func (c *computation) option(s substitute.Substitute, exact [2]units.SomeMass) option {
	o := option{Substitute: s, exact: exact}
	for i := range 2 {
		o.ends[i] = scoop.Of(s.Material, exact[i].Typical, c.pass.Garden.Handbook)
	}
	o.effects = substitute.Compare(c.pass.Ref, c.material, c.ends[1].Typical, s.Material, o.ends[1].Mass.Typical)
	if c.container != nil {
		c.judge(&o)
	}
	return o
}

// judge holds an option against the mix that it goes into.
func (c *computation) judge(o *option) {
	o.salt = dose.Salt([]dose.Portion{{Material: o.Material, Mass: o.ends[1].Mass}}, units.Millilitres(c.litres*1000), c.pass.Ref)
	if o.Material.Ref == nil {
		return
	}
	most, sources, known := c.most(o.Material)
	if grams := o.ends[1].Mass.Typical; known && grams > most*(1+1e-9) {
		o.over, o.overSources = overText(o.Material, grams, most), sources
	}
}

// most returns the usual most of a material in the mix, g (amendments.yaml): per litre where one is known, else
// per surface, which was set for garden beds; its share of the mix; wood ash by both.
func (c *computation) most(m *garden.Material) (grams float64, sources []string, known bool) {
	limit := m.Ref.Limit
	lower := func(x float64, from []string) {
		if !known || x < grams {
			grams, sources, known = x, from, true
		}
	}
	if f := limit.GramsPerLitre; f.Known {
		lower(f.Typical*c.litres, f.Source)
	}
	if f := limit.GramsPerM2; f.Known && (!limit.GramsPerLitre.Known || m.ID == "wood-ash") {
		lower(f.Typical*c.areaM2, f.Source)
	}
	if f := limit.PercentOfMix; f.Known && m.Density().Known {
		lower(f.Typical/100*c.litres*1000*m.Density().Typical, f.Source)
	}
	return grams, sources, known
}

// coarse speaks of a measure that misses by much, at the worse of the author's two ends.
func (c *computation) coarse(o option) []care.Guard {
	s := o.ends[0]
	if math.Abs(o.ends[1].Error()) > math.Abs(s.Error()) {
		s = o.ends[1]
	}
	if s.Weighed {
		return care.CoarseScale(s.Material, s.Mass.Typical, s.Error())
	}
	return care.CoarseMeasure(s.Material, s.Error(), c.pass.Garden.Handbook.Rounding == measure.Household)
}

// uses tells the site which materials the block speaks of: the original and what the cupboard has for it.
func (c *computation) uses() []facts.Fact {
	out := []facts.Fact{facts.Use{Block: c.pass.ID, Amendment: c.material.ID}}
	for _, o := range c.options {
		if o.InCupboard || c.from != nil {
			out = append(out, facts.Use{Block: c.pass.ID, Amendment: o.Material.ID})
		}
	}
	return out
}
