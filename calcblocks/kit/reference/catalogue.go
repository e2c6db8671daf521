package reference

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/view"
)

// An UnknownError is a word or an id that the catalogue does not hold.
type UnknownError struct {
	Message string
	Hint    string // what was perhaps meant, or what there is
}

func (e *UnknownError) Error() string { return e.Message }

// A shelf is one list of the catalogue.
type shelf struct {
	name, one string
	ids       func() []string
	list      func() (data.Value, view.Doc)
	entry     func(id string) (data.Value, view.Doc)
}

func (l *Library) shelves() []shelf {
	return []shelf{
		{"amendments", "amendment", l.AmendmentIDs, l.listAmendments, l.showAmendment},
		{"crops", "crop", l.CropIDs, l.listCrops, l.showCrop},
		{"containers", "container", l.ContainerIDs, l.listContainers, l.showContainer},
		{"sources", "source", l.SourceKeys, l.listSources, l.showSource},
	}
}

// Catalogue returns what the reference knows: with what "amendments", "crops", "containers" or "sources" the
// list, with an id too everything about that one, with neither what there is. An unknown word or id is an
// *UnknownError.
func (l *Library) Catalogue(what, id string) (data.Value, view.Doc, error) {
	shelves := l.shelves()
	names := ids(shelves, func(s shelf) string { return s.name })
	switch {
	case what == "" && id == "":
		return l.overview(shelves)
	case what == "":
		return nil, view.Doc{}, &UnknownError{fmt.Sprintf("a list is needed to look up %q", id), "there are " + strings.Join(names, ", ")}
	}
	s, ok := find(shelves, what, func(s shelf) string { return s.name })
	if !ok {
		return nil, view.Doc{}, unknown("list", what, names)
	}
	if id == "" {
		value, doc := s.list()
		return value, doc, nil
	}
	if !slices.Contains(s.ids(), id) {
		return nil, view.Doc{}, unknown(s.one, id, s.ids())
	}
	value, doc := s.entry(id)
	return value, doc, nil
}

// unknown says that there is no such thing, and what is near. A long list is not recited.
func unknown(one, word string, all []string) error {
	e := &UnknownError{Message: fmt.Sprintf("there is no %s %q in the reference", one, word)}
	holds := func(id string) bool { return strings.Contains(id, strings.ToLower(word)) }
	near := diag.Closest(strings.ToLower(word), all)
	switch i := slices.IndexFunc(all, holds); {
	case near == "" && i >= 0 && word != "":
		near = all[i]
		fallthrough
	case near != "":
		e.Hint = fmt.Sprintf("did you mean %q?", near)
	case len(all) <= 6:
		e.Hint = "there are " + strings.Join(all, ", ")
	default:
		e.Hint = fmt.Sprintf("see the list of all %d", len(all))
	}
	return e
}

func (l *Library) overview(shelves []shelf) (data.Value, view.Doc, error) {
	var out data.Object
	table := view.Table{Caption: "The reference", Columns: []view.Column{{Head: "List"}, {Head: "Entries", Numeric: true}}}
	for _, s := range shelves {
		n := len(s.ids())
		out = out.With(s.name, data.Number(n))
		table.Rows = append(table.Rows, []string{s.name, fmt.Sprint(n)})
	}
	return out, view.Doc{Parts: []view.Part{table}}, nil
}

// A row is one figure of an entry: its key in the data and its label for people.
type row struct {
	key, label string
	figure     Figure
}

// A group is some figures of an entry that stand together; without a key they stand in the entry itself.
type group struct {
	key, title string
	rows       []row
	note       string
}

// fields adds the groups to an entry.
func fields(out data.Object, groups []group) data.Object {
	for _, g := range groups {
		if g.key == "" {
			for _, r := range g.rows {
				out = out.With(r.key, r.figure.value())
			}
			continue
		}
		inner := data.Object{}
		for _, r := range g.rows {
			inner = inner.With(r.key, r.figure.value())
		}
		out = out.With(g.key, inner.With("note", textOrNull(g.note)))
	}
	return out
}

// parts arranges the groups for people; one without rows is left out.
func parts(groups []group) []view.Part {
	var out []view.Part
	for _, g := range groups {
		figures := view.Figures{Title: g.title}
		for _, r := range g.rows {
			figures.Rows = append(figures.Rows, view.Figure{Label: r.label, Value: r.figure.Words(), Note: r.figure.backing()})
		}
		if len(figures.Rows) > 0 {
			out = append(out, figures)
		}
		if g.note != "" {
			out = append(out, view.Paragraph{Text: g.note})
		}
	}
	return out
}

// keysOf returns the keys of the sources behind the known figures of groups.
func keysOf(groups []group) []string {
	var out []string
	for _, g := range groups {
		for _, r := range g.rows {
			out = append(out, r.figure.Source...)
		}
	}
	return union(out)
}
