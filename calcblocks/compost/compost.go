// Package compost computes the kind "compost": carbon, nitrogen and water of a heap, how much of one material
// brings it to a goal, and what the materials take from a mix, or give it, when they rot there.
package compost

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

// Kind is the kind "compost".
var Kind = block.Kind{Name: "compost", Doc: doc, Parse: parse}

// compost is the block as the author wrote it.
type compost struct {
	at       *form.Node
	heap     []*entry
	goal     float64 // C:N, 0 = none
	goalAt   *form.Node
	moisture float64 // wanted share of water, 0 = none
	adjust   *form.Node
}

func parse(n *form.Node) block.Block {
	m := n.Fields("heap", "wanted", "adjust")
	c := &compost{at: n, adjust: m.Get("adjust")}
	c.readHeap(m.Need("heap", "write the materials below it, such as \"grass-clippings: 10 kg\""))
	c.readWanted(m.Get("wanted"))
	return c
}

// readHeap reads the materials: a mapping by name, or a list whose members name their material.
func (c *compost) readHeap(n *form.Node) {
	switch {
	case n == nil:
	case n.IsList():
		for _, item := range n.Items() {
			name := item.Mapping().Need("material", "write \"material: grass-clippings\" first")
			c.heap = append(c.heap, readEntry(name, name.Raw(), item.Without("material")))
		}
	default:
		for _, e := range n.Mapping().Entries {
			c.heap = append(c.heap, readEntry(e.Key, e.Name, e.Value))
		}
	}
	if n != nil && len(c.heap) == 0 && (n.IsMapping() || n.IsList()) {
		n.Fault("empty-heap", "write the materials below it, such as \"grass-clippings: 10 kg\"", "the heap has no materials")
	}
}

// readWanted reads a C:N, or a mapping of C:N and moisture.
func (c *compost) readWanted(n *form.Node) {
	if n == nil {
		return
	}
	if !n.IsMapping() {
		c.readGoal(n)
		return
	}
	m := n.Fields("c_to_n", "moisture", "adjust")
	if v := m.Get("c_to_n"); v != nil {
		c.readGoal(v)
	}
	if v := m.Get("moisture"); v != nil {
		if s, ok := form.Value(v, v.Values().Share); ok {
			c.moisture = s.Float()
			if c.moisture >= 1 {
				v.Fault("all-water", "write a moisture below 100 %, such as \"55 %\"", "%q leaves nothing dry", v.Raw())
				c.moisture = 0
			}
		}
	}
	if v := m.Get("adjust"); v != nil {
		c.adjust = v
	}
}

func (c *compost) readGoal(n *form.Node) {
	if ratio, ok := form.Value(n, readRatio); ok {
		c.goal, c.goalAt = ratio.Typical, n
		if ratio.Low != ratio.High {
			n.Fault("no-range-here", "write one ratio, such as 30", "a range is not taken here")
		}
	}
}

var ratioText = regexp.MustCompile(`^(\d{1,4}(?:\.\d+)?)(?: ?: ?1)?(?: +to +(\d{1,4}(?:\.\d+)?)(?: ?: ?1)?)?$`)

// readRatio reads "30", "30:1" or "25 to 35". Its error is a *units.Fault.
func readRatio(text string) (units.SomeShare, error) {
	const hint = "write carbon for one of nitrogen, such as 30 or 30:1"
	m := ratioText.FindStringSubmatch(text)
	if m == nil {
		return units.SomeShare{}, units.Faultf(0, "bad-ratio", hint, "%q is not a C:N", text)
	}
	low, high := float(m[1]), float(m[1])
	if m[2] != "" {
		high = float(m[2])
	}
	switch {
	case low <= 0:
		return units.SomeShare{}, units.Faultf(0, "bad-ratio", hint, "%q is not a C:N", text)
	case m[2] != "" && high <= low:
		return units.SomeShare{}, units.Faultf(0, "range-order", "write the lower end first", "%q does not rise", text)
	}
	return units.SomeShare{Low: low, Typical: (low + high) / 2, High: high}, nil
}

// float reads digits that a pattern let through.
func float(text string) float64 {
	r, _ := new(big.Rat).SetString(text)
	x, _ := r.Float64()
	return x
}
