package reference

import (
	"slices"
	"strconv"
	"strings"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/sources"
)

// At returns the figure at a path of a fact file, such as At("judging", "wood_ash", "cap",
// "g_per_m2_year"): a number, or a mapping of low and high, of value, typical or pick. Source and
// confidence are those of the nearest enclosing mapping that has them, and so is a unit that stands there.
// A member of a list is named by the value of its id, class, crop, material, topic, what, where or
// another heading key, or by its place from 0. In volumes a list of two rising numbers is a range. ok is
// false when there is no figure.
func (l *Library) At(file string, path ...string) (Figure, bool) {
	f, seen := l.found.get(file, path)
	if seen {
		return f, f.Known
	}
	if at, ok := l.walk(file, path); ok {
		f = at.figure()
	}
	l.found.put(file, path, f)
	return f, f.Known
}

// Number returns the typical value at a path. It panics when there is none: the paths of guards are
// constants that a test follows.
func (l *Library) Number(file string, path ...string) float64 { return l.Must(file, path...).Typical }

// Text returns the text at a path of a fact file, such as a rule or a scope.
func (l *Library) Text(file string, path ...string) (string, bool) {
	at, ok := l.walk(file, path)
	if !ok || !at.node().IsText() || at.node().IsNull() {
		return "", false
	}
	return at.node().Raw(), true
}

// A spot is a node of a fact file with the way to it: trail holds every node from the root, names the key
// or place of each but the root.
type spot struct {
	file  string
	trail []*form.Node
	names []string
}

func (s spot) node() *form.Node { return s.trail[len(s.trail)-1] }

func (s spot) down(name string, n *form.Node) spot {
	return spot{s.file, append(slices.Clip(s.trail), n), append(slices.Clip(s.names), name)}
}

func (s spot) name() string {
	if len(s.names) == 0 {
		return ""
	}
	return s.names[len(s.names)-1]
}

func (l *Library) walk(file string, path []string) (spot, bool) {
	at := spot{file: file, trail: []*form.Node{l.trees[file]}}
	for _, name := range path {
		next := child(at.node(), name)
		if next == nil {
			return spot{}, false
		}
		at = at.down(name, next)
	}
	return at, l.trees[file] != nil
}

// headings lists the keys whose value may name a member of a list.
var headings = []string{
	"id", "class", "crop", "material", "topic", "what", "where", "medium", "texture", "property", "bag",
	"figure", "inches", "depth_in", "nominal_gal", "top_in", "temp_c", "n_percent", "theta",
}

func child(n *form.Node, name string) *form.Node {
	switch {
	case n.IsMapping():
		return n.Mapping().Get(name)
	case n.IsList():
		return member(n.Items(), name)
	}
	return nil
}

func member(items []*form.Node, name string) *form.Node {
	for _, item := range items {
		if slices.Contains(namesOf(item), name) {
			return item
		}
	}
	if i, err := strconv.Atoi(name); err == nil && i >= 0 && i < len(items) {
		return items[i]
	}
	return nil
}

// namesOf returns what a member of a list may be called: the values of its headings, and "from to".
func namesOf(item *form.Node) []string {
	if !item.IsMapping() {
		return nil
	}
	m := item.Mapping()
	var out []string
	for _, key := range headings {
		if v := m.Get(key); v.IsText() {
			out = append(out, v.Raw())
		}
	}
	if from, to := m.Get("from"), m.Get("to"); from.IsText() && to.IsText() {
		out = append(out, from.Raw()+" to "+to.Raw())
	}
	return out
}

// figure reads the spot as a figure, not known when it is none.
func (s spot) figure() Figure {
	f := s.numbers()
	if !f.Known {
		return f
	}
	about := sectionOf(s.file, s.names)
	f.Unit, f.Basis = s.unit(about.unit), about.basis
	if own := s.inherited("basis").one(s.names); own != "" {
		f.Basis = own
	}
	f.Source, f.Confidence = s.sources(), sources.Confidence(s.inherited("confidence").one(s.names))
	if len(f.Source) == 0 {
		f.Source = fallback(s.file, f.Confidence)
	}
	if m := s.node(); m.IsMapping() {
		f.Note = raw(m.Mapping(), "what", "note", "doubt")
	}
	return f
}

// fallback returns what stands behind a figure without a publication.
func fallback(file string, c sources.Confidence) []string {
	switch {
	case c == sources.Derived && file == "volumes":
		return []string{"derived-units"}
	case c == sources.Derived:
		return []string{"derived-here"}
	case c == sources.FromMemory || c == sources.CommonPractice:
		return []string{planning}
	}
	return nil
}

func raw(m form.Mapping, keys ...string) string {
	for _, key := range keys {
		if v := m.Get(key); v.IsText() && !v.IsNull() {
			return v.Raw()
		}
	}
	return ""
}

// Must returns the figure at a path. It panics when there is none: the paths of guards are constants
// that a test follows.
func (l *Library) Must(file string, path ...string) Figure {
	f, ok := l.At(file, path...)
	if !ok {
		panic("reference: no figure at " + file + "/" + strings.Join(path, "/"))
	}
	return f
}
