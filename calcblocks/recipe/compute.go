package recipe

import (
	"math/big"
	"slices"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// scaled is the recipe for one container.
type scaled struct {
	container garden.Container
	litres    [2]float64 // fill volume, low and high
	lines     []line
	combos    []combo
	compost   *layer
	working   []view.WorkingStep // written by result
}

// A line is a plain amount (one option) or a choice, scaled.
type line struct {
	choice  string
	options []portion
}

// A portion is one amendment scaled to a container; ends[0] is the author's low end, ends[1] the high.
type portion struct {
	material *garden.Material
	amount   units.Amount
	ends     [2]end
	alone    *[2]dose.Totals // of an option of a choice: what it adds up to by itself
}

// An end is one end of a scaled range: what was asked, and what is scooped or weighed.
type end struct {
	ratio    *big.Rat
	wanted   units.Volume // asked for by volume; zero when weighed
	volume   units.Volume // what the main set's spoons hold; zero when weighed
	fill     units.SomeVolume
	mass     units.SomeMass
	measures []inSet // none for a weighed amount whose density is not known
}

// inSet is an amount in one of the handbook's sets of measures.
type inSet struct {
	set units.Set
	measure.Measure
}

// in returns the measure in a set, the zero one where there is none.
func (e *end) in(set units.Set) measure.Measure {
	for _, m := range e.measures {
		if m.set == set {
			return m.Measure
		}
	}
	return measure.Measure{}
}

// A combo is one pick of every choice, with what it adds up to.
type combo struct {
	*blend
	ends  [2]dose.Totals
	salt  [2]dose.Sum[units.SomeShare]
	parts [2][]dose.Portion
	supplied
	guards []care.Guard
}

// Compute computes the recipe for every size of the block, of the reader, or of the handbook.
func (r *recipe) Compute(p *block.Pass) block.Result {
	c := &computation{recipe: r, pass: p}
	c.resolve()
	c.wanted = c.want()
	containers := c.containers() // first, so that their faults are found whatever the amounts say
	if r.mix.Sign() == 0 || len(c.rows) == 0 {
		return block.Result{Title: r.title}
	}
	for _, container := range containers {
		c.sizes = append(c.sizes, c.scale(container))
	}
	return c.result()
}

// computation carries one Compute.
type computation struct {
	*recipe
	pass    *block.Pass
	rows    []resolved
	compost *garden.Material
	blends  []*blend // every combination of picks, that of the defaults or of the reader first
	sizes   []scaled
	cropOK  *reference.Crop
	wanted  *wants                  // nil without a crop
	potted  bool                    // the plants are those of the container, not of the recipe's mix
	instead map[string]*replacement // by amendment, for result
	season  []course                // for result
	common  []view.WorkingStep      // for result
}

// resolved is a row whose amendments are known.
type resolved struct {
	choice    string
	materials []*garden.Material
	amounts   []units.Amount
}

func (c *computation) resolve() {
	for _, row := range c.recipe.rows {
		res := resolved{choice: row.choice}
		for _, in := range row.options {
			if m, ok := c.pass.Scooped(in.id, in.key.At(), in.amount.Low.Weighed); ok {
				res.materials = append(res.materials, m)
				res.amounts = append(res.amounts, in.amount)
			}
		}
		if len(res.materials) > 0 {
			c.rows = append(c.rows, res)
		}
	}
	c.resolveTop()
	c.resolveCrop()
	c.checkPicks()
	c.blends = c.blend()
}

func (c *computation) resolveTop() {
	if c.top == nil || c.top.compost == nil {
		return
	}
	id, ok := c.top.compost.Text()
	if !ok {
		return
	}
	if m, ok := c.pass.Scooped(id, c.top.compost.At(), false); ok {
		c.compost = m
	}
}

func (c *computation) resolveCrop() {
	id, ok := c.crop.Text()
	if !ok {
		return
	}
	if crop, known := c.pass.Crop(id, c.crop.At()); known {
		c.cropOK = crop
	}
}

// containers returns the sizes to compute: the reader's, the block's or the handbook's.
func (c *computation) containers() []garden.Container {
	if one, asked, ok := c.pass.Asked(); asked {
		if !ok {
			return nil
		}
		return []garden.Container{one}
	}
	if c.recipe.sizes != nil {
		return c.pass.Garden.Containers(c.recipe.sizes)
	}
	return c.pass.Garden.Handbook.Sizes
}

func (c *computation) scale(container garden.Container) scaled {
	low, high := container.Litres()
	s := scaled{container: container, litres: [2]float64{low, high}}
	ratios := c.ratios(s.litres)
	for _, r := range c.rows {
		l := line{choice: r.choice}
		for i, m := range r.materials {
			p := c.portion(m, r.amounts[i], ratios)
			if r.choice != "" {
				alone := ofBoth(p.parts(), dose.Add)
				p.alone = &alone
			}
			l.options = append(l.options, p)
		}
		s.lines = append(s.lines, l)
	}
	s.compost = c.layer(container)
	c.combine(&s)
	return s
}

// ratios returns the low and high litres of a container as parts of the recipe's mix; the two are one where
// they are the same.
func (c *computation) ratios(litres [2]float64) [2]*big.Rat {
	low := mixOf(litres[0]).Over(c.mix)
	if litres[0] == litres[1] {
		return [2]*big.Rat{low, low}
	}
	return [2]*big.Rat{low, mixOf(litres[1]).Over(c.mix)}
}

func (c *computation) portion(m *garden.Material, a units.Amount, ratios [2]*big.Rat) portion {
	p := portion{material: m, amount: a}
	p.ends[0] = c.end(m, a.Low, ratios[0])
	if p.ends[1] = p.ends[0]; a.Range || ratios[0] != ratios[1] {
		p.ends[1] = c.end(m, a.High, ratios[1])
	}
	return p
}

// parts returns the portion alone at both ends.
func (p portion) parts() [2][]dose.Portion {
	return [2][]dose.Portion{{{Material: p.material, Mass: p.ends[0].mass}}, {{Material: p.material, Mass: p.ends[1].mass}}}
}

// ofBoth works something out for both ends, once where they hold the same.
func ofBoth[T any](parts [2][]dose.Portion, work func([]dose.Portion) T) [2]T {
	low := work(parts[0])
	if slices.Equal(parts[0], parts[1]) {
		return [2]T{low, low}
	}
	return [2]T{low, work(parts[1])}
}

// mixOf returns litres as a volume.
func mixOf(litres float64) units.Volume { return units.Millilitres(litres * 1000) }

// end scales one end of an amount. An amount by volume is what the spoons of the main set hold; an
// amount by mass is weighed, exact in grams, and its measures are only about.
func (c *computation) end(m *garden.Material, q units.Quantity, ratio *big.Rat) end {
	hb := c.pass.Garden.Handbook
	e := end{ratio: ratio}
	if q.Weighed {
		mass := q.Mass.Times(ratio)
		e.mass = mass.Certain()
		if d := m.Density(); d.Known {
			e.fill = units.Fill(mass, d.Density())
			e.measureAll(units.Millilitres(e.fill.Typical), hb)
		}
		return e
	}
	e.wanted = q.Volume.Times(ratio)
	e.measureAll(e.wanted, hb)
	e.volume, e.fill = e.in(hb.Main).Volume, e.in(hb.Main).Held
	e.mass = units.WeighSome(e.fill, m.Density().Density())
	return e
}

func (e *end) measureAll(v units.Volume, hb garden.Handbook) {
	e.measures = make([]inSet, 1, 1+len(hb.Also))
	e.measures[0] = inSet{hb.Main, measure.Nearest(v, hb.Main, hb.Rounding)}
	for _, set := range hb.Also {
		e.measures = append(e.measures, inSet{set, measure.Spoons(v, set, hb.Rounding)})
	}
}

// combine adds up every combination of picks; the first is that of the defaults or of the reader.
func (c *computation) combine(s *scaled) {
	s.combos = make([]combo, 0, len(c.blends))
	for _, b := range c.blends {
		s.combos = append(s.combos, c.add(s, b))
	}
}

// add adds up one combination.
func (c *computation) add(s *scaled, b *blend) combo {
	out := combo{blend: b}
	for i, l := range s.lines {
		p := l.options[b.picks[i]]
		for e := range 2 {
			out.parts[e] = append(out.parts[e], dose.Portion{Material: p.material, Mass: p.ends[e].mass})
		}
	}
	out.ends = ofBoth(out.parts, dose.Add)
	for e := range 2 {
		out.salt[e] = dose.Salt(out.parts[e], mixOf(s.litres[e]), c.pass.Ref)
	}
	out.supplied = c.supplies(out.parts)
	out.guards = c.guards(s, b.picks, out)
	return out
}

// uses tells the site which materials the recipe uses.
func (c *computation) uses() []facts.Fact {
	var out []facts.Fact
	for _, r := range c.rows {
		for _, m := range r.materials {
			out = append(out, facts.Use{Block: c.pass.ID, Amendment: m.ID})
		}
	}
	if c.compost != nil {
		out = append(out, facts.Use{Block: c.pass.ID, Amendment: c.compost.ID})
	}
	return out
}
