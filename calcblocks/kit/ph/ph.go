// Package ph estimates the starting pH of a peat-based mix from its lime and its compost, by a published grid
// (judging.yaml, ph_lime_compost_grid). It answers within the grid and nowhere else.
package ph

import (
	"strconv"

	"trug/calcblocks/kit/reference"
)

// A Grid is a table of pH by grams of lime per litre and percent of compost by volume, both rising.
type Grid struct {
	Lime    []float64   // g of pure limestone per litre of mix
	Compost []float64   // percent by volume
	PH      [][]float64 // by compost, then by lime
	Sources []string
}

// columns are the percents of compost for which the grid has a column.
var columns = []string{"0", "40"}

// Published returns the grid of the reference (HortScience 2016, peat with compost of plant and food waste,
// horse manure and wood chips, second-hand).
func Published(lib *reference.Library) Grid {
	row := func(path ...string) []float64 {
		var out []float64
		for i := 0; ; i++ {
			f, ok := lib.At("judging", append(append([]string{"ph_lime_compost_grid"}, path...), strconv.Itoa(i))...)
			if !ok {
				return out
			}
			out = append(out, f.Typical)
		}
	}
	g := Grid{Lime: row("lime_g_per_l"), Sources: lib.Must("judging", "ph_lime_compost_grid", "ph_at_compost_percent", "0", "0").Source}
	for _, column := range columns {
		percent, err := strconv.ParseFloat(column, 64)
		if err != nil {
			panic(err) // a constant
		}
		g.Compost = append(g.Compost, percent)
		g.PH = append(g.PH, row("ph_at_compost_percent", column))
	}
	return g
}

// At returns the pH at a dose of lime in g per litre and a share of compost in percent, linear both ways between
// the four corners around it (derived). ok is false outside the grid: there it says nothing.
func (g Grid) At(lime, compost float64) (ph float64, ok bool) {
	i, across, okLime := between(g.Lime, lime)
	j, along, okCompost := between(g.Compost, compost)
	if !okLime || !okCompost {
		return 0, false
	}
	low := g.PH[j][i]*(1-across) + g.PH[j][i+1]*across
	high := g.PH[j+1][i]*(1-across) + g.PH[j+1][i+1]*across
	return low*(1-along) + high*along, true
}

// between returns the step of a rising list that holds x, and how far into it x lies, from 0 to 1.
func between(steps []float64, x float64) (i int, part float64, ok bool) {
	for i := range len(steps) - 1 {
		if x >= steps[i] && x <= steps[i+1] {
			return i, (x - steps[i]) / (steps[i+1] - steps[i]), true
		}
	}
	return 0, 0, false
}

// Most returns the edges of the grid: g of lime per litre and percent of compost.
func (g Grid) Most() (lime, compost float64) {
	return g.Lime[len(g.Lime)-1], g.Compost[len(g.Compost)-1]
}
