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
			steps = append(steps, view.WorkingStep{What: "need of " + n.Symbol() + ", " + c.cropName(), Sum: c.needSum(band), Sources: care.Keys(band.Sources)})
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

// needSum writes the need in the recipe's own mix.
func (c *computation) needSum(band need.Band) string {
	mix := view.Exact(c.mix.Float() / 1000)
	if c.wanted.byRate && band.Nutrient == reference.N {
		return fmt.Sprintf("%s feeder: %s g/L x %s L = %s g", c.wanted.class.Name, view.Exact(c.wanted.class.Typical), mix, massText(band.Need))
	}
	text := fmt.Sprintf("%s x %s kg x %s g/kg / %s", plants(c.plants), massText(band.Yield.Scale(1.0/1000)), figureText(band.PerKg), figureText(need.Recovery(c.pass.Ref)))
	if band.Nutrient == reference.P2O5 {
		text += fmt.Sprintf(", at most %s times the uptake,", view.Exact(need.MostPhosphate(c.pass.Ref).Typical))
	}
	return fmt.Sprintf("%s = %s g in %s L", text, massText(band.Need), mix)
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
	return append(steps, c.judgeSteps(out)...)
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
	if len(total.Missing) > 0 {
		text += ", not known for " + strings.Join(total.Missing, ", ")
	}
	return text
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

// judgeSteps writes the ratio of carbon to nitrogen, the lime equivalent and the salt.
func (c *computation) judgeSteps(out combo) []view.WorkingStep {
	var steps []view.WorkingStep
	high := out.ends[1]
	if high.CToN.Known {
		steps = append(steps, view.WorkingStep{What: "C:N of the amendments", Sum: "sum of (N x C:N) / sum of N = " + beliefText(high.CToN.Value), Sources: care.Keys(high.CToN.Sources)})
	}
	if high.Lime.Known {
		steps = append(steps, view.WorkingStep{What: "lime equivalent", Sum: "sum of (grams x percent of pure CaCO3) = " + massText(high.Lime.Value) + " g", Sources: care.Keys(high.Lime.Sources)})
	}
	if salt := out.salt[1]; salt.Known {
		perGram := c.pass.Ref.Must("judging", "salinity_use", "ec_per_gram_salt")
		sum := fmt.Sprintf("sum of (g per litre x %s mS/cm x salt index / that of sulfate of potash) = %s mS/cm", figureText(perGram), beliefText(salt.Value))
		steps = append(steps, view.WorkingStep{What: "salt added", Sum: sum, Sources: care.Keys(perGram.Source, salt.Sources)})
	}
	return steps
}
