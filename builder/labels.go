package builder

import (
	"slices"
	"strconv"

	"trug/builder/site"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// labelsPage writes a sheet with a label for each pot that stands: its name, its litres, what this season's plan puts
// into it, and a code that leads to its page.
func (s *rendering) labelsPage() error {
	const at = site.Address("labels/")
	body := layouts.LabelsPage{Coded: s.absolute(at) != ""}
	for _, p := range s.Garden.Standing() {
		label, err := s.label(p, at)
		if err != nil {
			return err
		}
		body.Labels = append(body.Labels, label)
	}
	return s.page(at, layouts.Page{
		Title: "Labels", Description: "A sheet of labels, one for each pot, to print and cut", Current: "Pots", Body: body,
		Trail: []layouts.Link{{Name: "Pots", Href: at.To("pots/")}},
	})
}

func (s *rendering) label(p garden.Pot, at site.Address) (layouts.Label, error) {
	c := container(p)
	low, high := c.Litres()
	label := layouts.WithDrawing(layouts.Label{Name: p.Name, Place: p.Place, Litres: "about " + view.Span(low, high) + " L", Href: at.To(site.Pot(p.ID))}, care.PotView(container(p)))
	if planted, ok := s.planting(p.ID); ok {
		label.Season = s.seasonWords(planted)
		label.Amounts, label.Spoons = plantedAmounts(planted, string(s.Garden.Handbook.Main))
	}
	address := s.absolute(site.Pot(p.ID))
	if address == "" {
		return label, nil
	}
	var err error
	label.Code, err = s.code(address)
	return label, err
}

// seasonWords says what grows in a pot: "2027: pepper, 2 plants".
func (s *rendering) seasonWords(p facts.Planting) string {
	words := s.Garden.Handbook.Year().Name(p.Season)
	if crop, ok := s.Ref.Crop(p.Crop); ok {
		words += ": " + view.Small(crop.Name)
	}
	if p.Plants > 1 {
		words += ", " + strconv.Itoa(p.Plants) + " plants"
	}
	return words
}

// plantedAmounts lists what goes into a pot, a measure and a name each, and says whose spoons those are.
func plantedAmounts(p facts.Planting, main string) (out []layouts.LabelAmount, spoons string) {
	i := slices.IndexFunc(p.Content.Parts, func(part view.Part) bool { _, ok := part.(view.Amounts); return ok })
	if i < 0 {
		return nil, ""
	}
	for _, a := range p.Content.Parts[i].(view.Amounts).Rows {
		measure := a.Measures[main]
		if a.GramsFirst || measure == "" {
			measure = a.Grams
		} else {
			spoons = layouts.Spoons(main)
		}
		out = append(out, layouts.LabelAmount{Measure: measure, Name: a.Name})
	}
	if low, high := topDressed(p); view.Rounded(high) > 0 {
		out = append(out, layouts.LabelAmount{Measure: view.Span(low, high) + " L", Name: compostRow})
	}
	return out, spoons
}

// topDressed returns the litres of compost on top, firmed: what there is room for where a plan knows the level of the
// mix, else what the recipe lays on.
func topDressed(p facts.Planting) (low, high float64) {
	if mix, ok := p.Data.Get("mix").(data.Object); ok {
		low, high, _ = ends(mix.Get("compost_litres"))
		return low, high
	}
	return p.Content.Firmed[0], p.Content.Firmed[1]
}
