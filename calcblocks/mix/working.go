package mix

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

var exact = view.Exact

func (c *computation) working() []view.WorkingStep {
	var steps []view.WorkingStep
	total := new(big.Rat)
	for _, p := range c.parts {
		total.Add(total, p.parts)
	}
	for _, p := range c.parts {
		steps = append(steps,
			view.WorkingStep{What: p.says() + ", litres in the pots", Sum: fmt.Sprintf("%s / %s x %s L = %s L", ratText(p.parts), ratText(total), exact(c.litres), exact(p.firmed))},
			view.WorkingStep{What: p.says() + ", loose", Sum: fmt.Sprintf("%s L / (%s x %s) = %s L (%s)", exact(p.firmed), exact(c.blend.Typical), exact(p.pack.Typical), exact(p.loose.Typical/1000), view.Span(p.loose.Low/1000, p.loose.High/1000)), Sources: c.looseSources(p)},
			c.dryStep(p),
		)
	}
	steps = append(steps, c.balanceStep())
	for _, p := range c.additions() {
		steps = append(steps, c.additionSteps(p)...)
	}
	steps = append(steps, c.weightSteps()...)
	steps = append(steps, c.phStep())
	steps = append(steps, c.nutrientSteps()...)
	return append(steps, c.costStep())
}

func ratText(r *big.Rat) string {
	f, _ := r.Float64()
	return exact(f)
}

func (c *computation) dryStep(p laid) view.WorkingStep {
	d := c.dryOf(p)
	return view.WorkingStep{What: p.says() + ", dry", Sum: fmt.Sprintf("%s = %s kg (%s)", d.sum, exact(d.mass.Typical/1000), view.Span(d.mass.Low/1000, d.mass.High/1000)), Sources: d.sources}
}

// looseSources are those of the two ratios; a single part is not blended.
func (c *computation) looseSources(p laid) []string {
	if len(c.parts) > 1 {
		return care.Keys(c.blending().Source, c.packing(p).Source)
	}
	return c.packing(p).Source
}

// balanceStep closes the balance of volume: what goes in loose, less blending and firming, is what was asked.
func (c *computation) balanceStep() view.WorkingStep {
	var terms []string
	loose, firmed, alike := 0.0, 0.0, true
	for _, p := range c.parts {
		litres := p.loose.Typical / 1000
		terms = append(terms, fmt.Sprintf("%s L x %s", exact(litres), exact(p.pack.Typical)))
		loose, firmed, alike = loose+litres, firmed+litres*p.pack.Typical, alike && p.pack == c.parts[0].pack
	}
	blend, in := exact(c.blend.Typical), exact(firmed*c.blend.Typical)
	if !alike {
		return view.WorkingStep{What: "balance", Sum: fmt.Sprintf("(%s) x %s = %s L in the pots", strings.Join(terms, " + "), blend, in)}
	}
	return view.WorkingStep{What: "balance", Sum: fmt.Sprintf("%s L loose x %s x %s = %s L in the pots", exact(loose), blend, exact(c.parts[0].pack.Typical), in)}
}

func (c *computation) additionSteps(p portion) []view.WorkingStep {
	var steps []view.WorkingStep
	for i, e := range p.ends {
		if i == 0 && !p.amount.Range {
			continue
		}
		if p.weighed() {
			steps = append(steps, view.WorkingStep{What: p.material.Name + ", weighed", Sum: c.asked(p) + " = " + exact(e.mass.Typical) + " g"})
			continue
		}
		d := p.material.Density()
		steps = append(steps, view.WorkingStep{
			What: p.material.Name + ", grams", Sources: d.Source,
			Sum: fmt.Sprintf("%s = %s mL; %s = %s mL x %s g/mL = %s g", c.asked(p), exact(e.wanted.Float()), e.measures[c.pass.Garden.Handbook.Main].Text, exact(e.fill.Typical), exact(d.Typical), exact(e.mass.Typical)),
		})
	}
	return steps
}

// asked writes an amount as the author did, with what it is taken times.
func (c *computation) asked(p portion) string {
	switch {
	case p.rate != nil:
		return p.text + " x " + exact(c.litres) + " L"
	case c.ratio.Cmp(big.NewRat(1, 1)) != 0:
		return p.text + " x " + ratText(c.ratio)
	}
	return p.text
}

func (c *computation) weightSteps() []view.WorkingStep {
	steps := []view.WorkingStep{{What: "dry, all together", Sum: fmt.Sprintf("%s kg (%s)", exact(c.dry.Typical/1000), view.Span(c.dry.Low/1000, c.dry.High/1000))}}
	if c.isUsual() {
		return append(steps, c.usualStep())
	}
	steps = append(steps, c.roomSteps()...)
	if c.pores == nil {
		return append(steps, c.heldStep())
	}
	var air, water []string
	for _, p := range c.parts {
		a, w, _, _ := c.poresOf(p)
		air, water = append(air, exact(p.share)+" x "+exact(a.Typical)), append(water, exact(p.share)+" x "+exact(w.Typical))
	}
	return append(
		steps,
		view.WorkingStep{What: "air", Sum: strings.Join(air, " + ") + " = " + exact(c.pores.air.Typical) + " %", Sources: care.Keys(c.pores.sources)},
		view.WorkingStep{What: "water held", Sum: strings.Join(water, " + ") + " = " + exact(c.pores.water.Typical) + " %", Sources: care.Keys(c.pores.sources)},
		view.WorkingStep{What: "pores in all", Sum: fmt.Sprintf("%s + %s = %s %%", exact(c.pores.air.Typical), exact(c.pores.water.Typical), exact(TotalPorosity(c.pores.air.Typical, c.pores.water.Typical)))},
		view.WorkingStep{What: "watered", Sum: fmt.Sprintf("%s kg + %s %% of %s L x 1 kg/L = %s kg", exact(c.dry.Typical/1000), exact(c.pores.water.Typical), exact(c.litres), exact(c.watered.Typical/1000))},
	)
}

// usualStep is the watered weight of a light mix of which no part was measured.
func (c *computation) usualStep() view.WorkingStep {
	density, sources := c.usualWatered()
	sum := fmt.Sprintf("%s L x %s kg/L = %s kg", exact(c.litres), exact(density.Typical), exact(c.litres*density.Typical))
	if litres := c.watered.Typical / 1000; math.Abs(litres-c.litres*density.Typical) > 1e-9*c.litres {
		sum += fmt.Sprintf(", held to what the pores take: %s kg", exact(litres))
	}
	return view.WorkingStep{What: "watered", Sum: sum, Sources: sources}
}

// roomSteps show the parts whose grains leave less room than is wanted of a mix.
func (c *computation) roomSteps() []view.WorkingStep {
	var steps []view.WorkingStep
	for _, p := range c.parts {
		_, water, _, measured := c.poresOf(p)
		if measured || !c.isTight(p) {
			continue
		}
		grain, least := c.grain(p), c.wanted("air").Low
		steps = append(steps, view.WorkingStep{
			What: p.says() + ", room for water", Sources: slices.Concat(grain.Source, c.wanted("air").Source),
			Sum: fmt.Sprintf("100 %% - %s kg / %s kg/L / %s L - %s %% of air at least = %s %%", exact(p.dry.Typical/1000), exact(grain.Typical), exact(p.firmed), exact(least), exact(water.Typical)),
		})
	}
	return steps
}

// heldStep is the watered weight by the water of each part, where none was measured.
func (c *computation) heldStep() view.WorkingStep {
	var terms, sources []string
	for _, p := range c.parts {
		_, water, from, _ := c.poresOf(p)
		terms, sources = append(terms, fmt.Sprintf("%s L x %s %%", exact(p.firmed), exact(water.Typical))), append(sources, from...)
	}
	return view.WorkingStep{
		What: "watered", Sources: care.Keys(sources),
		Sum: fmt.Sprintf("%s kg + (%s) x 1 kg/L = %s kg", exact(c.dry.Typical/1000), strings.Join(terms, " + "), exact(c.watered.Typical/1000)),
	}
}

func (c *computation) phStep() view.WorkingStep {
	a := c.acidity
	sources := append([]string(nil), a.grid.Sources...)
	var terms []string
	for _, p := range c.lime {
		value := p.material.LimeValue()
		sources = care.Keys(sources, value.Source)
		terms = append(terms, fmt.Sprintf("%s g x %s %% / %s L", exact((p.ends[0].mass.Typical+p.ends[1].mass.Typical)/2), exact(value.Typical), exact(c.litres)))
	}
	if len(terms) == 0 {
		terms = []string{"no lime"}
	}
	sum := fmt.Sprintf("%s = %s g/L of pure limestone, %s %% compost: ", strings.Join(terms, " + "), exact(a.lime.Typical), exact(a.compost))
	if !a.known {
		return view.WorkingStep{What: "starting pH", Sum: sum + "not estimated, " + a.why, Sources: sources}
	}
	return view.WorkingStep{What: "starting pH", Sum: sum + fmt.Sprintf("between the corners of the grid %.2f (%.2f to %.2f)", a.ph.Typical, a.ph.Low, a.ph.High), Sources: sources}
}

func (c *computation) nutrientSteps() []view.WorkingStep {
	var steps []view.WorkingStep
	for _, n := range reference.Nutrients {
		_, total := c.added(n)
		var terms, sources []string
		for _, p := range c.held[1] {
			one := dose.Nutrient([]dose.Portion{p}, n)
			if one.Known && one.Value.Typical != 0 {
				f := p.Material.Content(n)
				terms = append(terms, fmt.Sprintf("%s g x %s %%", exact(p.Mass.Typical), exact(f.Typical)))
				sources = care.Keys(sources, f.Source)
			}
		}
		switch {
		case !total.Known:
			steps = append(steps, view.WorkingStep{What: n.Name(), Sum: "not known"})
			continue
		case len(terms) == 0:
			terms = []string{"0"}
		}
		sum := fmt.Sprintf("%s = %s g; / %s L = %s mg per litre", strings.Join(terms, " + "), exact(total.Value.Typical), exact(c.litres), exact(1000*total.Value.Typical/c.litres))
		if c.low.Mass != c.high.Mass {
			sum = "high end: " + sum
		}
		steps = append(steps, view.WorkingStep{What: n.Name(), Sum: sum, Sources: sources})
	}
	return steps
}

func (c *computation) costStep() view.WorkingStep {
	_, high, missing := c.cost()
	var terms []string
	for _, p := range c.held[1] {
		if price, ok := p.Material.Price(p.Mass); ok {
			terms = append(terms, fmt.Sprintf("%.2f", price.Typical/100))
		}
	}
	if !high.Known {
		return view.WorkingStep{What: "cost", Sum: "no price known"}
	}
	sum := fmt.Sprintf("%s = %.2f %s at the cheapest pack", strings.Join(terms, " + "), high.Value.Typical/100, c.pass.Garden.Handbook.Currency)
	if len(missing) > 0 {
		sum += "; no price for " + strings.Join(missing, ", ")
	}
	return view.WorkingStep{What: "cost", Sum: sum}
}
