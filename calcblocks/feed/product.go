package feed

import (
	"math/big"
	"regexp"
	"slices"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
)

// product is what the author says of the product: an id, or its label.
type product struct {
	at      *form.Node
	id      string // of the cupboard or the reference, "" for a label
	name    string
	label   map[reference.Nutrient]*big.Rat // shares
	liquid  *bool                           // nil = not told
	density *units.SomeDensity              // nil = not told
}

var (
	labelText   = regexp.MustCompile(`^(\d+(?:\.\d+)?) ?[-–] ?(\d+(?:\.\d+)?) ?[-–] ?(\d+(?:\.\d+)?)$`)
	percentText = regexp.MustCompile(`^(\d{1,3}(?:\.\d+)?)(?: ?%)?$`)
)

// readProduct reads the product; block is the whole block, where form and density may stand too.
func readProduct(n *form.Node, block form.Mapping) product {
	p := product{at: n, name: "The feed"}
	switch {
	case n == nil:
	case n.IsMapping():
		m := n.Fields("name", "label", "n", "p2o5", "k2o", "ca", "mg", "s", "form", "density", "cup weighs")
		if v := m.Get("name"); v != nil {
			p.name, _ = v.Text()
		}
		p.readLabel(n, m)
		p.readForm(m)
	default:
		p.readShort(n)
	}
	p.readForm(block)
	return p
}

// readShort reads "5-1-1" or an id.
func (p *product) readShort(n *form.Node) {
	text, ok := n.Text()
	switch {
	case !ok:
	case labelText.MatchString(text):
		p.label, _ = form.Value(n, threeNumbers)
		p.name = text
		p.check(n)
	default:
		p.id = text
	}
}

// readLabel reads label: 5-1-1, label: {n: 5, ..}, or the nutrients beside the other keys.
func (p *product) readLabel(n *form.Node, m form.Mapping) {
	p.label = map[reference.Nutrient]*big.Rat{}
	from := m
	switch label := m.Get("label"); {
	case label == nil:
	case label.IsMapping():
		from = label.Fields("n", "p2o5", "k2o", "ca", "mg", "s")
	default:
		if three, ok := form.Value(label, threeNumbers); ok {
			p.label = three
		}
	}
	written := false
	for _, nutrient := range reference.Nutrients {
		if v := from.Get(string(nutrient)); v != nil {
			written = true
			if share, ok := form.Value(v, percent); ok {
				p.label[nutrient] = share
			}
		}
	}
	if label := m.Get("label"); !written && (label == nil || label.IsMapping()) {
		n.Fault("missing-key", "write what the bag says, such as \"label: {n: 5, p2o5: 1, k2o: 1}\"", "the label of the product is missing")
	}
	p.check(n)
}

// check reports a label that adds up to more than the whole.
func (p *product) check(n *form.Node) {
	sum := new(big.Rat)
	for _, nutrient := range reference.Nutrients {
		if share := p.label[nutrient]; share != nil {
			sum.Add(sum, share)
		}
	}
	if sum.Cmp(big.NewRat(1, 1)) > 0 {
		n.Fault("label-over-100", "check the figures against the bag", "the label adds up to %s %%, more than the whole", new(big.Rat).Mul(sum, big.NewRat(100, 1)).FloatString(1))
	}
}

// readForm reads form, density and the weighed cup.
func (p *product) readForm(m form.Mapping) {
	if v := m.Get("form"); v != nil {
		if liquid, ok := form.Value(v, readForm); ok {
			p.liquid = &liquid
		}
	}
	if v := m.Get("density"); v != nil {
		p.density, _ = form.Value(v, func(text string) (*units.SomeDensity, error) { return readDensity(v.Values(), text) })
	}
	if v := m.Get("cup weighs"); v != nil {
		if p.density != nil {
			v.Fault("density-and-cup", "keep one of the two", "\"density\" and \"cup weighs\" both say how heavy it is")
			return
		}
		if mass, ok := form.Value(v, v.Values().Mass); ok {
			d := units.Density(mass, v.Values().Set.Cup())
			p.density = &d
		}
	}
}

func readForm(text string) (liquid bool, err error) {
	switch text {
	case "dry", "liquid":
		return text == "liquid", nil
	}
	return false, units.Faultf(0, "bad-form", "write \"dry\" or \"liquid\"", "%q is not a form of product", text)
}

// readDensity reads "1.15 kg/L", "1.15 g/mL" or "9.6 lb/gal". Between 0.1 and 3 g/mL lies every product of the
// trade; outside, a unit is wrong.
func readDensity(values units.Parser, text string) (*units.SomeDensity, error) {
	const hint = "write it like \"1.15 kg/L\", or weigh a cup: \"cup weighs: 272 g\""
	rate, err := values.Rate(text)
	if fault, ok := err.(*units.Fault); ok && fault != nil && fault.Code != "no-rate" {
		fault.Hints = []string{hint}
		return nil, fault
	}
	d := rate.Mass.Float() / 1000
	if !rate.Weighed || d < 0.1 || d > 3 {
		return nil, units.Faultf(0, "bad-density", hint, "%q is not a density of a feed", text)
	}
	return &units.SomeDensity{Low: d, Typical: d, High: d}, nil
}

func threeNumbers(text string) (map[reference.Nutrient]*big.Rat, error) {
	m := labelText.FindStringSubmatch(text)
	if m == nil {
		return nil, units.Faultf(0, "bad-label", "write N-P2O5-K2O as the bag says, such as \"5-1-1\"", "%q is not a label", text)
	}
	out := map[reference.Nutrient]*big.Rat{}
	for i, nutrient := range []reference.Nutrient{reference.N, reference.P2O5, reference.K2O} {
		share, err := percent(m[i+1])
		if err != nil {
			return nil, err
		}
		out[nutrient] = share
	}
	return out, nil
}

func percent(text string) (*big.Rat, error) {
	m := percentText.FindStringSubmatch(text)
	if m != nil {
		r, _ := new(big.Rat).SetString(m[1])
		if r.Cmp(big.NewRat(100, 1)) <= 0 {
			return r.Mul(r, big.NewRat(1, 100)), nil
		}
	}
	return nil, units.Faultf(0, "bad-percent", "write the percent as the bag says, such as 2.5", "%q is not a percent from 0 to 100", text)
}

// content is a share of the product that is a nutrient, as far as it is known.
type content struct {
	known   bool
	share   units.SomeShare
	exact   *big.Rat // the typical share, as a decision rests on it
	sources []string
}

// resolve finds a product that is named by its id and reports one that nobody knows.
func (c *computation) resolve() bool {
	if c.product.at == nil {
		return false
	}
	if c.product.id == "" {
		c.own = []sources.Entry{ownLabel(c)}
		c.name = c.product.name
		return len(c.product.label) > 0
	}
	m, known := c.pass.Garden.Material(c.product.id)
	if !known {
		d := diag.Errorf(c.product.at.At(), "unknown-product", "unknown product %q", c.product.id)
		if near := diag.Closest(c.product.id, c.pass.Garden.MaterialIDs()); near != "" {
			d = d.Hint("did you mean %q?", near)
		} else {
			d = d.Hint("write the label, such as \"5-1-1\", or an id of the cupboard")
		}
		c.pass.Report(d)
		return false
	}
	c.material, c.name = m, m.Name
	return true
}

// contains returns the share of the product that is a nutrient.
func (c *computation) contains(n nutrient) content {
	if c.material != nil {
		f := c.material.Content(n.label)
		if !f.Known {
			return content{}
		}
		share := units.SomeShare(f.Share().Scale(n.factor))
		return content{true, share, decimal(share.Typical), f.Source}
	}
	share := c.product.label[n.label]
	if share == nil {
		return content{}
	}
	exact := share
	if n.factor != 1 {
		exact = new(big.Rat).Mul(share, decimal(n.factor))
	}
	x, _ := exact.Float64()
	return content{true, units.SomeShare{Low: x, Typical: x, High: x}, exact, keysOf(c.own)}
}

func keysOf(entries []sources.Entry) []string {
	var out []string
	for _, e := range entries {
		out = append(out, e.Key)
	}
	return out
}

// isLiquid says whether the product is one; a material of the reference is dry unless its name says otherwise.
func (c *computation) isLiquid() bool { return c.product.liquid != nil && *c.product.liquid }

// density returns the density as far as it is known, with its sources.
func (c *computation) density() (units.SomeDensity, []string, bool) {
	if c.product.density != nil {
		return *c.product.density, keysOf(c.own), true
	}
	if c.material != nil && !c.isLiquid() {
		if f := c.material.Density(); f.Known {
			return f.Density(), f.Source, true
		}
	}
	return units.SomeDensity{}, nil, false
}

// soluble says whether a material of the reference is a salt that dissolves: it carries that hazard, has a
// salt index and holds no carbon.
func soluble(m *garden.Material) bool {
	return slices.Contains(m.Hazards(), "soluble-salt") && !m.CToN().Known && m.SaltIndex().Known
}
