package swap

import (
	"fmt"
	"math"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/substitute"
	"trug/calcblocks/kit/view"
)

// purposeName is what is kept the same, in words.
func purposeName(p reference.Nutrient) string {
	if p == substitute.Lime {
		return "liming effect"
	}
	return p.Name()
}

// what names what is kept the same as far as it counts.
func (c *computation) what() string {
	switch c.same {
	case substitute.Lime:
		return "lime equivalent (as CaCO3)"
	case reference.Ca, reference.Mg:
		return c.same.Name()
	}
	return c.same.Name() + " that becomes available this season"
}

func overText(m *garden.Material, grams, most float64) string {
	return fmt.Sprintf("%s g of %s is over its usual most for this mix, %s g", view.Number(grams), care.InWords(m), view.Number(most))
}

// worthTelling is the grams, and the part of what is swapped, below which a change is not told.
const worthTelling = 0.05

// along lists what comes along, missing what goes missing: "1.2 g Mg, 2.5 g S".
func (c *computation) along(o option) string { return c.changes(o, 1) }

func (c *computation) missing(o option) string { return c.changes(o, -1) }

func (c *computation) changes(o option, sign float64) string {
	var out []string
	for _, n := range reference.Nutrients {
		change := o.effects.Change[n]
		if n != c.same && change.Known && sign*change.Value >= worthTelling {
			out = append(out, view.Number(sign*change.Value)+" g "+n.Symbol())
		}
	}
	return strings.Join(out, ", ")
}

// unknown names the nutrients of which it is not known what changes.
func unknown(o option) []string {
	var out []string
	for _, n := range reference.Nutrients {
		if !o.effects.Change[n].Known {
			out = append(out, n.Symbol())
		}
	}
	return out
}

// phText says what a swap does to the pH: the lime equivalent that comes or goes.
func phText(c substitute.Change) string {
	switch {
	case !c.Known:
		return "not known"
	case math.Abs(c.Value) < 0.5:
		return "as before"
	case c.Value > 0:
		return "up: " + view.Number(c.Value) + " g more CaCO3"
	}
	return "down: " + view.Number(-c.Value) + " g less CaCO3"
}

// saltText compares by salt index.
func saltText(c substitute.Change) string {
	switch {
	case !c.Known:
		return "not known"
	case math.Abs(c.Value) < 0.1:
		return "as before"
	case c.Value > 0:
		return "more"
	}
	return "less"
}

func (c *computation) costText(o option) string {
	cost := o.effects.Brings.Cost
	if !cost.Known {
		return "no price"
	}
	text := fmt.Sprintf("%.2f", cents(cost.Value.Typical))
	if change := o.effects.Cost; change.Known && math.Abs(change.Value) >= 0.5 {
		text += fmt.Sprintf(" (%+.2f)", cents(change.Value))
	}
	return text
}

// cents rounds minor units once, at the end.
func cents(x float64) float64 { return math.Round(x) / 100 }
