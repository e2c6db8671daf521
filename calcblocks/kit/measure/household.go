package measure

// The steps of 21 CFR 101.9(b)(5)(i): teaspoons 1/8, 1/4, 1/2, 3/4, 1, 2; tablespoons 1, 1 1/3, 1 1/2,
// 1 2/3, 2, 3; cups in steps of 1/4 and 1/3. The cup steps go on beyond one cup.
var (
	gridEighths = []int64{1, 2, 4, 6, 8, 16}
	gridSixths  = []int64{6, 8, 9, 10, 12, 18}
)

// grid returns the set's steps below its first cup step, smallest first.
func (g *gauge) grid() []pick {
	var steps []pick
	for _, n := range gridEighths {
		steps = append(steps, pick{eighths: n, grains: n * g.eight})
	}
	for _, n := range gridSixths {
		steps = append(steps, pick{sixths: n, grains: n * g.tbsp / 6})
	}
	return steps
}

// household returns the step of the grid nearest to the target; an amount half way between two steps goes
// up (21 CFR 101.9(b)(5)(ix)). The steps are the given set's own measures; on a food label they would be
// those of the label set.
func (g *gauge) household(t target) scoop {
	steps := g.grid()
	below, above := g.cupsAround(t.quarters)
	for _, n := range [...]int64{below, above} {
		if n > 0 {
			steps = append(steps, pick{twelfths: n, grains: n * g.cup / 12})
		}
	}
	best := steps[0]
	for _, step := range steps[1:] {
		if t.distance(step.grains) <= t.distance(best.grains) { // steps rise: an equal one is the upper
			best = step
		}
	}
	return best.scoop()
}
