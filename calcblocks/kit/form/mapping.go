package form

import (
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/units"
)

// A Mapping is the entries of a mapping node in the author's order.
type Mapping struct {
	node    *Node
	Entries []Entry
}

// An Entry is one key of a mapping with its value.
type Entry struct {
	Key   *Node
	Name  string
	Value *Node
}

// Mapping returns the entries of a mapping node whatever their keys; anything else is reported. Entries
// that only a comma or a missing blank made were reported when the source was read, and are left out.
func (n *Node) Mapping() Mapping { return n.mapping(nil) }

func (n *Node) mapping(known []string) Mapping {
	if n == nil || n.isAlias() {
		return Mapping{node: n}
	}
	n.ask(AskedEntries)
	if !n.IsMapping() {
		n.Report(n.notMapping(known))
		return Mapping{node: n}
	}
	m := Mapping{node: n}
	for _, e := range n.entries() {
		if !n.valueless(e) {
			m.Entries = append(m.Entries, e)
		}
	}
	return m
}

// entries returns all entries of a mapping node as the library read them.
func (n *Node) entries() []Entry {
	var out []Entry
	for i := 0; i+1 < len(n.yaml.Content); i += 2 {
		key := &Node{n.yaml.Content[i], n.source}
		out = append(out, Entry{key, key.Raw(), &Node{n.yaml.Content[i+1], n.source}})
	}
	return out
}

// Fields returns the entries of a mapping node and reports every key that is not among the known ones.
func (n *Node) Fields(known ...string) Mapping {
	n.ask(AskedKeys, known...)
	m := n.mapping(known)
	for _, e := range m.Entries {
		if e.Name != "<<" && !slices.Contains(known, e.Name) { // a merge key has its own fault
			e.Key.Report(unknownKey(e.Key, e.Name, known))
		}
	}
	return m
}

func unknownKey(at *Node, name string, known []string) diag.Diagnostic {
	d := diag.Errorf(at.At(), "unknown-key", "unknown key %q", clip(name))
	if near := diag.Closest(strings.ToLower(name), known); near != "" {
		return d.Hint("did you mean %q?", near)
	}
	return d.Hint("the keys here are %s", strings.Join(known, ", "))
}

// Get returns the value of a key, nil when it is absent.
func (m Mapping) Get(name string) *Node {
	for _, e := range m.Entries {
		if e.Name == name {
			return e.Value
		}
	}
	return nil
}

// Need returns the value of a key and reports its absence.
func (m Mapping) Need(name, hint string) *Node {
	v := m.Get(name)
	if v == nil && m.node.IsMapping() {
		m.node.Fault("missing-key", hint, "the key %q is missing", name)
	}
	return v
}

// At returns the place of the mapping.
func (m Mapping) At() diag.Position { return m.node.At() }

// Without returns a mapping node less some keys: what is left of a file that wraps a block's fields.
func (n *Node) Without(names ...string) *Node {
	n.ask(AskedKeys, names...)
	rest := *n.yaml
	rest.Content = nil
	for _, e := range n.Mapping().Entries {
		if !slices.Contains(names, e.Name) {
			rest.Content = append(rest.Content, e.Key.yaml, e.Value.yaml)
		}
	}
	return &Node{&rest, n.source}
}

// IsFlow says whether the node is a mapping written with { and }.
func (n *Node) IsFlow() bool { return n.IsMapping() && n.yaml.Style&yaml.FlowStyle != 0 }

// Spread returns a flow mapping's entries as text, one a line.
func (n *Node) Spread() string {
	spread := *n.yaml
	spread.Style &^= yaml.FlowStyle
	text, err := yaml.Marshal(&spread)
	if err != nil {
		panic(err) // what was read can be written
	}
	return string(text)
}

// Measure sets the set of kitchen measures in which the source's cups and spoons are read from now on.
func (n *Node) Measure(set units.Set) { n.source.Values.Set = set }

// OneOf returns the value of the one key among names that is there; none or several are reported.
func (m Mapping) OneOf(hint string, names ...string) *Node {
	m.node.ask(AskedOneOf, names...)
	var found *Node
	for _, name := range names {
		v := m.Get(name)
		if v != nil && found != nil {
			v.Fault("one-of", hint, "only one of %s can be given", strings.Join(names, ", "))
			return nil
		}
		if v != nil {
			found = v
		}
	}
	if found == nil && m.node.IsMapping() {
		m.node.Fault("missing-key", hint, "one of %s is missing", strings.Join(names, ", "))
	}
	return found
}
