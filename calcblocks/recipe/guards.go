package recipe

import (
	"fmt"
	"math"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/elements"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// check is what the guards of one combination look at: the author's high end, typical figures.
type check struct {
	c        *computation
	size     *scaled
	portions []portion // the picked ones
	masses   []dose.Portion
	totals   dose.Totals
	litres   float64 // of the high end
	areaM2   float64 // at the fill line of the high end
}

// guards returns the cautions of one combination for one size.
func (c *computation) guards(s *scaled, picks []int, out combo) []care.Guard {
	_, v := s.container.Vessel.Ends()
	k := check{c: c, size: s, masses: out.parts[1], totals: out.ends[1], litres: s.litres[1], areaM2: v.AreaAt(v.FillHeight()) / 1e4}
	for i, l := range s.lines {
		k.portions = append(k.portions, l.options[picks[i]])
	}
	return slices.Concat(
		k.limits(), k.ashCap(), k.ashCompany(), care.CompostShare(c.pass.Ref, k.compostPercent()), k.limeInCompost(),
		k.fastNitrogen(), k.potashToMagnesia(), k.tooSmall(), k.coarseRounding(), care.SizeKnown(c.pass.Ref, s.container),
	)
}

// over returns the guard of a material above a limit, none when it is within.
func over(name string, have, most float64, unit string, limit reference.Figure, text string) []care.Guard {
	if !limit.Known || have <= most*(1+1e-9) {
		return nil
	}
	return []care.Guard{{
		ID: "over-limit", Word: "Over the usual most",
		Text:    fmt.Sprintf("%s: %s %s; the usual most is %s. %s", name, view.Number(have), unit, view.Number(most), text),
		Sources: limit.Source,
	}}
}

// limits compares each material with its own limit (amendments.yaml): per litre of mix where one is
// known, else per surface, which was set for garden beds; and its share of the mix. Wood ash has a guard
// of its own.
func (k check) limits() []care.Guard {
	var out []care.Guard
	for i, p := range k.portions {
		m := p.material
		if m.Ref == nil || m.ID == "wood-ash" {
			continue
		}
		limit, grams := m.Ref.Limit, k.masses[i].Mass.Typical
		if limit.GramsPerLitre.Known {
			out = append(out, over(m.Name, grams/k.litres, limit.GramsPerLitre.Typical, "g per litre of mix", limit.GramsPerLitre, "Rule: "+limit.Text)...)
		} else {
			out = append(out, over(m.Name, grams/k.areaM2, limit.GramsPerM2.Typical, "g per square metre of surface", limit.GramsPerM2, "That rule was set for garden beds: "+limit.Text)...)
		}
		percent := p.ends[1].fill.Typical / k.litres / 10
		out = append(out, over(m.Name, percent, limit.PercentOfMix.Typical, "% of the mix", limit.PercentOfMix, "Rule: "+limit.Text)...)
	}
	return out
}

func (k check) mass(id string) float64 {
	for _, p := range k.masses {
		if p.Material.ID == id {
			return p.Mass.Typical
		}
	}
	return 0
}

// ashCap holds wood ash to the smaller of 0.64 g per litre of mix and 98 g per square metre of surface a
// year (judging.yaml, wood_ash).
func (k check) ashCap() []care.Guard {
	grams := k.mass("wood-ash")
	perLitre := k.c.pass.Ref.Must("judging", "wood_ash", "cap", "exact")
	perArea := k.c.pass.Ref.Must("judging", "wood_ash", "cap", "g_per_m2_year")
	most := min(perLitre.Typical*k.litres, perArea.Typical*k.areaM2)
	if grams <= most*(1+1e-9) {
		return nil
	}
	return []care.Guard{{
		ID: "ash-cap", Word: "Over the ash cap",
		Text: fmt.Sprintf("%s g of wood ash is over the year's cap for this container, %s g: the smaller of %s g per litre of mix and %s g per square metre of surface. None at all where the mix tests pH 6.5 or above.",
			view.Number(grams), view.Number(most), view.Number(perLitre.Typical), view.Number(perArea.Typical)),
		Sources: care.Keys(perLitre.Source, perArea.Source),
	}}
}

// ashCompany speaks when wood ash meets a material that gives off ammonia, or lime.
func (k check) ashCompany() []care.Guard {
	if k.mass("wood-ash") == 0 {
		return nil
	}
	var out []care.Guard
	rich := k.names(func(m *garden.Material) bool {
		return m.ID != "wood-ash" && slices.Contains(m.Hazards(), "ammonia")
	})
	if rich != "" {
		out = append(out, care.Guard{
			ID: "ash-with-nitrogen", Word: "Ash with rich nitrogen",
			Text:    "Wood ash drives ammonia out of " + rich + ": nitrogen is lost and roots can burn. Leave a month between them.",
			Sources: k.c.ashSources(),
		})
	}
	lime := k.names(func(m *garden.Material) bool { return m.ID != "wood-ash" && m.Class() == "liming" })
	if lime != "" {
		out = append(out, care.Guard{
			ID: "ash-with-lime", Word: "Ash with lime",
			Text:    "Wood ash and " + lime + " both raise pH. Use one of them, and only by a pH test.",
			Sources: k.c.pass.Ref.Must("judging", "wood_ash", "cap", "exact").Source,
		})
	}
	return out
}

// names lists the materials of the combination that fit, in words.
func (k check) names(fits func(*garden.Material) bool) string {
	var out []string
	for _, p := range k.portions {
		if fits(p.material) {
			out = append(out, care.InWords(p.material))
		}
	}
	return view.And(out)
}

// compostPercent returns the share of the refilled volume that is compost: the layer on top, and
// composts among the amounts.
func (k check) compostPercent() float64 {
	litres := 0.0
	if k.size.compost != nil {
		litres = k.size.compost.firmed[1]
	}
	for _, p := range k.portions {
		if p.material.Class() == "compost" {
			litres += p.ends[1].fill.Typical / 1000
		}
	}
	return 100 * litres / k.litres
}

// limeInCompost speaks when lime goes into a mix with 25 % compost or more: compost alone brings such a
// mix to about pH 5.9 and above (judging.yaml, lime_rates and ph_lime_compost_grid).
func (k check) limeInCompost() []care.Guard {
	rich := k.c.pass.Ref.Must("judging", "compost_limits", "share_by_volume_percent", "normal")
	lime := k.names(func(m *garden.Material) bool { return m.Class() == "liming" })
	if lime == "" || k.compostPercent() < rich.Typical*(1-1e-9) {
		return nil
	}
	grid := k.c.pass.Ref.Must("judging", "ph_lime_compost_grid", "derived_slopes", "ph_per_tenth_compost_no_lime")
	return []care.Guard{{
		ID: "lime-in-compost", Word: "Lime in a compost-rich mix", Sources: grid.Source,
		Text: fmt.Sprintf("With %s %% compost or more, compost alone usually brings the pH far enough. Add %s only when a test shows pH below 5.8.", view.Number(rich.Typical), lime),
	}}
}

// fastNitrogen holds the nitrogen of materials with a published two-week release to 0.5 g per litre in
// one dose (judging.yaml, single_dose_n_cap).
func (k check) fastNitrogen() []care.Guard {
	limit := k.c.pass.Ref.Must("judging", "single_dose_n_cap", "0", "g_n_per_l")
	var fast []dose.Portion
	for _, p := range k.masses {
		if p.Material.Ref != nil && p.Material.Ref.Release.Week2.Known {
			fast = append(fast, p)
		}
	}
	have := dose.Nutrient(fast, reference.N).Value.Typical / k.litres
	if have <= limit.Typical*(1+1e-9) {
		return nil
	}
	names := k.names(func(m *garden.Material) bool { return m.Ref != nil && m.Ref.Release.Week2.Known })
	return []care.Guard{{
		ID: "fast-nitrogen", Word: "Much fast nitrogen at once", Sources: limit.Source,
		Text: fmt.Sprintf("%s g of fast nitrogen per litre of mix in one dose, from %s: above %s g, split it, or mix it in 2 to 3 weeks before planting. Never sow into it.", view.Number(have), names, view.Number(limit.Typical)),
	}}
}

// potashToMagnesia speaks when added K2O is more than four times added MgO (judging.yaml,
// cation_balance): much potassium keeps roots from taking up magnesium.
func (k check) potashToMagnesia() []care.Guard {
	most := k.c.pass.Ref.Must("judging", "cation_balance", "added_k2o_to_mgo_max")
	potash, mg := k.totals.Added[reference.K2O], k.totals.Added[reference.Mg]
	if l := k.size.compost; l != nil { // all inputs count
		potash.Value = potash.Value.Add(l.totals[1].Added[reference.K2O].Value)
		mg.Value = mg.Value.Add(l.totals[1].Added[reference.Mg].Value)
	}
	magnesia := mg.Value.Typical * elements.Convert("Mg", "MgO")
	if potash.Value.Typical <= most.Typical*magnesia*(1+1e-9) || len(mg.Missing) > 0 {
		return nil
	}
	ratio := "without any magnesia"
	if magnesia > 0 {
		ratio = fmt.Sprintf("%s times the magnesia (MgO)", view.Number(potash.Value.Typical/magnesia))
	}
	return []care.Guard{{
		ID: "potash-to-magnesia", Word: "Much potash for the magnesium", Sources: most.Source,
		Text: fmt.Sprintf("The potash added (K2O) is %s; above %s times, roots take up too little magnesium.", ratio, view.Number(most.Typical)),
	}}
}

// tooSmall speaks when an amount is below half of the smallest spoon.
func (k check) tooSmall() []care.Guard {
	var out []care.Guard
	set := k.c.pass.Garden.Handbook.Main
	for _, p := range k.portions {
		low := p.ends[0]
		if p.amount.Low.Weighed || !low.measures[set].TooSmall {
			continue
		}
		out = append(out, care.Guard{
			ID: "too-small", Word: "Too little for a spoon",
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
	limit := 10.0
	if hb.Rounding == measure.Household {
		limit = 34
	}
	var out []care.Guard
	for _, p := range k.portions {
		worst := p.worstRounding(hb)
		if math.Abs(worst) <= limit+1e-9 {
			continue
		}
		out = append(out, care.Guard{
			ID: "coarse-rounding", Word: "Coarse measure",
			Text: fmt.Sprintf("%s: the nearest spoons hold %s %% %s than asked. Weigh it if you can.", p.material.Name, view.Number(math.Abs(worst)), moreOrLess(worst)),
		})
	}
	return out
}

func (p portion) worstRounding(hb garden.Handbook) float64 {
	if p.amount.Low.Weighed {
		return 0
	}
	a, b := p.ends[0].measures[hb.Main].Error, p.ends[1].measures[hb.Main].Error
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
