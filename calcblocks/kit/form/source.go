// Package form reads YAML as the author of a note meets it: strictly, as text, with every fault at its
// file, line and column and in plain words. It is the only user of the YAML library.
package form

import (
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"

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
}

// FileSource returns the source that is a whole file.
func FileSource(f *diag.File, values units.Parser, report func(diag.Diagnostic)) Source {
	at := func(line, column int) diag.Position { return diag.Position{File: f, Line: line, Column: column} }
	return Source{Text: f.Text, At: at, Report: report, Values: values}
}

// Read returns the one document of a source. It returns nil when the text cannot be read as YAML at all,
// or is empty; what is wrong was reported then. Other faults are reported and reading goes on.
func Read(s Source) *Node {
	if s.scan() {
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
	n.checkTree()
	return n
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

var errorLine = regexp.MustCompile(`line (\d+)`)

// explain reports the library's error in our words.
func (s Source) explain(err error) {
	text := err.Error()
	if strings.Contains(text, "document start") && !documentEnd.MatchString(s.Text) {
		text = "did not find expected key" // no document ended: a line stands further left than the first
	}
	message, hint := inOurWords(text)
	s.Report(diag.Errorf(s.firstOf(s.lineOf(err.Error())), "not-yaml", "%s", message).Hint("%s", hint))
}

var documentEnd = regexp.MustCompile(`(?m)^(\.\.\.|---)`)

// lineOf returns the line that an error of the library is about. What its parser finds it reports one
// line early, what its scanner finds at the line; a quote that is never closed at the end of the text.
func (s Source) lineOf(err string) int {
	line := 1
	if m := errorLine.FindStringSubmatch(err); m != nil {
		line, _ = strconv.Atoi(m[1])
	}
	switch {
	case strings.Contains(err, "did not find expected"):
		return line + 1
	case strings.Contains(err, "unexpected end of stream"):
		return s.openQuote(line)
	}
	return line
}

var unclosed = regexp.MustCompile(`(?:: +|- +|[{\[,] *)(?:"[^"]*|'[^']*)$`)

// openQuote returns the last line that opens a quote and does not close it.
func (s Source) openQuote(line int) int {
	for i, text := range strings.Split(s.Text, "\n") {
		if unclosed.MatchString(text) {
			line = i + 1
		}
	}
	return line
}

// firstOf returns the place of the first character of a line that is not blank, at or before line.
func (s Source) firstOf(line int) diag.Position {
	lines := strings.Split(s.Text, "\n")
	line = min(line, len(lines))
	for line > 1 && strings.TrimSpace(lines[line-1]) == "" {
		line--
	}
	text := lines[line-1]
	return s.At(line, len(text)-len(strings.TrimLeft(text, " "))+1)
}

func inOurWords(err string) (message, hint string) {
	has := func(part string) bool { return strings.Contains(err, part) }
	switch {
	case has("did not find expected key"), has("did not find expected '-' indicator"):
		return "this line does not line up with the ones above it", "give the keys of one block the same indentation"
	case has("document start"):
		return "this text stands after the end of the document", "leave out the line \"...\" or \"---\" above it"
	case has("mapping values are not allowed"):
		return "this line holds a second \": \"", "put a text that holds \": \" in quotes, or check the indentation"
	case has("did not find expected ',' or '}'"), has("did not find expected ',' or ']'"):
		return "a { or [ that was opened here or above is not closed properly", "check the commas and the closing } or ], and put text with : or , in quotes"
	case has("found unexpected end of stream"):
		return "a quote that was opened here is never closed", "close the quote on the same line"
	case has("could not find expected ':'"):
		return "this line has no \": \" after its key", "write \"key: value\", and put longer text in quotes"
	case has("found unknown escape character"):
		return "a \\ inside double quotes starts an unknown escape", "use single quotes for text with a \\"
	case has("control characters"):
		return "this text holds a control character", "take it out"
	}
	return "this line cannot be read", "check the indentation, the quotes and the \": \" after each key"
}
