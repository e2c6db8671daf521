package recipe

import (
	"fmt"
	"math"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/view"
)

// ownChoice is the bibliography's entry for a figure that was derived here.
const ownChoice = "derived-here"

// The most that a spoon may miss, percent: 10 with all spoons, a third or so, which is half a step of the coarse
// federal grid (21 CFR 101.9), with household rounding.
const fineMost, householdMost = 10.0, 34.0

// tooSmall speaks when an amount is below half of the smallest spoon.
func (k check) tooSmall() []care.Guard {
	var out []care.Guard
	set := k.c.pass.Garden.Handbook.Main
	for _, p := range k.portions {
		low := p.ends[0]
		if p.amount.Low.Weighed || !low.in(set).TooSmall {
			continue
		}
		out = append(out, care.Guard{
			ID: "too-small", Word: "Too little for a spoon", Sources: []string{ownChoice},
			Text: fmt.Sprintf("%s: %s g is too little to measure with a spoon. Weigh it, or mix a batch for %d pots alike and share it out.",
				p.material.Name, view.Number(low.mass.Typical), measure.Batch(low.wanted, set)),
		})
	}
	return out
}

// coarseRounding speaks when the spoons miss by more than 10 %, on the coarser household steps by more
// than 34 %.
func (k check) coarseRounding() []care.Guard {
	hb := k.c.pass.Garden.Handbook
	limit, source := fineMost, ownChoice
	if hb.Rounding == measure.Household {
		limit, source = householdMost, "cfr-101-9"
	}
	var out []care.Guard
	for _, p := range k.portions {
		worst := p.worstRounding(hb)
		if math.Abs(worst) <= limit+1e-9 {
			continue
		}
		out = append(out, care.Guard{
			ID: "coarse-rounding", Word: "Coarse measure", Sources: []string{source},
			Text: fmt.Sprintf("%s: the nearest spoons hold %s %% %s than asked, over the %s %% that pass. Weigh it if you can.", p.material.Name, view.Number(math.Abs(worst)), moreOrLess(worst), view.Number(limit)),
		})
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

func moreOrLess(x float64) string {
	if x > 0 {
		return "more"
	}
	return "less"
}
