package recipe

import (
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/units"
)

// check is what the guards of one combination look at: the author's high end, typical figures.
type check struct {
	c        *computation
	size     *scaled
	portions []*portion // the picked ones
	masses   []dose.Portion
	totals   dose.Totals
	supplied
	saltAdded dose.Sum[units.SomeShare] // mS/cm
	litres    float64                   // of the high end
	areaM2    float64                   // at the fill line of the high end
}

// guards returns the cautions of one combination for one size.
func (c *computation) guards(s *scaled, picks []int, out combo) []care.Guard {
	_, v := s.container.Vessel.Ends()
	k := check{
		c: c, size: s, masses: out.parts[1], totals: out.ends[1], supplied: out.supplied, saltAdded: out.salt[1],
		litres: s.litres[1], areaM2: v.AreaAt(v.FillHeight()) / 1e4,
	}
	for i, l := range s.lines {
		k.portions = append(k.portions, &l.options[picks[i]])
	}
	return slices.Concat(
		k.limits(), k.ashCap(), care.AshCompany(c.pass.Ref, k.materials()), care.OpposedPH(k.materials()), care.CompostShare(c.pass.Ref, k.compostPercent()),
		care.LimeInCompost(c.pass.Ref, k.materials(), k.compostPercent()),
		k.fastNitrogen(), k.nitrogenForCrop(), k.tiesUp(), k.phosphorus(), k.phosphorusWithCompost(), k.potashToMagnesia(), k.salt(), k.tooSmall(), k.coarseRounding(), care.SizeKnown(c.pass.Ref, s.container),
	)
}

// materials are those of the combination.
func (k check) materials() []*garden.Material {
	var out []*garden.Material
	for _, p := range k.portions {
		out = append(out, p.material)
	}
	return out
}

// names lists the materials of the combination that fit, in words.
func (k check) names(fits func(*garden.Material) bool) string { return care.Names(k.materials(), fits) }
