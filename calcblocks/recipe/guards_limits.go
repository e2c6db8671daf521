package recipe

import (
	"fmt"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/view"
)

// limits compares each material with its own limit (amendments.yaml): per litre of mix where one is
// known, else per surface, which was set for garden beds; and its share of the mix, with the compost on top. Wood
// ash has a guard of its own.
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
		if !k.onTop(m) {
			out = append(out, care.OwnShare(k.c.pass.Ref, m, 100*k.fill(m)/k.litres)...)
		}
	}
	if l := k.size.compost; l != nil {
		out = append(out, care.OwnShare(k.c.pass.Ref, l.material, 100*(l.firmed[1]+k.fill(l.material))/k.litres)...)
	}
	return out
}

func (k check) onTop(m *garden.Material) bool {
	return k.size.compost != nil && k.size.compost.material.ID == m.ID
}

// fill is what a material's amounts take of the mix, L.
func (k check) fill(m *garden.Material) float64 {
	litres := 0.0
	for _, p := range k.portions {
		if p.material.ID == m.ID {
			litres += p.ends[1].fill.Typical / 1000
		}
	}
	return litres
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
