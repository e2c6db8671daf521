package plan

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// tested returns the newest reading of a pot that tells what its mix holds dissolved. Old mix counts as a
// supply only where there is one (nutrition.md, section 6: show it, do not lean on it).
func (c *computation) tested(pot string) (facts.Reading, bool) {
	var best facts.Reading
	found := false
	for _, f := range c.pass.Facts {
		r, ok := f.(facts.Reading)
		if ok && r.Pot == pot && len(r.Soluble) > 0 && (!found || r.On.After(best.On)) {
			best, found = r, true
		}
	}
	return best, found
}

// oldLitres is the old mix of its own that stays in a pot: all of it where nobody told what comes out.
func oldLitres(r *row) float64 {
	if r.mix.known {
		return max(r.mix.balance.Left-r.mix.balance.Out, 0)
	}
	return r.litres[1]
}

// oldMixFigure says what the old mix that stays brings by its test, apart from what goes in.
func (c *computation) oldMixFigure(r *row) (view.Figure, bool) {
	reading, ok := c.tested(r.pot.Pot)
	if !ok {
		return view.Figure{}, false
	}
	var out []string
	for _, n := range reference.Nutrients {
		if s, known := reading.Soluble[n]; known {
			out = append(out, view.Span(s.Low*oldLitres(r), s.High*oldLitres(r))+" g "+n.Symbol())
		}
	}
	return view.Figure{
		Label: "Old mix that stays, by its test", Value: "about " + strings.Join(out, ", "),
		Note: "dissolved when it was tested, so that water carries it off; counted apart from what goes in",
	}, true
}

func (c *computation) oldMixSteps(r *row) []view.WorkingStep {
	reading, ok := c.tested(r.pot.Pot)
	if !ok {
		return nil
	}
	var steps []view.WorkingStep
	for _, n := range reference.Nutrients {
		if s, known := reading.Soluble[n]; known {
			steps = append(steps, view.WorkingStep{
				What: fmt.Sprintf("%s, %s in the old mix that stays", r.pot.Label, n.Symbol()),
				Sum: fmt.Sprintf("%.3g g per litre by the test (%s) x %s L = %.3g g", s.Typical, c.pass.Garden.Place(reading.At),
					view.Exact(oldLitres(r)), s.Typical*oldLitres(r)),
				Sources: reading.Sources,
			})
		}
	}
	return steps
}
