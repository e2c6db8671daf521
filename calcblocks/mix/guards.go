package mix

import (
	"fmt"
	"math"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/view"
)

// guards are the cautions that the numbers raise, at the author's high end and typical figures.
func (c *computation) guards() []care.Guard {
	return slices.Concat(care.CompostShare(c.pass.Ref, c.compostPercent()), c.partLimits(), c.soilLimit(), c.limits(), c.ashCap(), care.AshCompany(c.pass.Ref, c.materials()), care.OpposedPH(c.materials()),
		care.LimeInCompost(c.pass.Ref, c.materials(), c.compostPercent()), c.fastNitrogen(), c.phOff(), c.spoons())
}

// partLimits holds each material to its own share of a mix.
func (c *computation) partLimits() []care.Guard {
	var out []care.Guard
	for _, p := range c.parts {
		if p.material != nil {
			out = append(out, care.OwnShare(c.pass.Ref, p.material, 100*p.share)...)
		}
	}
	return out
}

// soilLimit holds loam to a tenth of a mix (judging.yaml, compost_limits, published_share).
func (c *computation) soilLimit() []care.Guard {
	most, ok := c.pass.Ref.At("judging", "compost_limits", "published_share", "field soil in a container mix, at most", "percent")
	percent := 0.0
	for _, p := range c.parts {
		if p.name == "loam" {
			percent += 100 * p.share
		}
	}
	if !ok || percent <= most.High*(1+1e-9) {
		return nil
	}
	return []care.Guard{{
		ID: "soil-share", Word: "Much soil for a container", Sources: most.Source,
		Text: fmt.Sprintf("Loam is %s %% of the mix. In containers %s %% is the usual most: soil packs, drains slowly and weighs much.", view.Number(percent), view.Number(most.High)),
	}}
}

// limits holds each amendment to its own most per litre of mix. Wood ash has a guard of its own.
func (c *computation) limits() []care.Guard {
	var out []care.Guard
	for _, p := range c.additions() {
		if p.material.Ref != nil && p.material.ID != "wood-ash" {
			limit := p.material.Ref.Limit
			out = append(out, care.Over(p.material, p.ends[1].mass.Typical/c.litres, "g per litre of mix", limit.GramsPerLitre, "Rule: "+limit.Text)...)
			out = append(out, care.Over(p.material, p.ends[1].fill.Typical/c.litres/10, "% of the mix", limit.PercentOfMix, "Rule: "+limit.Text)...)
		}
	}
	return out
}

// ashCap holds wood ash to its cap per litre of mix a year (judging.yaml, wood_ash).
func (c *computation) ashCap() []care.Guard {
	perLitre := c.pass.Ref.Must("judging", "wood_ash", "cap", "exact")
	have := c.gramsOf("wood-ash") / c.litres
	if have <= perLitre.Typical*(1+1e-9) {
		return nil
	}
	much, most := view.Apart(have, perLitre.Typical)
	return []care.Guard{{
		ID: "ash-cap", Word: "Over the ash cap", Sources: perLitre.Source,
		Text: fmt.Sprintf("%s g of wood ash per litre of mix is over the year's cap of %s g.", much, most),
	}}
}

func (c *computation) gramsOf(id string) float64 {
	grams := 0.0
	for _, p := range c.additions() {
		if p.material.ID == id {
			grams += p.ends[1].mass.Typical
		}
	}
	return grams
}

// fastNitrogen adds up the nitrogen of what gives it off at once.
func (c *computation) fastNitrogen() []care.Guard {
	fast := slices.DeleteFunc(slices.Clone(c.held[1]), func(p dose.Portion) bool { return !supply.IsFast(p.Material) })
	return care.FastNitrogen(c.pass.Ref, dose.Nutrient(fast, reference.N).Value.Typical/c.litres, care.Names(c.materials(), supply.IsFast))
}

// phOff speaks when the estimate lies outside what most crops in such mixes take (judging.yaml, ph_pick).
func (c *computation) phOff() []care.Guard {
	if !c.acidity.known {
		return nil
	}
	low, high := c.pass.Ref.Must("judging", "ph_pick", "warn_below"), c.pass.Ref.Must("judging", "ph_pick", "warn_above")
	guess := c.acidity.ph.Typical
	switch {
	case guess < low.Typical:
		return []care.Guard{{
			ID: "ph-low", Word: "Sour", Sources: low.Source,
			Text: fmt.Sprintf("The mix starts at about pH %.1f, and most vegetables want %s or more. Test it, and lime it by the test.", guess, view.Number(low.Typical)),
		}}
	case guess > high.Typical:
		return []care.Guard{{
			ID: "ph-high", Word: "Limy", Sources: high.Source,
			Text: fmt.Sprintf("The mix starts at about pH %.1f, and above %s iron and phosphorus run short. Test it, and leave out what raises pH.", guess, view.Number(high.Typical)),
		}}
	}
	return nil
}

// spoons speaks where a measure is too small to scoop, or misses by much.
func (c *computation) spoons() []care.Guard {
	hb := c.pass.Garden.Handbook
	var out []care.Guard
	for _, p := range c.additions() {
		switch {
		case p.weighed():
		case p.ends[0].measures[hb.Main].TooSmall:
			out = append(out, care.TooSmall(p.material, p.ends[0].mass.Typical, ""))
		default:
			out = append(out, care.CoarseMeasure(p.material, p.worst(hb), hb.Rounding == measure.Household)...)
		}
	}
	return out
}

// worst returns the larger rounding of the two ends, percent.
func (p portion) worst(hb garden.Handbook) float64 {
	a, b := p.ends[0].measures[hb.Main].Error, p.ends[1].measures[hb.Main].Error
	if math.Abs(a) > math.Abs(b) {
		return a
	}
	return b
}

// cautions are those of the reference that concern making such a mix.
func (c *computation) cautions() []*reference.Caution {
	tasks := care.Tasks(c.materials(), "opening-mix", "mixing", "filling-container", "lifting")
	if c.compostPercent() > 0 {
		tasks = append(tasks, "sourcing-compost")
	}
	out := care.Concerning(c.pass.Ref, c.materials(), tasks)
	dusty := slices.ContainsFunc(c.parts, func(p laid) bool { return p.component != nil && p.component.dusty })
	if dust, ok := c.pass.Ref.Caution("mineral-dust"); ok && dusty && !slices.Contains(out, dust) {
		out = append(out, dust)
	}
	return out
}
