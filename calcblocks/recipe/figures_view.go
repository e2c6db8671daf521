package recipe

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// figuresView arranges what judges the amendments as a whole.
func (c *computation) figuresView(out combo) view.Figures {
	low, high := out.ends[0], out.ends[1]
	f := view.Figures{Title: "Worth knowing"}
	f.Rows = append(f.Rows,
		view.Figure{Label: "Blend, as a label would say", Value: blendSpan(low, high), Note: "N-P2O5-K2O, percent"},
		view.Figure{Label: "C:N of the amendments", Value: sumView(low.CToN, high.CToN), Note: without(high.CToN.Missing)},
		view.Figure{Label: "Lime equivalent", Value: sumView(low.Lime, high.Lime) + unitIf(high.Lime.Known, " g CaCO3"), Note: c.withoutTop(high.Lime.Missing)},
		view.Figure{Label: "Salt added, estimate", Value: sumView(out.salt[0], out.salt[1]) + unitIf(out.salt[1].Known, " mS/cm"), Note: c.withoutTop(out.salt[1].Missing)},
		view.Figure{Label: "Wait", Value: waitText(out.sow, out.plant)},
		view.Figure{Label: "Cost", Value: c.costText(low.Cost, high.Cost), Note: without(high.Cost.Missing)},
	)
	return f
}

// withoutTop says what a figure leaves out: materials that lack it, and the compost on top, whose salt and lime
// are those of its lot.
func (c *computation) withoutTop(missing []string) string {
	if c.compost == nil {
		return without(missing)
	}
	return without(append(slices.Clone(missing), "the compost on top"))
}

func unitIf(known bool, unit string) string {
	if known {
		return unit
	}
	return ""
}

func sumView[T quantity](low, high dose.Sum[T]) string {
	if !high.Known {
		return "not known"
	}
	return "about " + view.Span(units.SomeMass(low.Value).Typical, units.SomeMass(high.Value).Typical)
}

func without(missing []string) string {
	if len(missing) == 0 {
		return ""
	}
	return "without " + strings.Join(missing, ", ")
}

// blendSpan prints the analyses of both ends of the amounts: more of one material alone is another blend.
func blendSpan(low, high dose.Totals) string {
	a, b := blendText(low), blendText(high)
	if a == b {
		return a
	}
	return a + " to " + b
}

// blendText prints the analysis of the blend, with "?" for a share that one of its materials does not tell.
func blendText(t dose.Totals) string {
	var out []string
	for _, n := range []reference.Nutrient{reference.N, reference.P2O5, reference.K2O} {
		if len(t.Added[n].Missing) > 0 {
			out = append(out, "?")
			continue
		}
		out = append(out, view.Number(100*t.Added[n].Value.Typical/t.Mass.Typical))
	}
	return strings.Join(out, "-")
}

func waitText(sow, plant float64) string {
	if sow == 0 {
		return "no need to wait"
	}
	return fmt.Sprintf("%s weeks before sowing, %s before planting", view.Number(sow), view.Number(plant))
}

func (c *computation) costText(low, high dose.Sum[units.SomeMoney]) string {
	if !high.Known {
		return "no price known"
	}
	currency := c.pass.Garden.Handbook.Currency
	a, b := moneyText(low), moneyText(high)
	if a == b {
		return "about " + a + " " + currency
	}
	return "about " + a + " to " + b + " " + currency
}

// moneyText prints a sum of money as its data has it, so that both round a tie alike.
func moneyText(s dose.Sum[units.SomeMoney]) string { return fmt.Sprintf("%.2f", dose.Money(s)) }
