package diary

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/vessel"
	"trug/calcblocks/kit/view"
)

// added is what a line put in: a recipe with picks, or an amount of one amendment.
type added struct {
	id       string
	picks    []string
	recipe   *facts.Recipe
	material *garden.Material
	masses   [2]units.SomeMass // of the amendment; known says whether its amount can be weighed
	known    bool
	entry    *entry
}

// with finds what a line added, "" when it names nothing that is known.
func (c *computation) with(e *entry) added {
	if len(e.with) == 0 || !slices.Contains(did[e.did], "with") {
		return added{}
	}
	w := added{entry: e}
	for i, n := range e.with {
		id, ok := n.Text()
		switch {
		case !ok:
			return added{}
		case i == 0:
			w.id = id
		default:
			w.picks = append(w.picks, id)
		}
	}
	if r, ok := c.recipes[w.id]; ok {
		w.recipe = &r
		if e.amountAt != nil {
			e.amountAt.Fault("amount-of-recipe", "leave \"amount\" out: the recipe says how much for each pot", "%q is not an amount of one amendment", e.amountAt.Raw())
		}
		return w
	}
	m, ok := c.pass.Garden.Material(w.id)
	if !ok {
		c.unknown(e, w.id)
		return added{}
	}
	if len(w.picks) > 0 {
		e.with[1].Fault("picks-of-amendment", "write a line for each amendment; picks go with a recipe", "%q is no recipe with choices", w.id)
	}
	w.material = m
	c.weigh(&w)
	if !slices.Contains(c.used, m.ID) {
		c.used = append(c.used, m.ID)
	}
	return w
}

func (c *computation) unknown(e *entry, id string) {
	ids := c.pass.Garden.MaterialIDs()
	for _, f := range c.pass.Facts {
		if r, ok := f.(facts.Recipe); ok {
			ids = append(ids, r.ID)
		}
	}
	d := diag.Errorf(e.with[0].At(), "unknown-with", "%q is neither a recipe nor an amendment", id)
	if near := diag.Closest(id, ids); near != "" {
		d = d.Hint("did you mean %q?", near)
	} else {
		d = d.Hint("write a recipe's id, or an amendment of the cupboard or the reference; see: trug catalogue amendments")
	}
	c.pass.Report(d)
}

// weigh turns the amount of an amendment into grams: volume x density. Without an amount, or without a
// density for a spooned one, the mass is not known.
func (c *computation) weigh(w *added) {
	a := w.entry.amount
	if a == nil {
		return
	}
	density := w.material.Density()
	if !a.Low.Weighed && !density.Known {
		d := diag.Errorf(w.entry.amountAt.At(), "no-density", "the weight of a cup of %q is not known", w.id)
		c.pass.Report(d.Hint("weigh a level cup and add \"cup weighs\" to cupboard.yaml, or give the amount in grams"))
		return
	}
	for end, q := range []units.Quantity{a.Low, a.High} {
		if q.Weighed {
			w.masses[end] = q.Mass.Certain()
		} else {
			w.masses[end] = units.Weigh(q.Volume, density.Density())
		}
	}
	w.known = true
	if !a.Low.Weighed {
		c.steps = append(c.steps, weighing(w))
	}
}

func weighing(w *added) view.WorkingStep {
	x, density := view.Exact, w.material.Density()
	ml := func(q units.Quantity) string {
		return fmt.Sprintf("%s mL x %s g/mL = %s g", x(q.Volume.Float()), x(density.Typical), x(q.Volume.Float()*density.Typical))
	}
	sum := ml(w.entry.amount.Low)
	if w.entry.amount.Range {
		sum += " to " + ml(w.entry.amount.High)
	}
	return view.WorkingStep{What: fmt.Sprintf("%s of %s", w.entry.amountAt.Raw(), w.id), Sum: sum, Sources: density.Source}
}

// fill adds to an event what went into its pot.
func (c *computation) fill(event *facts.Event, w added, pot garden.Container) {
	switch {
	case w.material != nil && w.known:
		for end, mass := range w.masses {
			event.Portions[end] = []dose.Portion{{Material: w.material, Mass: mass}}
		}
	case w.material != nil:
		event.Unweighed = []string{w.id}
	case w.recipe != nil:
		p := c.portioned(w, pot)
		for end := range event.Portions {
			event.Portions[end] = slices.Concat(p.Masses[end], p.Compost[end])
		}
	}
}

// portion is what a recipe's amounts depend on: pots alike share them.
type portion struct {
	recipe, picks string
	vessel        vessel.Vessel
}

// portioned computes a recipe for a pot, once for pots alike and a set of picks. What is wrong with the picks is
// reported where they stand.
func (c *computation) portioned(w added, pot garden.Container) facts.Portioned {
	key := portion{w.id, strings.Join(w.picks, " "), pot.Vessel}
	if p, ok := c.portions[key]; ok {
		return p
	}
	p, wrong := w.recipe.For(pot, w.picks, facts.Grown{})
	for _, d := range wrong {
		d.At = w.entry.with[min(1, len(w.entry.with)-1)].At()
		c.pass.Report(d)
	}
	c.portions[key] = p
	return p
}
