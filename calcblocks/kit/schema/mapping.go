package schema

import (
	"slices"

	"trug/calcblocks/kit/form"
)

// A mappingShape is a mapping with known keys, or one whose keys the author chooses.
type mappingShape struct {
	open    bool // the reader did not look at its entries
	keys    []string
	values  map[string]*shape
	free    *shape            // of any other key; nil = there are no others
	shaped  map[string]*shape // by the pattern of the key
	shapes  []string          // the patterns, in order
	needs   [][]string        // one or more of each of these
	with    []dependency
	between [][2]string // not both
}

// A dependency is a key that needs one or more of others beside it.
type dependency struct {
	key   string
	needs []string
}

// exploreMapping finds the keys, their values, and what goes with what.
func (p prober) exploreMapping(f frame, bare heard, depth int) *mappingShape {
	m := &mappingShape{values: map[string]*shape{}, shaped: map[string]*shape{}}
	keys, closed := bare.asked(form.AskedKeys)
	_, read := bare.asked(form.AskedEntries)
	switch {
	case closed:
		m.keys = keys
		p.exploreValues(m, f, depth)
		p.exploreRules(m, f)
	case read:
		m.free = p.explore(f.under(freeKey), depth+1)
		p.exploreShaped(m, f, depth)
	default:
		m.open = true
	}
	return m
}

// exploreValues finds the shape of each value. One that the reader passes over, or takes nothing for, when it
// stands alone is tried beside each of the others.
func (p prober) exploreValues(m *mappingShape, f frame, depth int) {
	for _, key := range m.keys {
		m.values[key] = p.explore(f.under(key), depth+1)
	}
	for _, key := range m.keys {
		for _, other := range m.keys {
			if other != key && m.values[key].vague() {
				p.exploreBeside(m, f, key, other, depth)
			}
		}
	}
}

// exploreBeside tries a value beside another one.
func (p prober) exploreBeside(m *mappingShape, f frame, key, other string, depth int) {
	for _, value := range m.values[other].samples() {
		if s := p.explore(f.under(key, entry{other, value}), depth+1); !s.vague() {
			m.values[key] = s
			return
		}
	}
}

// exploreShaped finds the values of keys that have a shape of their own.
func (p prober) exploreShaped(m *mappingShape, f frame, depth int) {
	h := p.read(f, mapping(entry{freeKey, nonsense}))
	for _, ask := range h.asks {
		here := ask.Of.At().Column == h.from+1
		if ask.What == form.AskedShape && here && !slices.Contains(m.shapes, ask.Names[0]) {
			m.shapes = append(m.shapes, ask.Names[0])
			m.shaped[ask.Names[0]] = p.explore(f.under(ask.Names[1]), depth+1)
		}
	}
}

// sample returns a mapping that the reader takes.
func (m *mappingShape) sample() string {
	if m.free != nil {
		return mapping(entry{freeKey, m.free.sample()})
	}
	var entries []entry
	for _, need := range m.needs {
		if !slices.ContainsFunc(entries, func(e entry) bool { return e.key == need[0] }) {
			entries = append(entries, entry{need[0], m.values[need[0]].sample()})
		}
	}
	return mapping(entries...)
}
