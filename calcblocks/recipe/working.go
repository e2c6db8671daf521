package recipe

import (
	"fmt"
	"math/big"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// working writes out the arithmetic of one size: the scale, every amount to grams and nutrients, and the
// sums of the combination shown first.
func (c *computation) working(s scaled) []view.WorkingStep {
	steps := []view.WorkingStep{c.scaleStep(s)}
	for _, l := range s.lines {
		for _, p := range l.options {
			steps = append(steps, c.portionSteps(p)...)
		}
	}
	steps = append(steps, c.compostSteps(s.compost)...)
	steps = append(steps, c.sumSteps(s.combos[0], s)...)
	steps = append(steps, c.supplySteps(&s, s.combos[0])...)
	return append(steps, c.insteadSteps(s)...)
}

func (c *computation) scaleStep(s scaled) view.WorkingStep {
	mix := c.mix.Float() / 1000
	sum := fmt.Sprintf("%s L / %s L = %s", view.Span(s.litres[0], s.litres[1]), view.Exact(mix), exactSpan(s.litres[0]/mix, s.litres[1]/mix))
	return view.WorkingStep{What: s.container.Label + ", share of the recipe", Sum: sum}
}

func exactSpan(low, high float64) string {
	if low == high {
		return fmt.Sprintf("%.4g", low)
	}
	return fmt.Sprintf("%.4g to %.4g", low, high)
}

func (c *computation) portionSteps(p portion) []view.WorkingStep {
	name := p.material.Name
	density := p.material.Density()
	var steps []view.WorkingStep
	var masses []units.SomeMass
	for i, e := range p.ends {
		if i == 0 && !p.amount.Range {
			continue // a single amount has the high end alone
		}
		asked := []units.Quantity{p.amount.Low, p.amount.High}[i]
		steps, masses = append(steps, c.endStep(name, asked, e, density)), append(masses, e.mass)
	}
	return append(steps, heldSteps(p.material, masses)...)
}

// endStep writes one end of an amount, from what is asked for in the recipe's own mix.
func (c *computation) endStep(name string, asked units.Quantity, e end, density reference.Figure) view.WorkingStep {
	if asked.Weighed {
		return view.WorkingStep{What: name + ", weighed", Sum: fmt.Sprintf("%s g x %s = %s g", view.Exact(asked.Mass.Float()), ratioText(e.ratio), view.Exact(e.mass.Typical))}
	}
	m := e.in(c.pass.Garden.Handbook.Main)
	return view.WorkingStep{
		What: name, Sources: density.Source,
		Sum: fmt.Sprintf("%s mL x %s = %s mL; nearest measure %s = %s mL (%+.1f %%); x %s g/mL = %s g",
			view.Exact(asked.Volume.Float()), ratioText(e.ratio), view.Exact(e.wanted.Float()), m.Text, view.Exact(e.volume.Float()), m.Error, figureText(density), massText(e.mass)),
	}
}

func ratioText(r *big.Rat) string {
	if len(r.Denom().String()) > 4 || len(r.Num().String()) > 4 {
		x, _ := r.Float64()
		return fmt.Sprintf("%.4g", x)
	}
	return r.RatString()
}

// figureText prints a figure with its range, such as "0.3 (0.25 to 0.35)".
func figureText(f reference.Figure) string {
	if f.Low == f.High {
		return view.Exact(f.Typical)
	}
	return fmt.Sprintf("%s (%s)", view.Exact(f.Typical), view.Span(f.Low, f.High))
}

func massText(m units.SomeMass) string {
	if m.Low == m.High {
		return view.Exact(m.Typical)
	}
	return fmt.Sprintf("%s (%s)", view.Exact(m.Typical), view.Span(m.Low, m.High))
}

// heldSteps writes what masses of a material hold of every nutrient that is known.
func heldSteps(m *garden.Material, masses []units.SomeMass) []view.WorkingStep {
	var sums, keys []string
	for _, n := range reference.Nutrients {
		content := m.Content(n)
		if !content.Known || content.High == 0 {
			continue
		}
		var held []string
		for _, mass := range masses {
			held = append(held, view.Exact(units.Contain(mass, content.Share()).Typical))
		}
		sums, keys = append(sums, fmt.Sprintf("%s %s %% = %s g", n.Symbol(), figureText(content), strings.Join(held, " to "))), append(keys, content.Source...)
	}
	if len(sums) == 0 {
		return nil
	}
	var grams []string
	for _, mass := range masses {
		grams = append(grams, view.Exact(mass.Typical))
	}
	return []view.WorkingStep{{What: m.Name + ", what it holds", Sum: "of " + strings.Join(grams, " to ") + " g: " + strings.Join(sums, ", "), Sources: care.Keys(keys)}}
}

func (c *computation) compostSteps(l *layer) []view.WorkingStep {
	if l == nil {
		return nil
	}
	r := c.pass.Ref.Must("volumes", "packing", "ratio")
	steps := []view.WorkingStep{
		{What: l.material.Name + ", firmed in the pot", Sum: c.topText() + " = " + view.Span(l.firmed[0], l.firmed[1]) + " L"},
		{What: l.material.Name + ", loose, to buy", Sum: fmt.Sprintf("%s L / %s = %s L", view.Span(l.firmed[0], l.firmed[1]), figureText(r), view.Span(l.loose[0].Typical/1000, l.loose[1].Typical/1000)), Sources: r.Source},
		{What: l.material.Name + ", kilograms", Sum: fmt.Sprintf("%s L x %s kg/L = %s kg", view.Exact(l.loose[1].Typical/1000), figureText(l.material.Density()), view.Exact(l.totals[1].Mass.Typical/1000)), Sources: l.material.Density().Source},
	}
	return append(steps, heldSteps(l.material, []units.SomeMass{l.totals[1].Mass})...)
}

func (c *computation) topText() string {
	switch {
	case c.top.depth != nil:
		return fmt.Sprintf("the layer between the fill line and %s cm below it", view.Exact(c.top.depth.Float()))
	case c.top.share != nil:
		return fmt.Sprintf("%s %% of the fill volume", view.Exact(100*c.top.share.Float()))
	default:
		return fmt.Sprintf("%s L in proportion to the mix", view.Exact(c.top.volume.Float()/1000))
	}
}

// sumSteps writes the totals of a combination, its dose per litre and its cost.
func (c *computation) sumSteps(out combo, s scaled) []view.WorkingStep {
	var steps []view.WorkingStep
	var sums []string
	for _, n := range reference.Nutrients {
		sums = append(sums, n.Symbol()+" "+sumText(out, n, s))
	}
	what := "all together"
	if out.ends[0].Mass != out.ends[1].Mass {
		what += ", high end"
	}
	steps = append(steps, view.WorkingStep{What: what, Sum: strings.Join(sums, "; ")})
	if cost := out.ends[1].Cost; cost.Known {
		steps = append(steps, view.WorkingStep{What: "cost", Sum: c.costSum(out)})
	}
	return steps
}

func sumText(out combo, n reference.Nutrient, s scaled) string {
	var terms []string
	for _, p := range out.parts[1] {
		one := dose.Nutrient([]dose.Portion{p}, n)
		if one.Known && one.Value.Typical != 0 {
			terms = append(terms, view.Exact(one.Value.Typical))
		}
	}
	total := out.ends[1].Added[n]
	if !total.Known {
		return "not known for " + strings.Join(total.Missing, ", ")
	}
	if len(terms) == 0 {
		terms = []string{"0"}
	}
	text := fmt.Sprintf("%s = %s g, / %s L = %s mg per litre", strings.Join(terms, " + "), view.Exact(total.Value.Typical), view.Exact(s.litres[1]), view.Exact(1000*total.Value.Typical/s.litres[1]))
	return text + notKnownFor(total.Missing)
}

func (c *computation) costSum(out combo) string {
	var terms []string
	for _, p := range out.parts[1] {
		if price, ok := p.Material.Price(p.Mass); ok {
			terms = append(terms, fmt.Sprintf("%.3f", price.Typical/100))
		}
	}
	text := strings.Join(terms, " + ") + fmt.Sprintf(" = %s %s at the cheapest pack", moneyText(out.ends[1].Cost), c.pass.Garden.Handbook.Currency)
	if missing := out.ends[1].Cost.Missing; len(missing) > 0 {
		text += "; no price for " + strings.Join(missing, ", ")
	}
	return text
}

// keys collects the keys of every source that the result rests on.
func (c *computation) keys() []string {
	keys := care.KeySet{}
	for _, step := range c.common {
		keys.Add(step.Sources)
	}
	for _, s := range c.sizes {
		for _, step := range s.working {
			keys.Add(step.Sources)
		}
		for _, out := range s.combos {
			keys.Add(out.ends[1].CToN.Sources, out.ends[1].Lime.Sources, out.salt[1].Sources)
			for _, g := range out.guards {
				keys.Add(g.Sources)
			}
		}
	}
	for _, caution := range c.applicable(c.allMaterials()) { // they are told, whatever the sizes
		keys.Add(caution.Source)
	}
	return keys.Sorted()
}
