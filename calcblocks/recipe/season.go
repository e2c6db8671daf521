package recipe

import (
	"fmt"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/need"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// A course is the nitrogen of one combination over the weeks, mg per litre of the recipe's own mix.
type course struct {
	*blend
	own      scaled   // the recipe's own mix
	supplied supplied // of that
	weeks    []int
	released []([2]dose.Sum[units.SomeMass]) // by the amendments, at the author's low and high end
	drawn    []units.SomeMass                // by the crop; nil without a need
}

// courses returns the season of every combination, the reader's pick first.
func (c *computation) courses() []course {
	var out []course
	mix := c.mix.Float() / 1000
	ratios := c.ratios([2]float64{mix, mix})
	for _, b := range c.blends {
		one := course{blend: b, weeks: c.weeks(), own: scaled{litres: [2]float64{mix, mix}}}
		var parts [2][]dose.Portion
		for i, r := range c.rows {
			p := c.portion(r.materials[b.picks[i]], r.amounts[b.picks[i]], ratios)
			for e := range 2 {
				parts[e] = append(parts[e], dose.Portion{Material: p.material, Mass: p.ends[e].mass})
			}
		}
		one.supplied = c.supplies(parts)
		one.fill(c, parts, mix)
		out = append(out, one)
	}
	return out
}

func (o *course) fill(c *computation, parts [2][]dose.Portion, mix float64) {
	last := o.weeks[len(o.weeks)-1]
	released := ofBoth(parts, func(p []dose.Portion) []dose.Sum[units.SomeMass] {
		return dose.Released(c.pass.Ref, p, c.celsius, last)
	})
	low, high := released[0], released[1]
	wanted := c.wanted.band(reference.N)
	for _, w := range o.weeks {
		o.released = append(o.released, [2]dose.Sum[units.SomeMass]{scaleSum(low[w], 1000/mix), scaleSum(high[w], 1000/mix)})
		if wanted.Known {
			o.drawn = append(o.drawn, wanted.Need.Scale(need.Drawn(float64(w)/float64(last))*1000/mix))
		}
	}
}

// weeks are those that the chart shows: each at first, when most is released, then every second.
func (c *computation) weeks() []int {
	last := need.Weeks(c.cropOK, supply.SeasonWeeks)
	var out []int
	for w := 0; w <= last; w++ {
		if w <= 4 || w%2 == 0 || w == last {
			out = append(out, w)
		}
	}
	return out
}

// weeksTree is the season of the picked combination, mg of nitrogen per litre of mix.
func weeksTree(all []course) data.Value {
	if len(all) == 0 {
		return data.Null{}
	}
	out := data.List{}
	for i, w := range all[0].weeks {
		drawn := data.Value(data.Null{})
		if all[0].drawn != nil {
			drawn = data.Pair(all[0].drawn[i].Low, all[0].drawn[i].High)
		}
		out = append(out, data.Object{
			{Key: "week", Value: data.Number(w)},
			{Key: "released", Value: spanTree(all[0].released[i][0], all[0].released[i][1])},
			{Key: "drawn", Value: drawn},
		})
	}
	return out
}

// seasonView is what the amendments give against the need, and the release against the demand, for each combination
// of picks. It is in mg per litre, so that it holds for every size.
func (c *computation) seasonView() []view.Part {
	var out view.Variants
	charted := false
	for i, one := range c.season {
		v := view.Variant{With: one.with, Default: i == 0, Label: one.label}
		if bars := c.bars(&one.own, one.supplied, 1e6/c.mix.Float(), perLitre); len(bars.Rows) > 0 {
			v.Parts = append(v.Parts, bars)
		}
		if one.tells() {
			v.Parts, charted = append(v.Parts, one.chart()), true
		}
		if len(v.Parts) > 0 {
			out.Items = append(out.Items, v)
		}
	}
	parts := []view.Part{view.Paragraph{Text: c.needText()}}
	if len(out.Items) > 0 {
		parts = append(parts, out)
	}
	if charted {
		parts = append(parts, view.Paragraph{Text: c.seasonText()})
	}
	return append(parts, view.Working{Title: "Working for every size", Steps: c.common})
}

const perLitre = "mg per litre of mix"

// tells says whether anything is known of its release.
func (o course) tells() bool {
	last := o.released[len(o.released)-1][1]
	return last.Known && last.Value != units.SomeMass{}
}

func (o course) chart() view.Chart {
	out := view.Chart{Title: "Nitrogen over the season", Unit: perLitre, Across: "week"}
	released := view.Line{Label: "released by the amendments"}
	drawn := view.Line{Label: "drawn by the crop"}
	for i, w := range o.weeks {
		out.At = append(out.At, float64(w))
		low, high := o.released[i][0].Value, o.released[i][1].Value
		released.Points = append(released.Points, view.Point{Low: min(low.Low, high.Low), Typical: (low.Typical + high.Typical) / 2, High: max(low.High, high.High)})
		if o.drawn != nil {
			drawn.Points = append(drawn.Points, view.Point{Low: o.drawn[i].Low, Typical: o.drawn[i].Typical, High: o.drawn[i].High})
		}
	}
	out.Lines = []view.Line{released}
	if o.drawn != nil {
		out.Lines = append(out.Lines, drawn)
	}
	return out
}

func (c *computation) seasonText() string {
	text := fmt.Sprintf("Release is worked out for a mix of about %s °C, from the day it is mixed in; in a cold spring it is slower. Compost and old mix are not in it: what old mix still holds only a test can tell.", view.Number(c.celsius))
	if c.wanted.band(reference.N).Known {
		text += " The crop's line is a simple S from planting to the end of its season (derived), not a measured one. Where it climbs above the release, feed or top-dress."
	}
	return text
}
