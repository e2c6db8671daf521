package trial

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"

	"trug/calcblocks/kit/view"
)

// The sources of the arithmetic, and of the rules on how few pots are too few.
var (
	arithmetic = []string{"nist-731"}
	rules      = []string{"derived-here"}
)

func (c *computation) working() []view.WorkingStep {
	var steps []view.WorkingStep
	for i, s := range c.sums {
		steps = append(steps, groupSteps(c.groups[i].name, c.values[i], s)...)
		if s.N >= leastForFigures {
			low, high := MeanInterval(s, c.level)
			sum := fmt.Sprintf("%s +- %s x %s / sqrt(%d) = %s to %s", figures(s.Mean), figures(CriticalT(float64(s.N-1), c.level)), figures(s.SD), s.N, figures(low), figures(high))
			steps = append(steps, view.WorkingStep{What: c.groups[i].name + ", interval of the mean", Sum: sum, Sources: arithmetic})
		}
	}
	for _, p := range c.pairs {
		steps = append(steps, c.pairSteps(p)...)
	}
	return steps
}

// figures prints a figure of the working; what is next to nothing keeps its digits.
func figures(x float64) string {
	if x != 0 && math.Abs(x) < 1e-4 {
		return strconv.FormatFloat(x, 'g', 3, 64)
	}
	return view.Exact(x)
}

func groupSteps(name string, values []*big.Rat, s Sample) []view.WorkingStep {
	if s.N == 0 {
		return []view.WorkingStep{{What: name, Sum: "no value"}}
	}
	terms := make([]string, len(values))
	for i, x := range values {
		f, _ := x.Float64()
		terms[i] = figures(f)
	}
	steps := []view.WorkingStep{{What: name + ", mean", Sum: fmt.Sprintf("(%s) / %d = %s", strings.Join(terms, " + "), s.N, figures(s.Mean)), Sources: arithmetic}}
	if s.N < 2 {
		return steps
	}
	sum := fmt.Sprintf("sqrt(sum of squared distances from the mean %s / %d) = %s", figures(s.SD*s.SD*float64(s.N-1)), s.N-1, figures(s.SD))
	return append(steps, view.WorkingStep{What: name + ", SD", Sum: sum, Sources: arithmetic})
}

func (c *computation) pairSteps(p pair) []view.WorkingStep {
	first, second := c.sums[0], c.sums[p.other]
	name := c.groups[0].name + " less " + c.groups[p.other].name
	if p.verdict == tooFew {
		return []view.WorkingStep{{What: name, Sum: fmt.Sprintf("%d and %d, %d a side are the least for a comparison", first.N, second.N, leastForFigures), Sources: rules}}
	}
	var steps []view.WorkingStep
	add := func(what string, from []string, format string, args ...any) {
		steps = append(steps, view.WorkingStep{What: name + ", " + what, Sum: fmt.Sprintf(format, args...), Sources: from})
	}
	if c.paired {
		steps = append(steps, groupSteps(name+", pair by pair", p.differences, p.off)...)
	} else {
		add("difference", arithmetic, "%s - %s = %s", figures(first.Mean), figures(second.Mean), figures(p.Difference))
	}
	if !p.Known {
		add("verdict", rules, "%s", p.verdict)
		return steps
	}
	if c.paired {
		add("standard error", arithmetic, "%s / sqrt(%d) = %s", figures(p.off.SD), p.off.N, figures(p.SE))
		add("degrees of freedom", arithmetic, "%d - 1 = %s", p.off.N, figures(p.DF))
	} else {
		add("standard error", arithmetic, "sqrt(%s^2 / %d + %s^2 / %d) = %s", figures(first.SD), first.N, figures(second.SD), second.N, figures(p.SE))
		add("degrees of freedom, Welch", arithmetic, "(a + b)^2 / (a^2 / %d + b^2 / %d) = %s with a = %s, b = %s", first.N-1, second.N-1, figures(p.DF),
			figures(first.SD*first.SD/float64(first.N)), figures(second.SD*second.SD/float64(second.N)))
	}
	add("t", arithmetic, "%s / %s = %s; two-sided p %s", figures(p.Difference), figures(p.SE), figures(p.T), figures(p.P))
	add("interval", arithmetic, "%s +- %s x %s = %s to %s", figures(p.Difference), figures(CriticalT(p.DF, c.level)), figures(p.SE), figures(p.Low), figures(p.High))
	if !c.paired {
		pooled, sd := Pooled(first, second, c.level)
		add("for contrast", arithmetic, "with one SD of %s for both: t = %s, df = %s, p %s", figures(sd), figures(pooled.T), figures(pooled.DF), figures(pooled.P))
	}
	add("verdict", rules, "%s: %d a side for figures, %d for a verdict; only just where the near end is within a tenth of the difference", p.verdict, leastForFigures, leastForVerdict)
	return steps
}
