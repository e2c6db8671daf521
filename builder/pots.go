package builder

import (
	"fmt"

	"trug/builder/site"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/vessel"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

func container(p garden.Pot) garden.Container {
	return garden.Container{Text: p.ID, Label: p.Name, Pot: p.ID, Vessel: p.Vessel}
}

// potPages writes the inventory and a page for each pot.
func (s *rendering) potPages() error {
	const at = site.Address("pots/")
	drawing := view.Pots{Title: "All to one scale"}
	var body layouts.PotsPage
	for _, p := range s.Garden.Pots {
		if err := s.potPage(p); err != nil {
			return err
		}
		c := container(p)
		low, high := c.Litres()
		item := layouts.PotItem{
			Name: p.Name, Href: at.To(site.Pot(p.ID)), Volume: view.Span(low, high) + " L", Shape: p.Words(), Place: p.Place, Gone: day(p.Gone),
		}
		if !p.Gone.IsZero() {
			body.Gone = append(body.Gone, item)
			continue
		}
		drawn := care.PotView(c)
		drawn.Href = site.Pot(p.ID).File()
		drawing.Items = append(drawing.Items, drawn)
		body.Pots = append(body.Pots, item)
	}
	if len(drawing.Items) > 0 {
		parts, err := s.parts(view.Doc{Parts: []view.Part{drawing}}, at, "pots")
		if err != nil {
			return err
		}
		body.Parts = parts
	}
	return s.page(at, layouts.Page{Title: "Pots", Description: "The containers of this handbook, drawn to one scale", Current: "Pots", Body: body})
}

func (s *rendering) potPage(p garden.Pot) error {
	at := site.Pot(p.ID)
	parts, err := s.parts(potView(s.Ref, p), at, "pot")
	if err != nil {
		return err
	}
	body := layouts.PotPage{Title: p.Name, Place: p.Place, Gone: day(p.Gone), Parts: parts}
	if err := s.potSeason(p.ID, at, &body); err != nil {
		return err
	}
	if planted, ok := s.planting(p.ID); p.Gone.IsZero() && (!ok || planted.Recipe == "") {
		body.Recipes, body.AllRecipes = s.recipesFor(p, at)
	}
	if body.History, err = s.potHistory(p.ID, at); err != nil {
		return err
	}
	return s.page(at, layouts.Page{
		Title: p.Name, Current: "Pots", Description: p.Words(), Body: body,
		Trail: []layouts.Link{{Name: "Pots", Href: at.To("pots/")}},
	})
}

// shapeRow says what the author told: the shape, or the volume, in the author's own unit.
func shapeRow(p garden.Pot) view.Figure {
	if p.Holds != "" {
		return view.Figure{Label: "Measured", Value: p.Holds}
	}
	return view.Figure{Label: "Shape", Value: p.Vessel.Describe()}
}

// potView draws a pot with its dimensions and writes out its volume.
func potView(lib *reference.Library, p garden.Pot) view.Doc {
	c := container(p)
	drawn := care.PotView(c)
	drawn.Dimensions = true
	low, high := c.Litres()
	v := p.Vessel
	brimLow, brimHigh := v.BrimVolume()
	rows := []view.Figure{
		{Label: "Holds, up to the fill line", Value: "about " + view.Span(low, high) + " L"},
		{Label: "Holds, to the brim", Value: "about " + view.Span(brimLow/1000, brimHigh/1000) + " L"},
		{Label: "Surface at the fill line", Value: fmt.Sprintf("about %s cm²", view.Number(v.AreaAt(v.FillHeight())))},
		shapeRow(p),
	}
	doc := view.Doc{Parts: []view.Part{view.Pots{Items: []view.Pot{drawn}}, view.Figures{Title: "Measures", Rows: rows}}}
	for _, note := range care.Notes(care.SizeKnown(lib, c)) {
		doc.Parts = append(doc.Parts, view.Paragraph{Text: note})
	}
	if steps := potWorking(c); len(steps) > 0 {
		doc.Parts = append(doc.Parts, view.Working{Title: "Working", Steps: steps})
	}
	return doc
}

// potWorking writes out the volume of a pot whose shape is known (volumes.md, section 2).
func potWorking(c garden.Container) []view.WorkingStep {
	v := c.Vessel
	if v.Measured[1] > 0 {
		return nil
	}
	fill := v.FillHeight()
	mm := func(x float64) string { return view.Number(x) + " cm" }
	steps := []view.WorkingStep{
		{What: "height of the fill line above the base", Sum: mm(fill)},
		{What: "across at the base", Sum: across(v, 0)},
		{What: "across at half the fill", Sum: across(v, fill/2)},
		{What: "across at the fill line", Sum: across(v, fill)},
	}
	areas := fmt.Sprintf("%.5g, %.5g and %.5g cm²", v.AreaAt(0), v.AreaAt(fill/2), v.AreaAt(fill))
	sum := fmt.Sprintf("%s / 6 x (%.5g + 4 x %.5g + %.5g) cm² = %.4g L", mm(fill), v.AreaAt(0), v.AreaAt(fill/2), v.AreaAt(fill), v.VolumeAt(fill)/1000)
	return append(steps, view.WorkingStep{What: "area at the three heights", Sum: areas}, view.WorkingStep{What: "volume to the fill line", Sum: sum})
}

func across(v vessel.Vessel, height float64) string {
	length, width := v.LengthAt(height), v.WidthAt(height)
	if length == width {
		return view.Number(length) + " cm"
	}
	return view.Number(length) + " x " + view.Number(width) + " cm"
}
