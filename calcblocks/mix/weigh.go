package mix

import (
	"fmt"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/units"
)

// weigh adds up what goes in, dry and watered.
func (c *computation) weigh() {
	for i := range c.parts {
		p := &c.parts[i]
		p.dry = c.dryOf(*p).mass
		c.dry = c.dry.Add(p.dry)
		if p.material != nil {
			one := dose.Portion{Material: p.material, Mass: units.WeighSome(p.loose, p.material.Density().Density())}
			c.held[0], c.held[1] = append(c.held[0], one), append(c.held[1], one)
		}
	}
	for _, p := range c.additions() {
		for e := range 2 {
			c.held[e] = append(c.held[e], dose.Portion{Material: p.material, Mass: p.ends[e].mass})
		}
		c.dry = c.dry.Add(units.SomeMass{
			Low: p.ends[0].mass.Low, Typical: (p.ends[0].mass.Typical + p.ends[1].mass.Typical) / 2, High: p.ends[1].mass.High,
		})
	}
	c.low, c.high = dose.Add(c.held[0]), dose.Add(c.held[1])
	c.pores = c.porosity()
	c.watered = c.wet()
}

// A dried part is its dry weight, with the sum as the working shows it.
type dried struct {
	mass    units.SomeMass
	sum     string
	sources []string
}

// dryOf returns the dry weight of a part: litres x dry density. Loose densities go with the loose litres; those of
// the porometer were measured packed, so they go with the litres after firming and before blending. A material as
// it comes weighs loose litres x density x dry matter.
func (c *computation) dryOf(p laid) dried {
	if p.component == nil {
		return c.dryMaterial(p)
	}
	density, packed, sources := p.component.dry(c.pass.Ref)
	if !packed {
		mass := units.Corners[struct{}](func(x []float64) float64 { return p.firmed * 1000 / (x[0] * x[1]) * x[2] }, c.blend, p.pack, density)
		return dried{units.SomeMass(mass), fmt.Sprintf("%s L loose x %s kg/L", exact(p.loose.Typical/1000), exact(density.Typical)), sources}
	}
	mass := units.Corners[struct{}](func(x []float64) float64 { return p.firmed * 1000 / x[0] * x[1] }, c.blend, density)
	return dried{
		units.SomeMass(mass), fmt.Sprintf("%s L / %s x %s kg/L, packed", exact(p.firmed), exact(c.blend.Typical), exact(density.Typical)),
		care.Keys(sources, c.pass.Ref.Must("volumes", "blending", "ratio").Source),
	}
}

func (c *computation) dryMaterial(p laid) dried {
	density := p.material.Density()
	sum, sources := fmt.Sprintf("%s L loose x %s kg/L", exact(p.loose.Typical/1000), exact(density.Typical)), density.Source
	matter := units.SomeShare{Low: 1, Typical: 1, High: 1}
	if ref := p.material.Ref; ref != nil && ref.DryMatter.Known {
		matter, sources = ref.DryMatter.Share(), care.Keys(sources, ref.DryMatter.Source)
		sum += fmt.Sprintf(" x %s %% dry matter", exact(ref.DryMatter.Typical))
	}
	mass := units.Corners[struct{}](func(x []float64) float64 { return p.firmed * 1000 / (x[0] * x[1]) * x[2] * x[3] }, c.blend, p.pack, density.Density(), matter)
	return dried{units.SomeMass(mass), sum, sources}
}
