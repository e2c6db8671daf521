package layouts

import (
	"html/template"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"trug/calcblocks/kit/sources"
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
		Title string
		Rows  []figureModel
	}
	workingModel struct {
		here
		Title string
		Steps []workingStep
	}
	bibliographyModel struct {
		here
		Title   string
		Entries []template.HTML
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

// markedCaution is a caution and its sources as links. Its fields are its own: the library finds those of what
// a type embeds slowly.
type markedCaution struct {
	ID, Word, Text, Defer string
	Sources               []string
	Guard                 bool
	Root                  string
	Cites                 template.HTML
}

// workingStep is a line of arithmetic and its sources as links.
type workingStep struct {
	What, Sum string
	Sources   []string
	Cites     template.HTML
}

// figureModel is a named result.
type figureModel struct {
	Label, Value, Note string
	Wide               bool // needs room
}

// workModel is a work that a result rests on, and the way to the root.
type workModel struct {
	sources.Entry
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

func (p printer) cautions(v view.Cautions) (template.HTML, error) {
	items, err := p.marked(v.Items)
	if err != nil {
		return "", err
	}
	return p.print("cautions", cautionsModel{p.here("cautions"), v.Title, items})
}

// marked puts the block's own cautions first: they speak of these numbers, the others of a material.
func (p printer) marked(cautions []view.Caution) ([]markedCaution, error) {
	out := make([]markedCaution, 0, len(cautions))
	for _, guard := range []bool{true, false} {
		for _, c := range cautions {
			if c.Guard != guard {
				continue
			}
			cites, err := p.cites(c.Sources)
			if err != nil {
				return nil, err
			}
			out = append(out, markedCaution{c.ID, c.Word, c.Text, c.Defer, c.Sources, c.Guard, p.Root, cites})
		}
	}
	return out, nil
}

// cites prints the sources of a number. The lines of a block's working name the same ones over and over, so
// they are printed once.
func (p printer) cites(keys []string) (template.HTML, error) {
	key := p.Root + "\n" + strings.Join(keys, "\n")
	return p.layouts.cites.once(key, func() (template.HTML, error) { return p.print("cites", citations{p.Root, keys}) })
}

func (p printer) steps(v view.Steps) (template.HTML, error) {
	m := stepsModel{here: p.here("steps"), Title: v.Title}
	for _, s := range v.Items {
		cautions, err := p.marked(s.Cautions)
		if err != nil {
			return "", err
		}
		m.Items = append(m.Items, stepModel{s.Text, cautions})
	}
	return p.print("steps", m)
}

func (p printer) working(v view.Working) (template.HTML, error) {
	m := workingModel{p.here("working"), v.Title, make([]workingStep, 0, len(v.Steps))}
	for _, s := range v.Steps {
		cites, err := p.cites(s.Sources)
		if err != nil {
			return "", err
		}
		m.Steps = append(m.Steps, workingStep{s.What, s.Sum, s.Sources, cites})
	}
	return p.print("working", m)
}

// wideValue is how many bytes of a value need room.
const wideValue = 26

func (p printer) figures(v view.Figures) figuresModel {
	m := figuresModel{p.here("figures"), v.Title, make([]figureModel, 0, len(v.Rows))}
	for _, f := range v.Rows {
		m.Rows = append(m.Rows, figureModel{f.Label, f.Value, f.Note, len(f.Value) > wideValue})
	}
	return m
}

// bibliography prints each work of a handbook once.
func (p printer) bibliography(v view.Bibliography) (template.HTML, error) {
	m := bibliographyModel{here: p.here("bibliography"), Title: v.Title}
	for _, entry := range v.Entries {
		work := workModel{entry, p.Root}
		html, err := p.layouts.works.once(work, func() (template.HTML, error) { return p.print("work", work) })
		if err != nil {
			return "", err
		}
		m.Entries = append(m.Entries, html)
	}
	return p.print("bibliography", m)
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
	if len(text) != len(time.DateOnly) {
		return false // as most are, without the words of an error
	}
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
