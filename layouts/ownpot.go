package layouts

import (
	"encoding/json"
	"html/template"
	"slices"

	"trug/calcblocks/kit/view"
)

// ownModel is the form for the reader's own pot with its table, as JSON that a script reads.
type ownModel struct {
	here
	Table        template.JS
	Least, Most  string  // litres
	Base, Height float64 // of a usual shape, in proportion to its top
	Gallons      string  // the same bounds in US gallons; "" where the handbook has no US measures
}

// ownTable is the table as the script reads it: for each amendment and spoon set, and for the grams, a flat
// list of where a text begins, told as the distance from the one before, and the text.
type ownTable struct {
	From int               `json:"from"`
	To   int               `json:"to"`
	Rows map[string]ownRow `json:"rows"`
	Top  *ownTop           `json:"top,omitempty"`
}

type ownRow struct {
	Sets  map[string][]any `json:"sets"`
	Grams []any            `json:"grams"`
}

// ownTop is the compost on top: a layer of so many cm below the fill line, or a share of the litres.
type ownTop struct {
	Name  string  `json:"name"`
	Text  string  `json:"text"`
	Depth float64 `json:"depth,omitempty"`
	Share float64 `json:"share,omitempty"`
	Loose float64 `json:"loose"`
}

// own prints the form: one on a page, on that which is shared, and so none in a note.
func (p printer) own(v *view.OwnPot) (template.HTML, error) {
	if v == nil || p.InNote && p.kept == nil {
		return "", nil
	}
	m, err := p.ownTable(*v)
	if err != nil {
		return "", err
	}
	html, err := p.print("own", m)
	return p.keep(html, true), err
}

// ownTable writes the table. The library sorts keys and escapes what could end the element.
func (p printer) ownTable(v view.OwnPot) (*ownModel, error) {
	table := ownTable{From: v.From, To: v.To, Rows: map[string]ownRow{}, Top: (*ownTop)(v.Top)}
	for _, r := range v.Rows {
		row := ownRow{Sets: map[string][]any{}, Grams: ownSteps(r.Grams)}
		for set, steps := range r.Measures {
			row.Sets[set] = ownSteps(steps)
		}
		table.Rows[r.Amendment] = row
	}
	text, err := json.Marshal(table)
	return &ownModel{
		here: p.here("own"), Table: template.JS(text), Base: v.Base, Height: v.Height,
		Least: digits(float64(v.From) / 100), Most: digits(float64(v.To) / 100), Gallons: ownGallons(v),
	}, err
}

// gallon is the litres in a US gallon, which is 231 cubic inches (NIST SP 811).
const gallon = 231 * 2.54 * 2.54 * 2.54 / 1000

// ownGallons returns the bounds in gallons for those who measure in US spoons: they know their pails by them.
func ownGallons(v view.OwnPot) string {
	if !slices.ContainsFunc(v.Rows, func(r view.OwnRow) bool { return len(r.Measures["us"]) > 0 }) {
		return ""
	}
	return digits(float64(v.From)/100/gallon) + " to " + digits(float64(v.To)/100/gallon)
}

func ownSteps(steps []view.OwnStep) []any {
	out, last := []any{}, 0
	for _, s := range steps {
		out = append(out, s.From-last, s.Text)
		last = s.From
	}
	return out
}
