package layouts

import (
	"html/template"
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/view"
)

// amountsModel is what goes in.
type amountsModel struct {
	here
	Title   string
	Sets    string // spoon sets joined by a space, the main one first
	Rows    []amountModel
	Choices []choiceModel
}

// choiceModel is a set of alternatives.
type choiceModel struct {
	Key, Name string
	Options   []amountModel
}

// amountModel is one amendment's row.
type amountModel struct {
	Amendment, Name       string
	Reason, Brings, Error string
	Tick                  string // what the reader's tick is kept under
	Sets                  []setModel
	Grams                 string
	Weight                template.HTML // the grams where they lead, their number large
	GramsFirst            bool
}

// setModel is a measure in one spoon set.
type setModel struct {
	Set, Name string
	First     bool
	Measure   template.HTML // its number large
}

// ticksModel is a list to tick off.
type ticksModel struct {
	here
	Title string
	Items []tickModel
}

// tickModel is one line of it.
type tickModel struct {
	view.Tick
	Key string // what the reader's tick is kept under
}

func (p printer) ticks(v view.Ticks) ticksModel {
	m := ticksModel{here: p.here("ticks"), Title: v.Title}
	for _, item := range v.Items {
		m.Items = append(m.Items, tickModel{Tick: item, Key: strings.Join([]string{p.BlockID, p.size, item.ID}, "/")})
	}
	return m
}

// setNames are the spoon sets as readers know them.
var setNames = map[string]string{"us": "US", "metric": "metric", "uk": "UK", "australian": "Australian"}

func (p printer) amounts(v view.Amounts) (template.HTML, error) {
	sets := p.sets(v)
	m := amountsModel{here: p.here("amounts"), Title: v.Title, Sets: strings.Join(sets, " ")}
	var err error
	if m.Rows, err = p.rows(v.Rows, sets); err != nil {
		return "", err
	}
	for _, c := range v.Choices {
		options, err := p.rows(c.Options, sets)
		if err != nil {
			return "", err
		}
		m.Choices = append(m.Choices, choiceModel{data.Slug(c.Name), c.Name, options})
	}
	return p.print("amounts", m)
}

func (p printer) rows(amounts []view.Amount, sets []string) ([]amountModel, error) {
	out := make([]amountModel, 0, len(amounts))
	for _, a := range amounts {
		m, err := p.amount(a, sets)
		if err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}

// sets returns the spoon sets in order, the main one first; those of the rows when none are named.
func (p printer) sets(v view.Amounts) []string {
	sets := slices.Clone(v.Sets)
	if len(sets) == 0 {
		seen := map[string]bool{}
		for _, a := range v.Rows {
			for set := range a.Measures {
				seen[set] = true
			}
		}
		sets = slices.Sorted(maps.Keys(seen))
	}
	if at := slices.Index(sets, p.Main); at > 0 {
		sets = slices.Insert(slices.Delete(sets, at, at+1), 0, p.Main)
	}
	return sets
}

func (p printer) amount(a view.Amount, sets []string) (amountModel, error) {
	m := amountModel{
		Amendment: a.Amendment, Name: a.Name, Reason: a.Reason, Brings: a.Brings, Error: a.Error,
		Tick:  strings.Join([]string{p.BlockID, p.size, a.Amendment}, "/"),
		Grams: a.Grams, GramsFirst: a.GramsFirst,
	}
	for _, set := range sets {
		if text := a.Measures[set]; text != "" {
			html, err := p.measure(text)
			if err != nil {
				return m, err
			}
			m.Sets = append(m.Sets, setModel{set, setName(set), len(m.Sets) == 0, html})
		}
	}
	var err error
	if m.GramsFirst || len(m.Sets) == 0 {
		m.Weight, err = p.measure(a.Grams)
	}
	return m, err
}

// measure prints a measure with its number large. Spoon sets and sizes share many.
func (p printer) measure(text string) (template.HTML, error) {
	return p.layouts.terms.once(text, func() (template.HTML, error) { return p.print("terms", ends(text)) })
}

func setName(set string) string {
	if name, ok := setNames[set]; ok {
		return name
	}
	return set
}

// Spoons says on paper, where no reader can switch, whose cups and spoons a set is: "metric cups and spoons".
func Spoons(set string) string { return setName(set) + " cups and spoons" }

// sizesModel is one result for several containers.
type sizesModel struct {
	here
	Title string
	Pots  potsModel
	Items []sizeModel
	Own   template.HTML // the form for the reader's own pot
}

// sizeModel is the result for one container.
type sizeModel struct {
	Anchor string
	Title  template.HTML
	Litres string // "" when the title says it
	Notes  []string
	Parts  []template.HTML
}

func (p printer) sizes(v view.Sizes) (template.HTML, error) {
	m := sizesModel{here: p.here("sizes"), Title: v.Title}
	var pots []view.Pot
	for _, item := range v.Items {
		pots = append(pots, picked(item))
		size, err := p.below(v.Title).sizeOf(item)
		if err != nil {
			return "", err
		}
		m.Items = append(m.Items, size)
	}
	m.Pots = p.pots("", pots)
	var err error
	if m.Own, err = p.own(v.Own); err != nil {
		return "", err
	}
	return p.print("sizes", m)
}

// picked is the pot as it stands in the row of sizes: named as the size is, leading to it.
func picked(item view.Size) view.Pot {
	pot := item.Pot
	pot.Anchor, pot.Href, pot.Dimensions = item.Anchor, "", false
	if pot.Name == "" {
		pot.Name = item.Label
	}
	if pot.Volume == "" {
		pot.Volume = item.Litres
	}
	return pot
}

func (p printer) sizeOf(item view.Size) (sizeModel, error) {
	title := item.Label
	if item.Pot.Name != "" {
		title = item.Pot.Name
	}
	m := sizeModel{Anchor: p.anchor(item.Anchor), Title: heading(p.level, title), Notes: item.Notes}
	if item.Litres != title {
		m.Litres = item.Litres
	}
	p.size = item.Anchor
	p.level++
	var err error
	m.Parts, err = p.all(item.Parts)
	return m, err
}

// capital gives text a capital first letter.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}
