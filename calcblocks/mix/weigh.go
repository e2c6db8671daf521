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
		mass := units.Corners[struct{}](func(x []float64) float64 { return p.firmed * 1000 / (x[0] * x[1]) * x[2] }, c.blend, c.pack, density)
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
	mass := units.Corners[struct{}](func(x []float64) float64 { return p.firmed * 1000 / (x[0] * x[1]) * x[2] * x[3] }, c.blend, c.pack, density.Density(), matter)
	return dried{units.SomeMass(mass), sum, sources}
}

// pores is percent of air and water after watering and draining.
type pores struct {
	air, water units.SomeShare // percent
	guessed    []string        // parts that nobody measured: the span wanted of container mixes stands in
	sources    []string
}

// porosity returns the mean of the parts by volume, nil where no part was measured. A part that nobody measured
// counts with the span that is wanted of container mixes after drainage (volumes.yaml, mix_components, from
// memory).
func (c *computation) porosity() *pores {
	out := &pores{}
	wanted := func(key string) units.SomeShare {
		f := c.pass.Ref.Must("volumes", "mix_components", "target_percent_after_drainage", key)
		out.sources = append(out.sources, f.Source...)
		return units.SomeShare{Low: f.Low, Typical: f.Typical, High: f.High}
	}
	for _, p := range c.parts {
		if p.component != nil {
			if air, water := p.component.pores(c.pass.Ref); air.Known && water.Known {
				out.add(p.share, units.SomeShare{Low: air.Low, Typical: air.Typical, High: air.High}, units.SomeShare{Low: water.Low, Typical: water.Typical, High: water.High})
				out.sources = append(out.sources, air.Source...)
				continue
			}
		}
		out.guessed = append(out.guessed, p.name)
		out.add(p.share, wanted("air"), wanted("container_capacity"))
	}
	if len(out.guessed) == len(c.parts) {
		return nil
	}
	return out
}

func (p *pores) add(share float64, air, water units.SomeShare) {
	p.air = p.air.Add(air.Scale(share))
	p.water = p.water.Add(water.Scale(share))
}

// wet returns the watered weight: dry weight and the water held, 1 kg a litre. Where no part was measured it is
// litres x the usual watered weight of such mixes (volumes.yaml, watered_weight_kg_per_l).
func (c *computation) wet() units.SomeMass {
	if c.pores != nil {
		return c.dry.Add(units.SomeMass(c.pores.water.Scale(c.litres * 10)))
	}
	density, _ := c.usualWatered()
	return units.SomeMass(density.Scale(c.litres * 1000))
}

// usualWatered returns kg per litre of a mix after watering: with soil where a tenth or more is soil, else from
// bark-rich to compost-rich.
func (c *computation) usualWatered() (units.SomeDensity, []string) {
	at := func(key string) []float64 {
		f := c.pass.Ref.Must("volumes", "watered_weight_kg_per_l", key)
		return []float64{f.Low, f.Typical, f.High}
	}
	sources := c.pass.Ref.Must("volumes", "watered_weight_kg_per_l", "pick").Source
	if soil := at("with_mineral_soil"); c.soilPercent() >= 10 {
		return units.SomeDensity{Low: soil[0], Typical: soil[1], High: soil[2]}, sources
	}
	return units.SomeDensity{Low: at("bark_or_perlite_rich")[0], Typical: at("pick")[1], High: at("peat_or_compost_rich")[2]}, sources
}

// soilPercent returns the share of loam and sand by volume.
func (c *computation) soilPercent() float64 {
	percent := 0.0
	for _, p := range c.parts {
		if p.component != nil && p.component.soil {
			percent += 100 * p.share
		}
	}
	return percent
}
