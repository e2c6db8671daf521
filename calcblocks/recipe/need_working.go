package recipe

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/need"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// supplySteps writes out what becomes available of the combination shown first, what the crop needs, and the
// figures that judge the mix.
func (c *computation) supplySteps(s *scaled, out combo) []view.WorkingStep {
	var steps []view.WorkingStep
	for _, p := range out.parts[1] {
		steps = append(steps, c.availableSteps(p)...)
	}
	for _, at := range supply.Times {
		steps = append(steps, totalStep("all together, N available, "+timeWords[at], out.nitrogen[at]))
	}
	for _, n := range need.Nutrients[1:] {
		steps = append(steps, totalStep("all together, "+n.Symbol()+" available, season", out.season[n]))
	}
	if s.compost != nil {
		steps = append(steps, c.compostSupply(s.compost)...)
	}
	for _, n := range need.Nutrients {
		steps = append(steps, c.needSteps(s, out.supplied, n)...)
	}
	return append(steps, c.judgeSteps(out)...)
}

var timeWords = map[supply.When]string{supply.Week2: "week 2", supply.Week8: "week 8", supply.Season: "season"}

// availableSteps writes what of one material becomes available: grams at its high end x content x share. What is
// available whole needs no line of its own.
func (c *computation) availableSteps(p dose.Portion) []view.WorkingStep {
	var steps []view.WorkingStep
	for _, n := range need.Nutrients {
		content := p.Material.Content(n)
		share := supply.Of(c.pass.Ref, p.Material, n, supply.Season, supply.Celsius)
		if !content.Known || content.High == 0 || share.Known && share.Value == (units.SomeShare{Low: 1, Typical: 1, High: 1}) {
			continue
		}
		steps = append(steps, c.availableStep(p, n))
	}
	return steps
}

// availableStep writes one nutrient of a material: nitrogen at each time, others over the season.
func (c *computation) availableStep(p dose.Portion, n reference.Nutrient) view.WorkingStep {
	step := view.WorkingStep{What: p.Material.Name + ", " + n.Symbol() + " available"}
	content := p.Material.Content(n)
	held := units.Contain(p.Mass, content.Share())
	step.Sources = care.Keys(content.Source)
	var sums []string
	for _, at := range supply.Times {
		if n != reference.N && at != supply.Season {
			continue
		}
		share := supply.Of(c.pass.Ref, p.Material, n, at, supply.Celsius)
		if !share.Known {
			step.Sum = "not known: " + share.Road
			return step
		}
		sums = append(sums, fmt.Sprintf("%s: %s g x %s %% = %s g (%s)", timeWords[at], view.Exact(held.Typical), beliefText(share.Value.Scale(100)), massText(units.Contain(held, share.Value)), share.Road))
		step.Sources = care.Keys(step.Sources, share.Sources)
	}
	step.Sum = strings.Join(sums, "; ")
	return step
}

// beliefText prints a belief with its range, such as "40 (25 to 45)".
func beliefText(b units.SomeShare) string {
	if b.Low == b.High {
		return view.Exact(b.Typical)
	}
	return fmt.Sprintf("%s (%s)", view.Exact(b.Typical), view.Span(b.Low, b.High))
}

// totalStep writes a sum of what becomes available; its terms stand in the steps before it.
func totalStep(what string, ends [2]dose.Sum[units.SomeMass]) view.WorkingStep {
	step := view.WorkingStep{What: what, Sources: care.Keys(ends[1].Sources)}
	switch {
	case !ends[1].Known:
		step.Sum = "not known for " + strings.Join(ends[1].Missing, ", ")
		return step
	case ends[0].Value == ends[1].Value:
		step.Sum = massText(ends[1].Value) + " g"
	default:
		step.Sum = fmt.Sprintf("low end %s g, high end %s g", massText(ends[0].Value), massText(ends[1].Value))
	}
	if len(ends[1].Missing) > 0 {
		step.Sum += "; not known for " + strings.Join(ends[1].Missing, ", ")
	}
	return step
}

// compostSupply writes what of the compost becomes available.
func (c *computation) compostSupply(l *layer) []view.WorkingStep {
	mass := units.WeighSome(l.loose[1], l.material.Density().Density())
	steps := c.availableSteps(dose.Portion{Material: l.material, Mass: mass})
	for i := range steps {
		steps[i].Sources = care.Keys(steps[i].Sources, l.material.Density().Source)
	}
	return steps
}

// needSteps writes the need of a nutrient in the container, and how much of it is met.
func (c *computation) needSteps(s *scaled, out supplied, n reference.Nutrient) []view.WorkingStep {
	g, known := c.needIn(s, n)
	if !known {
		return nil
	}
	band := c.wanted.band(n)
	step := view.WorkingStep{What: "need of " + n.Symbol() + ", " + c.cropName(), Sum: c.needSum(s, band, g[1]), Sources: care.Keys(band.Sources)}
	met, _ := c.met(s, out, n)
	if !met[1].Known {
		return []view.WorkingStep{step}
	}
	share := view.WorkingStep{
		What:    "share of the need of " + n.Symbol(),
		Sum:     fmt.Sprintf("%s g / %s g = %s %%", view.Exact(out.season[n][1].Value.Typical), view.Exact(g[1].Typical), beliefText(met[1].Value)),
		Sources: care.Keys(band.Sources, out.season[n][1].Sources),
	}
	return []view.WorkingStep{step, share}
}

func (c *computation) needSum(s *scaled, band need.Band, g units.SomeMass) string {
	mix, litres := c.mix.Float()/1000, s.litres[1]
	if c.wanted.byRate && band.Nutrient == reference.N {
		return fmt.Sprintf("%s feeder: %s g/L x %s L = %s g", c.wanted.class.Name, view.Exact(c.wanted.class.Typical), view.Exact(litres), massText(g))
	}
	recovery := need.Recovery(c.pass.Ref)
	text := fmt.Sprintf("%d x %s kg x %s g/kg / %s x %s L / %s L", c.plants, kilograms(band.Yield), figureText(band.PerKg), figureText(recovery), view.Exact(litres), view.Exact(mix))
	if band.Nutrient == reference.P2O5 {
		text += fmt.Sprintf(", at most %s times the uptake,", view.Exact(need.MostPhosphate(c.pass.Ref).Typical))
	}
	return text + " = " + massText(g) + " g"
}

func kilograms(m units.SomeMass) string { return massText(m.Scale(1.0 / 1000)) }

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
