package measure

import (
	"cmp"
	"math/big"

	"trug/calcblocks/kit/units"
)

// A pick is one way of scooping: cups in twelfths, tablespoons in thirds and halves of one (sixths),
// teaspoons in eighths, and what they hold together.
type pick struct {
	twelfths, sixths, eighths int64
	grains                    int64
}

func (p pick) terms() int {
	n := 0
	if p.twelfths > 0 {
		n++
	}
	if p.sixths > 0 {
		n++
	}
	if p.eighths > 0 {
		n++
	}
	return n
}

var (
	cupSteps   = []int64{3, 4, 6, 8, 9, 12}            // twelfths of a cup, repeating each cup
	spoonSteps = []int64{0, 6, 12, 18}                 // sixths of a tablespoon: none, 1, 2, 3
	teaSteps   = []int64{0, 1, 2, 4, 6, 8, 12, 16, 20} // eighths of a teaspoon: none to 2 1/2
)

// fine returns the fewest terms whose error is at most the bound, among those the least error; if none is
// so near, the least error of all. Two that are equally far off are settled by the smaller amount, so
// that never more than asked goes in where less would do, then by the larger units.
//
// For each pair of spoons only the cups just below and above what is left can be best, and no cup at all
// is one term fewer: about a hundred picks in all.
func (g *gauge) fine(t target) scoop {
	var best pick
	for _, sixths := range spoonSteps {
		for _, eighths := range teaSteps {
			spoons := sixths*g.tbsp/6 + eighths*g.eight
			below, above := g.cupsAround(t.quarters - 4*spoons)
			for _, twelfths := range [...]int64{0, below, above} {
				p := pick{twelfths, sixths, eighths, twelfths*g.cup/12 + spoons}
				if p.grains > 0 && (best.grains == 0 || t.better(p, best)) {
					best = p
				}
			}
		}
	}
	return best.scoop()
}

// cupsAround returns the cup terms, in twelfths, next below and next above an amount in quarter grains.
func (g *gauge) cupsAround(quarters int64) (below, above int64) {
	if quarters <= 0 {
		return 0, 0
	}
	whole := quarters / (4 * g.cup) * 12
	below = whole
	for _, step := range cupSteps {
		if above = whole + step; 4*above*g.cup/12 > quarters {
			break
		}
		below = above
	}
	return below, above
}

// better says whether p is a better pick than q.
func (t target) better(p, q pick) bool {
	near, terms := t.near(p.grains), p.terms()-q.terms()
	if near != t.near(q.grains) {
		return near
	} else if near && terms != 0 {
		return terms < 0
	}
	if further := t.distance(p.grains) - t.distance(q.grains); further != 0 {
		return further < 0
	}
	return cmp.Or(cmp.Compare(p.grains, q.grains), terms, cmp.Compare(q.twelfths, p.twelfths), cmp.Compare(q.sixths, p.sixths)) < 0
}

// vast returns the whole cups nearest to an amount too large for fractions to mean anything.
func (g *gauge) vast(wanted units.Volume) scoop {
	cup := big.NewRat(g.cup, 1)
	n := new(big.Rat).Quo(wanted.Rat(), cup.Mul(cup, g.grain))
	cups := floor(n.Add(n, big.NewRat(1, 2)))
	return scoop{cups: cups, grains: new(big.Int).Mul(cups, big.NewInt(g.cup))}
}
