package builder

import (
	"slices"
	"strings"

	"trug/builder/output"
	"trug/builder/site"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// cardPage writes a recipe as one printed page: every size in a table, the steps, the cautions in a line
// each, and a code that leads back to the page with the stamp of these numbers.
func (s *rendering) cardPage(p *Placed) error {
	at, stamp := site.Card(p.ID), p.brief.stamp
	body := layouts.CardPage{Title: p.Result.Title, For: p.brief.mix, Stamp: stamp}
	main := string(s.Garden.Handbook.Main)
	for _, part := range p.Result.View.Parts {
		switch part := part.(type) {
		case view.Sizes:
			cardAmounts(&body, part, main)
		case view.Steps:
			cardSteps(&body, part)
		case view.Cautions:
			cardCautions(&body, part.Items)
		}
	}
	cardCompost(&body, p)
	var err error
	if body.Address = s.absolute(site.Recipe(p.ID)); body.Address != "" {
		body.Code, err = s.code(body.Address + "?stamp=" + stamp)
	}
	if err != nil {
		return err
	}
	return s.page(at, layouts.Page{
		Title: p.Result.Title + ": card", Current: "Recipes", Description: "One printed page with the amounts for every size", Body: body,
		Trail: []layouts.Link{{Name: "Recipes", Href: at.To("recipes/")}, {Name: p.Result.Title, Href: at.To(site.Recipe(p.ID))}},
	})
}

func text(v data.Value) string {
	t, _ := v.(data.Text)
	return string(t)
}

func (s *rendering) code(address string) (*layouts.Code, error) {
	c, err := output.QR(address)
	if err != nil {
		return nil, err
	}
	return &layouts.Code{Side: c.Side, Path: c.Path, Address: address}, nil
}

// cardAmounts turns the sizes on their side: an amendment is a row, a size a column.
func cardAmounts(card *layouts.CardPage, sizes view.Sizes, main string) {
	for _, size := range sizes.Items {
		card.Sizes = append(card.Sizes, layouts.CardSize{Name: size.Label, Litres: size.Litres})
		var mind []string
		for _, part := range size.Parts {
			switch part := part.(type) {
			case view.Amounts:
				cardColumn(card, part, main)
			case view.Variants:
				mind = guardWords(part)
			}
		}
		card.Mind = append(card.Mind, strings.Join(mind, "; "))
	}
	if !slices.ContainsFunc(card.Mind, func(s string) bool { return s != "" }) {
		card.Mind = nil
	}
}

func cardColumn(card *layouts.CardPage, amounts view.Amounts, main string) {
	row := 0
	put := func(a view.Amount, choice string, first bool) {
		if row == len(card.Rows) {
			card.Rows = append(card.Rows, layouts.CardRow{Name: a.Name, Choice: choice, First: first})
		}
		cell := layouts.CardCell{Measure: a.Measures[main], Grams: a.Grams}
		if a.GramsFirst || cell.Measure == "" {
			cell = layouts.CardCell{Measure: a.Grams, Grams: a.Measures[main]}
		}
		card.Rows[row].Cells = append(card.Rows[row].Cells, cell)
		if a.Measures[main] != "" {
			card.Spoons = layouts.Spoons(main)
		}
		row++
	}
	for _, a := range amounts.Rows {
		put(a, "", true)
	}
	for _, c := range amounts.Choices {
		for i, a := range c.Options {
			put(a, c.Name, i == 0)
		}
	}
}

// guardWords names what the default picks of a size raise.
func guardWords(variants view.Variants) []string {
	var out []string
	for _, v := range variants.Items {
		for _, part := range v.Parts {
			cautions, ok := part.(view.Cautions)
			for _, c := range cautions.Items {
				if ok && v.Default && !slices.Contains(out, c.Word) {
					out = append(out, c.Word)
				}
			}
		}
	}
	return out
}

func cardSteps(card *layouts.CardPage, steps view.Steps) {
	for _, step := range steps.Items {
		card.Steps = append(card.Steps, step.Text)
		cardCautions(card, step.Cautions)
	}
}

// cardCautions keeps the first sentence of each: the page says the rest.
func cardCautions(card *layouts.CardPage, cautions []view.Caution) {
	for _, c := range cautions {
		line := layouts.CardCaution{Word: c.Word, Text: firstSentence(c.Text)}
		if !slices.Contains(card.Cautions, line) {
			card.Cautions = append(card.Cautions, line)
		}
	}
}

func firstSentence(s string) string {
	if i := strings.Index(s, ". "); i >= 0 {
		return s[:i+1]
	}
	return s
}

// compostRow names the compost on paper.
const compostRow = "Compost on top, firmed"

// cardCompost adds the compost on top, firmed, as the last row.
func cardCompost(card *layouts.CardPage, p *Placed) {
	sizes, _ := p.Result.Data.Get("sizes").(data.List)
	row := layouts.CardRow{Name: compostRow, First: true}
	for _, size := range sizes {
		compost, ok := size.(data.Object).Get("compost").(data.Object)
		if !ok {
			return
		}
		low, high, _ := ends(compost.Get("firmed_litres"))
		row.Cells = append(row.Cells, layouts.CardCell{Measure: view.Span(low, high) + " L"})
	}
	if len(row.Cells) > 0 {
		card.Rows = append(card.Rows, row)
	}
}
