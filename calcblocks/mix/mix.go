// Package mix computes the kind "mix": a potting mix from its parts by volume, with what to buy, what it
// weighs, what air and water it holds, at which pH it starts and what the amendments in it bring.
package mix

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

// Kind is the kind "mix".
var Kind = block.Kind{Name: "mix", Doc: doc, Parse: parse}

// mix is the block as the author wrote it.
type mix struct {
	at         *form.Node
	title      string
	make       units.Volume // in the pots, firmed
	parts      []part
	lime       []addition
	amendments []addition
}

// A part is a component with its number of parts by volume.
type part struct {
	name  string
	key   *form.Node
	parts *big.Rat
}

// An addition is an amendment with its amount for the whole batch, or its rate per volume of mix.
type addition struct {
	id     string
	at     *form.Node
	amount units.Amount
	rate   *units.Rate // nil = amount
	text   string      // as the author wrote it
}

// usualLime is what "lime" means where the author names no kind.
const usualLime = "dolomitic-lime"

func parse(n *form.Node) block.Block {
	m := n.Fields("title", "make", "parts", "lime", "amendments")
	x := &mix{at: n}
	x.title, _ = m.Get("title").Text()
	if v := m.Need("make", "write how much mix the pots take, such as \"make: 120 L\""); v != nil {
		x.make, _ = form.Value(v, v.Values().Volume)
	}
	x.readParts(m.Need("parts", "write the parts by volume, such as \"parts: {peat: 3, compost: 1, perlite: 1}\""))
	x.readLime(m.Get("lime"))
	if v := m.Get("amendments"); v != nil {
		x.amendments = readAdditions(v)
	}
	return x
}

func (x *mix) readParts(n *form.Node) {
	if n == nil {
		return
	}
	for _, e := range n.Mapping().Entries {
		if parts, ok := form.Value(e.Value, readParts); ok {
			x.parts = append(x.parts, part{e.Name, e.Key, parts})
		}
	}
	if n.IsMapping() && len(n.Mapping().Entries) == 0 {
		n.Fault("no-parts", "write one component a line, such as \"peat: 3\"", "the parts are empty")
	}
}

var (
	partsText  = regexp.MustCompile(`^(?:(\d+) )?(\d+(?:\.\d+)?|[1-9]\d*/[1-9]\d*)$`)
	partsShare = regexp.MustCompile(`^(\d+(?:\.\d+)?) *%$`)
)

// readParts reads a number of parts: 3, 0.5, 1/2, 1 1/2, or percents, which are parts of a hundred.
func readParts(text string) (*big.Rat, error) {
	hint := "write a number of parts by volume, such as 3 or 1/2"
	if m := partsShare.FindStringSubmatch(text); m != nil {
		text = m[1]
	}
	m := partsText.FindStringSubmatch(text)
	if m == nil || len(text) > 20 {
		return nil, units.Faultf(0, "bad-parts", hint, "%q is not a number of parts", text)
	}
	r, ok := new(big.Rat).SetString(m[2])
	if !ok {
		return nil, units.Faultf(0, "bad-parts", hint, "%q is not a number of parts", text)
	}
	if m[1] != "" {
		whole, _ := new(big.Rat).SetString(m[1]) // digits
		r.Add(r, whole)
	}
	if r.Sign() == 0 {
		return nil, units.Faultf(0, "bad-parts", "leave the line out, or write more than 0", "no parts of something")
	}
	return r, nil
}

// readLime reads "3 g/L", which is of the usual kind, or a kind with its amount.
func (x *mix) readLime(n *form.Node) {
	switch {
	case n == nil:
	case n.IsMapping():
		x.lime = readAdditions(n)
	default:
		if a, ok := readAddition(usualLime, n, n); ok {
			x.lime = []addition{a}
		}
	}
}

func readAdditions(n *form.Node) []addition {
	var out []addition
	for _, e := range n.Mapping().Entries {
		if a, ok := readAddition(e.Name, e.Key, e.Value); ok {
			out = append(out, a)
		}
	}
	return out
}

// aRate tells "2 tbsp/gal" and "3 g per L" from "1/2 cup": letters stand before what divides.
var aRate = regexp.MustCompile(`(?i)[a-z] */|\sper\s`)

func readAddition(id string, at, value *form.Node) (addition, bool) {
	a := addition{id: id, at: at, text: value.Raw()}
	if aRate.MatchString(value.Raw()) {
		rate, ok := form.Value(value, value.Values().Rate)
		a.rate = &rate
		return a, ok
	}
	amount, ok := form.Value(value, value.Values().Amount)
	a.amount = amount
	return a, ok
}

// quantities returns the low and the high amount for so much mix in the pots, which is ratio times what the
// author wrote the block for. A rate is of the mix, an amount of the whole batch.
func (a addition) quantities(mix units.Volume, ratio *big.Rat) [2]units.Quantity {
	if a.rate != nil {
		q := units.Quantity{Weighed: a.rate.Weighed}
		if q.Weighed {
			q.Mass = units.Need(a.rate.Mass, mix)
		} else {
			q.Volume = units.NeedVolume(a.rate.Volume, mix)
		}
		return [2]units.Quantity{q, q}
	}
	var out [2]units.Quantity
	for i, q := range []units.Quantity{a.amount.Low, a.amount.High} {
		out[i] = units.Quantity{Weighed: q.Weighed, Mass: q.Mass.Times(ratio), Volume: q.Volume.Times(ratio)}
	}
	return out
}

func (a addition) weighed() bool {
	if a.rate != nil {
		return a.rate.Weighed
	}
	return a.amount.Low.Weighed
}
