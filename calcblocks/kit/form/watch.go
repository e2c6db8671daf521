package form

import "regexp"

// An Ask is one thing that a reader asked of a node. Together they say what the reader takes, so that a
// schema can be drawn up from the readers themselves.
type Ask struct {
	Of    *Node
	What  Asked
	Names []string // of AskedKeys and AskedOneOf the keys; of AskedShape the pattern and a key of that shape
}

// Asked is the sort of an Ask.
type Asked int

// What a reader may ask for: a text, the members of a list, the entries of a mapping whatever their keys, the
// entries with known keys, one of several keys, a key of some shape.
const (
	AskedText Asked = iota
	AskedItems
	AskedEntries
	AskedKeys
	AskedOneOf
	AskedShape
)

// ask tells the watcher of a source, if there is one.
func (n *Node) ask(what Asked, names ...string) {
	if n != nil && n.source.Watch != nil {
		n.source.Watch(Ask{n, what, names})
	}
}

// Match returns the parts of a key that has a shape, as FindStringSubmatch does; nil when it has another.
// example is a key of the shape.
func (e Entry) Match(shape *regexp.Regexp, example string) []string {
	e.Key.ask(AskedShape, shape.String(), example)
	return shape.FindStringSubmatch(e.Name)
}
