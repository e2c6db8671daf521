package diary

import (
	"fmt"

	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// renewed adds to an event how much of its mix was replaced, and the move of its old mix.
func (c *computation) renewed(event *facts.Event, e *entry, pot garden.Container) {
	if event.Did != "renewed" {
		return
	}
	event.Fresh = c.fresh(event, e, pot)
	if event.OldMixTo != "" {
		low, high := pot.Litres()
		c.moves = append(c.moves, facts.Move{
			At: event.At, On: event.On, From: event.Pot, To: event.OldMixTo, Litres: event.Fresh.Typical * (low + high) / 2,
		})
	}
}

// fresh returns the share of the refilled mix that is new: as the line says it, by the depth of old mix that
// came out, or else by the compost of the recipe, firmed / fill volume. Zero when none of them tells.
func (c *computation) fresh(event *facts.Event, e *entry, pot garden.Container) units.SomeShare {
	switch {
	case e.share != nil:
		x := e.share.Float()
		return units.SomeShare{Low: x, Typical: x, High: x}
	case e.depth != nil:
		return c.byDepth(event, e, pot)
	case event.With != "" && c.recipes[event.With].For != nil:
		r := c.recipes[event.With]
		return c.byCompost(event, c.portioned(added{id: event.With, picks: event.Picks, recipe: &r, entry: e}, pot))
	}
	return units.SomeShare{}
}

// byDepth returns what lies above a depth below the fill line / fill volume: the volume between two heights of
// the pot's own shape (vessel.LevelFall), not depth / height.
func (c *computation) byDepth(event *facts.Event, e *entry, pot garden.Container) units.SomeShare {
	v, depth := pot.Vessel, e.depth.Float()
	if height := v.FillHeight(); depth > height*(1+1e-9) {
		e.depthAt.Fault("depth-too-deep", fmt.Sprintf("the fill line of %q stands %s cm above its base", event.Pot, view.Exact(height)), "%q is more than there is", e.depthAt.Raw())
		return units.SomeShare{}
	}
	out, fill := v.LevelFall(depth)/1000, v.VolumeAt(v.FillHeight())/1000
	x := min(out/fill, 1)
	c.steps = append(c.steps, view.WorkingStep{
		What: fmt.Sprintf("%s deep in %s, share of the mix", e.depthAt.Raw(), pot.Label),
		Sum:  fmt.Sprintf("%s L / %s L = %s %%", view.Exact(out), view.Exact(fill), view.Exact(100*x)),
	})
	return units.SomeShare{Low: x, Typical: x, High: x}
}

// byCompost returns the share of the recipe's compost, firmed, in the fill volume.
func (c *computation) byCompost(event *facts.Event, p facts.Portioned) units.SomeShare {
	if p.Firmed[1] == 0 {
		return units.SomeShare{}
	}
	low, high := p.Firmed[0]/p.Litres[0], p.Firmed[1]/p.Litres[1]
	low, high = min(low, high), max(low, high)
	c.steps = append(c.steps, view.WorkingStep{
		What: fmt.Sprintf("compost of %s in %s, share of the mix", event.With, event.Pot),
		Sum:  fmt.Sprintf("%s L firmed / %s L = %s %%", view.Span(p.Firmed[0], p.Firmed[1]), view.Span(p.Litres[0], p.Litres[1]), view.Span(100*low, 100*high)),
	})
	return units.SomeShare{Low: low, Typical: (low + high) / 2, High: high}
}
