package layouts

import (
	"html/template"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"trug/calcblocks/kit/view"
)

// Each model is a part and its place, as its template reads it.
type (
	moreModel struct {
		here
		view.More
	}
	figuresModel struct {
		here
		view.Figures
	}
	workingModel struct {
		here
		view.Working
	}
	bibliographyModel struct {
		here
		view.Bibliography
	}
	listingModel struct {
		here
		view.Listing
		Lines []line
	}
	cautionsModel struct {
		here
		Title string
		Items []markedCaution
	}
	variantsModel struct {
		here
		Items []variantModel
	}
	stepsModel struct {
		here
		Title string
		Items []stepModel
	}
	tableModel struct {
		here
		Caption string
		Columns []view.Column
		Rows    [][]cell
		Notes   []string
	}
)

// markedCaution is a caution and the way to the sources page.
type markedCaution struct {
	view.Caution
	Root string
}

// stepModel is a step with its cautions.
type stepModel struct {
	Text     string
	Cautions []markedCaution
}

// cell is one cell of a table.
type cell struct {
	Text    string
	Head    bool
	Numeric bool
	Day     bool // an ISO date, which must not break
	Long    bool // running text, which needs room where a table scrolls
}

// longText is how many characters make running text of a cell.
const longText = 36

func (p printer) cautions(v view.Cautions) cautionsModel {
	return cautionsModel{p.here("cautions"), v.Title, cautionModels(p.Root, v.Items)}
}

// cautionModels puts the block's own first: they speak of these numbers, the others of a material.
func cautionModels(root string, cautions []view.Caution) []markedCaution {
	out := make([]markedCaution, 0, len(cautions))
	for _, guard := range []bool{true, false} {
		for _, c := range cautions {
			if c.Guard == guard {
				out = append(out, markedCaution{c, root})
			}
		}
	}
	return out
}

func (p printer) steps(v view.Steps) stepsModel {
	m := stepsModel{here: p.here("steps"), Title: v.Title}
	for _, s := range v.Items {
		m.Items = append(m.Items, stepModel{s.Text, cautionModels(p.Root, s.Cautions)})
	}
	return m
}

func (p printer) table(v view.Table) tableModel {
	m := tableModel{here: p.here("table"), Caption: v.Caption, Columns: v.Columns, Notes: v.Notes}
	for _, row := range v.Rows {
		cells := make([]cell, len(row))
		for i, text := range row {
			numeric := i < len(v.Columns) && v.Columns[i].Numeric
			cells[i] = cell{Text: text, Head: i == 0, Numeric: numeric, Day: isDay(text), Long: i > 0 && utf8.RuneCountInString(text) > longText}
		}
		m.Rows = append(m.Rows, cells)
	}
	return m
}

func isDay(text string) bool {
	_, err := time.Parse(time.DateOnly, text)
	return err == nil
}

// variantModel is one combination of picks.
type variantModel struct {
	With    string // amendment ids joined by a space
	Default bool
	Title   template.HTML
	Parts   []template.HTML
}

// variants prints every combination, the default first: without a script all are read.
func (p printer) variants(v view.Variants) (template.HTML, error) {
	items := slices.Clone(v.Items)
	slices.SortStableFunc(items, func(a, b view.Variant) int { return rank(a) - rank(b) })
	m := variantsModel{here: p.here("variants")}
	for _, item := range items {
		parts, err := p.below(item.Label).all(item.Parts)
		if err != nil {
			return "", err
		}
		m.Items = append(m.Items, variantModel{
			With: strings.Join(item.With, " "), Default: item.Default,
			Title: heading(p.level, capital(item.Label)), Parts: parts,
		})
	}
	return p.print("variants", m)
}

func rank(v view.Variant) int {
	if v.Default {
		return 0
	}
	return 1
}

// line is one line of a listing, taken apart for the pen colours.
type line struct{ Indent, Key, Rest, Remark string }

var yamlLine = regexp.MustCompile(`^(\s*(?:- )*)([^\s:#][^:#]*:(?:\s|$))?(.*?)((?:^|\s)#.*)?$`)

// marked takes the lines of a listing apart. It is a pen, not a parser: where it is wrong, a colour is.
func marked(v view.Listing) []line {
	var out []line
	for text := range strings.Lines(v.Text) {
		m := yamlLine.FindStringSubmatch(strings.TrimSuffix(text, "\n"))
		if m == nil || v.Language != "yaml" {
			out = append(out, line{Rest: strings.TrimSuffix(text, "\n")})
			continue
		}
		out = append(out, line{m[1], m[2], m[3], m[4]})
	}
	return out
}
