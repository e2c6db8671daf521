package recipe

import (
	"fmt"
	"math"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
)

// tooSmall speaks when an amount is below half of the smallest spoon.
func (k check) tooSmall() []care.Guard {
	var out []care.Guard
	set := k.c.pass.Garden.Handbook.Main
	for _, p := range k.portions {
		low := p.ends[0]
		if p.amount.Low.Weighed || !low.in(set).TooSmall {
			continue
		}
		batch := fmt.Sprintf(", or mix a batch for %d pots alike and share it out", measure.Batch(low.wanted, set))
		out = append(out, care.TooSmall(p.material, low.mass.Typical, batch))
	}
	return out
}

// coarseRounding speaks when the spoons of an amount miss by much.
func (k check) coarseRounding() []care.Guard {
	hb := k.c.pass.Garden.Handbook
	var out []care.Guard
	for _, p := range k.portions {
		out = append(out, care.CoarseMeasure(p.material, p.worstRounding(hb), hb.Rounding == measure.Household)...)
	}
	return out
}

func (p portion) worstRounding(hb garden.Handbook) float64 {
	if p.amount.Low.Weighed {
		return 0
	}
	a, b := p.ends[0].in(hb.Main).Error, p.ends[1].in(hb.Main).Error
	if math.Abs(a) > math.Abs(b) {
		return a
	}
	return b
}
