package compost

import (
	"fmt"
	"slices"

	"trug/calcblocks/kit/heap"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// tolerance is how much wetter than wanted a heap at its C:N may be, as a share of its weight (judgement, no source).
const tolerance = 0.05

// wettest is the moisture up to which a heap at its C:N is wet as it should be: a little above what is wanted, else the
// end of the usual band.
func (c *computation) wettest() float64 {
	if c.byWater() {
		return c.moisture + tolerance
	}
	return c.band("moisture_percent_ideal").High / 100
}

// isApart says whether the amount for the C:N leaves the heap wetter than that: water can be added to a dry heap and
// not taken from a wet one.
func (c *computation) isApart() bool {
	return c.byRatio() && c.solved() && c.atGoal.moisture.Typical > c.wettest()+1e-9
}

// both returns the amount that makes the heap no wetter than it should be with a C:N within the usual band, or as
// far out of it as the author's own goal, and the heap with it. C:N and moisture each go one way with the amount, so
// the amount that just makes the moisture is the nearest to the wanted C:N: where that lies outside, every other does.
func (c *computation) both() (heap.Amount, blend, bool) {
	a := heap.Solve(water(c.restBlend().materials), c.change.material.One().Water(), c.wettest())
	if !a.Reached {
		return a, blend{}, false
	}
	b, usual := c.mix(append(slices.Clone(c.restBlend().materials), c.with(a))), c.usualRatio()
	return a, b, b.ratio.Typical >= min(usual.Low, c.goal) && b.ratio.Typical <= max(usual.High, c.goal)
}

func (c *computation) usualRatio() reference.Figure { return c.band("c_to_n_ideal") }

// conflict says whether C:N and moisture pull apart so far that no amount suits both.
func (c *computation) conflict() bool {
	if !c.isApart() {
		return false
	}
	_, _, suits := c.both()
	return !suits
}

// goalText says what the amount for the C:N does to the moisture.
func (c *computation) goalText(kg, moisture string) string {
	return fmt.Sprintf("%s kg of %s make C:N %s, and the heap is then %s %% wet", kg, view.Small(c.change.title), n(c.goal), moisture)
}

// conflictText says both sides of a conflict of C:N and moisture.
func (c *computation) conflictText() string {
	most, a := c.moisture, c.forWater
	if !c.byWater() {
		most = c.wettest()
		a = heap.Solve(water(c.restBlend().materials), c.change.material.One().Water(), most)
	}
	text := c.goalText(n(c.forRatio.Kg.Typical), n(100*c.atGoal.moisture.Typical))
	if !a.Reached {
		return text + fmt.Sprintf("; no amount of it brings the moisture to %s %%: add something dry", n(100*most))
	}
	then := c.mix(append(slices.Clone(c.restBlend().materials), c.with(a)))
	return text + fmt.Sprintf("; for %s %% it takes %s kg, and C:N is then %s. Both at once need a third material", n(100*most), n(a.Kg.Typical), n(then.ratio.Typical))
}

// apartText names the amount for the C:N, which leaves the heap too wet, and the one that suits both.
func (c *computation) apartText() string {
	a, b, _ := c.both()
	kg, more := view.Apart(c.forRatio.Kg.Typical, a.Kg.Typical)
	wet, less := view.Apart(100*c.atGoal.moisture.Typical, 100*b.moisture.Typical)
	usual := c.usualRatio()
	where := "within the usual " + view.Span(usual.Low, usual.High)
	if ratio := b.ratio.Typical; ratio < usual.Low || ratio > usual.High {
		where = "no further from the usual than what is wanted"
	}
	over := ""
	if c.byWater() {
		over = fmt.Sprintf(", %s points above what is wanted,", n(100*tolerance))
	}
	return c.goalText(kg, wet) + fmt.Sprintf("; with %s kg it is %s %% wet%s and C:N %s, %s", more, less, over, n(b.ratio.Typical), where)
}
