package care

import (
	"fmt"
	"slices"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// CompostShare speaks when compost is more than 33 % and again more than 50 % of the volume
// (judging.yaml, compost_limits).
func CompostShare(lib *reference.Library, percent float64) []Guard {
	warn := lib.Must("judging", "compost_limits", "share_by_volume_percent", "warn_above")
	stop := lib.Must("judging", "compost_limits", "share_by_volume_percent", "refuse_without_test_above")
	usual := lib.Must("judging", "compost_limits", "share_by_volume_percent", "normal")
	switch {
	case percent > stop.Typical+1e-9:
		return []Guard{{
			ID: "compost-share", Word: "Too much compost without a test", Sources: stop.Source,
			Text: fmt.Sprintf("Compost is %s %% of the mix. Above %s %%, test the salt (EC) of the compost first.", view.Number(percent), view.Number(stop.Typical)),
		}}
	case percent > warn.Typical+1e-9:
		return []Guard{{
			ID: "compost-share", Word: "Much compost", Sources: warn.Source,
			Text: fmt.Sprintf("Compost is %s %% of the mix; above %s %% salt and settling grow. %s %% is usual.", view.Number(percent), view.Number(warn.Typical), view.Number(usual.Typical)),
		}}
	}
	return nil
}

// SizeKnown says how a container's volume and shape are known.
func SizeKnown(lib *reference.Library, c garden.Container) []Guard {
	v := c.Vessel
	low, high := c.Litres()
	switch {
	case v.Class != "":
		classes := lib.Must("volumes", "nursery_classes", "classes", "#"+v.Class, "litres")
		return []Guard{{
			ID: "nursery-class", Word: "A class, not a volume", Sources: classes.Source, Note: true,
			Text: fmt.Sprintf("A nursery class %s pot holds %s L, not so many gallons: measure yours to be sure.", v.Class, view.Span(low, high)),
		}}
	case v.RoughGuess:
		return []Guard{{
			ID: "rough-guess", Word: "A rough guess", Sources: []string{"illinois-pot-column"}, Note: true,
			Text: "A top diameter alone is a rough guess at the volume: measure to be sure.",
		}}
	case v.Assumed:
		return []Guard{{
			ID: "assumed-shape", Word: "Shape assumed", Note: true,
			Text: "The shape of this container is assumed: a round pot whose base is 0.75 and whose depth is 0.92 of its top diameter.",
		}}
	}
	return nil
}

// PotView returns the drawing of a container.
func PotView(c garden.Container) view.Pot {
	v := c.Vessel
	top, base, height, fill := v.Front()
	low, high := c.Litres()
	return view.Pot{
		Name: c.Label, Volume: "about " + view.Span(low, high) + " L", TopCM: top, BaseCM: base, HeightCM: height, FillCM: fill,
		Assumed: v.Assumed || v.RoughGuess || v.Class != "", Description: v.Describe(),
	}
}

// Tree returns guards and cautions as the JSON contract has them.
func Tree(guards []Guard, cautions []*reference.Caution) data.List {
	list := data.List{}
	add := func(id, text string, keys []string) {
		list = append(list, data.Object{
			{Key: "id", Value: data.Text(id)}, {Key: "text", Value: data.Text(text)}, {Key: "sources", Value: data.Texts(keys)},
		})
	}
	for _, g := range guards {
		add(g.ID, g.Text, g.Sources)
	}
	for _, c := range cautions {
		if !slices.ContainsFunc(guards, func(g Guard) bool { return g.ID == c.ID }) {
			add(c.ID, c.Text, c.Source) // a guard of the same id says it with the numbers
		}
	}
	return list
}
