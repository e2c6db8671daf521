package recipe

import (
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/vessel"
)

// A layer is the compost laid on top of one container. firmed is what it fills in the pot, low and high
// (they differ for a nursery class); loose is what to buy.
type layer struct {
	material *garden.Material
	firmed   [2]float64 // litres
	loose    [2]units.SomeVolume
	depth    [2]float64 // cm below the fill line
	totals   [2]dose.Totals
	supplied // what of it becomes available
}

// layer works out the compost for a container: by depth from the shape (volumes.md, section 2), by share
// of the refilled volume, or by volume in proportion to the mix.
func (c *computation) layer(container garden.Container) *layer {
	if c.compost == nil || !c.top.measured() {
		return nil
	}
	l := &layer{material: c.compost}
	low, high := container.Litres()
	small, large := container.Vessel.Ends()
	l.firmed[0], l.depth[0] = c.firmed(small, low)
	if l.firmed[1], l.depth[1] = l.firmed[0], l.depth[0]; small != large {
		l.firmed[1], l.depth[1] = c.firmed(large, high)
	}
	var parts [2][]dose.Portion
	for i, litres := range l.firmed {
		l.loose[i] = c.looseFor(litres)
		mass := units.WeighSome(l.loose[i], l.material.Density().Density())
		parts[i] = []dose.Portion{{Material: l.material, Mass: mass}}
	}
	l.totals, l.supplied = ofBoth(parts, dose.Add), c.supplies(parts)
	return l
}

// firmed returns the litres that the layer fills in a pot of so many litres, and how deep in cm it lies there.
func (c *computation) firmed(pot vessel.Vessel, litres float64) (filled, depth float64) {
	filled = c.topLitres(pot, litres)
	below := max(pot.VolumeAt(pot.FillHeight())-filled*1000, 0)
	return filled, pot.FillHeight() - pot.HeightOf(below)
}

func (c *computation) topLitres(pot vessel.Vessel, litres float64) float64 {
	switch {
	case c.top.depth != nil:
		return pot.LevelFall(c.top.depth.Float()) / 1000
	case c.top.share != nil:
		return c.top.share.Float() * litres
	case c.top.volume != nil:
		return c.top.volume.Float() / c.mix.Float() * litres
	}
	return 0
}

// looseFor returns the loose volume that firms to litres: litres / r, r about 0.80, 0.645 to 0.952
// (volumes.yaml, packing).
func (c *computation) looseFor(litres float64) units.SomeVolume {
	r := c.pass.Ref.Must("volumes", "packing", "ratio")
	return units.SomeVolume{Low: litres * 1000 / r.High, Typical: litres * 1000 / r.Typical, High: litres * 1000 / r.Low}
}
