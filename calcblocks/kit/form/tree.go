package form

import (
	"strings"

	"gopkg.in/yaml.v3"

	"trug/calcblocks/kit/diag"
)

// checkTree reports what YAML allows and a block does not: anchors, aliases, tags, merge keys, repeated
// keys, keys that are not text, and flow mappings that a comma split.
func (n *Node) checkTree() {
	switch {
	case n.yaml.Kind == yaml.AliasNode:
		n.Fault("alias", "write the value out", "%q is an alias", "*"+n.yaml.Value)
		return
	case n.yaml.Anchor != "":
		n.Fault("anchor", "write the value out wherever it is needed", "%q is an anchor", "&"+n.yaml.Anchor)
	case n.yaml.Style&yaml.TaggedStyle != 0:
		n.Fault("tag", "leave the tag out; put the text in quotes if it starts with !", "%q is a tag", n.yaml.Tag)
	}
	if n.IsList() {
		for _, item := range n.Items() {
			item.checkTree()
		}
	}
	if n.IsMapping() {
		n.checkKeys()
	}
}

func (n *Node) checkKeys() {
	first := map[string]*Node{}
	for _, e := range n.Mapping().Entries {
		switch before, seen := first[e.Name]; {
		case !e.Key.IsText():
			e.Key.Fault("bad-key", "a key is a plain text before \": \"", "this key is not a text")
		case e.Name == "<<":
			e.Key.Fault("merge-key", "write the entries out", "%q merges another mapping", "<<")
		case seen:
			d := diag.Errorf(e.Key.At(), "repeated-key", "the key %q stands here twice", clip(e.Name))
			e.Key.Report(d.Hint("keep one of the two").Also(before.At(), "the first %q is here", clip(e.Name)))
		default:
			first[e.Name] = e.Key
		}
		if n.swallowed(e) {
			continue
		}
		e.Value.checkTree()
	}
}

// swallowed reports an entry of a flow mapping that a comma started.
func (n *Node) swallowed(e Entry) bool {
	if !n.isSplit(e) {
		return false
	}
	hint := "put a text that holds a comma in quotes"
	if strings.Trim(e.Name, "0123456789") == "" {
		hint = "write a decimal point instead of a decimal comma"
	}
	e.Key.Fault("split-by-comma", hint, "the comma before %q starts a new entry, which has no value", clip(e.Name))
	return true
}

// isSplit says whether an entry of a flow mapping has a key and no value: a decimal comma, or a comma
// inside a text, started it.
func (n *Node) isSplit(e Entry) bool {
	flow := n.yaml.Style&yaml.FlowStyle != 0
	return flow && e.Value.IsText() && e.Value.yaml.Value == "" && e.Value.plain()
}
