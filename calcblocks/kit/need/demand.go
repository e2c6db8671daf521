package need

import (
	"math"
	"slices"

	"trug/calcblocks/kit/reference"
)

// bearing lists the families that bear over the whole season; other crops are done when they are mature.
var bearing = []string{"solanaceae", "cucurbitaceae", "fabaceae", "rosaceae", "malvaceae"}

// Weeks returns how many weeks a crop draws on its mix: its days to maturity, the upper end, in whole weeks; of
// crops that bear over a season, and where the days are not known, so many as a season has (common practice).
func Weeks(crop *reference.Crop, season int) int {
	if crop == nil || !crop.DaysToMaturity.Known || slices.Contains(bearing, crop.Family) {
		return season
	}
	return min(int(math.Ceil(crop.DaysToMaturity.High/7)), season)
}

// Drawn returns the part of a crop's season need that it has drawn after a part of its weeks, both of 1: a
// simple S, the logistic curve that has a tenth at a quarter of the way, half at the middle and nine tenths at
// three quarters, stretched so that it begins at nothing and ends at all. Its shape is this program's own,
// derived from nothing but the look of published uptake curves.
func Drawn(part float64) float64 {
	s := func(x float64) float64 { return 1 / (1 + math.Exp(-4*math.Log(9)*(x-0.5))) }
	return (s(min(max(part, 0), 1)) - s(0)) / (s(1) - s(0))
}
