package recipe

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/need"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// commonWorking writes out what holds for every size: the share of each material that becomes available, and the
// need of the crop in the recipe's own mix.
func (c *computation) commonWorking() []view.WorkingStep {
	var steps []view.WorkingStep
	materials := c.allMaterials()
	if c.compost != nil {
		materials = append(materials, c.compost)
	}
	for _, m := range materials {
		steps = append(steps, c.shareSteps(m)...)
	}
	for _, n := range need.Nutrients {
		if band := c.wanted.band(n); band.Known {
			steps = append(steps, c.needStep(band, c.mix.Float()/1000, band.Need))
		}
	}
	return steps
}

// shareSteps writes which share of a material's nutrients becomes available. What is available whole needs no line.
func (c *computation) shareSteps(m *garden.Material) []view.WorkingStep {
	var steps []view.WorkingStep
	for _, n := range need.Nutrients {
		content := m.Content(n)
		share := supply.Of(c.pass.Ref, m, n, supply.Season, c.celsius)
		if !content.Known || content.High == 0 || isWhole(share) {
			continue
		}
		steps = append(steps, c.shareStep(m, n))
	}
	return steps
}

func isWhole(s supply.Share) bool {
	return s.Known && s.Value == units.SomeShare{Low: 1, Typical: 1, High: 1}
}

// shareStep writes one nutrient of a material: nitrogen at each time, others over the season.
func (c *computation) shareStep(m *garden.Material, n reference.Nutrient) view.WorkingStep {
	step := view.WorkingStep{What: m.Name + ", available of its " + n.Symbol(), Sources: m.Content(n).Source}
	var sums []string
	for _, at := range supply.Times {
		if n != reference.N && at != supply.Season {
			continue
		}
		share := supply.Of(c.pass.Ref, m, n, at, c.celsius)
		if !share.Known {
			step.Sum = "not known: " + share.Road
			return step
		}
		sums = append(sums, fmt.Sprintf("%s %s %% (%s)", timeWords[at], beliefText(share.Value.Scale(100)), share.Road))
		step.Sources = care.Keys(step.Sources, share.Sources)
	}
	step.Sum = strings.Join(sums, "; ")
	return step
}

var timeWords = map[supply.When]string{supply.Week2: "week 2", supply.Week8: "week 8", supply.Season: "season"}

// beliefText prints a belief with its range, such as "40 (25 to 45)".
func beliefText(b units.SomeShare) string { return massText(units.SomeMass(b)) }

// needStep writes the need of a nutrient in so many litres of mix.
func (c *computation) needStep(band need.Band, litres float64, grams units.SomeMass) view.WorkingStep {
	return view.WorkingStep{What: "need of " + band.Nutrient.Symbol() + ", " + c.cropName(), Sum: c.needSum(band, litres, grams), Sources: care.Keys(band.Sources)}
}

func (c *computation) needSum(band need.Band, litres float64, grams units.SomeMass) string {
	if class := c.wanted.class; c.wanted.rates(band.Nutrient) {
		perLitre := units.SomeMass{Low: class.Low, Typical: class.Typical, High: class.High}
		return fmt.Sprintf("%s feeder: %s g/L x %s L = %s g", class.Name, massText(perLitre), view.Exact(litres), massText(grams))
	}
	text := fmt.Sprintf("%s x %s kg x %s g/kg / %s", plants(c.plants), massText(band.Yield.Scale(1.0/1000)), figureText(band.PerKg), figureText(need.Recovery(c.pass.Ref)))
	if band.Nutrient == reference.P2O5 {
		text += fmt.Sprintf(", at most %s times the uptake,", view.Exact(need.MostPhosphate(c.pass.Ref).Typical))
	}
	return fmt.Sprintf("%s = %s g in %s L", text, massText(grams), view.Exact(litres))
}

// ownNeedSteps writes, at the high end, the need of what a container itself grows and the share of it that is met.
func (c *computation) ownNeedSteps(s *scaled) []view.WorkingStep {
	var steps []view.WorkingStep
	for _, n := range need.Nutrients {
		grams, known := c.needIn(s, n)
		if !known {
			continue
		}
		step := c.needStep(c.wanted.band(n), s.litres[1], grams[1])
		if met, _ := c.met(s, s.combos[0].supplied, n); met[1].Known {
			given := s.combos[0].season[n][1]
			step.Sum += fmt.Sprintf("; %s g / %s g = %s %% of it", massText(given.Value), massText(grams[1]), beliefText(met[1].Value))
			step.Sources = care.Keys(step.Sources, given.Sources)
		}
		steps = append(steps, step)
	}
	return steps
}

// supplySteps writes out, at the high end, what becomes available of the combination shown first, what of the need
// it meets, and the figures that judge the mix.
func (c *computation) supplySteps(s *scaled, out combo) []view.WorkingStep {
	steps := []view.WorkingStep{c.availableStep("all together", out.parts[1], out.supplied)}
	if l := s.compost; l != nil {
		mass := units.WeighSome(l.loose[1], l.material.Density().Density())
		steps = append(steps, c.availableStep(l.material.Name, []dose.Portion{{Material: l.material, Mass: mass}}, l.supplied))
	}
	if sums := c.needSums(s, out.supplied); len(sums) > 0 {
		steps = append(steps, view.WorkingStep{What: "part of the need that is met, share as above", Sum: strings.Join(sums, "; ")})
	}
	return append(steps, c.judgeSteps(s, out)...)
}

// availableStep writes the sums of what becomes available: grams x share of each material, the shares and their
// sources stand in the common working. A nutrient that is available whole everywhere is what is added.
func (c *computation) availableStep(who string, parts []dose.Portion, out supplied) view.WorkingStep {
	var sums []string
	for _, at := range supply.Times {
		sums = append(sums, fmt.Sprintf("N %s %s", timeWords[at], c.availableSum(parts, reference.N, at, out.nitrogen[at][1])))
	}
	for _, n := range need.Nutrients[1:] {
		if !c.allWhole(parts, n) {
			sums = append(sums, n.Symbol()+" "+c.availableSum(parts, n, supply.Season, out.season[n][1]))
		}
	}
	return view.WorkingStep{What: who + ", available", Sum: strings.Join(sums, "; ")}
}

func (c *computation) allWhole(parts []dose.Portion, n reference.Nutrient) bool {
	for _, p := range parts {
		content := p.Material.Content(n)
		if content.High > 0 && !isWhole(supply.Of(c.pass.Ref, p.Material, n, supply.Season, c.celsius)) {
			return false
		}
	}
	return true
}

func (c *computation) availableSum(parts []dose.Portion, n reference.Nutrient, at supply.When, total dose.Sum[units.SomeMass]) string {
	if !total.Known {
		return "not known for " + strings.Join(total.Missing, ", ")
	}
	var terms []string
	for _, p := range parts {
		content, share := p.Material.Content(n), supply.Of(c.pass.Ref, p.Material, n, at, c.celsius)
		if !content.Known || content.High == 0 || !share.Known {
			continue
		}
		held := units.Contain(p.Mass, content.Share())
		terms = append(terms, fmt.Sprintf("%s x %s %%", view.Exact(held.Typical), view.Exact(100*share.Value.Typical)))
	}
	text := massText(total.Value) + " g"
	if len(terms) > 0 {
		text = strings.Join(terms, " + ") + " = " + text
	}
	return text + notKnownFor(total.Missing)
}

// needSums writes how much of each need is met in the container.
func (c *computation) needSums(s *scaled, out supplied) []string {
	var sums []string
	for _, n := range need.Nutrients {
		met, known := c.met(s, out, n)
		if !known || !met[1].Known {
			continue
		}
		band := c.wanted.band(n)
		sums = append(sums, fmt.Sprintf("%s %s g / (%s g x share) = %s %%", n.Symbol(), view.Exact(out.season[n][1].Value.Typical),
			view.Exact(band.Need.Typical), beliefText(met[1].Value)))
	}
	return sums
}
