// Package weight computes the kind "weight": how heavy a filled container is, and how hard it presses on
// what it stands on. It never says that a load is safe.
package weight

import (
	_ "embed"
	"strings"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

//go:embed doc.md
var doc string

// Kind is the kind "weight".
var Kind = block.Kind{Name: "weight", Doc: doc, Parse: parse}

// weight is the block as the author wrote it.
type weight struct {
	at        *form.Node
	container *form.Node
	mix       mix
	empty     units.Mass // the empty pot; zero = not told
	plants    units.Mass // plants, stakes and the like
	balcony   bool
}

func parse(n *form.Node) block.Block {
	m := n.Fields("pot", "container", "mix", "empty", "plants", "place")
	w := &weight{at: n, mix: mixes[0]}
	w.container = m.OneOf("write \"pot: blue-tub\" or \"container: round 30 cm top 24 cm base 28 cm deep\"", "pot", "container")
	if v := m.Get("mix"); v != nil {
		if found, ok := form.Value(v, readMix); ok {
			w.mix = found
		}
	}
	if v := m.Get("empty"); v != nil {
		w.empty, _ = form.Value(v, v.Values().Mass)
	}
	if v := m.Get("plants"); v != nil {
		w.plants, _ = form.Value(v, v.Values().Mass)
	}
	w.balcony = readPlace(m.Get("place"))
	return w
}

func readMix(text string) (mix, error) {
	var names []string
	for _, m := range mixes {
		if m.name == text {
			return m, nil
		}
		names = append(names, m.name)
	}
	return mix{}, units.Faultf(0, "unknown-mix", "write one of "+strings.Join(names, ", "), "unknown kind of mix %q", text)
}

// readPlace says whether the pot stands where its load matters; without the key it is taken to.
func readPlace(n *form.Node) bool {
	if n == nil {
		return true
	}
	place, ok := form.Value(n, func(s string) (string, error) {
		if s == "ground" || s == "balcony" {
			return s, nil
		}
		return "", units.Faultf(0, "unknown-place", "write \"balcony\" (also for a roof or a deck) or \"ground\"", "unknown place %q", s)
	})
	return !ok || place == "balcony"
}
