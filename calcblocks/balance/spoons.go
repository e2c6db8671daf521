package balance

import (
	"math"

	"trug/calcblocks/kit/scoop"
)

const (
	mostMeasures = 5    // of one material that are tried
	mostTrials   = 4000 // combinations of them that are tried
	slight       = 1e-6 // part of a limit that measures may pass it by: less is rounding
)

// measure turns the exact amounts into measures: of the combinations of measures near them the one that
// passes no guard or limit where there is such, then misses the bands least, then is nearest to what was
// asked. The cheapest amounts lie on the edges of their bands, so each measured by itself would often fall
// outside. What is too little even for the scale is left out.
func (c *computation) measure() {
	var near [][]use
	for i, o := range c.offers {
		if c.answer.grams[i] <= 0 {
			continue
		}
		var uses []use
		for _, s := range scoop.Near(o.material, c.answer.grams[i], mostMeasures, c.pass.Garden.Handbook) {
			if s.Mass.Typical > 0 {
				uses = append(uses, c.use(o, s))
			}
		}
		if len(uses) > 0 {
			near = append(near, uses)
		}
	}
	t := trial{c: c, near: fewer(near)}
	t.try(nil)
	c.used = t.best
}

// use works out what a measure brings to each wanted band.
func (c *computation) use(o offer, s scoop.Scoop) use {
	u := use{offer: o, scoop: s}
	for _, b := range c.answer.bands {
		u.brings = append(u.brings, s.Mass.Typical*o.counts[b.nutrient].value.Typical)
	}
	return u
}

// fewer leaves out the farthest measures of all materials until the combinations can be tried.
func fewer(near [][]use) [][]use {
	for n := mostMeasures; n > 1; n-- {
		trials := 1
		for i := range near {
			near[i] = near[i][:min(n, len(near[i]))]
			trials = min(trials*len(near[i]), mostTrials+1)
		}
		if trials <= mostTrials {
			return near
		}
	}
	for i := range near {
		near[i] = near[i][:1]
	}
	return near
}

// A trial goes through the combinations, the nearest measures first.
type trial struct {
	c     *computation
	near  [][]use
	best  []use
	worth []float64
}

func (t *trial) try(chosen []use) {
	if k := len(chosen); k < len(t.near) {
		for _, u := range t.near[k] {
			t.try(append(chosen[:k:k], u))
		}
		return
	}
	if worth := t.c.worth(chosen); t.worth == nil || better(worth, t.worth) {
		t.best, t.worth = chosen, worth
	}
}

// worth is what measures are judged by, in order; less is better.
func (c *computation) worth(chosen []use) []float64 {
	over, missed, off := 0.0, 0.0, 0.0
	for _, u := range chosen {
		grams := u.scoop.Mass.Typical
		if u.mostWhy != "" && grams > u.most*(1+slight) {
			over += grams/u.most - 1
		}
		off += math.Abs(u.scoop.Error()) / 100
	}
	for _, b := range c.bounds {
		sum, size := c.boundSum(b, chosen)
		if size = max(size, math.Abs(b.most)); sum > b.most+slight*size {
			over += (sum - b.most) / size
		}
	}
	for i, b := range c.answer.bands {
		sum := 0.0
		for _, u := range chosen {
			sum += u.brings[i]
		}
		missed += math.Abs(outside(sum, b)) * weight(b.middle)
	}
	return []float64{over, missed, off}
}

// boundSum returns what measures come to on a guard, and the largest term of it.
func (c *computation) boundSum(b bound, chosen []use) (sum, size float64) {
	for _, u := range chosen {
		x := b.of[u.at] * u.scoop.Mass.Typical
		sum += x
		size = max(size, math.Abs(x))
	}
	return sum, size
}
