package recipe

import (
	"fmt"
	"math"
	"slices"

	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/elements"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// A guard is a caution that the block's own numbers raise. Sources are keys of the bibliography.
type guard struct {
	id, word, text string
	sources        []string
	note           bool // says how the size is known rather than what is too much
}

// check is what the guards of one combination look at: the author's high end, typical figures.
type check struct {
	c        *computation
	size     *scaled
	portions []portion // the picked ones
	masses   []dose.Portion
	totals   dose.Totals
	litres   float64 // of the high end
	areaM2   float64 // at the fill line
}

// guards returns the cautions of one combination for one size.
func (c *computation) guards(s *scaled, picks []int, out combo) []guard {
	v := s.container.Vessel
	k := check{c: c, size: s, masses: out.parts[1], totals: out.ends[1], litres: s.litres[1], areaM2: v.AreaAt(v.FillHeight()) / 1e4}
	for i, l := range s.lines {
		k.portions = append(k.portions, l.options[picks[i]])
	}
	return slices.Concat(
		k.limits(), k.ashCap(), k.ashCompany(), k.compostShare(), k.limeInCompost(),
		k.fastNitrogen(), k.potashToMagnesia(), k.tooSmall(), k.coarseRounding(), k.sizeKnown(),
	)
}

// over returns the guard of a material above a limit, none when it is within.
func over(name string, have, most float64, unit string, limit reference.Figure, text string) []guard {
	if !limit.Known || have <= most*(1+1e-9) {
		return nil
	}
	return []guard{{
		id: "over-limit", word: "Over the usual most",
		text:    fmt.Sprintf("%s comes to %s %s; the usual most is %s. %s", name, view.Number(have), unit, view.Number(most), text),
		sources: limit.Source,
	}}
}

// limits compares each material with its own limit (amendments.yaml): per litre of mix where one is
// known, else per surface, which was set for garden beds; and its share of the mix. Wood ash has a guard
// of its own.
func (k check) limits() []guard {
	var out []guard
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
func (k check) ashCap() []guard {
	grams := k.mass("wood-ash")
	perLitre := k.c.figure("judging", "wood_ash", "cap", "exact")
	perArea := k.c.figure("judging", "wood_ash", "cap", "g_per_m2_year")
	most := min(perLitre.Typical*k.litres, perArea.Typical*k.areaM2)
	if grams <= most*(1+1e-9) {
		return nil
	}
	return []guard{{
		id: "ash-cap", word: "Over the ash cap",
		text: fmt.Sprintf("%s g of wood ash is over the year's cap for this container, %s g: the smaller of %s g per litre of mix and %s g per square metre of surface. None at all where the mix tests pH 6.5 or above.",
			view.Number(grams), view.Number(most), view.Number(perLitre.Typical), view.Number(perArea.Typical)),
		sources: slices.Concat(perLitre.Source, perArea.Source),
	}}
}

// ashCompany speaks when wood ash meets a material that gives off ammonia, or lime.
func (k check) ashCompany() []guard {
	if k.mass("wood-ash") == 0 {
		return nil
	}
	var out []guard
	rich := k.names(func(m *garden.Material) bool {
		return m.ID != "wood-ash" && slices.Contains(m.Hazards(), "ammonia")
	})
	if rich != "" {
		out = append(out, guard{
			id: "ash-with-nitrogen", word: "Ash with rich nitrogen",
			text:    "Wood ash drives ammonia out of " + rich + ": nitrogen is lost and roots can burn. Leave a month between them.",
			sources: k.c.cautionSources("ash-with-nitrogen"),
		})
	}
	lime := k.names(func(m *garden.Material) bool { return m.ID != "wood-ash" && m.Class() == "liming" })
	if lime != "" {
		out = append(out, guard{
			id: "ash-with-lime", word: "Ash with lime",
			text:    "Wood ash and " + lime + " both raise pH. Use one of them, and only by a pH test.",
			sources: k.c.figure("judging", "wood_ash", "cap", "exact").Source,
		})
	}
	return out
}

// names lists the materials of the combination that fit, in words.
func (k check) names(fits func(*garden.Material) bool) string {
	var out []string
	for _, p := range k.portions {
		if fits(p.material) {
			out = append(out, lowerFirst(p.material.Name))
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

// compostShare speaks above 33 % and again above 50 % of the volume (judging.yaml, compost_limits).
func (k check) compostShare() []guard {
	have := k.compostPercent()
	warn := k.c.figure("judging", "compost_limits", "share_by_volume_percent", "warn_above")
	stop := k.c.figure("judging", "compost_limits", "share_by_volume_percent", "refuse_without_test_above")
	switch {
	case have > stop.Typical:
		return []guard{{"compost-share", "Too much compost without a test", fmt.Sprintf("Compost is %s %% of the mix. Above %s %%, test the salt (EC) of the compost first.", view.Number(have), view.Number(stop.Typical)), stop.Source, false}}
	case have > warn.Typical:
		return []guard{{"compost-share", "Much compost", fmt.Sprintf("Compost is %s %% of the mix; above %s %% salt and settling grow. 25 %% is usual.", view.Number(have), view.Number(warn.Typical)), warn.Source, false}}
	}
	return nil
}

// limeInCompost speaks when lime goes into a mix with 25 % compost or more: compost alone brings such a
// mix to about pH 5.9 and above (judging.yaml, lime_rates and ph_lime_compost_grid).
func (k check) limeInCompost() []guard {
	rich := k.c.figure("judging", "compost_limits", "share_by_volume_percent", "normal")
	lime := k.names(func(m *garden.Material) bool { return m.Class() == "liming" })
	if lime == "" || k.compostPercent() < rich.Typical {
		return nil
	}
	grid := k.c.figure("judging", "ph_lime_compost_grid", "derived_slopes", "ph_per_tenth_compost_no_lime")
	return []guard{{
		"lime-in-compost", "Lime in a compost-rich mix",
		fmt.Sprintf("With %s %% compost or more, compost alone usually brings the pH far enough. Add %s only when a test shows pH below 5.8.", view.Number(rich.Typical), lime),
		grid.Source, false,
	}}
}

// fastNitrogen holds the nitrogen of materials with a published two-week release to 0.5 g per litre in
// one dose (judging.yaml, single_dose_n_cap).
func (k check) fastNitrogen() []guard {
	limit := k.c.figure("judging", "single_dose_n_cap", "0", "g_n_per_l")
	var fast []dose.Portion
	for _, p := range k.masses {
		if p.Material.Ref != nil && p.Material.Ref.Release.Week2.Known {
			fast = append(fast, p)
		}
	}
	have := dose.Nutrient(fast, reference.N).Value.Typical / k.litres
	if have <= limit.Typical {
		return nil
	}
	names := k.names(func(m *garden.Material) bool { return m.Ref != nil && m.Ref.Release.Week2.Known })
	return []guard{{
		"fast-nitrogen", "Much fast nitrogen at once",
		fmt.Sprintf("%s g of fast nitrogen per litre of mix in one dose, from %s: above %s g, split it, or mix it in 2 to 3 weeks before planting. Never sow into it.", view.Number(have), names, view.Number(limit.Typical)),
		limit.Source, false,
	}}
}

// potashToMagnesia speaks when added K2O is more than four times added MgO (judging.yaml,
// cation_balance): much potassium keeps roots from taking up magnesium.
func (k check) potashToMagnesia() []guard {
	most := k.c.figure("judging", "cation_balance", "added_k2o_to_mgo_max")
	potash, mg := k.totals.Added[reference.K2O], k.totals.Added[reference.Mg]
	magnesia := mg.Value.Typical * elements.Convert("Mg", "MgO")
	if potash.Value.Typical <= most.Typical*magnesia || len(mg.Missing) > 0 {
		return nil
	}
	ratio := "without any magnesia"
	if magnesia > 0 {
		ratio = fmt.Sprintf("%s times the magnesia (MgO)", view.Number(potash.Value.Typical/magnesia))
	}
	return []guard{{
		"potash-to-magnesia", "Much potash for the magnesium",
		fmt.Sprintf("The potash added (K2O) is %s; above %s times, roots take up too little magnesium.", ratio, view.Number(most.Typical)),
		most.Source, false,
	}}
}

// tooSmall speaks when an amount is below half of the smallest spoon.
func (k check) tooSmall() []guard {
	var out []guard
	set := k.c.pass.Garden.Handbook.Main
	for _, p := range k.portions {
		low := p.ends[0]
		if p.amount.Low.Weighed || !low.measures[set].TooSmall {
			continue
		}
		out = append(out, guard{
			id: "too-small", word: "Too little for a spoon",
			text: fmt.Sprintf("%s: %s g is too little to measure with a spoon. Weigh it, or mix a batch for %d pots alike and share it out.",
				p.material.Name, view.Number(low.mass.Typical), measure.Batch(low.wanted, set)),
		})
	}
	return out
}

// coarseRounding speaks when the spoons miss by more than 10 %, on the coarser household steps by more
// than 34 %.
func (k check) coarseRounding() []guard {
	hb := k.c.pass.Garden.Handbook
	limit := 10.0
	if hb.Rounding == measure.Household {
		limit = 34
	}
	var out []guard
	for _, p := range k.portions {
		worst := p.worstRounding(hb)
		if math.Abs(worst) <= limit+1e-9 {
			continue
		}
		out = append(out, guard{
			id: "coarse-rounding", word: "Coarse measure",
			text: fmt.Sprintf("%s: the nearest spoons hold %s %% %s than asked. Weigh it if you can.", p.material.Name, view.Number(math.Abs(worst)), moreOrLess(worst)),
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

// sizeKnown says how the container's volume and shape are known.
func (k check) sizeKnown() []guard {
	v := k.size.container.Vessel
	switch {
	case v.Class != "":
		classes := k.c.figure("volumes", "nursery_classes", "classes", "#"+v.Class, "litres")
		return []guard{{"nursery-class", "A class, not a volume", fmt.Sprintf("A nursery class %s pot holds %s L, not so many gallons: measure yours to be sure.", v.Class, view.Span(k.size.litres[0], k.size.litres[1])), classes.Source, true}}
	case v.RoughGuess:
		return []guard{{"rough-guess", "A rough guess", "A top diameter alone is a rough guess at the volume: measure to be sure.", []string{"illinois-pot-column"}, true}}
	case v.Assumed:
		return []guard{{"assumed-shape", "Shape assumed", "The shape of this container is assumed: a round pot whose base is 0.75 and whose depth is 0.92 of its top diameter.", nil, true}}
	}
	return nil
}
