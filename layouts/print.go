package layouts

import (
	"encoding/json"
	"html/template"

	"trug/calcblocks/kit/view"
)

// CardPage is a recipe on one printed page.
type CardPage struct {
	Title, For     string
	Spoons         string // whose cups and spoons its measures mean: "US cups and spoons"; "" = all is weighed
	Sizes          []CardSize
	Rows           []CardRow
	Mind           []string // what each size raises, "" for nothing; nil when none does
	Steps          []string
	Cautions       []CardCaution
	Code           *Code // nil without an address
	Address, Stamp string
}

// cardColumns is how many sizes stand side by side on a card; more go into a table below.
const cardColumns = 7

// CardTable is a part of the sizes.
type CardTable struct {
	Label string // "Amounts for 5 L to 35 L"
	Sizes []CardSize
	Rows  []CardRow
	Mind  []string
}

// Tables cuts the sizes into tables that fit the width of the paper.
func (c CardPage) Tables() []CardTable {
	var out []CardTable
	for from := 0; from < len(c.Sizes); from += cardColumns {
		to := min(from+cardColumns, len(c.Sizes))
		t := CardTable{Label: "Amounts for " + c.Sizes[from].Name + " to " + c.Sizes[to-1].Name, Sizes: c.Sizes[from:to]}
		for _, r := range c.Rows {
			r.Cells = r.Cells[from:to]
			t.Rows = append(t.Rows, r)
		}
		if c.Mind != nil {
			t.Mind = c.Mind[from:to]
		}
		out = append(out, t)
	}
	return out
}

// CardSize heads a column.
type CardSize struct{ Name, Litres string }

// CardRow is one amendment; Choice names the choice that it belongs to, First marks the first option.
type CardRow struct {
	Name, Choice string
	First        bool
	Cells        []CardCell
}

// CardCell is what goes into one size: what leads, and what stands beside it.
type CardCell struct{ Measure, Grams string }

// CardCaution is a caution in one line.
type CardCaution struct{ Word, Text string }

// Code is a QR code: Side in modules, with its white border, and the path of the dark ones.
type Code struct {
	Side          int
	Path, Address string
}

// LabelsPage is a sheet of pot labels.
type LabelsPage struct {
	Labels []Label
	Coded  bool // with codes, which a site without an address has not
}

// Label is one pot's. Season and Amounts are empty where no plan names the pot.
type Label struct {
	Name, Place, Litres, Href string
	Season                    string
	Spoons                    string // as on a card
	Amounts                   []LabelAmount
	Code                      *Code
	Pot                       potModel // as it is drawn; see WithDrawing
}

// WithDrawing returns the label with its pot drawn as on its page, as large as a label has room for.
func WithDrawing(l Label, pot view.Pot) Label {
	l.Pot = potModel{Pot: pot, Label: potLabel(pot), Drawing: drawPot(pot, rowScale([]view.Pot{pot}))}
	return l
}

// LabelAmount is one line of a label.
type LabelAmount struct{ Measure, Name string }

// Stamps is what a recipe's page knows of stamps: that of its numbers now, and those of earlier records.
type Stamps struct {
	Now string             `json:"now"`
	Was map[string]Stamped `json:"was"`
}

// Stamped is an earlier record: its day, and what has become different since.
type Stamped struct {
	On      string   `json:"on"`
	Changes []string `json:"changes"`
}

// JSON writes the stamps for the script. The library escapes what could end the element.
func (s Stamps) JSON() (template.JS, error) {
	text, err := json.Marshal(s)
	return template.JS(text), err
}
