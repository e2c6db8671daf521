package balance

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/view"
)

// working writes out where each band comes from, what each used material counts for and its most, the
// amounts, the guards, and the sums that the measures give.
func (c *computation) working() []view.WorkingStep {
	var steps []view.WorkingStep
	for _, b := range c.wanted() {
		steps = append(steps, view.WorkingStep{What: "wanted, " + b.nutrient.Symbol() + ", " + b.from, Sum: b.uptake, Sources: b.sources})
	}
	for _, u := range c.used {
		steps = append(steps, c.useSteps(u)...)
	}
	for _, b := range c.bounds {
		steps = append(steps, c.boundStep(b))
	}
	for _, r := range c.results {
		steps = append(steps, c.resultStep(r))
	}
	return append(steps, c.costSteps()...)
}

func (c *computation) useSteps(u use) []view.WorkingStep {
	name := u.material.Name
	steps := []view.WorkingStep{}
	if u.mostWhy != "" {
		steps = append(steps, view.WorkingStep{What: name + ", at most, " + u.mostWhy, Sum: u.mostSum, Sources: u.sources})
	}
	if u.scoop.Weighed {
		steps = append(steps, view.WorkingStep{What: name + ", weighed", Sum: fmt.Sprintf("%s g asked; %s g on the scale", view.Exact(u.scoop.Wanted), view.Exact(u.scoop.Mass.Typical))})
	} else {
		d := u.material.Density()
		steps = append(steps, view.WorkingStep{
			What: name + ", measured", Sources: d.Source,
			Sum: fmt.Sprintf("%s g asked; %s = %s mL x %s g/mL = %s g", view.Exact(u.scoop.Wanted), u.scoop.Text(c.pass.Garden.Handbook.Main), view.Exact(u.scoop.Volume.Float()), figureText(d), view.Exact(u.scoop.Mass.Typical)),
		})
	}
	for _, b := range c.wanted() {
		n := u.counts[b.nutrient]
		if n.value.Low == 0 && n.value.High == 0 {
			continue
		}
		grams := u.scoop.Mass.Typical
		steps = append(steps, view.WorkingStep{
			What: name + ", " + b.nutrient.Symbol(), Sources: n.sources,
			Sum: fmt.Sprintf("%s g x %s = %s g", view.Exact(grams), n.sum, view.Exact(grams*n.value.Typical)),
		})
	}
	return steps
}

func (c *computation) boundStep(b bound) view.WorkingStep {
	sum, _ := c.boundSum(b, c.used)
	text := fmt.Sprintf("%s %s; at most %s", view.Exact(sum), b.unit, view.Exact(b.most))
	var missing []string
	for _, u := range c.used {
		for _, id := range b.missing {
			if id == u.material.ID {
				missing = append(missing, id)
			}
		}
	}
	if len(missing) > 0 {
		text += "; a figure is not known of " + strings.Join(missing, ", ")
	}
	return view.WorkingStep{What: b.way, Sum: text, Sources: b.sources}
}

func (c *computation) resultStep(r result) view.WorkingStep {
	var terms []string
	for _, u := range c.used {
		if g := u.scoop.Mass.Typical * u.counts[r.nutrient].value.Typical; g != 0 {
			terms = append(terms, view.Exact(g))
		}
	}
	if len(terms) == 0 {
		terms = []string{"0"}
	}
	text := fmt.Sprintf("%s = %s g (%s); wanted %s g; the amounts asked for bring %s g",
		strings.Join(terms, " + "), view.Exact(r.reached.Typical), view.Span(r.reached.Low, r.reached.High), exactSpan(r.low, r.high), view.Exact(clean(r.best)))
	return view.WorkingStep{What: "all together, " + r.nutrient.Symbol(), Sum: text}
}

func (c *computation) costSteps() []view.WorkingStep {
	var terms []string
	for _, u := range c.used {
		if u.priced {
			terms = append(terms, fmt.Sprintf("%.3f", u.price*u.scoop.Mass.Typical/100))
		}
	}
	total := dose.Add(c.portions())
	if len(terms) == 0 {
		return nil
	}
	return []view.WorkingStep{{What: "cost", Sum: fmt.Sprintf("%s = %.2f %s at the cheapest packs", strings.Join(terms, " + "), dose.Money(total.Cost), c.pass.Garden.Handbook.Currency)}}
}
