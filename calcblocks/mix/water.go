package mix

import (
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// pores is percent of air and water after watering and draining.
type pores struct {
	air, water units.SomeShare // percent
	guessed    []string        // parts that nobody measured: the span wanted of container mixes stands in
	sources    []string
}

// porosity returns the mean of the parts by volume, nil where no part was measured. A part that nobody measured
// counts with the span that is wanted of container mixes after drainage (volumes.yaml, mix_components, from
// memory), as far as its grains leave room for it.
func (c *computation) porosity() *pores {
	out := &pores{}
	for _, p := range c.parts {
		air, water, sources, measured := c.poresOf(p)
		if !measured {
			out.guessed = append(out.guessed, p.name)
		}
		out.air, out.water = out.air.Add(air.Scale(p.share)), out.water.Add(water.Scale(p.share))
		out.sources = append(out.sources, sources...)
	}
	if len(out.guessed) == len(c.parts) {
		return nil
	}
	return out
}

// poresOf returns the percent of air and water that a part counts with, and whether they were measured.
func (c *computation) poresOf(p laid) (air, water units.SomeShare, sources []string, measured bool) {
	if p.component != nil {
		if air, water := p.component.pores(c.pass.Ref); air.Known && water.Known {
			return shareOf(air), shareOf(water), air.Source, true
		}
	}
	wanted := c.wanted("container_capacity")
	air, water, sources = shareOf(c.wanted("air")), shareOf(wanted), wanted.Source
	if c.isTight(p) {
		sources = append(sources, c.grain(p).Source...)
		air, water = c.tightPores(p)
	}
	return air, water, sources, false
}

// tightPores returns the percent of air and water that grains leave, the least water at the densest: of each the wanted
// span as far as there is room for it.
func (c *computation) tightPores(p laid) (air, water units.SomeShare) {
	wet, dry := c.wanted("container_capacity"), c.wanted("air")
	few, usual, many := c.room(p, p.dry.High), c.room(p, p.dry.Typical), c.room(p, p.dry.Low)
	water = units.SomeShare{
		Low: min(wet.Low, c.waterAt(p, p.dry.High)), Typical: min(wet.Typical, c.waterAt(p, p.dry.Typical)), High: min(wet.High, c.waterAt(p, p.dry.Low)),
	}
	air = units.SomeShare{Low: min(dry.Low, few), Typical: min(dry.Typical, usual-water.Typical), High: min(dry.High, many-water.Low)}
	return air, water
}

// waterAt returns the percent of water that so many dry grams of a part have room for, beside the least air that is wanted.
func (c *computation) waterAt(p laid, grams float64) float64 {
	return max(c.room(p, grams)-c.wanted("air").Low, 0)
}

// isTight says whether the grains of a part that nobody measured leave less room than the usual water and the least air
// that are wanted of a mix, as those of sand and loam do.
func (c *computation) isTight(p laid) bool {
	return c.room(p, p.dry.Typical) < c.wanted("container_capacity").Typical+c.wanted("air").Low
}

// tight names the parts that are so and that nobody measured.
func (c *computation) tight() []string {
	var out []string
	for _, p := range c.parts {
		if _, _, _, measured := c.poresOf(p); !measured && c.isTight(p) {
			out = append(out, p.name)
		}
	}
	return out
}

// wanted is the span of percent that is wanted of container mixes after drainage.
func (c *computation) wanted(key string) reference.Figure {
	return c.pass.Ref.Must("volumes", "mix_components", "target_percent_after_drainage", key)
}

// grain returns the density of the grains of a part, without pores, g/mL (volumes.yaml, mix_components).
func (c *computation) grain(p laid) reference.Figure {
	of := "organic"
	if p.mineral() {
		of = "mineral"
	}
	return c.pass.Ref.Must("volumes", "mix_components", "particle_density_g_per_ml", of)
}

// room returns the percent of a part's litres in the pots that so many dry grams of it leave to air and water: pores =
// 1 - dry bulk density / density of the grains (volumes.md, section 4; EN 13041, from memory).
func (c *computation) room(p laid, grams float64) float64 {
	return max(100-grams/c.grain(p).Typical/p.firmed/10, 0)
}

// waterIn returns the water of a part, 1 kg a litre. Of grains each end is at that end of their dry weight, since the two
// are added: what packs denser leaves less room.
func (c *computation) waterIn(p laid) units.SomeMass {
	_, water, _, measured := c.poresOf(p)
	if !measured && c.isTight(p) {
		wanted := c.wanted("container_capacity")
		water.Low, water.High = min(wanted.Low, c.waterAt(p, p.dry.Low)), min(wanted.High, c.waterAt(p, p.dry.High))
	}
	return units.SomeMass(water.Scale(10 * p.firmed))
}

// wet returns the watered weight: dry weight and the water held. Where no part was measured and the mix is light it is
// litres x the usual watered weight of such mixes (volumes.yaml, watered_weight_kg_per_l), with no more water than
// there are pores.
func (c *computation) wet() units.SomeMass {
	if c.isUsual() {
		density, _ := c.usualWatered()
		usual := density.Scale(1000 * c.litres)
		full := c.dry.Add(units.SomeMass{Low: c.allRoom(low), Typical: c.allRoom(typical), High: c.allRoom(high)})
		return units.SomeMass{
			Low: min(max(usual.Low, c.dry.Low), full.Low), Typical: min(max(usual.Typical, c.dry.Typical), full.Typical), High: min(max(usual.High, c.dry.High), full.High),
		}
	}
	watered := c.dry
	for _, p := range c.parts {
		watered = watered.Add(c.waterIn(p))
	}
	return watered
}

func low(m units.SomeMass) float64     { return m.Low }
func typical(m units.SomeMass) float64 { return m.Typical }
func high(m units.SomeMass) float64    { return m.High }

// allRoom returns the mL that the grains of all parts leave, at one end of their dry weights.
func (c *computation) allRoom(end func(units.SomeMass) float64) float64 {
	room := 0.0
	for _, p := range c.parts {
		room += 10 * p.firmed * c.room(p, end(p.dry))
	}
	return room
}

// isUsual says whether a mix of which no part was measured is like those whose watered weight is known: without much
// mineral soil, and no heavier dry than is wanted of a container mix.
func (c *computation) isUsual() bool {
	return c.pores == nil && c.soilPercent() < 10 && c.dry.Typical <= 1000*c.litres*c.wanted("dry_bulk_density_g_per_ml").High
}

// usualWatered returns kg per litre of a mix after watering, from bark-rich to compost-rich.
func (c *computation) usualWatered() (units.SomeDensity, []string) {
	at := func(key string) reference.Figure { return c.pass.Ref.Must("volumes", "watered_weight_kg_per_l", key) }
	pick := at("pick")
	return units.SomeDensity{Low: at("bark_or_perlite_rich").Low, Typical: pick.Typical, High: at("peat_or_compost_rich").High}, pick.Source
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
