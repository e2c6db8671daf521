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
	"trug/calcblocks/kit/view"
)

// guards are the cautions that the numbers raise, at the author's high end and typical figures.
func (c *computation) guards() []care.Guard {
	return slices.Concat(care.CompostShare(c.pass.Ref, c.compostPercent()), c.partLimits(), c.soilLimit(), c.limits(), c.ash(), c.limeInCompost(), c.fastNitrogen(), c.phOff(), c.spoons())
}

func over(name string, have float64, unit string, limit reference.Figure, text string) []care.Guard {
	if !limit.Known || have <= limit.Typical*(1+1e-9) {
		return nil
	}
	return []care.Guard{{
		ID: "over-limit", Word: "Over the usual most", Sources: limit.Source,
		Text: fmt.Sprintf("%s: %s %s; the usual most is %s. Rule: %s", name, view.Number(have), unit, view.Number(limit.Typical), text),
	}}
}

// partLimits holds each material to its own share of a mix (amendments.yaml). Where that is the share from which
// any compost is much, the guard on compost has said it.
func (c *computation) partLimits() []care.Guard {
	much := c.pass.Ref.Must("judging", "compost_limits", "share_by_volume_percent", "warn_above")
	var out []care.Guard
	for _, p := range c.parts {
		if p.material == nil || p.material.Ref == nil {
			continue
		}
		limit := p.material.Ref.Limit
		if p.isCompost() && limit.PercentOfMix.Typical >= much.Typical {
			continue
		}
		out = append(out, over(p.material.Name, 100*p.share, "% of the mix", limit.PercentOfMix, limit.Text)...)
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
			out = append(out, over(p.material.Name, p.ends[1].mass.Typical/c.litres, "g per litre of mix", limit.GramsPerLitre, limit.Text)...)
			out = append(out, over(p.material.Name, p.ends[1].fill.Typical/c.litres/10, "% of the mix", limit.PercentOfMix, limit.Text)...)
		}
	}
	return out
}

// ash holds wood ash to its cap per litre of mix a year, and away from lime and from what gives off ammonia
// (judging.yaml, wood_ash; cautions.yaml).
func (c *computation) ash() []care.Guard {
	perLitre := c.pass.Ref.Must("judging", "wood_ash", "cap", "exact")
	grams := c.gramsOf("wood-ash")
	if grams == 0 {
		return nil
	}
	var out []care.Guard
	if have := grams / c.litres; have > perLitre.Typical*(1+1e-9) {
		out = append(out, care.Guard{
			ID: "ash-cap", Word: "Over the ash cap", Sources: perLitre.Source,
			Text: fmt.Sprintf("%s g of wood ash per litre of mix is over the year's cap of %s g.", view.Number(have), view.Number(perLitre.Typical)),
		})
	}
	if lime := c.names(func(m *garden.Material) bool { return m.ID != "wood-ash" && m.Class() == "liming" }); lime != "" {
		out = append(out, care.Guard{
			ID: "ash-with-lime", Word: "Ash with lime", Sources: perLitre.Source,
			Text: "Wood ash and " + lime + " both raise pH. Use one of them, and only by a pH test.",
		})
	}
	if rich := c.names(func(m *garden.Material) bool {
		return m.ID != "wood-ash" && slices.Contains(m.Hazards(), "ammonia")
	}); rich != "" {
		caution, _ := c.pass.Ref.Caution("ash-with-nitrogen")
		out = append(out, care.Guard{
			ID: "ash-with-nitrogen", Word: "Ash with rich nitrogen", Sources: caution.Source,
			Text: "Wood ash drives ammonia out of " + rich + ": nitrogen is lost and roots can burn. Leave a month between them.",
		})
	}
	return out
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

// names lists the materials that fit, in words.
func (c *computation) names(fits func(*garden.Material) bool) string {
	var out []string
	for _, m := range c.materials() {
		if fits(m) {
			out = append(out, care.InWords(m))
		}
	}
	return view.And(out)
}

// limeInCompost speaks when lime goes into a mix with 25 % compost or more (judging.yaml, lime_rates).
func (c *computation) limeInCompost() []care.Guard {
	rich := c.pass.Ref.Must("judging", "compost_limits", "share_by_volume_percent", "normal")
	lime := c.names(func(m *garden.Material) bool { return m.Class() == "liming" })
	if lime == "" || c.compostPercent() < rich.Typical*(1-1e-9) {
		return nil
	}
	return []care.Guard{{
		ID: "lime-in-compost", Word: "Lime in a compost-rich mix", Sources: c.acidity.grid.Sources,
		Text: fmt.Sprintf("With %s %% compost or more, compost alone usually brings the pH far enough. Add %s only when a test shows pH below 5.8.", view.Number(rich.Typical), lime),
	}}
}

// fastNitrogen holds the nitrogen of materials with a published two-week release to 0.5 g per litre in one dose
// (judging.yaml, single_dose_n_cap).
func (c *computation) fastNitrogen() []care.Guard {
	limit := c.pass.Ref.Must("judging", "single_dose_n_cap", "0", "g_n_per_l")
	fast := func(m *garden.Material) bool { return m.Ref != nil && m.Ref.Release.Week2.Known }
	var quick []dose.Portion
	for _, p := range c.held[1] {
		if fast(p.Material) {
			quick = append(quick, p)
		}
	}
	have := dose.Nutrient(quick, reference.N).Value.Typical / c.litres
	if have <= limit.Typical*(1+1e-9) {
		return nil
	}
	return []care.Guard{{
		ID: "fast-nitrogen", Word: "Much fast nitrogen at once", Sources: limit.Source,
		Text: fmt.Sprintf("%s g of fast nitrogen per litre of mix in one dose, from %s: above %s g, split it, or mix it in 2 to 3 weeks before planting. Never sow into it.", view.Number(have), c.names(fast), view.Number(limit.Typical)),
	}}
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

// spoons speaks where a measure is too small to scoop, or misses by more than 10 %, on the coarser household
// steps by more than 34 %.
func (c *computation) spoons() []care.Guard {
	hb := c.pass.Garden.Handbook
	limit := 10.0
	if hb.Rounding == measure.Household {
		limit = 34
	}
	var out []care.Guard
	for _, p := range c.additions() {
		m := p.ends[0].measures[hb.Main]
		switch worst := p.worst(hb); {
		case p.weighed():
		case m.TooSmall:
			out = append(out, care.Guard{ID: "too-small", Word: "Too little for a spoon", Text: fmt.Sprintf("%s: %s g is too little to measure with a spoon. Weigh it.", p.material.Name, view.Number(p.ends[0].mass.Typical))})
		case math.Abs(worst) > limit+1e-9:
			out = append(out, care.Guard{ID: "coarse-rounding", Word: "Coarse measure", Text: fmt.Sprintf("%s: the nearest spoons are %s %% off what is asked. Weigh it if you can.", p.material.Name, view.Number(math.Abs(worst)))})
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
