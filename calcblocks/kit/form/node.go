package form

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/units"
)

// A Node is a value of a source: a text, a list or a mapping. A nil Node is an absent value; its methods
// return nothing and report nothing.
type Node struct {
	yaml   *yaml.Node
	source *Source
}

// At returns the place of the node's first character.
func (n *Node) At() diag.Position {
	if n == nil {
		return diag.Position{}
	}
	return n.source.At(n.yaml.Line, n.yaml.Column)
}

// Report reports a diagnostic about the source that the node belongs to.
func (n *Node) Report(d diag.Diagnostic) {
	if n != nil {
		n.source.Report(d)
	}
}

// Fault reports a fault at the node.
func (n *Node) Fault(code, hint, format string, args ...any) {
	if n != nil {
		n.Report(diag.Errorf(n.At(), code, format, args...).Hint("%s", hint))
	}
}

// Values returns the reader of quantities.
func (n *Node) Values() units.Parser {
	if n == nil {
		return units.Parser{Set: units.US}
	}
	return n.source.Values
}

// IsText, IsList and IsMapping say what the node is.
func (n *Node) IsText() bool { return n != nil && n.yaml.Kind == yaml.ScalarNode }

// IsList says whether the node is a list.
func (n *Node) IsList() bool { return n != nil && n.yaml.Kind == yaml.SequenceNode }

// IsMapping says whether the node is a mapping.
func (n *Node) IsMapping() bool { return n != nil && n.yaml.Kind == yaml.MappingNode }

// isAlias says whether the node is an alias, which was reported when the source was read.
func (n *Node) isAlias() bool { return n.yaml.Kind == yaml.AliasNode }

// IsNull says whether a text node is an unquoted null, as the reference files write it.
func (n *Node) IsNull() bool {
	return n.IsText() && n.plain() && (n.yaml.Value == "null" || n.yaml.Value == "~" || n.yaml.Value == "")
}

func (n *Node) plain() bool { return n.yaml.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) == 0 }

// Raw returns the text of a text node as written, or "", without reporting anything.
func (n *Node) Raw() string {
	if !n.IsText() {
		return ""
	}
	return n.yaml.Value
}

// Text returns the node's text; anything else is reported, an empty value too.
func (n *Node) Text() (string, bool) {
	n.ask(AskedText)
	switch {
	case n == nil || n.isAlias():
		return "", false
	case n.IsMapping():
		n.Fault("not-text", "if this is one text that holds \": \", put it in quotes", "a text is needed here, not a mapping")
	case n.IsList():
		n.Fault("not-text", "write one text; put it in quotes if it starts with [", "a text is needed here, not a list")
	case strings.TrimSpace(n.yaml.Value) == "":
		n.Fault("empty-value", "write a value, or leave the key out", "this value is empty")
	default:
		return strings.TrimSpace(n.yaml.Value), true
	}
	return "", false
}

// Texts returns the texts of a list; a single text counts as a list of one.
func (n *Node) Texts() []string {
	if n.IsText() {
		if t, ok := n.Text(); ok {
			return []string{t}
		}
		return nil
	}
	var out []string
	for _, item := range n.Items() {
		if t, ok := item.Text(); ok {
			out = append(out, t)
		}
	}
	return out
}

// Items returns the members of a list; anything else is reported.
func (n *Node) Items() []*Node {
	if n == nil || n.isAlias() {
		return nil
	}
	n.ask(AskedItems)
	if !n.IsList() {
		n.Report(n.notList())
		return nil
	}
	out := make([]*Node, len(n.yaml.Content))
	for i, c := range n.yaml.Content {
		out[i] = &Node{c, n.source}
	}
	return out
}

// Line returns the number of the node's line in its file, 0 for an absent node.
func (n *Node) Line() int { return n.At().Line }

// mostValue is how many characters a value may have that is read as more than text: an amount, a day, a container.
const mostValue = 200

// Value reads the text of a node with a function that returns a *units.Fault on bad text. The fault is
// reported at its character.
func Value[T any](n *Node, read func(string) (T, error)) (T, bool) {
	var none T
	text, ok := n.Text()
	if !ok {
		return none, false
	}
	if long := utf8.RuneCountInString(text); long > mostValue {
		n.Fault("long-value", fmt.Sprintf("write at most %d", mostValue), "this value has %d characters", long)
		return none, false
	}
	v, err := read(text)
	if err == nil {
		return v, true
	}
	fault, isFault := err.(*units.Fault)
	if !isFault {
		n.Fault("bad-value", "", "%s", err)
		return none, false
	}
	d := diag.Errorf(n.within(fault.Offset), fault.Code, "%s", fault.Message)
	d.Hints = fault.Hints
	n.Report(d)
	return none, false
}

// within returns the place of the character at offset in the node's text. Where the text does not stand in the
// source as it is, because it goes on in another line or holds escapes, the node's own place is near enough.
func (n *Node) within(offset int) diag.Position {
	quote := 0
	if !n.plain() {
		quote = 1
	}
	written := n.source.Text[n.source.text.Offset(n.yaml.Line, n.yaml.Column+quote):]
	if offset > utf8.RuneCountInString(n.yaml.Value) || !strings.HasPrefix(written, n.yaml.Value) {
		return n.At()
	}
	lead := len(n.yaml.Value) - len(strings.TrimLeft(n.yaml.Value, " "))
	return n.At().Shift(quote + lead + offset)
}
