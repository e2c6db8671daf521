package care

import (
	"fmt"
	"math"
	"slices"

	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// The guards here are on amendments that go into a mix, whether a recipe or a new mix asks for them.

// ownChoice is the bibliography's entry for a figure that was derived here.
const ownChoice = "derived-here"

// Names lists the materials that fit, in words.
func Names(materials []*garden.Material, fits func(*garden.Material) bool) string {
	var out []string
	for _, m := range materials {
		if fits(m) {
			out = append(out, InWords(m))
		}
	}
	return view.And(out)
}

// Over speaks when a material is above a limit of its own; unit says of what, rule is the limit in words.
func Over(m *garden.Material, have float64, unit string, limit reference.Figure, rule string) []Guard {
	if !limit.Known || have <= limit.Typical*(1+1e-9) {
		return nil
	}
	much, most := view.Apart(have, limit.Typical)
	return []Guard{{
		ID: "over-limit", Word: "Over the usual most", Sources: limit.Source,
		Text: fmt.Sprintf("%s: %s %s; the usual most is %s. %s", m.Name, much, unit, most, rule),
	}}
}

// OwnShare holds a material to its own share of a mix (amendments.yaml). Where that is the share from which any compost
// is much, CompostShare says it.
func OwnShare(lib *reference.Library, m *garden.Material, percent float64) []Guard {
	if m.Ref == nil {
		return nil
	}
	much := lib.Must("judging", "compost_limits", "share_by_volume_percent", "warn_above")
	limit := m.Ref.Limit
	if m.Class() == "compost" && limit.PercentOfMix.Typical >= much.Typical {
		return nil
	}
	return Over(m, percent, "% of the mix", limit.PercentOfMix, "Rule: "+limit.Text)
}

// OpposedPH speaks when what lowers pH, such as sulfur, meets lime or wood ash (amendments.yaml, cautions of the sulfurs
// and their lime values).
func OpposedPH(materials []*garden.Material) []Guard {
	raises := Names(materials, func(m *garden.Material) bool { return isAsh(m) || isLime(m) })
	at := slices.IndexFunc(materials, isAcid)
	if raises == "" || at < 0 {
		return nil
	}
	return []Guard{{
		ID: "opposed-ph", Word: "One against the other", Sources: materials[at].LimeValue().Source,
		Text: "To lower pH by " + Names(materials, isAcid) + " works against raising it by " + raises + ". Do one or the other, and only by a pH test.",
	}}
}

func isAcid(m *garden.Material) bool { return m.Class() == "acidifying" }

// AshCompany speaks when wood ash meets a material that gives off ammonia (cautions.yaml, ash-with-nitrogen), or lime
// (judging.yaml, wood_ash).
func AshCompany(lib *reference.Library, materials []*garden.Material) []Guard {
	if !slices.ContainsFunc(materials, isAsh) {
		return nil
	}
	var out []Guard
	if rich := Names(materials, func(m *garden.Material) bool { return !isAsh(m) && slices.Contains(m.Hazards(), "ammonia") }); rich != "" {
		caution, ok := lib.Caution("ash-with-nitrogen")
		if !ok {
			panic("care: no caution ash-with-nitrogen")
		}
		out = append(out, Guard{
			ID: "ash-with-nitrogen", Word: "Ash with rich nitrogen", Sources: caution.Source,
			Text: "Wood ash drives ammonia out of " + rich + ": nitrogen is lost and roots can burn. Leave a month between them.",
		})
	}
	if lime := Names(materials, func(m *garden.Material) bool { return !isAsh(m) && isLime(m) }); lime != "" {
		out = append(out, Guard{
			ID: "ash-with-lime", Word: "Ash with lime", Sources: lib.Must("judging", "wood_ash", "cap", "exact").Source,
			Text: "Wood ash and " + lime + " both raise pH. Use one of them, and only by a pH test.",
		})
	}
	return out
}

func isAsh(m *garden.Material) bool { return m.ID == "wood-ash" }

func isLime(m *garden.Material) bool { return m.Class() == "liming" }

// LimeInCompost speaks when lime goes into a mix with 25 % compost or more: compost alone brings such a mix to
// about pH 5.9 and above (judging.yaml, lime_rates and ph_lime_compost_grid).
func LimeInCompost(lib *reference.Library, materials []*garden.Material, compostPercent float64) []Guard {
	rich := lib.Must("judging", "compost_limits", "share_by_volume_percent", "normal")
	lime := Names(materials, isLime)
	if lime == "" || compostPercent < rich.Typical*(1-1e-9) {
		return nil
	}
	grid := lib.Must("judging", "ph_lime_compost_grid", "derived_slopes", "ph_per_tenth_compost_no_lime")
	return []Guard{{
		ID: "lime-in-compost", Word: "Lime in a compost-rich mix", Sources: grid.Source,
		Text: fmt.Sprintf("With %s %% compost or more, compost alone usually brings the pH far enough. Add %s only when a test shows pH below 5.8.", view.Number(rich.Typical), lime),
	}}
}

// FastNitrogen speaks when materials that give off nitrogen at once bring more of it to a litre of mix than 0.5 g in
// one dose (judging.yaml, single_dose_n_cap).
func FastNitrogen(lib *reference.Library, gramsPerLitre float64, from string) []Guard {
	limit := lib.Must("judging", "single_dose_n_cap", "0", "g_n_per_l")
	if gramsPerLitre <= limit.Typical*(1+1e-9) {
		return nil
	}
	have, most := view.Apart(gramsPerLitre, limit.Typical)
	return []Guard{{
		ID: "fast-nitrogen", Word: "Much fast nitrogen at once", Sources: limit.Source,
		Text: fmt.Sprintf("%s g of fast nitrogen per litre of mix in one dose, from %s: above %s g, split it, or mix it in 2 to 3 weeks before planting. Never sow into it.", have, from, most),
	}}
}

// TooSmall is for an amount below half of the smallest spoon. Besides weighing, instead says what else helps.
func TooSmall(m *garden.Material, grams float64, instead string) Guard {
	return Guard{
		ID: "too-small", Word: "Too little for a spoon", Sources: []string{ownChoice},
		Text: fmt.Sprintf("%s: %s g is too little to measure with a spoon. Weigh it%s.", m.Name, view.Number(grams), instead),
	}
}

// The most that a spoon may miss, percent: 10 with all spoons, a third or so, which is half a step of the coarse
// federal grid (21 CFR 101.9), with household rounding.
const fineMost, householdMost = 10.0, 34.0

// CoarseMeasure speaks when spoons hold so many percent more than asked, or less, that it tells.
func CoarseMeasure(m *garden.Material, percent float64, household bool) []Guard {
	limit, source := fineMost, ownChoice
	if household {
		limit, source = householdMost, "cfr-101-9"
	}
	if math.Abs(percent) <= limit+1e-9 {
		return nil
	}
	off, pass := view.Apart(math.Abs(percent), limit)
	return []Guard{{
		ID: "coarse-rounding", Word: "Coarse measure", Sources: []string{source},
		Text: fmt.Sprintf("%s: the nearest spoons hold %s %% %s than asked, over the %s %% that pass. Weigh it if you can.", m.Name, off, MoreOrLess(percent), pass),
	}}
}

// CoarseScale speaks when the steps of a kitchen scale, tenths of a gram below 10 g, hold so many percent more than
// asked, or less, that it tells.
func CoarseScale(m *garden.Material, grams, percent float64) []Guard {
	if math.Abs(percent) <= fineMost+1e-9 {
		return nil
	}
	off, pass := view.Apart(math.Abs(percent), fineMost)
	return []Guard{{
		ID: "coarse-rounding", Word: "Coarse measure", Sources: []string{ownChoice},
		Text: fmt.Sprintf("%s: %s g, the nearest step of a kitchen scale, is %s %% %s than asked, over the %s %% that pass. Weigh it for several pots at once, and share it out.", m.Name, view.Number(grams), off, MoreOrLess(percent), pass),
	}}
}

// MoreOrLess is the word for a difference.
func MoreOrLess(x float64) string {
	if x > 0 {
		return "more"
	}
	return "less"
}
