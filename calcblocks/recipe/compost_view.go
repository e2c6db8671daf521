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
		{Label: "brings", Value: fmt.Sprintf("%s N, %s P2O5, %s K2O", l.inAll(reference.N), l.inAll(reference.P2O5), l.inAll(reference.K2O)), Note: "in all"},
		{Label: "of that this season", Value: fmt.Sprintf("%s g N, %s g P2O5, %s g K2O", l.thisSeason(reference.N), l.thisSeason(reference.P2O5), l.thisSeason(reference.K2O)), Note: "what the crop can take up"},
		{Label: "costs", Value: c.costText(l.totals[0].Cost, l.totals[1].Cost), Note: "beside the cost of the amendments"},
	}}
}

// inAll prints what the compost holds of a nutrient, and in brackets how little and how much it may be, which is what the
// season's range is a part of.
func (l *layer) inAll(n reference.Nutrient) string {
	low, high := l.totals[0].Added[n], l.totals[1].Added[n]
	if !high.Known {
		return "not known"
	}
	typical, span := view.Span(low.Value.Typical, high.Value.Typical), view.Span(low.Value.Low, high.Value.High)
	if typical == span {
		return typical + " g"
	}
	return typical + " g (" + span + ")"
}

// thisSeason prints what of the compost's nutrient becomes available over the season, with its range.
func (l *layer) thisSeason(n reference.Nutrient) string {
	sum := l.season[n]
	if !sum[1].Known {
		return "not known"
	}
	return view.Span(sum[0].Value.Low, sum[1].Value.High)
}
