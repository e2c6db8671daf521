package recipe

import (
	"fmt"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

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
