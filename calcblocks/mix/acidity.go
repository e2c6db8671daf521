package mix

import (
	"fmt"
	"math"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/ph"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// An acidity is the starting pH as far as it can be estimated.
type acidity struct {
	known   bool
	why     string // where it is not
	ph      units.SomeShare
	lime    units.SomeShare // g of pure limestone per litre
	compost float64         // percent
	grid    ph.Grid
	apart   []string // amendments that move pH and that the grid knows nothing of
}

// printed is how far a value printed to a tenth may lie from the one measured.
const printed = 0.05

// estimate reads the starting pH off the published grid: by the lime, as pure limestone, and the share of
// compost. The grid was measured in peat, so the mix has to be mostly peat beside its compost, and without soil.
func (c *computation) estimate() *acidity {
	a := &acidity{grid: ph.Published(c.pass.Ref), compost: c.compostPercent()}
	for _, p := range c.lime {
		value := p.material.LimeValue()
		if !value.Known {
			a.why = "the lime value of " + p.material.ID + " is not known"
			return a
		}
		share := value.Share()
		per := 1 / c.litres
		a.lime = a.lime.Add(units.SomeShare{
			Low: p.ends[0].mass.Low * share.Low * per, Typical: (p.ends[0].mass.Typical + p.ends[1].mass.Typical) / 2 * share.Typical * per, High: p.ends[1].mass.High * share.High * per,
		})
	}
	for _, p := range c.amendments {
		if v := p.material.LimeValue(); v.Known && (v.Low != 0 || v.High != 0) {
			a.apart = append(a.apart, care.InWords(p.material))
		}
	}
	a.read(c)
	return a
}

// read asks the grid, and says why where it has no answer. The ends are those of the lime's value, held to the
// grid's edge, and a printed tenth more either way.
func (a *acidity) read(c *computation) {
	most, compost := a.grid.Most()
	if a.why = c.unlikePeat(); a.why != "" {
		return
	}
	middle, ok := a.grid.At(a.lime.Typical, a.compost)
	if !ok {
		a.why = fmt.Sprintf("the grid ends at %s g of lime a litre and %s %% compost", view.Number(most), view.Number(compost))
		return
	}
	low, _ := a.grid.At(a.lime.Low, a.compost)
	high, _ := a.grid.At(math.Min(a.lime.High, most), a.compost)
	a.known, a.ph = true, units.SomeShare{Low: low - printed, Typical: middle, High: high + printed}
}

// unlikePeat says why the grid does not hold for a mix, "" where it does.
func (c *computation) unlikePeat() string {
	peat, rest := 0.0, 0.0
	for _, p := range c.parts {
		switch {
		case p.name == "peat":
			peat += p.share
		case !p.isCompost():
			rest += p.share
		}
	}
	switch {
	case c.soilPercent() > 0:
		return "the grid was measured in peat, and this mix holds soil or sand"
	case peat <= rest:
		return "the grid was measured in peat, and this mix is not mostly peat"
	}
	return ""
}
