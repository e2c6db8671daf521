// Package swap computes the kind "swap": how much of other materials brings as much of what an amount of one
// was wanted for, and what else comes along or goes missing.
package swap

import (
	_ "embed"
	"slices"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/substitute"
	"trug/calcblocks/kit/units"
)

//go:embed doc.md
var doc string

// Kind is the kind "swap".
var Kind = block.Kind{Name: "swap", Doc: doc, Parse: parse}

// swap is the block as the author wrote it.
type swap struct {
	original   *form.Node
	amountAt   *form.Node
	amount     *units.Amount
	amountText string
	same       reference.Nutrient // "" when it could not be read
	sameAt     *form.Node
	from       []*form.Node // nil = the cupboard, and the catalogue beside it
	mix        *form.Node   // container or volume that it goes into; nil = not told
}

func parse(n *form.Node) block.Block {
	m := n.Fields("instead of", "amount", "same", "from", "for")
	s := &swap{mix: m.Get("for")}
	s.original = m.Need("instead of", "name the amendment, such as \"instead of: wood-ash\"")
	if v := m.Need("amount", "write how much of it, such as \"amount: 1/2 cup\""); v != nil {
		s.amountAt, s.amountText = v, v.Raw()
		if a, ok := form.Value(v, v.Values().Amount); ok {
			s.amount = &a
		}
	}
	if v := m.Need("same", "write what it was wanted for: n, p2o5, k2o, ca, mg or lime"); v != nil {
		s.sameAt = v
		s.same, _ = form.Value(v, readPurpose)
	}
	if v := m.Get("from"); v != nil {
		s.from = garden.Among(v, "the cupboard and the catalogue")
	}
	return s
}

func readPurpose(text string) (reference.Nutrient, error) {
	if p := reference.Nutrient(text); slices.Contains(substitute.Purposes, p) {
		return p, nil
	}
	return "", units.Faultf(0, "unknown-word", "write n, p2o5, k2o, ca, mg or lime", "%q cannot be kept the same", text)
}
