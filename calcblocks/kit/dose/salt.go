package dose

import (
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// Salt estimates the rise of EC in the saturated media extract, in mS/cm, of portions in a volume of
// mix: 1 g of sulfate of potash per litre adds 1.5 to 2.0 (judging.yaml, salinity_use and
// cation_balance, derived), and other materials in proportion to their salt index, which is defined as
// osmotic pressure at equal weights (Rader 1943, from memory).
func Salt(portions []Portion, mix units.Volume, lib *reference.Library) Sum[units.SomeShare] {
	var s Sum[units.SomeShare]
	perGram, _ := lib.At("judging", "salinity_use", "ec_per_gram_salt")
	potash, _ := lib.Amendment("potassium-sulfate")
	for _, p := range portions {
		index := p.Material.SaltIndex()
		if !index.Known {
			s.Missing = append(s.Missing, p.Material.ID)
			continue
		}
		s.Known = true
		dose := units.Spread(p.Mass, mix)
		rise := func(perLitre, ec float64) float64 { return perLitre * ec * index.Typical / potash.SaltIndex.Typical }
		s.Value = s.Value.Add(units.SomeShare{
			Low: rise(dose.Low, perGram.Low), Typical: rise(dose.Typical, perGram.Typical), High: rise(dose.High, perGram.High),
		})
		s.Sources = append(s.Sources, index.Source...)
	}
	return s
}
