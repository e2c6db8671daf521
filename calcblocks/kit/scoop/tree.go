package scoop

import (
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/view"
)

// Tree returns two ends of an amount as a recipe's "amounts" have them.
func Tree(low, high Scoop, hb garden.Handbook) data.Object {
	measures := data.Object{}
	for _, set := range hb.Sets() {
		measures = append(measures, data.Field{Key: string(set), Value: data.Object{
			{Key: "low", Value: data.TextOrNull(low.Measures[set].Text)}, {Key: "high", Value: data.TextOrNull(high.Measures[set].Text)},
		}})
	}
	ml := data.Value(data.Null{})
	if high.Fill.Typical > 0 {
		ml = data.Pair(low.Fill.Typical, high.Fill.Typical)
	}
	return data.Object{
		{Key: "amendment", Value: data.Text(low.Material.ID)},
		{Key: "measure", Value: measures},
		{Key: "ml", Value: ml},
		{Key: "grams", Value: data.Pair(low.Mass.Typical, high.Mass.Typical)},
		{Key: "rounding_percent", Value: data.Pair(low.Error(), high.Error())},
	}
}

// View returns two ends of an amount for people.
func View(low, high Scoop, hb garden.Handbook) view.Amount {
	a := view.Amount{
		Amendment: low.Material.ID, Name: low.Material.Name, Measures: map[string]string{},
		Grams:      view.Span(low.Mass.Typical, high.Mass.Typical) + " g",
		GramsFirst: hb.Rounding == measure.Household || low.Weighed,
	}
	for _, set := range hb.Sets() {
		text := low.Text(set)
		if text != high.Text(set) {
			text = measure.Range(low.Measures[set], high.Measures[set])
		}
		a.Measures[string(set)] = text
	}
	return a
}
