package form

import (
	"regexp"
	"strings"

	"trug/calcblocks/kit/diag"
)

var (
	noBlank = regexp.MustCompile(`^([a-z][a-z0-9 -]*):(\S.*)$`)               // kelp-meal:1 cup
	noColon = regexp.MustCompile(`^([a-z][a-z0-9]*(?:-[a-z0-9]+)*) +(\d.*)$`) // kelp-meal 1 cup
	oneWord = regexp.MustCompile(`^[^\[\]{}"'#:]{1,40}$`)
)

// notMapping says what to write where keys with values are needed: the line that lacks no more than a colon or a
// blank as it should be, else which keys there are.
func (n *Node) notMapping(known []string) diag.Diagnostic {
	d := diag.Errorf(n.At(), "not-mapping", "keys with values are needed here")
	line := n.ownLine()
	if m := noBlank.FindStringSubmatch(line); m != nil {
		return d.Hint("leave a blank behind the colon: %q", m[1]+": "+m[2])
	}
	if m := noColon.FindStringSubmatch(line); m != nil {
		return d.Hint("write a colon behind the key: %q", m[1]+": "+m[2])
	}
	if n.IsList() && strings.HasPrefix(line, "-") {
		d = d.Hint("write \"key: value\", one below the other, without the \"- \"")
	} else {
		d = d.Hint("write \"key: value\", one below the other")
	}
	if len(known) > 0 {
		d = d.Hint("the keys here are %s", strings.Join(known, ", "))
	}
	return d
}

// ownLine returns the line of the node, "" where something stands before the node.
func (n *Node) ownLine() string {
	line := n.source.line(n.yaml.Line)
	if n.source.firstOf(n.yaml.Line) != (spot{n.yaml.Line, n.yaml.Column}) {
		return ""
	}
	return strings.TrimSpace(line)
}

// notList says how the list is written, with the author's one text in it.
func (n *Node) notList() diag.Diagnostic {
	d := diag.Errorf(n.At(), "not-list", "a list is needed here")
	if text := strings.TrimSpace(n.Raw()); oneWord.MatchString(text) {
		return d.Hint("write %q, or the entries below each other, each after \"- \"", "["+text+"]")
	}
	return d.Hint("write the entries below each other, each after \"- \"")
}
