package purchase

import (
	"math"
	"math/big"

	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/packs"
	"trug/calcblocks/kit/units"
)

// choose finds the offers. Where all packs are sold by volume the search is over volumes, so that the density
// does not blur it; else packs by volume are weighed at the typical density.
func (n *Need) choose() {
	known := n.known()
	if n.ToBuy <= 0 || len(known) == 0 {
		return
	}
	need, shop := n.shop(known)
	for _, goal := range Goals {
		if choice, ok := packs.Choose(need, shop, goal); ok {
			n.Offers = append(n.Offers, n.offer(goal, known, choice))
		}
	}
}

// known are the packs that can be weighed.
func (n *Need) known() []garden.Pack {
	var out []garden.Pack
	for _, p := range n.Material.Packs {
		if _, ok := n.weigh(p.Holds); ok {
			out = append(out, p)
		}
	}
	return out
}

// shop returns the need and the packs in one unit: mL when all packs are by volume, else g.
func (n *Need) shop(known []garden.Pack) (float64, []packs.Pack) {
	byVolume := true
	for _, p := range known {
		byVolume = byVolume && !p.Holds.Weighed
	}
	need := n.ToBuy
	if byVolume {
		need /= n.Material.Density().Typical
	}
	var out []packs.Pack
	for _, p := range known {
		holds := p.Holds.Volume.Rat()
		if !byVolume {
			holds = n.grams(p.Holds)
		}
		out = append(out, packs.Pack{Holds: holds, Price: price(p)})
	}
	return need, out
}

// grams returns what a pack weighs: as written, or to the microgram for one by volume.
func (n *Need) grams(q units.Quantity) *big.Rat {
	if q.Weighed {
		return q.Mass.Rat()
	}
	x, _ := n.weigh(q)
	return big.NewRat(int64(math.Round(x*1e6)), 1e6)
}

// price returns the whole minor units of a pack's price.
func price(p garden.Pack) int64 {
	r := p.Price.Rat()
	return new(big.Int).Quo(r.Num(), r.Denom()).Int64()
}

func (n *Need) offer(goal packs.Goal, known []garden.Pack, choice packs.Choice) Offer {
	out := Offer{Goal: goal, Cost: float64(choice.Price)}
	for i, count := range choice.Counts {
		if count == 0 {
			continue
		}
		grams, _ := n.weigh(known[i].Holds)
		out.Packs = append(out.Packs, Bought{known[i], grams, count})
		out.Grams += grams * float64(count)
	}
	out.Left = max(n.Had()+out.Grams-n.Grams[1], 0)
	return out
}
