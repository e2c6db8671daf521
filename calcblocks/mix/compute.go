package mix

import (
	"math/big"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// computation carries one Compute. Volumes are litres, weights grams.
type computation struct {
	*mix
	pass   *block.Pass
	make   units.Volume // what is made: the author's, or a reader's container
	litres float64
	ratio  *big.Rat // of what is made to what the block was written for

	blend      units.SomeShare
	parts      []laid
	lime       []portion
	amendments []portion
	low, high  dose.Totals // all that is a material, at the author's low and high end
	held       [2][]dose.Portion

	dry, watered units.SomeMass
	pores        *pores
	acidity      *acidity
}

// laid is one part of the mix.
type laid struct {
	part
	component *component       // nil for a material of the cupboard or the reference
	material  *garden.Material // nil for a component that the cupboard does not have
	share     float64          // of the parts by volume
	pack      units.SomeShare  // firmed litres for one loose
	firmed    float64          // litres of the pots that it fills
	loose     units.SomeVolume // mL to measure out and to buy
	dry       units.SomeMass
}

// A portion is an amendment or a lime; ends[0] is the author's low end, ends[1] the high.
type portion struct {
	addition
	material *garden.Material
	ends     [2]end
}

// An end is what is scooped or weighed.
type end struct {
	wanted   units.Volume // asked for by volume; zero when weighed
	fill     units.SomeVolume
	mass     units.SomeMass
	measures map[units.Set]measure.Measure
}

// Compute computes the mix for what the author or the reader makes.
func (x *mix) Compute(p *block.Pass) block.Result {
	c := &computation{mix: x, pass: p}
	sized := c.size()
	if !c.resolve() || !sized {
		return block.Result{Title: c.name()}
	}
	c.fill()
	c.weigh()
	c.acidity = c.estimate()
	return c.result()
}

func (c *computation) name() string {
	if c.title != "" {
		return c.title
	}
	return "Potting mix"
}

// size finds how much is made: a reader's container takes the place of the author's volume.
func (c *computation) size() bool {
	c.make, c.ratio = c.mix.make, big.NewRat(1, 1)
	if c.mix.make.Sign() == 0 || len(c.mix.parts) == 0 {
		return false
	}
	if pot, asked, ok := c.pass.Asked(); asked {
		if !ok {
			return false
		}
		low, high := pot.Litres()
		c.make = units.Millilitres(500 * (low + high))
		c.ratio = c.make.Over(c.mix.make)
	}
	c.litres = c.make.Float() / 1000
	return true
}

func (c *computation) resolve() bool {
	ok := true
	for _, p := range c.mix.parts {
		l := laid{part: p, component: componentNamed(p.name)}
		material, known := c.pass.Garden.Material(p.name)
		switch {
		case known:
			l.material = material
		case l.component == nil:
			c.unknownPart(p)
			ok = false
		}
		c.parts = append(c.parts, l)
	}
	ok = c.resolveAdditions(c.mix.lime, &c.lime, true) && ok
	return c.resolveAdditions(c.mix.amendments, &c.amendments, false) && ok
}

func (c *computation) unknownPart(p part) {
	d := diag.Errorf(p.key.At(), "unknown-part", "unknown part %q", p.name)
	if near := diag.Closest(p.name, append(componentNames(), c.pass.Garden.MaterialIDs()...)); near != "" {
		d = d.Hint("did you mean %q?", near)
	} else {
		d = d.Hint("write a component (%s), a compost such as \"yard-compost\", or add it to cupboard.yaml with name, label and cup weighs", words(componentNames()))
	}
	c.pass.Report(d)
}

func words(all []string) string {
	out := ""
	for i, w := range all {
		if i > 0 {
			out += ", "
		}
		out += w
	}
	return out
}

func (c *computation) resolveAdditions(from []addition, into *[]portion, lime bool) bool {
	ok := true
	for _, a := range from {
		m, found := c.pass.Scooped(a.id, a.at.At(), a.weighed())
		if found && lime && m.Class() != "liming" {
			c.pass.Report(diag.Errorf(a.at.At(), "not-a-lime", "%q is no lime", a.id).Hint("write a lime, such as \"calcitic-lime: 3 g/L\"; other amendments go below \"amendments:\""))
			found = false
		}
		ok = ok && found
		if found {
			*into = append(*into, c.portion(a, m))
		}
	}
	return ok
}

// portion scales an addition. What goes by volume is what the spoons of the main set hold; what goes by weight
// is exact in grams, and its measures are only about.
func (c *computation) portion(a addition, m *garden.Material) portion {
	p := portion{addition: a, material: m}
	hb := c.pass.Garden.Handbook
	for i, q := range a.quantities(c.make, c.ratio) {
		e := end{measures: map[units.Set]measure.Measure{}}
		if q.Weighed {
			e.mass = q.Mass.Certain()
			if d := m.Density(); d.Known {
				e.fill = units.Fill(q.Mass, d.Density())
				e.measureAll(units.Millilitres(e.fill.Typical), hb)
			}
		} else {
			e.wanted = q.Volume
			e.measureAll(q.Volume, hb)
			held := e.measures[hb.Main].Volume
			e.fill, e.mass = held.Certain(), units.Weigh(held, m.Density().Density())
		}
		p.ends[i] = e
	}
	return p
}

func (e *end) measureAll(v units.Volume, hb garden.Handbook) {
	for _, set := range hb.Sets() {
		e.measures[set] = measure.Nearest(v, set, hb.Rounding)
	}
}

// fill works out the litres of each part. Loose parts lose volume twice: blended, since fine grains lie between
// coarse ones, and firmed into the pot, so loose = firmed / (blending x packing) (volumes.md, section 3).
func (c *computation) fill() {
	c.blend = units.SomeShare{Low: 1, Typical: 1, High: 1}
	if len(c.parts) > 1 {
		c.blend = shareOf(c.blending())
	}
	total := new(big.Rat)
	for _, p := range c.parts {
		total.Add(total, p.parts)
	}
	for i := range c.parts {
		p := &c.parts[i]
		share := new(big.Rat).Quo(p.parts, total)
		p.share, _ = share.Float64()
		firmed := c.make.Times(share).Float()
		p.firmed, p.pack = firmed/1000, shareOf(c.packing(*p))
		loose := units.Corners[struct{}](func(x []float64) float64 { return firmed / (x[0] * x[1]) }, c.blend, p.pack)
		p.loose = units.SomeVolume(loose)
	}
}

func (c *computation) blending() reference.Figure {
	return c.pass.Ref.Must("volumes", "blending", "ratio")
}

// packing returns the litres that a loose litre of a part fills once it is firmed: substrates give, settled mineral
// grains hardly do (volumes.yaml, packing).
func (c *computation) packing(p laid) reference.Figure {
	if p.settled() {
		return c.pass.Ref.Must("volumes", "packing", "mineral", "ratio")
	}
	return c.pass.Ref.Must("volumes", "packing", "ratio")
}

func shareOf(f reference.Figure) units.SomeShare {
	return units.SomeShare{Low: f.Low, Typical: f.Typical, High: f.High}
}

// settled says whether a part is of mineral grains that hardly pack: sand, loam, and rock such as zeolite and basalt.
// Perlite and vermiculite are light, and give like a substrate; what is spooned, such as lime, is loose in its cup.
func (l laid) settled() bool {
	if l.component != nil {
		return l.component.soil
	}
	return l.material.Class() == "mineral" && l.mineral()
}

// mineral says whether the grains of a part are mineral: of a material, where nobody tells a C:N and it is no compost.
func (l laid) mineral() bool {
	if l.component != nil {
		return l.component.soil || l.component.dusty
	}
	return !l.isCompost() && !l.material.CToN().Known
}

// materials returns every material of the mix, parts first.
func (c *computation) materials() []*garden.Material {
	var out []*garden.Material
	for _, p := range c.parts {
		if p.material != nil {
			out = append(out, p.material)
		}
	}
	for _, p := range c.additions() {
		out = append(out, p.material)
	}
	return out
}

func (c *computation) additions() []portion {
	return append(append([]portion(nil), c.lime...), c.amendments...)
}

// isCompost says whether a part is compost, of a kind named or not.
func (l laid) isCompost() bool {
	return l.name == "compost" || l.material != nil && l.material.Class() == "compost"
}

// compostPercent returns the share of compost by volume.
func (c *computation) compostPercent() float64 {
	percent := 0.0
	for _, p := range c.parts {
		if p.isCompost() {
			percent += 100 * p.share
		}
	}
	return percent
}

// unlisted names the parts for which the reference has no content of a nutrient.
func (c *computation) unlisted(n reference.Nutrient) []string {
	var out []string
	for _, p := range c.parts {
		if p.material == nil || !p.material.Content(n).Known {
			out = append(out, p.name)
		}
	}
	return out
}
