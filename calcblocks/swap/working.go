package swap

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/substitute"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// working writes out what the original brings, and for every substitute the grams that bring as much and
// what the spoons hold.
func (c *computation) working() []view.WorkingStep {
	var steps []view.WorkingStep
	ends := c.ends[:]
	if c.ends[0] == c.ends[1] {
		ends = ends[1:]
	}
	for _, mass := range ends {
		if !c.amount.Low.Weighed {
			d := c.material.Density()
			steps = append(steps, view.WorkingStep{What: c.material.Name + ", grams", Sum: fmt.Sprintf("%s mL x %s g/mL = %s g", view.Exact(mass.Typical/d.Typical), figureText(d), view.Exact(mass.Typical)), Sources: d.Source})
		}
		steps = append(steps, view.WorkingStep{
			What: c.material.Name + ", " + c.what(), Sources: c.worth.Sources,
			Sum: fmt.Sprintf("%s g x %s = %s g", view.Exact(mass.Typical), c.worthText(c.material, c.worth), view.Exact(mass.Typical*c.worth.Value.Typical)),
		})
	}
	steps = append(steps, bringsStep(c.material.Name+", brings in all", c.material, c.ends[1].Typical))
	for _, o := range c.options {
		steps = append(steps, c.optionSteps(o)...)
	}
	return steps
}

// worthText writes a worth with how it was found: "0.052 (0.04 to 0.06; its own season figure)".
func (c *computation) worthText(m *garden.Material, w substitute.Worth) string {
	text := fmt.Sprintf("%.3g %%", 100*w.Value.Typical)
	if w.Value.Low != w.Value.High {
		text += fmt.Sprintf(" (%s)", view.Span(100*w.Value.Low, 100*w.Value.High))
	}
	if c.same == substitute.Lime {
		return text + " of CaCO3"
	}
	return text + fmt.Sprintf(" that counts, of %s %% %s (%s)", figureText(m.Content(c.same)), c.same.Symbol(), w.Why)
}

func (c *computation) optionSteps(o option) []view.WorkingStep {
	name := o.Material.Name
	steps := []view.WorkingStep{{
		What: name + ", as much", Sources: o.Worth.Sources,
		Sum: fmt.Sprintf("%s g / %s = %s g (%s)", view.Exact(c.kept(1)), c.worthText(o.Material, o.Worth), view.Exact(o.exact[1].Typical), view.Span(o.exact[1].Low, o.exact[1].High)),
	}}
	s := o.ends[1]
	if s.Weighed {
		steps = append(steps, view.WorkingStep{What: name + ", weighed", Sum: view.Exact(s.Mass.Typical) + " g on the scale"})
	} else {
		d := o.Material.Density()
		steps = append(steps, view.WorkingStep{
			What: name + ", measured", Sources: d.Source,
			Sum: fmt.Sprintf("%s = %s mL x %s g/mL = %s g (%+.1f %%)", s.Text(c.mainSet()), view.Exact(s.Volume.Float()), figureText(d), view.Exact(s.Mass.Typical), s.Error()),
		})
	}
	return append(steps, bringsStep(name+", brings in all", o.Material, s.Mass.Typical))
}

// bringsStep writes out what a mass holds of every nutrient, as labels state it, and its lime equivalent.
func bringsStep(what string, m *garden.Material, grams float64) view.WorkingStep {
	var terms []string
	var keys [][]string
	add := func(f reference.Figure, symbol string) {
		if f.Known && f.Typical != 0 {
			terms = append(terms, fmt.Sprintf("%s %% %s = %s g", figureText(f), symbol, view.Exact(grams*f.Typical/100)))
			keys = append(keys, f.Source)
		}
	}
	for _, n := range reference.Nutrients {
		add(m.Content(n), n.Symbol())
	}
	add(m.LimeValue(), "CaCO3")
	if salt := m.SaltIndex(); salt.Known {
		terms = append(terms, fmt.Sprintf("salt index %s = as %s g of sodium nitrate", figureText(salt), view.Exact(grams*salt.Typical/100)))
		keys = append(keys, salt.Source)
	}
	return view.WorkingStep{What: what, Sum: view.Exact(grams) + " g x " + strings.Join(terms, "; x "), Sources: care.Keys(keys...)}
}

func (c *computation) mainSet() units.Set { return c.pass.Garden.Handbook.Main }

func figureText(f reference.Figure) string {
	if f.Low == f.High {
		return view.Exact(f.Typical)
	}
	return fmt.Sprintf("%s (%s)", view.Exact(f.Typical), view.Span(f.Low, f.High))
}
