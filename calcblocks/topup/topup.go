// Package topup computes the kind "topup": what comes out of a pot in spring and what goes in, layer by
// layer, from the pot's own shape.
package topup

import (
	_ "embed"
	"slices"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

//go:embed doc.md
var doc string

// Kind is the kind "topup".
var Kind = block.Kind{Name: "topup", Doc: doc, Parse: parse}

// topup is the block as the author wrote it. What was not told is nil.
type topup struct {
	at        *form.Node
	container *form.Node // a pot id, a volume or a shape
	settled   *length
	take      *length
	leave     *length
	fresh     *units.Share
	with      *form.Node // a compost, or the word "mix"
	screened  *units.Share
	rootsLeft bool
	roots     *form.Node
	oldMixTo  *form.Node // a pot id or the word "heap"
}

// length is a length with its place, for faults that only the pot can show.
type length struct {
	cm float64
	at *form.Node
}

func parse(n *form.Node) block.Block {
	m := n.Fields("pot", "container", "settled", "take", "leave", "fresh", "with", "screened", "roots", "old mix to")
	t := &topup{at: n, with: m.Need("with", "name the compost, such as \"with: yard-compost\", or write \"with: mix\""), oldMixTo: m.Get("old mix to")}
	t.container = m.OneOf("write \"pot: blue-tub\" or \"container: round 30 cm top 24 cm base 28 cm deep\"", "pot", "container")
	t.settled = readLength(m.Get("settled"))
	t.take = readLength(m.Get("take"))
	t.leave = readLength(m.Get("leave"))
	t.fresh = readShare(m.Get("fresh"))
	t.screened = readShare(m.Get("screened"))
	t.readRoots(m.Get("roots"))
	if m.Get("take") != nil && m.Get("fresh") != nil {
		d := diag.Errorf(m.Get("fresh").At(), "take-and-fresh", "\"take\" and \"fresh\" both say how much comes out")
		n.Report(d.Hint("keep one of the two").Also(m.Get("take").At(), "take is here"))
	}
	return t
}

func readLength(n *form.Node) *length {
	if n == nil {
		return nil
	}
	l, ok := form.Value(n, n.Values().Length)
	if !ok {
		return nil
	}
	return &length{l.Float(), n}
}

func readShare(n *form.Node) *units.Share {
	if n == nil {
		return nil
	}
	s, ok := form.Value(n, n.Values().Share)
	if !ok {
		return nil
	}
	return &s
}

func (t *topup) readRoots(n *form.Node) {
	if n == nil {
		return
	}
	t.roots = n
	word, ok := form.Value(n, func(s string) (string, error) {
		if slices.Contains([]string{"left", "taken"}, s) {
			return s, nil
		}
		return "", units.Faultf(0, "bad-roots", "write \"left\" or \"taken\"", "%q says nothing about the roots", s)
	})
	t.rootsLeft = ok && word == "left"
}
