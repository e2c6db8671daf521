package recipe

import (
	"fmt"
	"math"
	"strings"

	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/need"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// nitrogenView tells by when the nitrogen becomes available, and how much of the crop's needs is met.
func (c *computation) nitrogenView(s *scaled, out supplied) view.Figures {
	f := view.Figures{Title: "Nitrogen that the crop can take up"}
	for _, at := range supply.Times {
		low, high := out.nitrogen[at][0], out.nitrogen[at][1]
		f.Rows = append(f.Rows, view.Figure{Label: timeText(at), Value: gramsText(low, high), Note: rangeText(low, high)})
	}
	if sum := out.nitrogen[supply.Season]; c.wanted != nil && c.wanted.rated && sum[1].Known {
		f.Rows = append(f.Rows, view.Figure{
			Label: "That is, per litre of mix", Value: "about " + view.Span(sum[0].Value.Typical/s.litres[0], sum[1].Value.Typical/s.litres[1]) + " g",
			Note: fmt.Sprintf("a %s feeder has %s g", c.wanted.class.Name, view.Span(c.wanted.class.Low, c.wanted.class.High)),
		})
	}
	if met := c.metText(s, out); met != "" {
		f.Rows = append(f.Rows, view.Figure{Label: "Share of the need", Value: met, Note: c.metNote()})
	}
	return f
}

// metText names the percent of each need that is met: at the typical figures, then by their ranges.
func (c *computation) metText(s *scaled, out supplied) string {
	var all []string
	for _, n := range need.Nutrients {
		if met, known := c.met(s, out, n); known && met[1].Known {
			all = append(all, n.Symbol()+" "+percentText(met))
		}
	}
	return strings.Join(all, ", ")
}

// percentText prints a share in whole percents, as fine as figures from ranges bear: "46 to 51 % (23 to 100)".
func percentText(met [2]dose.Sum[units.SomeShare]) string {
	low, high := met[0].Value, met[1].Value
	typical, all := wholes(low.Typical, high.Typical), wholes(min(low.Low, high.Low), max(low.High, high.High))
	if typical == all {
		return typical + " %"
	}
	return fmt.Sprintf("%s %% (%s)", typical, all)
}

func wholes(low, high float64) string { return view.Span(math.Round(low), math.Round(high)) }

// metNote says whose need it is, and what stands in brackets.
func (c *computation) metNote() string {
	note := "in brackets by the figures' ranges; see the bars below"
	if c.potted {
		return "of " + plants(c.plants) + "; " + note
	}
	return note
}

func timeText(at supply.When) string {
	return map[supply.When]string{supply.Week2: "After 2 weeks", supply.Week8: "After 8 weeks", supply.Season: "Over the season"}[at]
}

func gramsText(low, high dose.Sum[units.SomeMass]) string {
	if !high.Known {
		return "not known"
	}
	return "about " + view.Span(low.Value.Typical, high.Value.Typical) + " g"
}

// rangeText names the range by the figures, and what lacks one.
func rangeText(low, high dose.Sum[units.SomeMass]) string {
	if !high.Known {
		return without(high.Missing)
	}
	text := view.Span(min(low.Value.Low, high.Value.Low), max(low.Value.High, high.Value.High)) + " g by the figures' ranges"
	if more := without(high.Missing); more != "" {
		text += ", " + more
	}
	return text
}

// bars compares the need with what the amendments make available over the season, both times a factor.
func (c *computation) bars(s *scaled, out supplied, factor float64, unit string) view.Bars {
	b := view.Bars{Title: "What they give over the season, against the need", Unit: unit}
	for _, n := range need.Nutrients {
		g, known := c.needIn(s, n)
		if !known {
			continue
		}
		sum := out.season[n]
		row := view.Bar{Label: n.Symbol(), Need: &view.Band{Low: g[0].Low * factor, High: g[1].High * factor}}
		if sum[1].Known {
			row.Low = max(min(sum[0].Value.Low, sum[1].Value.Low), 0) * factor
			row.High = max(sum[0].Value.High, sum[1].Value.High, 0) * factor
		}
		row.Text = c.barText(s, n, sum[1])
		b.Rows = append(b.Rows, row)
	}
	return b
}

// barText says what else there is: a figure that lacks, and what the compost adds.
func (c *computation) barText(s *scaled, n reference.Nutrient, sum dose.Sum[units.SomeMass]) string {
	switch {
	case !sum.Known:
		return "not known"
	case len(sum.Missing) > 0:
		return without(sum.Missing)
	case s.compost == nil:
		return ""
	}
	extra := s.compost.supplied.season[n]
	if !extra[1].Known {
		return ""
	}
	return "compost adds " + view.Span(extra[0].Value.Typical, extra[1].Value.Typical)
}

// needText says how the need was found, or why there is none. What in the recipe would bring it is a remark of the proof:
// it is for the author.
func (c *computation) needText() string {
	if c.wanted == nil {
		return "The recipe names no crop, so this is not compared with what a crop needs."
	}
	name := c.cropName()
	if c.plants == 0 {
		text := "The recipe does not say how many plants there are, so this is not compared with what " + name + " takes up"
		if c.wanted.byRate {
			text += ": nitrogen alone is compared, with what the crop's class takes from each litre of mix"
		}
		return text + "."
	}
	text := fmt.Sprintf("The need is that of %s, %s in %s L: what the plants take up, and more, since they catch about %s %% of what becomes available.",
		name, plants(c.plants), view.Number(c.mix.Float()/1000), view.Number(100*need.Recovery(c.pass.Ref).Typical))
	if c.compost != nil {
		text += " The compost is counted apart."
	}
	return text + " Old mix is not counted: only a test tells what it still holds."
}

// cropName returns the crop as it stands in a sentence: "tomato" for "Tomato, indeterminate".
func (c *computation) cropName() string {
	name, _, _ := strings.Cut(c.cropOK.Name, ",")
	return view.Small(name)
}
