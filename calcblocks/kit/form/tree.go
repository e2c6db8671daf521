package form

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"trug/calcblocks/kit/diag"
)

// What a source may hold at most. No block comes near: a diary of a year has some hundreds of entries. Beyond
// them a reader would be kept for minutes by one file.
const (
	mostLevels  = 20     // of lists and mappings in each other
	mostEntries = 10_000 // of one list or mapping
)

// exceeds reports the first node that goes beyond one of these, and returns true then.
func (n *Node) exceeds(level int) bool {
	size := len(n.yaml.Content)
	if n.IsMapping() {
		size /= 2
	}
	switch {
	case size > 0 && level > mostLevels:
		n.Fault("too-deep", "write it with fewer levels", "more than %d lists and mappings stand in each other here", mostLevels)
		return true
	case size > mostEntries && !n.source.Endless:
		n.Fault("too-many-entries", fmt.Sprintf("make several blocks of it: one list holds at most %d", mostEntries), "%d entries stand here, more than %d", size, mostEntries)
		return true
	}
	for _, c := range n.yaml.Content {
		if (&Node{c, n.source}).exceeds(level + 1) {
			return true
		}
	}
	return false
}

// checkTree reports what YAML allows and a block does not: anchors, aliases, tags, merge keys, repeated
// keys, keys that are not text, and flow mappings and lists that a comma split.
func (n *Node) checkTree() {
	n.checkMarks()
	if n.IsList() {
		items := n.Items()
		for i, item := range items {
			item.checkTree()
			if i > 0 {
				item.checkComma(items[i-1])
			}
		}
	}
	if n.IsMapping() {
		n.checkKeys()
	}
}

// checkMarks reports an alias, an anchor or a tag.
func (n *Node) checkMarks() {
	switch {
	case n.isAlias():
		n.Fault("alias", "write the value out", "%q is an alias", "*"+n.yaml.Value)
	case n.yaml.Anchor != "":
		n.Fault("anchor", "write the value out wherever it is needed", "%q is an anchor", "&"+n.yaml.Anchor)
	case n.yaml.Style&yaml.TaggedStyle != 0:
		n.Fault("tag", "leave the tag out; put the text in quotes if it starts with !", "%q is a tag", n.yaml.Tag)
	}
}

func (n *Node) checkKeys() {
	first := map[string]*Node{}
	entries := n.entries()
	for i, e := range entries {
		e.Key.checkMarks()
		switch before, seen := first[e.Name]; {
		case e.Key.isAlias():
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
		if n.valueless(e) {
			e.reportValueless(entries[:i])
			continue
		}
		e.Value.checkTree()
	}
}

// valueless says whether an entry of a flow mapping is a key alone, without even a colon: a comma inside
// a number or a text started it, or no blank follows its colon.
func (n *Node) valueless(e Entry) bool {
	flow := n.yaml.Style&yaml.FlowStyle != 0
	if !flow || !e.Key.IsText() || !e.Value.IsText() || e.Value.yaml.Value != "" || !e.Value.plain() {
		return false
	}
	return !e.Key.plain() || !strings.HasPrefix(strings.TrimLeft(n.source.after(e.Key), " "), ":")
}

// after returns the rest of the line behind a plain text.
func (s Source) after(n *Node) string {
	if n.yaml.Line > len(s.lines) {
		return ""
	}
	rest, _, _ := strings.Cut(s.Text[s.text.Offset(n.yaml.Line, n.yaml.Column+utf8.RuneCountInString(n.yaml.Value)):], "\n")
	return rest
}

var startsWithDigit = regexp.MustCompile(`^\d`)

// reportValueless reports a key without a value, after the entries before it.
func (e Entry) reportValueless(before []Entry) {
	if len(before) == 0 || strings.Contains(e.Name, ":") {
		e.Key.Fault("no-value", "write \"key: value\", with a space after the colon", "%q has no value", clip(e.Name))
		return
	}
	hint := "put a text that holds a comma in quotes"
	if last := before[len(before)-1].Value.Raw(); wholeNumber.MatchString(last) && startsWithDigit.MatchString(e.Name) {
		hint = "write a decimal point instead of a decimal comma: \"" + last + "." + clip(e.Name) + "\""
	}
	e.Key.Fault("split-by-comma", hint, "the comma before %q starts a new entry, which has no value", clip(e.Name))
}

var (
	wholeNumber = regexp.MustCompile(`^\d+$`)
	withUnit    = regexp.MustCompile(`^\d+ *[^\d\s./]`)
)

// checkComma reports a decimal comma in a flow list: it made two members of one, a bare number and, with no
// blank between, a number with a unit.
func (n *Node) checkComma(before *Node) {
	if !wholeNumber.MatchString(before.Raw()) || !withUnit.MatchString(n.Raw()) || !n.plain() || !before.plain() {
		return
	}
	if n.yaml.Line != before.yaml.Line || n.yaml.Column != before.yaml.Column+len(before.Raw())+1 {
		return
	}
	hint := "write a decimal point instead of a decimal comma: \"" + before.Raw() + "." + clip(n.Raw()) + "\""
	n.Fault("split-by-comma", hint, "the comma before %q starts a new entry", clip(n.Raw()))
}
