package topup

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks/kit/view"
)

func x(v float64) string { return view.Exact(v) }

func (c *computation) working() []view.WorkingStep {
	return slices.Concat(c.heightSteps(), c.volumeSteps(), c.freshSteps(), c.weightSteps())
}

func step(what string, sources []string, format string, args ...any) view.WorkingStep {
	return view.WorkingStep{What: what, Sum: fmt.Sprintf(format, args...), Sources: sources}
}

func (c *computation) heightSteps() []view.WorkingStep {
	return []view.WorkingStep{
		step("heights above the base", nil, "last year's line %s cm, old mix %s cm, after taking out %s cm, line to fill to %s cm", x(c.lastFill), x(c.surface), x(c.after), x(c.refill)),
		step("across at a height, cm", nil, "%s", c.pot.Vessel.AcrossSum()),
	}
}

// volumeSteps write out the volumes up to the heights and what lies between them.
func (c *computation) volumeSteps() []view.WorkingStep {
	b := c.balance
	upTo := func(what string, height, litres float64) view.WorkingStep {
		return step(what, nil, "%s = %s mL", c.pot.Vessel.VolumeSum(height), x(1000*litres))
	}
	steps := []view.WorkingStep{
		upTo("old mix in the pot, up to "+x(c.surface)+" cm", c.surface, b.Left),
		upTo("refilled volume, up to "+x(c.refill)+" cm", c.refill, b.Fill),
	}
	if stays := upTo("old mix that stays, up to "+x(c.after)+" cm", c.after, b.Left-b.Out); c.fresh == nil {
		steps = append(steps, stays, c.outStep())
	} else {
		steps = append(steps, c.outStep(), stays) // the height follows from what comes out
	}
	return append(steps, step("room", nil, "%s L - (%s L - %s L) = %s L", x(b.Fill), x(b.Left), x(b.Out), x(b.Room())))
}

// outStep says how much old mix comes out: down to a height, or as much as the fresh share needs besides the room
// that settling left.
func (c *computation) outStep() view.WorkingStep {
	b := c.balance
	if c.fresh == nil {
		return step("old mix out", nil, "%s L - %s L that stay = %s L", x(b.Left), x(b.Left-b.Out), x(b.Out))
	}
	share, settled := c.fresh.Float(), b.Fill-b.Left
	short := share*b.Fill - settled
	sum := fmt.Sprintf("%s L x %s %% - (%s L - %s L) of room = %s L", x(b.Fill), x(100*share), x(b.Fill), x(b.Left), x(short))
	if short < 0 {
		sum += ": none comes out"
	}
	return step("old mix out", nil, "%s", sum)
}

func (c *computation) freshSteps() []view.WorkingStep {
	b, r := c.balance, c.firming()
	steps := []view.WorkingStep{
		step("loose, to buy", r.Source, "%s L / %s = %s L", x(b.Room()), x(r.Typical), x(c.loose(b.Room()).typical)),
		step("fresh share", nil, "(%s + %s) L / %s L = %s %%", x(b.Compost), x(b.NewMix), x(b.Fill), x(100*b.FreshShare())),
		step("balance", nil, "%s - %s + %s + %s = %s L", x(b.Left), x(b.Out), x(b.Compost), x(b.NewMix), x(b.Refilled())),
		step("first mix left", nil, "(1 - %s)^years: %s %%", x(b.FreshShare()), strings.Join(years(c.originalLeft()), ", ")),
	}
	if c.screened != nil {
		steps = append(steps, step("before the screen", nil, "%s L / %s %% = %s L", x(c.loose(b.Compost).typical), x(100*c.screened.Float()), x(c.beforeScreen())))
	}
	return steps
}

func (c *computation) weightSteps() []view.WorkingStep {
	b, watered := c.balance, c.pass.Ref.Must("volumes", "watered_weight_kg_per_l", "pick")
	var steps []view.WorkingStep
	if c.material != nil {
		d, litres := c.material.Density(), c.loose(b.Compost).typical
		steps = append(steps, step("weight of the compost", d.Source, "%s L x %s kg/L = %s kg", x(litres), x(d.Typical), x(litres*d.Typical)))
	}
	if b.NewMix > 0 {
		steps = append(steps, step("weight of the new mix, watered", watered.Source, "%s L x %s kg/L = %s kg", x(b.NewMix), x(watered.Typical), x(b.NewMix*watered.Typical)))
	}
	if c.rootsLeft {
		steps = append(steps, step("nitrogen that old roots tie up", []string{"planning-values"}, "%s L x 1 g/L x 0.45 x (1/24 - 1/35) x 0.65 = %s g", x(b.Left-b.Out), x(c.tieUp().Typical)))
	}
	return append(steps, step("weight of the old mix taken out", watered.Source, "%s L x %s kg/L = %s kg", x(b.Out), x(watered.Typical), x(b.Out*watered.Typical)))
}

func years(percents []float64) []string {
	var out []string
	for _, p := range percents {
		out = append(out, view.Exact(p))
	}
	return out
}
