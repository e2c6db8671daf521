package balance

import (
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/scoop"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
)

// computation carries one Compute.
type computation struct {
	*balance
	pass      *block.Pass
	container garden.Container
	litres    float64 // the low end of a container known as a range: limits and guards go by it
	areaM2    float64 // at the fill line
	cropOK    *reference.Crop
	own       []sources.Entry
	bands     []band
	offers    []offer
	left      []leftOut
	bounds    []bound
	answer    answer
	used      []use
	results   []result
}

// A use is an offer with its amount.
type use struct {
	offer
	scoop  scoop.Scoop
	brings []float64 // g that count, by wanted band
}

// A result is what a band comes to.
type result struct {
	band
	best    float64        // g, what the exact amounts bring
	reached units.SomeMass // g, what the spoons bring
	missed  float64        // g: below 0 short of the band, above 0 over it, at the typical figures
	heldBy  []hold         // what is in the way
}

// Compute finds the amounts for the block's container, or for the one that the reader asked for.
func (b *balance) Compute(p *block.Pass) block.Result {
	c := &computation{balance: b, pass: p}
	c.findCrop()
	if !c.findContainer() {
		return block.Result{Title: b.title}
	}
	c.findBands()
	c.findOffers()
	if len(c.wanted()) == 0 {
		return c.nothingWanted()
	}
	c.findBounds()
	c.answer = c.solve()
	c.measure()
	c.check()
	return c.result()
}

// nothingWanted reports a crop of which nothing is known; without a crop that can be read there was another
// fault.
func (c *computation) nothingWanted() block.Result {
	if c.cropOK != nil && c.plants != 0 {
		c.crop.Fault("no-need", "write \"targets\" with a band for each nutrient", "the need of %q is not known", c.crop.Raw())
	}
	return block.Result{Title: c.title}
}

func (c *computation) findContainer() bool {
	container, asked, ok := c.pass.Asked()
	if !asked {
		container, ok = form.Value(c.mix, c.pass.Garden.Container)
	}
	if !ok {
		return false
	}
	c.container = container
	c.litres, _ = container.Litres()
	low, _ := container.Vessel.Ends()
	c.areaM2 = low.AreaAt(low.FillHeight()) / 1e4
	return c.litres > 0
}

// check works out what the spoons bring: mass x content x share, bound to bound.
func (c *computation) check() {
	for i, b := range c.wanted() {
		r := result{band: b, best: c.answer.reached[i], heldBy: c.answer.heldBy[i]}
		for _, u := range c.used {
			r.reached = r.reached.Add(units.Contain(u.scoop.Mass, u.counts[b.nutrient].value))
		}
		r.missed = outside(r.reached.Typical, b)
		switch missedBest := outside(r.best, b); {
		case r.missed == 0:
			r.heldBy = nil
		case missedBest == 0:
			r.heldBy = []hold{{id: "rounding to spoons", words: "rounding to what spoons and scale can show"}}
		}
		c.results = append(c.results, r)
	}
}

// near is the part of a number that rounding may leave: two that differ by less are one.
const near = 1e-7

// outside says by how much an amount is below (negative) or above a band.
func outside(x float64, b band) float64 {
	switch {
	case x < b.low*(1-near):
		return x - b.low
	case x > b.high*(1+near):
		return x - b.high
	}
	return 0
}

func (c *computation) portions() []dose.Portion {
	var out []dose.Portion
	for _, u := range c.used {
		out = append(out, dose.Portion{Material: u.material, Mass: u.scoop.Mass})
	}
	return out
}

// uses tells the site which materials the block uses.
func (c *computation) uses() []facts.Fact {
	var out []facts.Fact
	for _, u := range c.used {
		out = append(out, facts.Use{Block: c.pass.ID, Amendment: u.material.ID})
	}
	return out
}
