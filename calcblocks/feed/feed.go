// Package feed computes the kind "feed": how much of a product goes into a can, a stock or an injector for a
// wanted strength of liquid feed, and what else comes with it.
package feed

import (
	_ "embed"
	"math/big"
	"regexp"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

//go:embed doc.md
var doc string

// Kind is the kind "feed".
var Kind = block.Kind{Name: "feed", Doc: doc, Parse: parse}

// feed is the block as the author wrote it. What was not told is nil.
type feed struct {
	at       *form.Node
	product  product
	strength *strength
	can      *units.Volume
	canText  string
	stock    *units.Volume
	injector *big.Rat // r of 1:r
}

func parse(n *form.Node) block.Block {
	m := n.Fields("product", "form", "density", "cup weighs", "strength", "can", "stock", "injector")
	f := &feed{at: n}
	f.product = readProduct(m.Need("product", "write the label, such as \"product: 5-1-1\", or an id of the cupboard"), m)
	if v := m.Need("strength", "write what the water should hold, such as \"strength: 100 mg/L N\""); v != nil {
		if s, ok := form.Value(v, func(text string) (strength, error) { return readStrength(v.Values(), text) }); ok {
			s.at, f.strength = v, &s
		}
	}
	f.can, f.stock = readVolume(m.Get("can")), readVolume(m.Get("stock"))
	f.canText = m.Get("can").Raw()
	f.readInjector(m)
	return f
}

func readVolume(n *form.Node) *units.Volume {
	if n == nil {
		return nil
	}
	v, ok := form.Value(n, n.Values().Volume)
	if !ok {
		return nil
	}
	return &v
}

func (f *feed) readInjector(m form.Mapping) {
	if v := m.Get("injector"); v != nil {
		if r, ok := form.Value(v, readRatio); ok {
			f.injector = r
		}
		return
	}
	if v := m.Get("stock"); v != nil {
		v.Fault("stock-without-injector", "add \"injector: 1:100\", or leave \"stock\" out", "a stock needs the ratio at which it is thinned")
	}
}

var ratioText = regexp.MustCompile(`^1 ?: ?(\d{1,4}(?:\.\d+)?)$`)

// readRatio reads "1:100". Its error is a *units.Fault.
func readRatio(text string) (*big.Rat, error) {
	m := ratioText.FindStringSubmatch(text)
	if m == nil {
		return nil, units.Faultf(0, "bad-ratio", "write parts of water for one of stock, such as \"1:100\"", "%q is not the ratio of an injector", text)
	}
	r, _ := new(big.Rat).SetString(m[1])
	if r.Cmp(big.NewRat(1, 1)) < 0 {
		return nil, units.Faultf(0, "bad-ratio", "write parts of water for one of stock, such as \"1:100\"", "%q does not thin the stock", text)
	}
	return r, nil
}
