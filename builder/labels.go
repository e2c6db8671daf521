package builder

import (
	"slices"
	"strconv"

	"trug/builder/site"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// labelsPage writes a sheet with a label for each pot that stands: its name, its litres, what this season's plan puts
// into it, and a code that leads to its page.
func (s *rendering) labelsPage() error {
	const at = site.Address("labels/")
	var body layouts.LabelsPage
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
	label := layouts.Label{Name: p.Name, Place: p.Place, Litres: "about " + view.Span(low, high) + " L", Href: at.To(site.Pot(p.ID))}
	if planted, ok := s.planting(p.ID); ok {
		label.Season = s.seasonWords(planted)
		label.Amounts = plantedAmounts(planted, string(s.Garden.Handbook.Main))
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
	words := strconv.Itoa(p.Season)
	if crop, ok := s.Ref.Crop(p.Crop); ok {
		words += ": " + view.Small(crop.Name)
	}
	if p.Plants > 1 {
		words += ", " + strconv.Itoa(p.Plants) + " plants"
	}
	return words
}

// plantedAmounts lists what goes into a pot, a measure and a name each.
func plantedAmounts(p facts.Planting, main string) []layouts.LabelAmount {
	i := slices.IndexFunc(p.Content.Parts, func(part view.Part) bool { _, ok := part.(view.Amounts); return ok })
	if i < 0 {
		return nil
	}
	var out []layouts.LabelAmount
	for _, a := range p.Content.Parts[i].(view.Amounts).Rows {
		measure := a.Measures[main]
		if a.GramsFirst || measure == "" {
			measure = a.Grams
		}
		out = append(out, layouts.LabelAmount{Measure: measure, Name: a.Name})
	}
	return out
}
