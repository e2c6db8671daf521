package recipe

import (
	"fmt"

	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// compostView arranges the compost on top: how much of it, what it holds, what of that the crop can take up.
func (c *computation) compostView(s scaled) view.Figures {
	l := s.compost
	return view.Figures{Title: "Compost on top", Rows: []view.Figure{
		{Label: l.material.Name + ", firmed", Value: "about " + view.Span(l.firmed[0], l.firmed[1]) + " L"},
		{Label: "as a layer", Value: "about " + view.Span(l.depth[0], l.depth[1]) + " cm deep"},
		{Label: "loose, to buy", Value: "about " + view.Span(l.loose[0].Typical/1000, l.loose[1].Typical/1000) + " L", Note: "it settles as it is firmed"},
		{Label: "brings", Value: fmt.Sprintf("%s g N, %s g P2O5, %s g K2O", compostSpan(l, reference.N), compostSpan(l, reference.P2O5), compostSpan(l, reference.K2O)), Note: "in all"},
		{Label: "of that this season", Value: fmt.Sprintf("%s g N, %s g P2O5, %s g K2O", l.thisSeason(reference.N), l.thisSeason(reference.P2O5), l.thisSeason(reference.K2O)), Note: "what the crop can take up"},
		{Label: "costs", Value: c.costText(l.totals[0].Cost, l.totals[1].Cost), Note: "beside the cost of the amendments"},
	}}
}

func compostSpan(l *layer, n reference.Nutrient) string {
	return view.Span(l.totals[0].Added[n].Value.Typical, l.totals[1].Added[n].Value.Typical)
}

// thisSeason prints what of the compost's nutrient becomes available over the season, with its range.
func (l *layer) thisSeason(n reference.Nutrient) string {
	sum := l.season[n]
	if !sum[1].Known {
		return "not known"
	}
	return view.Span(sum[0].Value.Low, sum[1].Value.High)
}
