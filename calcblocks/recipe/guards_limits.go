package recipe

import (
	"fmt"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/view"
)

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
			out = append(out, care.Over(m, grams/k.litres, "g per litre of mix", limit.GramsPerLitre, "Rule: "+limit.Text)...)
		} else {
			out = append(out, care.Over(m, grams/k.areaM2, "g per square metre of surface", limit.GramsPerM2, "That rule was set for garden beds: "+limit.Text)...)
		}
		percent := p.ends[1].fill.Typical / k.litres / 10
		out = append(out, care.Over(m, percent, "% of the mix", limit.PercentOfMix, "Rule: "+limit.Text)...)
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
