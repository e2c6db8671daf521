package extract

import "trug/calcblocks/kit/units"

// Yield returns percent of the full yield at an EC of the saturated paste, mS/cm: 100 up to the threshold,
// then less by the slope for each mS/cm, never below 0 (Maas and Hoffman; FAO 61, USDA-ARS Salinity
// Laboratory). It was found in mineral soil with sodium chloride.
func Yield(ec, threshold, slope float64) float64 {
	return min(100, max(0, 100-slope*(ec-threshold)))
}

// YieldOf returns the yield for a believed EC and a threshold that may lie higher: the yield falls with the
// EC and rises with the threshold.
func YieldOf(ec units.SomeEC, threshold units.SomeEC, slope float64) units.SomeShare {
	return units.SomeShare{
		Low: Yield(ec.High, threshold.Low, slope), Typical: Yield(ec.Typical, threshold.Typical, slope), High: Yield(ec.Low, threshold.High, slope),
	}
}

// ShareBySalt returns the largest share by volume of a compost that keeps a mix at an EC limit, all by the
// same extract, mixing by volume: (limit - base) / (compost - base), within 0 and 1 (judging.yaml,
// compost_limits, derived). A compost that is no saltier than the limit may be all of it.
func ShareBySalt(base, compost, limit float64) float64 {
	if compost <= limit {
		return 1
	}
	return min(1, max(0, (limit-base)/(compost-base)))
}
