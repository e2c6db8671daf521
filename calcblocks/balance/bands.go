package balance

import (
	"fmt"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/need"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// bands works out what is wanted of each nutrient: the author's target, else the crop's need, for nitrogen
// else the class of the crop.
func (c *computation) findBands() {
	var needs []need.Band
	if c.cropOK != nil && c.plants > 0 {
		needs = need.Bands(c.pass.Ref, c.cropOK, float64(c.plants), c.yield)
	}
	for i, n := range bandNutrients {
		b := band{nutrient: n, why: "no target for it"}
		switch t, asked := c.target(n); {
		case asked:
			b = c.ofTarget(n, t)
		case needs != nil:
			b = c.ofNeed(needs[i])
		}
		c.bands = append(c.bands, b)
	}
}

func (c *computation) ofTarget(n reference.Nutrient, t target) band {
	by, sum := 1.0, "as asked"
	if t.perLitre {
		by = c.litres
		sum = fmt.Sprintf("%s g/L x %s L = %s g", exactSpan(t.low, t.high), view.Exact(c.litres), exactSpan(t.low*by, t.high*by))
	}
	key := care.Own(c.pass.Garden, t.at.At(), c.title+": target for "+n.Name())
	c.own = append(c.own, key)
	return band{nutrient: n, low: t.low * by, middle: (t.low + t.high) / 2 * by, high: t.high * by, from: "your target", known: true, uptake: sum, sources: []string{key.Key}}
}

func (c *computation) ofNeed(b need.Band) band {
	if b.Known {
		sum := fmt.Sprintf("%d x %s g of yield x %s g/kg / recovery of %s = %s g", c.plants, view.Span(b.Yield.Low, b.Yield.High), view.Span(b.PerKg.Low, b.PerKg.High), figureText(need.Recovery(c.pass.Ref)), exactSpan(b.Need.Low, b.Need.High))
		if b.Nutrient == reference.P2O5 {
			sum += fmt.Sprintf(", at most %s times the uptake", view.Number(need.MostPhosphate(c.pass.Ref).Typical))
		}
		return band{nutrient: b.Nutrient, low: b.Need.Low, middle: b.Need.Typical, high: b.Need.High, from: "what the crop needs", known: true, uptake: sum, sources: b.Sources}
	}
	class, ok := need.ClassOf(c.pass.Ref, c.cropOK)
	if b.Nutrient != reference.N || !ok {
		return band{nutrient: b.Nutrient, why: b.Why}
	}
	sum := fmt.Sprintf("%s feeder: %s g/L x %s L = %s g", class.Name, exactSpan(class.Low, class.High), view.Exact(c.litres), exactSpan(class.Low*c.litres, class.High*c.litres))
	return band{nutrient: b.Nutrient, low: class.Low * c.litres, middle: class.Typical * c.litres, high: class.High * c.litres, from: "the crop's class", known: true, uptake: sum, sources: class.Sources}
}

// wanted lists the bands that are known.
func (c *computation) wanted() []band {
	var out []band
	for _, b := range c.bands {
		if b.known {
			out = append(out, b)
		}
	}
	return out
}

func (c *computation) findCrop() {
	id, ok := c.crop.Text()
	if !ok {
		return
	}
	if crop, known := c.pass.Crop(id, c.crop.At()); known {
		c.cropOK = crop
	}
}

func exactSpan(low, high float64) string {
	if a, b := view.Exact(low), view.Exact(high); a != b {
		return a + " to " + b
	}
	return view.Exact(low)
}

func figureText(f reference.Figure) string {
	if f.Low == f.High {
		return view.Exact(f.Typical)
	}
	return fmt.Sprintf("%s (%s)", view.Exact(f.Typical), view.Span(f.Low, f.High))
}
