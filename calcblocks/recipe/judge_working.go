package recipe

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// judgeSteps writes, term by term, what judges the high end: the ratio of carbon to nitrogen, the lime equivalent
// and the salt.
func (c *computation) judgeSteps(s *scaled, out combo) []view.WorkingStep {
	var steps []view.WorkingStep
	add := func(what, sum string, keys ...[]string) {
		steps = append(steps, view.WorkingStep{What: what, Sum: sum, Sources: care.Keys(keys...)})
	}
	parts, ratio, lime, salt := out.parts[1], out.ends[1].CToN, out.ends[1].Lime, out.salt[1]
	if ratio.Known {
		add("C:N of the amendments", ratioSum(parts)+" = "+beliefText(ratio.Value), ratio.Sources)
	}
	if lime.Known {
		add("lime equivalent", limeSum(parts)+" = "+massText(lime.Value)+" g CaCO3"+notKnownFor(lime.Missing), lime.Sources)
	}
	if salt.Known {
		perGram := c.pass.Ref.Must("judging", "salinity_use", "ec_per_gram_salt")
		sum := fmt.Sprintf("%s / %s L x %s mS/cm = %s mS/cm", c.saltSum(parts), view.Exact(s.litres[1]), figureText(perGram), beliefText(salt.Value))
		add("salt added", sum+notKnownFor(salt.Missing), perGram.Source, salt.Sources)
	}
	return steps
}

// ratioSum weighs the ratios by the nitrogen of each portion, g.
func ratioSum(parts []dose.Portion) string {
	var nitrogen []string
	above := termsOf(parts, (*garden.Material).CToN, func(p dose.Portion, ratio reference.Figure) string {
		n := units.Contain(p.Mass, p.Material.Content(reference.N).Share()).Typical
		if n == 0 {
			return "" // without nitrogen a ratio weighs nothing
		}
		nitrogen = append(nitrogen, view.Exact(n))
		return view.Exact(n) + " x " + figureText(ratio)
	})
	return "(" + above + ") / (" + strings.Join(nitrogen, " + ") + ")"
}

func limeSum(parts []dose.Portion) string {
	return termsOf(parts, (*garden.Material).LimeValue, func(p dose.Portion, value reference.Figure) string {
		return massText(p.Mass) + " g x " + figureText(value) + " %"
	})
}

// saltSum turns each portion into as much sulfate of potash as has its salt.
func (c *computation) saltSum(parts []dose.Portion) string {
	potash, _ := c.pass.Ref.Amendment("potassium-sulfate")
	sum := termsOf(parts, (*garden.Material).SaltIndex, func(p dose.Portion, index reference.Figure) string {
		return massText(p.Mass) + " g x " + view.Exact(index.Typical)
	})
	return fmt.Sprintf("(%s) / %s, the salt index of sulfate of potash,", sum, view.Exact(potash.SaltIndex.Typical))
}

// termsOf joins one term for each portion whose figure counts; "0" where none does.
func termsOf(parts []dose.Portion, figure func(*garden.Material) reference.Figure, term func(dose.Portion, reference.Figure) string) string {
	var terms []string
	for _, p := range parts {
		f := figure(p.Material)
		if !f.Known || f.Low == 0 && f.High == 0 {
			continue
		}
		if text := term(p, f); text != "" {
			terms = append(terms, text)
		}
	}
	if len(terms) == 0 {
		return "0"
	}
	return strings.Join(terms, " + ")
}

// notKnownFor says which materials a sum leaves out.
func notKnownFor(missing []string) string {
	if len(missing) == 0 {
		return ""
	}
	return ", not known for " + strings.Join(missing, ", ")
}
