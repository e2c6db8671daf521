package layouts

import (
	"encoding/json"
	"html/template"

	"trug/calcblocks/kit/view"
)

// ownModel is the form for the reader's own pot with its table, as JSON that a script reads.
type ownModel struct {
	here
	Table        template.JS
	Least, Most  string  // litres
	Base, Height float64 // of a usual shape, in proportion to its top
}

// ownTable is the table as the script reads it: for each amendment and spoon set, and for the grams, a flat
// list of where a text begins, told as the distance from the one before, and the text.
type ownTable struct {
	From int               `json:"from"`
	To   int               `json:"to"`
	Rows map[string]ownRow `json:"rows"`
}

type ownRow struct {
	Sets  map[string][]any `json:"sets"`
	Grams []any            `json:"grams"`
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
	table := ownTable{From: v.From, To: v.To, Rows: map[string]ownRow{}}
	for _, r := range v.Rows {
		row := ownRow{Sets: map[string][]any{}, Grams: ownSteps(r.Grams)}
		for set, steps := range r.Measures {
			row.Sets[set] = ownSteps(steps)
		}
		table.Rows[r.Amendment] = row
	}
	text, err := json.Marshal(table)
	return &ownModel{p.here("own"), template.JS(text), digits(float64(v.From) / 100), digits(float64(v.To) / 100), v.Base, v.Height}, err
}

func ownSteps(steps []view.OwnStep) []any {
	out, last := []any{}, 0
	for _, s := range steps {
		out = append(out, s.From-last, s.Text)
		last = s.From
	}
	return out
}
