package feed

import (
	"math/big"
	"strconv"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/solution"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
)

// computation carries one Compute. What the author asked for stays exact; index 0 is the low end of a range,
// 1 the high one, equal for one strength.
type computation struct {
	*feed
	pass     *block.Pass
	material *garden.Material // nil for a label written here
	own      []sources.Entry
	name     string
	basis    content // the share of the product that the strength counts

	perLitre [2]*big.Rat // mg of product in a litre of feed
	can      *units.Volume
	canText  string                           // as the author wrote it, "" for a container that a reader asked for
	spoons   map[units.Set][2]measure.Measure // nil without a density or a can
}

// Compute computes one feed.
func (f *feed) Compute(p *block.Pass) block.Result {
	c := &computation{feed: f, pass: p, can: f.can, canText: f.canText}
	if !c.resolve() || f.strength == nil || !c.askedCan() || !c.dissolve() {
		return block.Result{Title: "Feed"}
	}
	c.scoop()
	return c.result()
}

func ownLabel(c *computation) sources.Entry {
	return care.Own(c.pass.Garden, c.product.at.At(), c.product.name+": label")
}

// askedCan takes the container that a reader asked for as the can.
func (c *computation) askedCan() bool {
	pot, asked, ok := c.pass.Asked()
	if asked && ok {
		litres, _ := pot.Litres()
		v := units.Millilitres(litres * 1000)
		c.can, c.canText = &v, ""
	}
	return ok || !asked
}

// dissolve finds the product in a litre: strength over the share of the nutrient.
func (c *computation) dissolve() bool {
	n := c.strength.nutrient
	c.basis = c.contains(n)
	if !c.basis.known || c.basis.exact.Sign() <= 0 {
		d := diag.Errorf(c.strength.at.At(), "no-such-nutrient", "%q cannot be reached: %s has no %s on its label", c.strength.at.Raw(), c.name, n.label.Symbol())
		c.pass.Report(d.Hint("set the strength by a nutrient that the product holds"))
		return false
	}
	for i, wanted := range []*big.Rat{c.strength.low, c.strength.high} {
		c.perLitre[i] = solution.Product(wanted, c.basis.exact)
	}
	if c.perLitre[1].Cmp(big.NewRat(1000000, 1)) > 0 {
		d := diag.Errorf(c.strength.at.At(), "too-strong", "%q is more than the product itself holds", c.strength.at.Raw())
		c.pass.Report(d.Hint("write mg in a litre of water: liquid feed is 50 to 250 mg/L N"))
		return false
	}
	return true
}

// decimal returns a float as the decimal that it prints as, exactly.
func decimal(x float64) *big.Rat {
	r, _ := new(big.Rat).SetString(strconv.FormatFloat(x, 'g', -1, 64))
	return r
}

// exactly returns r base units of the dimension of a sample.
func exactly[D any](_ units.Of[D], r *big.Rat) units.Of[D] { return units.Exactly[D](r) }

var perGram = big.NewRat(1, 1000)

// grams returns the product for a volume of feed at one end.
func (c *computation) grams(v units.Volume, end int) units.Mass {
	litres := new(big.Rat).Quo(v.Rat(), big.NewRat(1000, 1))
	mg := solution.In(litres, c.perLitre[end])
	return exactly(units.Mass{}, mg.Mul(mg, perGram))
}

// hundredGallons is the volume that growers in the United States reckon by.
var hundredGallons = func() units.Volume {
	v, err := units.Parser{Set: units.US}.Volume("100 gal")
	if err != nil {
		panic(err) // a constant
	}
	return v
}()

var ounce = func() units.Mass {
	m, err := units.Parser{Set: units.US}.Mass("1 oz")
	if err != nil {
		panic(err)
	}
	return m
}()

// ounces returns the product for 100 US gallons at one end.
func (c *computation) ounces(end int) float64 {
	x, _ := c.grams(hundredGallons, end).Over(ounce).Float64()
	return x
}

// reached returns mg/L of a nutrient at one end of the strength; ok is false where the label does not tell.
func (c *computation) reached(n nutrient, end int) (units.SomeShare, bool) {
	in := c.contains(n)
	perLitre, _ := c.perLitre[end].Float64()
	return units.SomeShare(in.share.Scale(perLitre)), in.known
}

// stockPerLitre returns grams of product in a litre of stock at one end.
func (c *computation) stockPerLitre(end int) float64 {
	x, _ := new(big.Rat).Mul(solution.Stock(c.perLitre[end], c.injector), perGram).Float64()
	return x
}

// stockGrams returns the product for the stock.
func (c *computation) stockGrams(end int) units.Mass {
	m := c.grams(*c.stock, end)
	return m.Times(c.injector)
}

// scoop turns the product for a can into spoons; it needs a density.
func (c *computation) scoop() {
	d, _, known := c.density()
	if !known || c.can == nil {
		return
	}
	c.spoons = map[units.Set][2]measure.Measure{}
	hb := c.pass.Garden.Handbook
	for _, set := range hb.Sets() {
		var ends [2]measure.Measure
		for i := range ends {
			ends[i] = measure.Nearest(c.millilitres(d, i), set, hb.Rounding)
		}
		c.spoons[set] = ends
	}
}

// millilitres returns the typical volume of the product for a can.
func (c *computation) millilitres(d units.SomeDensity, end int) units.Volume {
	exact := new(big.Rat).Quo(c.grams(*c.can, end).Rat(), decimal(d.Typical))
	return exactly(units.Volume{}, exact)
}

// spooned returns mg/L of a nutrient that the spoons of the main set give.
func (c *computation) spooned(n nutrient, end int) (units.SomeShare, bool) {
	in := c.contains(n)
	if !in.known || c.spoons == nil { // there are spoons where the density is known
		return units.SomeShare{}, false
	}
	d, _, _ := c.density()
	m := units.Contain(units.Weigh(c.spoons[c.pass.Garden.Handbook.Main][end].Volume, d), in.share)
	return units.SomeShare(m.Scale(1e6 / c.can.Float())), true // g in mL to mg/L
}

// salt returns the rise of the water's EC, mS/cm, as if all of the product were dissolved salt: 1.4 to 1.6 for
// each g/L (judging.yaml, salinity_use, from memory). Of a liquid or a meal only a part is, so that the low
// end is then open to 0.
func (c *computation) salt(end int) units.SomeEC {
	per := c.pass.Ref.Must("judging", "salinity_use", "ec_per_gram_salt_in_water")
	g, _ := new(big.Rat).Mul(c.perLitre[end], perGram).Float64()
	out := units.SomeEC{Low: per.Low, Typical: per.Typical, High: per.High}.Scale(g)
	if !c.allSalt() {
		out.Low = 0
		out.Typical = out.High
	}
	return out
}

// allSalt says whether the whole product is taken to be dissolved salt: a dry product whose label is written here as a
// feed's, or one of the salts of the reference. Of a blend of the cupboard nobody tells.
func (c *computation) allSalt() bool {
	return !c.isLiquid() && (c.material == nil || soluble(c.material))
}

// staysSolid says whether the product is a dry material that the reference knows and that is no salt: a meal, a rock, a
// lime or a compost.
func (c *computation) staysSolid() bool {
	return !c.isLiquid() && c.material != nil && c.material.Ref != nil && !soluble(c.material)
}
