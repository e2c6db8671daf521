package plan

import (
	"fmt"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/purchase"
	"trug/calcblocks/kit/view"
)

func (c *computation) working() []view.WorkingStep {
	var steps []view.WorkingStep
	for _, r := range c.rows {
		steps = append(steps, c.roomSteps(r)...)
		steps = append(steps, needSteps(r)...)
		steps = append(steps, c.mixSteps(r)...)
		steps = append(steps, c.oldMixSteps(r)...)
	}
	steps = append(steps, purchase.Sums(c.needs)...)
	return append(steps, c.costStep()...)
}

func (c *computation) roomSteps(r *row) []view.WorkingStep {
	if r.crop == nil || r.plants == 0 || !r.crop.MixMin.Known {
		return nil
	}
	sum := fmt.Sprintf("%s / %s = %s L each; %s L at least", r.roomText(), plantsOf(r.plants), view.Exact(r.litres[1]/float64(r.plants)), view.Exact(r.crop.MixMin.Typical))
	if r.crop.MixGood.Known {
		sum += fmt.Sprintf(", %s L for a full yield", view.Exact(r.crop.MixGood.Typical))
	}
	return []view.WorkingStep{{What: r.pot.Label + ", room for " + cropWords(r.crop), Sum: sum, Sources: care.Keys(r.crop.MixMin.Source, r.crop.MixGood.Source)}}
}

// roomText is the volume that the room is judged by.
func (r *row) roomText() string {
	if r.litres[0] == r.litres[1] {
		return view.Exact(r.litres[1]) + " L"
	}
	return fmt.Sprintf("%s L, the larger end of %s to %s L,", view.Exact(r.litres[1]), view.Exact(r.litres[0]), view.Exact(r.litres[1]))
}

// needSteps writes what the pot's own crop needs, where it is not the recipe's.
func needSteps(r *row) []view.WorkingStep {
	var steps []view.WorkingStep
	for _, s := range r.content.Working {
		s.What = r.pot.Label + ", " + s.What
		steps = append(steps, s)
	}
	return steps
}

func (c *computation) mixSteps(r *row) []view.WorkingStep {
	m, x := r.mix, view.Exact
	if !m.known {
		return nil
	}
	b, of := m.balance, r.pot.Vessel
	step := func(what, format string, args ...any) view.WorkingStep {
		return view.WorkingStep{What: r.pot.Label + ", " + what, Sum: fmt.Sprintf(format, args...)}
	}
	upTo := func(what string, height, litres float64) view.WorkingStep {
		return step(what+", up to "+x(height)+" cm", "%s = %s mL", of.VolumeSum(height), x(1000*litres))
	}
	steps := []view.WorkingStep{upTo("old mix before", m.level.Before, b.Left)}
	if m.level.Refill != m.level.Before {
		steps = append(steps, upTo("refilled", m.level.Refill, b.Fill))
	}
	if r.take != nil {
		steps = append(steps, upTo("old mix that stays", m.level.After, b.Left-b.Out))
	}
	return append(steps,
		step("old mix out", "%s", r.outSum()),
		step("room", "%s L - (%s L - %s L) = %s L", x(b.Fill), x(b.Left), x(b.Out), x(b.Room())),
		step("filled with", "%s L old mix + %s L compost + %s L from other pots + %s L new mix = %s L", x(b.Left-b.Out), x(b.Compost), x(m.in-m.over), x(m.short), x(b.Left-b.Out+b.Compost+m.in-m.over+m.short)),
	)
}

// outSum writes how much old mix comes out: what lies above a height, or what the compost needs besides the room that
// settling left.
func (r *row) outSum() string {
	m, b, x := r.mix, r.mix.balance, view.Exact
	if r.take != nil {
		return fmt.Sprintf("%s L - %s L that stay = %s L", x(b.Left), x(b.Left-b.Out), x(b.Out))
	}
	short := m.compost - (b.Fill - b.Left)
	sum := fmt.Sprintf("%s L of compost - (%s L - %s L) of room that settling left = %s L", x(m.compost), x(b.Fill), x(b.Left), x(short))
	switch {
	case short < 0:
		return sum + ": none has to come out"
	case short > b.Out+rounding:
		return sum + ", and there are " + x(b.Out) + " L"
	}
	return sum
}

func (c *computation) costStep() []view.WorkingStep {
	sum, known, missing := c.cost()
	if !known {
		return nil
	}
	text := ""
	for _, r := range c.rows {
		if x, ok := r.minor(1); ok {
			text += fmt.Sprintf(" + %.2f", x/100)
		}
	}
	text = fmt.Sprintf("%s = %.2f %s at the high end, each material at its cheapest pack", text[3:], sum[1]/100, c.pass.Garden.Handbook.Currency)
	if len(missing) > 0 {
		text += "; no price for " + view.And(missing)
	}
	return []view.WorkingStep{{What: "what the pots cost together", Sum: text}}
}
