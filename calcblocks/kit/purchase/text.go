package purchase

import (
	"fmt"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/view"
)

// ByVolume says whether a material is bought by the litre: its packs are sold so or, where none is known, it is
// a compost.
func (n *Need) ByVolume() bool {
	if !n.Material.Density().Known {
		return false
	}
	for _, p := range n.Material.Packs {
		if p.Holds.Weighed {
			return false
		}
	}
	return len(n.Material.Packs) > 0 || n.Material.Class() == "compost"
}

// Amount prints a mass as the material is bought: litres loose, or grams, from a kilogram on as kilograms.
func (n *Need) Amount(grams float64) string { return n.Between(grams, grams) }

// Between prints a range of masses.
func (n *Need) Between(low, high float64) string {
	switch {
	case n.ByVolume():
		d := 1000 * n.Material.Density().Typical
		return view.Span(low/d, high/d) + " L"
	case high >= 1000:
		return view.Span(low/1000, high/1000) + " kg"
	}
	return view.Span(low, high) + " g"
}

// Sums writes out what is taken in all, pot by pot, and what is left to buy.
func Sums(needs []*Need) []view.WorkingStep {
	var out []view.WorkingStep
	for _, n := range needs {
		out = append(out, n.takes(), n.toBuy())
	}
	return out
}

func (n *Need) takes() view.WorkingStep {
	var terms []string
	for _, t := range n.Takes {
		terms = append(terms, fmt.Sprintf("%s %s", t.Pot, view.Exact(t.Grams[1])))
	}
	sum := fmt.Sprintf("%s = %s g", strings.Join(terms, " + "), view.Exact(n.Grams[1]))
	if n.Grams[0] != n.Grams[1] {
		sum = "high end: " + sum
	}
	if n.Spread.Low != n.Spread.High && n.Spread.Low != n.Grams[0] {
		sum += fmt.Sprintf("; between %s and %s g by the range of its weight", view.Exact(n.Spread.Low), view.Exact(n.Spread.High))
	}
	return view.WorkingStep{What: n.Material.Name + ", all pots", Sum: sum, Sources: care.Keys(n.Material.Density().Source)}
}

func (n *Need) toBuy() view.WorkingStep {
	sum := fmt.Sprintf("%s g - %s g in stock = %s g", view.Exact(n.Grams[1]), view.Exact(n.Had()), view.Exact(n.ToBuy))
	if n.Stock == nil {
		sum = fmt.Sprintf("%s g; no stock is told", view.Exact(n.ToBuy))
	}
	if n.Stock != nil && n.ToBuy == 0 {
		sum = fmt.Sprintf("%s g in stock are enough for %s g", view.Exact(n.Had()), view.Exact(n.Grams[1]))
	}
	return view.WorkingStep{What: n.Material.Name + ", to buy", Sum: sum}
}
