package pothistory

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/rotation"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// Working returns the arithmetic behind the summary of a scope.
func (h *History) Working(s Scope) []view.WorkingStep {
	var out []view.WorkingStep
	for _, pot := range s.Pots {
		out = append(out, h.addedSteps(s, pot)...)
		out = append(out, h.harvestSteps(s, pot)...)
		out = append(out, h.originalSteps(s, pot)...)
		out = append(out, h.restingSteps(pot)...)
	}
	return out
}

func (h *History) addedSteps(s Scope, pot string) []view.WorkingStep {
	var out []view.WorkingStep
	for _, a := range h.added(s, pot) {
		for _, n := range reference.Nutrients {
			if sum := a.High[n]; sum.Known && sum.Value.High > 0 {
				out = append(out, view.WorkingStep{
					What: fmt.Sprintf("%s, %s, %s", h.Name(pot), h.yearName(a.Year), n.Symbol()), Sum: addedSum(a, n), Sources: union(sum.Sources, nil),
				})
			}
		}
		if total := a.Phosphate.Total; total[1].Known {
			out = append(out, view.WorkingStep{
				What: fmt.Sprintf("%s, up to %s, P2O5", h.Name(pot), h.yearName(a.Year)), Sum: h.runningSum(pot, a.Phosphate), Sources: total[1].Sources,
			})
		}
	}
	return out
}

// runningSum writes out phosphate so far, at both ends where they differ, and for a litre of mix.
func (h *History) runningSum(pot string, r Running) string {
	end := func(i int) string {
		return fmt.Sprintf("%s + %s = %s g", view.Exact(r.Before[i].Value.Typical), view.Exact(r.Year[i].Value.Typical), view.Exact(r.Total[i].Value.Typical))
	}
	sum := end(1)
	if low := end(0); low != sum {
		sum = low + " at the low end, " + sum + " at the high end"
	}
	if low, high, known := h.litres(pot); known {
		sum += fmt.Sprintf("; / %s L = %s mg/L", view.Span(low, high), view.Span(1000*r.Total[0].Value.Typical/high, 1000*r.Total[1].Value.Typical/low))
	}
	return sum
}

// addedSum writes out a nutrient of a year: mass x percent for each material, at both ends where they differ.
func addedSum(a Added, n reference.Nutrient) string {
	low, high := endSum(a.Portions[0], n, a.Low[n]), endSum(a.Portions[1], n, a.High[n])
	if low == high {
		return high
	}
	return low + " at the low end; " + high + " at the high end"
}

func endSum(portions []dose.Portion, n reference.Nutrient, total dose.Sum[units.SomeMass]) string {
	var parts []string
	for _, p := range portions {
		if f := p.Material.Content(n); f.Known && f.High > 0 {
			parts = append(parts, fmt.Sprintf("%s g %s x %s %%", view.Exact(p.Mass.Typical), p.Material.ID, view.Exact(f.Typical)))
		}
	}
	return strings.Join(parts, " + ") + " = " + view.Exact(total.Value.Typical) + " g"
}

func (h *History) harvestSteps(s Scope, pot string) []view.WorkingStep {
	var out []view.WorkingStep
	for _, r := range h.Harvests(pot) {
		if r.Mass.Sign() == 0 || r.Litres[1] == 0 || !s.holds(r.Year) {
			continue
		}
		out = append(out, view.WorkingStep{
			What: fmt.Sprintf("%s, %s, %s for a litre of mix", h.Name(pot), h.yearName(r.Year), rotation.PlantName(r.Crop)),
			Sum:  fmt.Sprintf("%s g / %s L = %s g/L", view.Exact(r.Mass.Float()), view.Span(r.Litres[0], r.Litres[1]), view.Span(r.PerLitre[0], r.PerLitre[1])),
		})
	}
	return out
}

func (h *History) originalSteps(s Scope, pot string) []view.WorkingStep {
	var out []view.WorkingStep
	before := units.SomeShare{Low: 1, Typical: 1, High: 1}
	for _, r := range h.Renewals(pot) {
		step := view.WorkingStep{What: fmt.Sprintf("%s, %s, first mix left", h.Name(pot), Day(r.On))}
		switch {
		case whole(r.Fresh):
			step.Sum = "all of the mix is new: 100 %"
		case r.Known:
			step.Sum = fmt.Sprintf("%s x (100 %% - %s) = %s", percent(before), percent(r.Fresh), percent(r.Left))
		default:
			continue
		}
		before = r.Left
		if s.holds(h.growing(r.On)) {
			out = append(out, step)
		}
	}
	return out
}

func (h *History) restingSteps(pot string) []view.WorkingStep {
	var out []view.WorkingStep
	for _, r := range h.course.Resting(pot) {
		free, ok := r.FreeIn()
		if !ok {
			continue
		}
		what := r.Name
		if r.Crop == "" {
			what = r.Finding.Name
		}
		out = append(out, view.WorkingStep{
			What: fmt.Sprintf("%s, %s again", h.Name(pot), view.Small(what)),
			Sum:  fmt.Sprintf("%s + %s years = %s", h.yearName(r.Year), view.Exact(r.Rest.Years), h.yearName(free)), Sources: union(r.Rest.Sources, nil),
		})
	}
	return out
}
