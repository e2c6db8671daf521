package balance

import (
	"fmt"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// An offer is a material that may be used, with what a gram of it counts for and how much of it is the most.
type offer struct {
	at       int // place among the offers
	material *garden.Material
	counts   map[reference.Nutrient]count
	price    float64 // minor units a gram
	priced   bool
	most     float64 // g
	mostWhy  string  // "the usual most", "your limit", "" when it has none
	mostSum  string
	sources  []string // of the most
}

// A count is the part of a material's mass that counts as a nutrient.
type count struct {
	value   units.SomeShare
	sum     string
	sources []string
}

// A leftOut is a material that could not be used, and why.
type leftOut struct{ id, why string }

var gram = units.SomeMass{Low: 1, Typical: 1, High: 1}

// findOffers resolves "from", or takes the cupboard. Of the cupboard, materials that move the pH are left out
// unless they are named: they are for a test that shows the need (judging.yaml, lime_rates).
func (c *computation) findOffers() {
	var materials []*garden.Material
	if c.from == nil {
		materials = c.pass.Garden.Cupboard()
	}
	for _, n := range c.from {
		id, _ := n.Text()
		if m, ok := c.pass.Material(id, n.At()); ok {
			materials = append(materials, m)
		}
	}
	for _, m := range materials {
		if c.from == nil && (m.Class() == "liming" || m.Class() == "acidifying") {
			c.left = append(c.left, leftOut{m.ID, "it moves the pH: name it under \"from\" when a test calls for it"})
			continue
		}
		c.addOffer(m)
	}
	c.checkLimits(materials)
}

// addOffer takes a material when what it counts for is known of every wanted nutrient.
func (c *computation) addOffer(m *garden.Material) {
	o := offer{material: m, counts: map[reference.Nutrient]count{}}
	useful := false
	for _, b := range c.wanted() {
		counted, why := c.counted(m, b.nutrient)
		if why != "" {
			c.left = append(c.left, leftOut{m.ID, why})
			return
		}
		o.counts[b.nutrient] = counted
		useful = useful || counted.value.Typical > 0
	}
	if !useful {
		return
	}
	if cost, ok := m.Price(gram); ok {
		o.price, o.priced = cost.Typical, true
	}
	c.limit(&o)
	o.at = len(c.offers)
	c.offers = append(c.offers, o)
}

// counted returns what a gram of a material counts for: content x the share that is available this season, or
// all of the content where totals are asked for.
func (c *computation) counted(m *garden.Material, n reference.Nutrient) (count, string) {
	content := m.Content(n)
	if !content.Known {
		return count{}, "how much " + n.Name() + " it holds is not known"
	}
	out := count{value: content.Share(), sum: figureText(content) + " %", sources: content.Source}
	if c.count == "total" || content.High == 0 {
		return out, ""
	}
	share := supply.Of(c.pass.Ref, m, n, supply.Season, supply.Celsius)
	if !share.Known {
		return count{}, share.Road
	}
	out.value = units.SomeShare(units.Contain(units.Contain(gram, content.Share()), share.Value))
	out.sum += fmt.Sprintf(" x %s available this season (%s)", shareText(share.Value), share.Road)
	out.sources = care.Keys(content.Source, share.Sources)
	return out, ""
}

func shareText(s units.SomeShare) string {
	if s.Low == s.High {
		return view.Exact(s.Typical)
	}
	return fmt.Sprintf("%s (%s)", view.Exact(s.Typical), view.Span(s.Low, s.High))
}
