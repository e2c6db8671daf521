// Package purchase works out what the plantings of a plan take of each material, what is left to buy beside the
// stock, and in which packs. Masses are grams, money is minor units.
package purchase

import (
	"slices"

	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/packs"
	"trug/calcblocks/kit/units"
)

// A Need is what plantings take of one material, as the spoons hold it.
type Need struct {
	Material *garden.Material
	Grams    [2]float64     // at the author's low and high end, at typical figures
	Spread   units.SomeMass // Low at the low end's least, Typical and High at the high end's
	Takes    []Take         // one for each pot that takes any, as they are planted
	Stock    *float64       // g; nil = not told
	ToBuy    float64        // g: the high end less the stock, so that nothing runs short
	Offers   []Offer        // one for each of Goals; empty when no pack is known or none is needed
}

// A Take is what one pot takes.
type Take struct {
	Pot   string
	Grams [2]float64
}

// Goals are what the choices of packs are best at: the cheapest first, which is what a list shows.
var Goals = []packs.Goal{packs.Cheapest, packs.CheapestUnit, packs.LeastLeft}

// An Offer is one choice of packs that is enough.
type Offer struct {
	Goal  packs.Goal
	Packs []Bought // without those of which none is bought
	Grams float64  // all of them
	Cost  float64  // minor units
	Left  float64  // g of all that is there, less the high end
}

// Bought is a number of packs of one size.
type Bought struct {
	Pack  garden.Pack
	Grams float64 // of one
	Count int
}

// Of adds up what plantings take, in the order in which the materials first come up, and chooses packs. It goes
// over the plantings once.
func Of(plantings []facts.Planting) []*Need {
	var out []*Need
	at := map[string]*Need{}
	for _, p := range plantings {
		for end, parts := range portions(p) {
			for _, part := range parts {
				n := at[part.Material.ID]
				if n == nil {
					n = &Need{Material: part.Material}
					at[part.Material.ID] = n
					out = append(out, n)
				}
				n.add(p.Pot, end, part.Mass)
			}
		}
	}
	for _, n := range out {
		n.stock()
		n.choose()
	}
	return out
}

// portions are a planting's amendments and its compost, at the low and the high end.
func portions(p facts.Planting) [2][]dose.Portion {
	return [2][]dose.Portion{
		slices.Concat(p.Content.Masses[0], p.Content.Compost[0]),
		slices.Concat(p.Content.Masses[1], p.Content.Compost[1]),
	}
}

func (n *Need) add(pot string, end int, mass units.SomeMass) {
	n.Grams[end] += mass.Typical
	if end == 0 {
		n.Spread.Low += mass.Low
	} else {
		n.Spread.Typical += mass.Typical
		n.Spread.High += mass.High
	}
	if last := len(n.Takes) - 1; last < 0 || n.Takes[last].Pot != pot {
		n.Takes = append(n.Takes, Take{Pot: pot})
	}
	n.Takes[len(n.Takes)-1].Grams[end] += mass.Typical
}

// stock weighs the stock, one by volume at the typical density, and says what is left to buy.
func (n *Need) stock() {
	if n.Material.Stock != nil {
		if grams, ok := n.weigh(*n.Material.Stock); ok {
			n.Stock = &grams
		}
	}
	n.ToBuy = max(n.Grams[1]-n.Had(), 0)
}

// Had returns the grams in stock, nothing where it was not told.
func (n *Need) Had() float64 {
	if n.Stock == nil {
		return 0
	}
	return *n.Stock
}

// weigh returns the grams of a quantity; false for a volume of a material whose density is not known.
func (n *Need) weigh(q units.Quantity) (float64, bool) {
	if q.Weighed {
		return q.Mass.Float(), true
	}
	d := n.Material.Density()
	return q.Volume.Float() * d.Typical, d.Known
}

// Left returns the grams left over with an offer, or without one when the stock is enough; false when
// something must be bought and no pack is known.
func (n *Need) Left() (float64, bool) {
	switch {
	case len(n.Offers) > 0:
		return n.Offers[0].Left, true
	case n.ToBuy == 0:
		return n.Had() - n.Grams[1], true
	}
	return 0, false
}

// Missing says that something must be bought of which no pack is known.
func (n *Need) Missing() bool { return n.ToBuy > 0 && len(n.Offers) == 0 }

// MorePots returns for how many more pots like the mean one of these a mass lasts.
func (n *Need) MorePots(grams float64) float64 {
	if n.Grams[1] == 0 {
		return 0
	}
	return grams / (n.Grams[1] / float64(len(n.Takes)))
}
