package balance

import (
	"math"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/solve"
)

// An answer is the best amounts: grams of each offer, and for each wanted band what they bring and what is
// in the way of it.
type answer struct {
	bands   []band // the wanted ones
	grams   []float64
	reached []float64
	heldBy  [][]hold
	merit   []float64 // what was made least, in order
}

// A hold is something in the way of a band.
type hold struct{ id, words string }

// The ranks of the program's rows: guards are never passed for a band, and a wish never moves one.
const (
	guards = iota
	bands
	wishes
	unpriced
)

// solve finds the best amounts. Wood ash goes neither with lime nor with meals that give off ammonia: where
// it is on offer beside them the program is solved with either, and the better answer is taken.
func (c *computation) solve() answer {
	var best *answer
	for _, allowed := range c.companies() {
		a := c.solveWith(allowed)
		if best == nil || better(a.merit, best.merit) {
			best = &a
		}
	}
	return *best
}

// companies lists the sets of offers that may go together; the set without ash comes first.
func (c *computation) companies() [][]bool {
	all, without, alone := make([]bool, len(c.offers)), make([]bool, len(c.offers)), make([]bool, len(c.offers))
	ash, enemies := false, false
	for i, o := range c.offers {
		isAsh, enemy := o.material.ID == "wood-ash", ashEnemy(o.material)
		all[i], without[i], alone[i] = true, !isAsh, !enemy
		ash, enemies = ash || isAsh, enemies || enemy
	}
	if ash && enemies {
		return [][]bool{without, alone}
	}
	return [][]bool{all}
}

func ashEnemy(m *garden.Material) bool {
	return m.ID != "wood-ash" && (m.Class() == "liming" || slices.Contains(m.Hazards(), "ammonia"))
}

// better compares merits in order; what differs by rounding alone is equal.
func better(a, b []float64) bool {
	for i := range a {
		if d := a[i] - b[i]; math.Abs(d) > near*max(1, math.Abs(b[i])) {
			return d < 0
		}
	}
	return false
}

func (c *computation) solveWith(allowed []bool) answer {
	p := c.program(allowed)
	find := solve.Minimise
	if c.prefer == "fewest" {
		find = solve.Fewest
	}
	found, err := find(p)
	if err != nil {
		panic("balance: " + err.Error()) // the solver checks itself: a mistake of ours
	}
	a := answer{bands: c.wanted(), grams: found.Amounts, merit: c.merit(p, found)}
	for i, r := range found.Rows {
		if p.Rows[i].Rank == bands {
			a.reached = append(a.reached, r.Value)
			a.heldBy = append(a.heldBy, c.holds(r))
		}
	}
	return a
}

// program writes the rows: guards, bands in the order of wanted, wishes.
func (c *computation) program(allowed []bool) solve.Problem {
	var p solve.Problem
	dear := c.dear()
	for i, o := range c.offers {
		column := solve.Column{Most: o.most}
		if !allowed[i] {
			column.Most = 0
		}
		column.Cost = o.price
		if !o.priced && c.prefer == "fewest" {
			column.Cost = dear
		}
		p.Columns = append(p.Columns, column)
	}
	for _, b := range c.bounds {
		p.Rows = append(p.Rows, solve.Row{Of: b.of, Low: math.Inf(-1), High: b.most, Rank: guards})
	}
	for _, b := range c.wanted() {
		p.Rows = append(p.Rows, solve.Row{Of: c.of(b), Low: b.low, High: b.high, Weight: weight(b.middle), Rank: bands})
	}
	if c.prefer == "closest" {
		for _, b := range c.wanted() {
			p.Rows = append(p.Rows, solve.Row{Of: c.of(b), Low: b.middle, High: b.middle, Weight: weight(b.middle), Rank: wishes})
		}
	}
	if c.prefer != "fewest" {
		p.Rows = append(p.Rows, c.withoutPrice())
	}
	return p
}

// dear is what a gram without a price counts where the number of materials comes first: ten times the dearest on
// offer, which is never nothing.
func (c *computation) dear() float64 {
	most := 0.0
	for _, o := range c.offers {
		most = max(most, o.price)
	}
	if most == 0 {
		return 1
	}
	return 10 * most
}

// weight makes a part of a band count the same for every nutrient.
func weight(middle float64) float64 {
	if middle == 0 {
		return 1
	}
	return 1 / middle
}

func (c *computation) of(b band) []float64 {
	out := make([]float64, len(c.offers))
	for i, o := range c.offers {
		out[i] = o.counts[b.nutrient].value.Typical
	}
	return out
}

// withoutPrice holds materials without a price to as little as the bands allow: their cost is not known,
// which is never nothing.
func (c *computation) withoutPrice() solve.Row {
	r := solve.Row{Of: make([]float64, len(c.offers)), Low: math.Inf(-1), Rank: unpriced}
	for i, o := range c.offers {
		if !o.priced {
			r.Of[i] = 1
		}
	}
	return r
}

// merit is what was made least: missed bands, wishes, the number of materials, grams without a price, cost.
func (c *computation) merit(p solve.Problem, a solve.Answer) []float64 {
	missed := make([]float64, unpriced+1)
	for i, r := range a.Rows {
		missed[p.Rows[i].Rank] += r.Missed() * max(p.Rows[i].Weight, 0)
		if p.Rows[i].Rank == unpriced {
			missed[unpriced] += r.Missed()
		}
	}
	count := 0.0
	if c.prefer == "fewest" {
		for _, x := range a.Amounts {
			if x > 0 {
				count++
			}
		}
	}
	return []float64{missed[bands], missed[wishes], count, missed[unpriced], a.Cost}
}

// holds names what is in the way of a band.
func (c *computation) holds(r solve.Reached) []hold {
	if r.Missed() == 0 {
		return nil
	}
	var out []hold
	for _, h := range r.HeldBy {
		switch {
		case h.Column >= 0:
			o := c.offers[h.Column]
			if o.mostWhy == "" {
				continue // it is no limit of anybody's
			}
			out = append(out, hold{"limit of " + o.material.ID, o.mostWhy + " of " + care.InWords(o.material)})
		case h.Row < len(c.bounds):
			b := c.bounds[h.Row]
			out = append(out, hold{"guard " + b.id, b.way})
		case h.Row < len(c.bounds)+len(c.wanted()):
			b := c.wanted()[h.Row-len(c.bounds)]
			end := "lower"
			if h.High {
				end = "upper"
			}
			out = append(out, hold{end + " end of " + string(b.nutrient), "the " + end + " end of the band of " + b.nutrient.Name()})
		}
	}
	if len(out) == 0 && r.Short > 0 {
		return []hold{{"no material", "no material on offer brings more of it"}}
	}
	return out
}
