package need

import "math"

// What field crops take up, after rb209-6 (table 6.27): the whole dry plant from the fresh yield, its nitrogen from
// its weight, and the nitrogen that it holds. Weights in t/ha.

// DryWeight returns the dry weight of whole plants whose marketable part weighs so much fresh, holds a share of dry
// matter and is a share of the dry plant: fresh x dry matter / harvest index.
func DryWeight(fresh, dryMatter, harvestIndex float64) float64 {
	return fresh * dryMatter / harvestIndex
}

// NitrogenContent returns the percent of nitrogen in whole dry plants of so many t/ha: a (1 + b exp(-0.26 W)). It
// falls as plants grow.
func NitrogenContent(dry, a, b float64) float64 { return a * (1 + b*math.Exp(-0.26*dry)) }

// FieldUptake returns the nitrogen in whole plants, kg/ha: 10 x dry t/ha x percent.
func FieldUptake(dry, percent float64) float64 { return 10 * dry * percent }

// Beyond returns by how much an amount is more than is wanted, 0 when it is not.
func Beyond(wanted, got float64) float64 { return max(got-wanted, 0) }

// Wanting returns what a crop needs beside what the ground gives: (uptake - given) / recovery. The form that
// rb209-6 prints has signs that would let the ground's nitrogen raise the need.
func Wanting(uptake, given, recovery float64) float64 { return Beyond(given, uptake) / recovery }
