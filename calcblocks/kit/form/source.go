// Package form reads YAML as the author of a note meets it: strictly, as text, with every fault at its
// file, line and column and in plain words. It is the only user of the YAML library.
package form

import (
	"errors"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/units"
)

// A Source is a YAML text with its place in a file.
type Source struct {
	Text string
	// At turns a line and a column of Text (from 1, column in characters) into the place in the file.
	At func(line, column int) diag.Position
	// Report takes what is wrong.
	Report func(diag.Diagnostic)
	// Values reads quantities in the handbook's main set of measures.
	Values units.Parser
	// Watch, where it is set, is told what readers ask of the nodes.
	Watch func(Ask)
	// Endless says that the program wrote the text: its lists may have any length.
	Endless bool
	text    *diag.File // Text, for places in it
	lines   []string   // of Text
}

// FileSource returns the source that is a whole file.
func FileSource(f *diag.File, values units.Parser, report func(diag.Diagnostic)) Source {
	at := func(line, column int) diag.Position { return diag.Position{File: f, Line: line, Column: column} }
	return Source{Text: f.Text, At: at, Report: report, Values: values}
}

// Read returns the one document of a source. It returns nil when the text cannot be read as YAML at all,
// or is empty; what is wrong was reported then. Other faults are reported and reading goes on.
func Read(s Source) *Node {
	s.text, s.lines = &diag.File{Text: s.Text}, strings.Split(s.Text, "\n")
	s.At = s.inside()
	if s.foreign() || s.scan() {
		return nil
	}
	var doc yaml.Node
	dec := yaml.NewDecoder(strings.NewReader(s.Text))
	switch err := dec.Decode(&doc); {
	case errors.Is(err, io.EOF):
		return nil
	case err != nil:
		s.explain(err)
		return nil
	}
	s.checkEnd(dec)
	n := &Node{yaml: doc.Content[0], source: &s}
	if n.exceeds(1) {
		return nil
	}
	n.checkTree()
	return n
}

// foreign reports the first character that no author wrote: a byte that is not UTF-8, or a control character.
func (s Source) foreign() bool {
	for i, r := range s.Text {
		bad := r == utf8.RuneError && !strings.HasPrefix(s.Text[i:], string(utf8.RuneError))
		if !bad && !odd(r) {
			continue
		}
		wrong := diag.Errorf(diag.Position{}, "control-character", "this text holds a control character").Hint("take it out")
		if bad {
			wrong = diag.Errorf(diag.Position{}, "not-utf-8", "this text is not UTF-8").Hint("save the file as UTF-8")
		}
		at := s.text.At(i)
		wrong.At = s.At(at.Line, at.Column)
		s.Report(wrong)
		return true
	}
	return false
}

// odd says whether a character is one that the YAML library refuses, or takes for the end of a line when it is
// none to an editor: control characters, the separators U+2028 and U+2029, and two that are no characters.
func odd(r rune) bool {
	switch r {
	case '\n', '\t', '\r':
		return false
	case '\u2028', '\u2029', '\ufffe', '\uffff':
		return true
	}
	return unicode.IsControl(r)
}

// inside returns At for places inside the text: the library puts what is missing at its end one line below.
func (s Source) inside() func(line, column int) diag.Position {
	lines, at := s.lines, s.At
	return func(line, column int) diag.Position {
		if line > len(lines) {
			line, column = len(lines), utf8.RuneCountInString(lines[len(lines)-1])+1
		}
		return at(line, min(column, utf8.RuneCountInString(lines[max(line, 1)-1])+1))
	}
}

// checkEnd reports a second document and anything after the first.
func (s Source) checkEnd(dec *yaml.Decoder) {
	var more yaml.Node
	switch err := dec.Decode(&more); {
	case errors.Is(err, io.EOF):
	case err != nil:
		s.explain(err)
	default:
		at := s.At(max(more.Line, 1), max(more.Column, 1))
		s.Report(diag.Errorf(at, "second-document", "a second document starts here").Hint("leave out the line \"---\""))
	}
}
