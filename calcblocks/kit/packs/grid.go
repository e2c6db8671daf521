package packs

import (
	"cmp"
	"math"
	"math/big"
	"slices"
)

// A grid is the need and the packs in whole steps of one size. Packs stand from the largest to the smallest.
type grid struct {
	need   int64
	holds  []int64
	prices []int64
	order  []int // place of each in the caller's list
}

// The bounds of a search, in steps: they keep it to some hundredths of a second.
const (
	mostNeed = 1 << 21
	mostPack = 1 << 18
)

// newGrid measures in the largest step of which every pack holds a whole number, so that nothing is rounded.
// Sizes with hardly a common step, such as pounds beside kilograms, are measured in the finest power of ten
// that leaves the largest pack within mostPack steps, each to the next step: a pack of 3 lb to a hundredth
// of a gram.
func newGrid(need float64, packs []Pack) *grid {
	step, largest := new(big.Rat), new(big.Rat)
	for _, p := range packs {
		step = common(step, p.Holds)
		if p.Holds.Cmp(largest) > 0 {
			largest = p.Holds
		}
	}
	if ratio(largest, step) > mostPack {
		step = big.NewRat(1, 1000)
		for ratio(largest, step) > mostPack {
			step.Mul(step, big.NewRat(10, 1))
		}
	}
	return measured(need, packs, step)
}

// ratio returns a / b as a float.
func ratio(a, b *big.Rat) float64 {
	x, _ := new(big.Rat).Quo(a, b).Float64()
	return x
}

// common returns the largest step of which both are whole numbers; zero is a whole number of any.
func common(a, b *big.Rat) *big.Rat {
	x := new(big.Int).Mul(a.Num(), b.Denom())
	y := new(big.Int).Mul(b.Num(), a.Denom())
	return new(big.Rat).SetFrac(new(big.Int).GCD(nil, nil, x, y), new(big.Int).Mul(a.Denom(), b.Denom()))
}

func measured(need float64, packs []Pack, step *big.Rat) *grid {
	size, _ := step.Float64()
	steps := need / size
	g := &grid{need: int64(math.Ceil(steps - nearly*max(steps, 1)))}
	for i := range packs {
		g.order = append(g.order, i)
	}
	slices.SortStableFunc(g.order, func(a, b int) int { return packs[b].Holds.Cmp(packs[a].Holds) })
	for _, i := range g.order {
		g.holds = append(g.holds, int64(math.Ceil(ratio(packs[i].Holds, step)-nearly)))
		g.prices = append(g.prices, packs[i].Price)
	}
	return g
}

// takeBulk meets what exceeds mostNeed with the pack of the lowest price for a step, as any very large need is
// met for the most part by the cheapest choice too. What is left is searched.
func (g *grid) takeBulk(counts []int) {
	if g.need <= mostNeed {
		return
	}
	best := 0
	for i := range g.holds {
		if cmp.Compare(float64(g.prices[i])/float64(g.holds[i]), float64(g.prices[best])/float64(g.holds[best])) < 0 {
			best = i
		}
	}
	n := (g.need - mostNeed) / g.holds[best]
	counts[g.order[best]] += int(n)
	g.need -= n * g.holds[best]
}
