package reference

import (
	"slices"
	"strings"

	"trug/calcblocks/kit/form"
)

// numbers reads the numbers of a spot.
func (s spot) numbers() Figure {
	var f Figure
	n := s.node()
	switch {
	case n.IsText():
		f.fill(s.rangeBeside())
	case n.IsList() && s.file == "volumes":
		f.fill(rising(n.Items()))
	case n.IsMapping():
		m := n.Mapping()
		f.fill(end(m.Get("low")), firstEnd(m, "typical", "value", "pick"), end(m.Get("high")))
	}
	return f
}

func end(n *form.Node) ends {
	x, ok := plainNumber(n)
	return ends{x, ok}
}

func firstEnd(m form.Mapping, keys ...string) ends {
	for _, key := range keys {
		if e := end(m.Get(key)); e.ok {
			return e
		}
	}
	return ends{}
}

func rising(items []*form.Node) (low, typical, high ends) {
	if len(items) != 2 {
		return
	}
	a, b := end(items[0]), end(items[1])
	if !a.ok || !b.ok || a.x >= b.x {
		return
	}
	return a, ends{}, b
}

// rangeBeside returns a plain number with the range that stands beside it under "range" or "range_UNIT":
// that range is of the first number of its mapping, when it holds it.
func (s spot) rangeBeside() (low, typical, high ends) {
	typical = end(s.node())
	if len(s.trail) < 2 || !s.trail[len(s.trail)-2].IsMapping() {
		return low, typical, high
	}
	m := s.trail[len(s.trail)-2].Mapping()
	for _, e := range m.Entries {
		unit, found := strings.CutPrefix(strings.Replace(e.Name, "range_", "range", 1), "range")
		if !found || !strings.HasPrefix(s.name(), unit) || !e.Value.IsMapping() || firstNumber(m) != s.name() {
			continue
		}
		within := e.Value.Mapping()
		low, high = end(within.Get("low")), end(within.Get("high"))
		if low.ok && high.ok && low.x <= typical.x && typical.x <= high.x {
			return low, typical, high
		}
	}
	return ends{}, typical, ends{}
}

// firstNumber returns the key of the first number or span of a mapping.
func firstNumber(m form.Mapping) string {
	for _, e := range m.Entries {
		if _, ok := plainNumber(e.Value); ok || isSpan(e.Value) && e.Name != "range" {
			return e.Name
		}
	}
	return ""
}

// isSpan says whether a node is a mapping of low and high.
func isSpan(n *form.Node) bool {
	return n.IsMapping() && end(n.Mapping().Get("low")).ok && end(n.Mapping().Get("high")).ok
}

// A grant is what an enclosing mapping gives its figures: one text or list for all, or one by figure name.
type grant struct {
	node  *form.Node
	depth int // how many names of the spot's path lie above it
}

// inherited returns the value of a key in the nearest enclosing mapping that has it.
func (s spot) inherited(key string) grant {
	for i := len(s.trail) - 1; i >= 0; i-- {
		if !s.trail[i].IsMapping() {
			continue
		}
		if v := s.trail[i].Mapping().Get(key); v != nil && !v.IsNull() {
			return grant{v, i}
		}
	}
	return grant{}
}

// many returns the texts of a grant; one by figure name is that of the last name on the path that it has.
func (g grant) many(names []string) []string {
	switch {
	case g.node == nil:
		return nil
	case g.node.IsMapping():
		for _, name := range slices.Backward(names) {
			if v := firstOf(g.node.Mapping(), name, quantityOf(name)); v != nil {
				return grant{node: v}.many(nil)
			}
		}
		return nil
	}
	return slices.Clip(g.node.Texts())
}

func firstOf(m form.Mapping, keys ...string) *form.Node {
	for _, key := range keys {
		if v := m.Get(key); v != nil {
			return v
		}
	}
	return nil
}

// quantityOf says whether a container's figure belongs to its volumes or to its dimensions, for which the
// fact file gives one confidence each.
func quantityOf(name string) string {
	for _, unit := range []string{"litres", "gal", "cubic"} {
		if strings.Contains(name, unit) {
			return "volumes"
		}
	}
	return "dimensions"
}

func (g grant) one(names []string) string {
	if all := g.many(names); len(all) > 0 {
		return all[0]
	}
	return ""
}

func (s spot) sources() []string { return s.inherited("source").many(s.names) }

// unit returns the unit of a spot: one that the fact file writes, else one that a key on the way names,
// else that of its section.
func (s spot) unit(section string) string {
	written := s.inherited("unit")
	named, depth := s.namedUnit()
	switch {
	case named != "" && (written.node == nil || depth > written.depth):
		return named
	case written.node != nil:
		return written.one(s.names)
	case named != "":
		return named
	}
	return section
}

// namedUnit returns the unit that the last key with one names, and its depth.
func (s spot) namedUnit() (string, int) {
	for i := len(s.names) - 1; i >= 0; i-- {
		name := s.names[i]
		if name == "range" { // of the number that it stands beside
			name = firstNumber(s.trail[i].Mapping())
		}
		if u := unitInKey(name); u != "" {
			return u, i + 1
		}
	}
	return "", 0
}
