package heap

import "trug/calcblocks/kit/units"

// A Material is one thing on a heap. Of Carbon, Nitrogen and CToN two are known; Known tells which.
type Material struct {
	Kg               units.SomeShare // as it is
	Moisture         units.SomeShare // share of the material as it is, below 1
	Carbon, Nitrogen units.SomeShare // share of dry matter
	CToN             units.SomeShare
	Known            Analysis
}

// An Analysis says which two of carbon, nitrogen and C:N are figures of their own.
type Analysis int

// The analyses.
const (
	CarbonAndNitrogen Analysis = iota
	NitrogenAndRatio           // C = N x C:N
	CarbonAndRatio             // N = C / C:N
)

// Complete fills in the third of carbon, nitrogen and C:N.
func (m Material) Complete() Material {
	switch m.Known {
	case NitrogenAndRatio:
		m.Carbon = of(func(x []float64) float64 { return x[0] * x[1] }, m.Nitrogen, m.CToN)
	case CarbonAndRatio:
		m.Nitrogen = of(func(x []float64) float64 { return x[0] / x[1] }, m.Carbon, m.CToN)
	default:
		m.CToN = of(func(x []float64) float64 { return x[0] / x[1] }, m.Carbon, m.Nitrogen)
	}
	return m
}

func of(formula func(x []float64) float64, in ...units.Input) units.SomeShare {
	return units.SomeShare(units.Corners[plain](formula, in...))
}

// Dry returns the kilograms of dry matter.
func (m Material) Dry() units.SomeShare {
	return of(func(x []float64) float64 { return x[0] * (1 - x[1]) }, m.Kg, m.Moisture)
}

// Nutrients returns the material as a term of carbon over nitrogen, for so many kilograms as Kg says. The
// figure that is worked out from the two others goes into the weight, so that the three stay independent.
func (m Material) Nutrients() Item {
	dry := func(share units.SomeShare) units.SomeShare {
		return of(func(x []float64) float64 { return x[0] * (1 - x[1]) * x[2] }, m.Kg, m.Moisture, share)
	}
	switch m.Known {
	case NitrogenAndRatio:
		return Item{dry(m.Nitrogen), m.CToN, Sure(1)}
	case CarbonAndRatio:
		return Item{dry(m.Carbon), Sure(1), of(func(x []float64) float64 { return 1 / x[0] }, m.CToN)}
	}
	return Item{dry(Sure(1)), m.Carbon, m.Nitrogen}
}

// Water returns the material as a term of water over mass.
func (m Material) Water() Item { return Item{m.Kg, m.Moisture, Sure(1)} }

// One returns the material with a kilogram of it.
func (m Material) One() Material {
	m.Kg = Sure(1)
	return m
}

// WaterToAdd returns the kilograms of water that bring a blend to a moisture, 0 when it is moist enough: the
// dry matter x wanted / (1 - wanted) less the water that is there, summed material by material.
func WaterToAdd(wanted float64, materials ...Material) units.SomeShare {
	var add units.SomeShare
	for _, m := range materials {
		add = add.Add(of(func(x []float64) float64 { return x[0] * (wanted - x[1]) / (1 - wanted) }, m.Kg, m.Moisture))
	}
	return units.SomeShare{Low: max(add.Low, 0), Typical: max(add.Typical, 0), High: max(add.High, 0)}
}
