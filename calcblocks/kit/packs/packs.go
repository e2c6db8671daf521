// Package packs chooses packs for an amount to buy: every number of every size is considered, by an exact
// search over whole packs. Amounts are in any unit, the same for what is needed and for what a pack holds;
// prices are in minor units of one currency.
package packs

import (
	"cmp"
	"math/big"
)

// A Pack is one size on sale. Holds is more than zero.
type Pack struct {
	Holds *big.Rat
	Price int64 // minor units
}

// A Goal is what a choice is best at.
type Goal int

// The goals. Ties go to the lower price, then to what is left over, then to fewer packs, then to larger
// packs and those named first.
const (
	Cheapest     Goal = iota // the lowest price in all
	CheapestUnit             // the lowest price for each unit that the packs hold together
	LeastLeft                // the least left over
)

// A Choice is how many of each pack to buy.
type Choice struct {
	Counts []int    // as the packs stand
	Holds  *big.Rat // all of them together
	Price  int64    // minor units
}

// nearly is the part of a need that only rounding of the arithmetic can leave: a billionth.
const nearly = 1e-9

// Choose returns the best choice whose packs hold at least what is needed; false when there is no pack. The
// sum of packs is a covering knapsack, solved by dynamic programming over all sums that packs can reach
// (Martello and Toth, Knapsack Problems, 1990, chapter 3), so the answer is exact, within the bounds that
// newGrid and takeBulk name.
func Choose(need float64, packs []Pack, goal Goal) (Choice, bool) {
	if len(packs) == 0 {
		return Choice{}, false
	}
	counts := make([]int, len(packs))
	if need > 0 {
		g := newGrid(need, packs)
		g.takeBulk(counts)
		g.fill(counts, goal)
	}
	out := Choice{Counts: counts, Holds: new(big.Rat)}
	for i, n := range counts {
		out.Holds.Add(out.Holds, new(big.Rat).Mul(packs[i].Holds, big.NewRat(int64(n), 1)))
		out.Price += int64(n) * packs[i].Price
	}
	return out, true
}

// A reached is the best way to reach a sum: its price, how many packs, and the last of them.
type reached struct {
	price int64
	packs int32
	last  int32 // index in the grid's order, -1 when the sum cannot be reached
}

// fill adds the best packs for what is left of the need.
func (g *grid) fill(counts []int, goal Goal) {
	if g.need <= 0 {
		return
	}
	sums := g.sums()
	best := -1
	for s := g.need; s < int64(len(sums)); s++ {
		if sums[s].last >= 0 && (best < 0 || better(goal, sums, s, int64(best))) {
			best = int(s)
		}
	}
	for s := int64(best); s > 0; {
		i := sums[s].last
		counts[g.order[i]]++
		s -= g.holds[i]
	}
}

// sums finds the best way to every sum from which no pack could be put back: up to the need and one largest
// pack less one unit.
func (g *grid) sums() []reached {
	sums := make([]reached, g.need+g.holds[0])
	for s := range sums {
		sums[s].last = -1
	}
	sums[0] = reached{}
	for s := int64(1); s < int64(len(sums)); s++ {
		for i, h := range g.holds {
			if h > s || sums[s-h].last < 0 {
				continue
			}
			before := sums[s-h]
			way := reached{before.price + g.prices[i], before.packs + 1, int32(i)}
			if sums[s].last < 0 || cmp.Or(cmp.Compare(way.price, sums[s].price), cmp.Compare(way.packs, sums[s].packs)) < 0 {
				sums[s] = way
			}
		}
	}
	return sums
}

// better says whether the sum s, larger than the best so far, is better by the goal.
func better(goal Goal, sums []reached, s, best int64) bool {
	a, b := sums[s], sums[best]
	switch goal {
	case Cheapest:
		return a.price < b.price
	case CheapestUnit: // a.price/s against b.price/best, without a remainder lost
		left := new(big.Int).Mul(big.NewInt(a.price), big.NewInt(best))
		return cmp.Or(left.Cmp(new(big.Int).Mul(big.NewInt(b.price), big.NewInt(s))), cmp.Compare(a.price, b.price)) < 0
	}
	return false // the first that is reached leaves the least
}
