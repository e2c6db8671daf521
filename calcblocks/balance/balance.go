// Package balance computes the kind "balance": amounts of materials that bring what a crop can take up into
// bands, within every limit, at the least cost, and what the spoons then give.
package balance

import (
	_ "embed"
	"strconv"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/need"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

//go:embed doc.md
var doc string

// Kind is the kind "balance".
var Kind = block.Kind{Name: "balance", Doc: doc, NeedsID: true, Phase: 1, Parse: parse}

// balance is the block as the author wrote it.
type balance struct {
	at      *form.Node
	title   string
	mix     *form.Node // container or volume
	crop    *form.Node
	plants  int
	yield   units.SomeMass // g a plant; zero = not told
	targets []target
	from    []*form.Node // nil = the cupboard
	limits  []limit
	prefer  string // cheapest, closest, fewest
	count   string // available, total
}

// A target is a band that the author asks for, in g or in g per litre of mix.
type target struct {
	nutrient  reference.Nutrient
	low, high float64
	perLitre  bool
	at        *form.Node
}

// A limit is the author's own most of a material: an amount, or a dose per volume of mix.
type limit struct {
	id     string
	key    *form.Node
	value  *form.Node
	amount *units.Quantity
	rate   *units.Rate
}

var fields = []string{"title", "for", "crop", "plants", "yield", "targets", "from", "limits", "prefer", "count"}

func parse(n *form.Node) block.Block {
	m := n.Fields(fields...)
	b := &balance{at: n, title: "Balanced amounts", mix: m.Need("for", "write the volume of mix or the container, such as \"for: 60 L\""), crop: m.Get("crop")}
	if t := m.Get("title"); t != nil {
		b.title, _ = t.Text()
	}
	b.prefer = word(m.Get("prefer"), "cheapest", "closest", "fewest")
	b.count = word(m.Get("count"), "available", "total")
	b.parseCrop(m)
	b.parseTargets(m.Get("targets"))
	if from := m.Get("from"); from != nil {
		b.from = garden.Among(from, "all of the cupboard")
	}
	b.parseLimits(m.Get("limits"))
	return b
}

// word reads one of a few words; the first is the default.
func word(n *form.Node, words ...string) string {
	if n == nil {
		return words[0]
	}
	got, ok := form.Value(n, func(text string) (string, error) {
		for _, w := range words {
			if text == w {
				return w, nil
			}
		}
		return "", units.Faultf(0, "unknown-word", "write "+orList(words), "%q is not a choice here", text)
	})
	if !ok {
		return words[0]
	}
	return got
}

func orList(words []string) string {
	out := strconv.Quote(words[0])
	for i, w := range words[1:] {
		if i == len(words)-2 {
			out += " or " + strconv.Quote(w)
		} else {
			out += ", " + strconv.Quote(w)
		}
	}
	return out
}

func (b *balance) parseCrop(m form.Mapping) {
	if p := m.Get("plants"); p != nil {
		b.plants, _ = form.Value(p, readPlants)
	}
	if y := m.Get("yield"); y != nil {
		b.yield, _ = form.Value(y, func(text string) (units.SomeMass, error) { return readYield(y.Values(), text) })
	}
	switch {
	case b.crop == nil && m.Get("targets") == nil:
		m.Need("crop", "write \"crop: pepper\" with \"plants: 2\", or \"targets\" with a band for each nutrient")
	case b.crop == nil && m.Get("plants") != nil:
		m.Get("plants").Fault("no-crop", "add \"crop: pepper\", or leave it out", "plants need a crop")
	case b.crop == nil && m.Get("yield") != nil:
		m.Get("yield").Fault("no-crop", "add \"crop: pepper\", or leave it out", "a yield needs a crop")
	case b.crop != nil && m.Get("plants") == nil:
		m.Need("plants", "write how many plants share the mix, such as \"plants: 2\"")
	}
}

func readPlants(text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 1000 {
		return 0, units.Faultf(0, "bad-count", "write a whole number of plants, such as 2", "%q is not a number of plants", text)
	}
	return n, nil
}

// readYield reads a mass or a range of masses, what one plant is to bear.
func readYield(p units.Parser, text string) (units.SomeMass, error) {
	a, err := p.Amount(text)
	if err != nil || !a.Low.Weighed {
		m, err := p.Mass(text) // its message asks for a mass
		return m.Certain(), err
	}
	low, high := a.Low.Mass.Float(), a.High.Mass.Float()
	return units.SomeMass{Low: low, Typical: (low + high) / 2, High: high}, nil
}

func (b *balance) parseLimits(n *form.Node) {
	if n == nil {
		return
	}
	for _, e := range n.Mapping().Entries {
		l := limit{id: e.Name, key: e.Key, value: e.Value}
		text := e.Value.Raw()
		if perVolume(text) {
			if r, ok := form.Value(e.Value, e.Value.Values().Rate); ok {
				l.rate = &r
			}
		} else if a, ok := form.Value(e.Value, e.Value.Values().Amount); ok {
			if a.Range {
				e.Value.Fault("no-range-here", "write one amount, such as \"100 g\" or \"1 cup\"", "%q is a range; a limit is one amount", text)
				continue
			}
			l.amount = &a.Low
		}
		if l.rate != nil || l.amount != nil {
			b.limits = append(b.limits, l)
		}
	}
}

// bandNutrients are those that a balance knows.
var bandNutrients = need.Nutrients
