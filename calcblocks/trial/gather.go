package trial

import (
	"math/big"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/units"
)

// A cell is one member of a group: its value, and the pot that it comes from.
type cell struct {
	pot   string // its name, "" for a value written in place
	value *big.Rat
	known bool
}

// gather returns the members of every group, in the author's order; ok is false after a fault.
func (c *computation) gather() bool {
	if len(c.groups) == 0 {
		return false
	}
	ok := len(c.groups) > 1
	ok = c.resolveUnit() && ok
	ok = c.resolveCrop() && ok
	for _, g := range c.groups {
		var cells []cell
		for _, v := range g.values {
			cells = append(cells, cell{value: v, known: true})
		}
		for _, node := range g.pots {
			one, found := c.harvested(node)
			ok = ok && found
			cells = append(cells, one)
		}
		c.cells = append(c.cells, cells)
	}
	return ok
}

// resolveUnit finds the words of the unit. Harvests are grams, or another unit of mass that the author names.
func (c *computation) resolveUnit() bool {
	word, _ := c.unit.Text()
	c.unitText, c.unitGrams = word, big.NewRat(1, 1)
	if !c.groups[0].byPots {
		return true
	}
	if word == "" {
		c.unitText = "g"
	}
	u, known := units.Lookup(c.unitText, c.pass.Garden.Handbook.Main)
	if !known || u.Kind != units.MassUnit {
		c.pass.Report(diag.Errorf(c.unit.At(), "wrong-dimension", "%q is no unit of weight", word).Hint("write the unit in which harvests are compared, such as \"g\" or \"kg\""))
		return false
	}
	c.unitGrams = u.Factor
	if c.measure != measures[0] {
		c.unitText += " per litre"
	}
	return true
}

func (c *computation) resolveCrop() bool {
	id, told := c.crop.Text()
	if !told {
		return c.crop == nil
	}
	_, known := c.pass.Crop(id, c.crop.At())
	if known {
		c.cropID = id
	}
	return known
}

// harvested adds up what the diary says was harvested from a pot in the season, exactly. A pot without a
// weighed harvest has no value: nothing written down is not nothing grown.
func (c *computation) harvested(node *form.Node) (cell, bool) {
	pot, ok := form.Value(node, c.pass.Garden.OwnPot)
	if !ok {
		return cell{}, false
	}
	if pot.Pot == "" {
		d := diag.Errorf(node.At(), "not-a-pot", "%q is a size, and harvests belong to a pot", node.Raw())
		c.pass.Report(d.Hint("write the id of a pot of pots.yaml"))
		return cell{}, false
	}
	out := cell{pot: pot.Label, value: new(big.Rat)}
	for _, f := range c.pass.Facts {
		if e, is := f.(facts.Event); is && c.counts(e, pot) {
			out.known = true
			out.value.Add(out.value, e.Yield.Rat())
		}
	}
	out.value.Quo(out.value, c.unitGrams)
	if c.measure != measures[0] {
		low, high := pot.Litres()
		out.value.Quo(out.value, units.Millilitres(500*(low+high)).Times(big.NewRat(1, 1000)).Rat())
	}
	return out, true
}

func (c *computation) counts(e facts.Event, pot garden.Container) bool {
	return e.Did == "harvested" && e.Pot == pot.Pot && e.Yield.Sign() > 0 &&
		(c.season == 0 || c.pass.Garden.Handbook.Year().Of(e.On) == c.season) && (c.cropID == "" || e.Crop == c.cropID)
}

// samples returns the values of every group. Of pairs, only those whose members are all known count.
func (c *computation) samples() [][]*big.Rat {
	out := make([][]*big.Rat, len(c.cells))
	for i, cells := range c.cells {
		for j, one := range cells {
			if one.known && (!c.paired || c.whole(j)) {
				out[i] = append(out[i], one.value)
			}
		}
	}
	return out
}

func (c *computation) whole(pair int) bool {
	for _, cells := range c.cells {
		if !cells[pair].known {
			return false
		}
	}
	return true
}

// missing names the pots without a value.
func (c *computation) missing() []string {
	var out []string
	for _, cells := range c.cells {
		for _, one := range cells {
			if !one.known {
				out = append(out, one.pot)
			}
		}
	}
	return out
}
