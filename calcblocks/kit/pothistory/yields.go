package pothistory

import "trug/calcblocks/kit/units"

// A Harvest is what one crop gave in one pot and growing year.
type Harvest struct {
	Year      int
	Crop      string
	Mass      units.Mass // of the pickings that were weighed
	Pickings  int
	Unweighed int // pickings without a weight
	// PerLitre is g of harvest per litre of mix up to the fill line, low and high: they differ for a
	// nursery class. Zero where the pot's volume is not known.
	PerLitre [2]float64
	Litres   [2]float64
}

// Harvests returns the harvests of a pot by year, crops in the order in which they were first picked.
func (h *History) Harvests(pot string) []Harvest {
	var out []Harvest
	for _, e := range h.pots[pot] {
		if e.Did != "harvested" {
			continue
		}
		r := row(&out, h.growing(e.On), e.Crop)
		r.Pickings++
		if e.Yield.Sign() == 0 {
			r.Unweighed++
		}
		r.Mass = r.Mass.Add(e.Yield)
	}
	low, high, ok := h.litres(pot)
	for i := range out {
		if ok {
			out[i].Litres = [2]float64{low, high}
			out[i].PerLitre = [2]float64{perLitre(out[i].Mass, high), perLitre(out[i].Mass, low)}
		}
	}
	return out
}

// row returns the harvest of a crop in a year. The rows of a year lie together at the end.
func row(all *[]Harvest, year int, crop string) *Harvest {
	for i := len(*all) - 1; i >= 0 && (*all)[i].Year == year; i-- {
		if (*all)[i].Crop == crop {
			return &(*all)[i]
		}
	}
	*all = append(*all, Harvest{Year: year, Crop: crop})
	return &(*all)[len(*all)-1]
}

// perLitre returns g per litre: harvest / fill volume.
func perLitre(m units.Mass, litres float64) float64 { return m.Float() / litres }
