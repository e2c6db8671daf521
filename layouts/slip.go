package layouts

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A Slip is something wrong in a dress. Line and Column count from 1, Column in characters; Line 0 means the
// file as a whole.
type Slip struct {
	Name         string // of the file in the dress: "pages/note.html"; "" = the dress as a whole
	Text         string // of that file
	Line, Column int
	Message      string
	Wrong        string   // the name that is not there, "" when that is not what is wrong
	There        []string // the names that are
}

func (s *Slip) Error() string {
	return fmt.Sprintf("dress file %q, line %d: %s", s.Name, s.Line, s.Message)
}

// Slips returns what New found wrong in a dress; none when err is something else.
func Slips(err error) []*Slip {
	var out []*Slip
	var one *Slip
	if all, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range all.Unwrap() {
			out = append(out, Slips(e)...)
		}
	} else if errors.As(err, &one) {
		out = append(out, one)
	}
	return out
}

// The library tells the place and the reason in one text. Its columns count bytes from 0.
var (
	located   = regexp.MustCompile(`^(?:html/)?template: ?([^:]+):(\d+)(?::(\d+))?: (?s:(.*))$`)
	placeless = regexp.MustCompile(`^html/template: ?([^:]+): (?s:(.*))$`)
	executing = regexp.MustCompile(`^executing "[^"]*" at <.*?>: `)
	noField   = regexp.MustCompile(`can't evaluate field (\S+) in type (.+)$`)
	noWord    = regexp.MustCompile(`function "([^"]*)" not defined$`)
	noFile    = regexp.MustCompile(`no such template "([^"]*)"$`)
)

// slip turns an error of the library into a slip when it lies in the dress; an error in our own templates
// stays what it is. printed is the template that was asked for: where one of ours was handed what it cannot
// use, the one of the dress that called it is to blame.
func (l *Layouts) slip(printed string, err error) error {
	s := &Slip{Message: err.Error()}
	if m := located.FindStringSubmatch(s.Message); m != nil {
		s.Name, s.Message = m[1], executing.ReplaceAllString(m[4], "")
		s.Line, _ = strconv.Atoi(m[2])
		s.Column, _ = strconv.Atoi(m[3])
		s.Column++
	} else if m := placeless.FindStringSubmatch(s.Message); m != nil {
		s.Name, s.Message = m[1], m[2]
	}
	text, own := l.own[s.Name]
	caller, called := l.own[printed]
	switch {
	case own:
		s.Text, s.Column = text, inCharacters(text, s.Line, s.Column)
		l.inWords(s)
	case called:
		s.Message = fmt.Sprintf("it calls %q with something else than that template reads", s.Name)
		s.Name, s.Text, s.Line, s.Column = printed, caller, 0, 0
	default:
		return fmt.Errorf("template %q: %w", printed, err)
	}
	return s
}

// inCharacters turns a column in bytes into one in characters.
func inCharacters(text string, line, column int) int {
	lines := strings.Split(text, "\n")
	if line < 1 || line > len(lines) || column < 1 {
		return 1
	}
	return utf8.RuneCountInString(lines[line-1][:min(column-1, len(lines[line-1]))]) + 1
}

// inWords says what the library says in our words, where we have some.
func (l *Layouts) inWords(s *Slip) {
	if m := noField.FindStringSubmatch(s.Message); m != nil {
		s.Message, s.Wrong, s.There = fmt.Sprintf("there is no %q here", m[1]), m[1], namesOf(m[2], s.Name)
	} else if m := noWord.FindStringSubmatch(s.Message); m != nil {
		s.Message, s.Wrong, s.There = fmt.Sprintf("there is no function %q", m[1]), m[1], wordNames()
	} else if m := noFile.FindStringSubmatch(s.Message); m != nil {
		s.Message, s.Wrong, s.There = fmt.Sprintf("there is no template %q", m[1]), m[1], templateNames()
	} else if strings.HasPrefix(s.Message, "ends in a non-text context") {
		s.Message = "a tag, a quote or a script is not closed"
	} else if strings.Contains(s.Message, "branches end in different contexts") {
		s.Message = "the branches of this action do not close the same tags and quotes"
	} else if s.Message == "unexpected EOF" {
		s.Message = "the file ends before this action is closed with {{end}}"
	}
	s.Message = strings.TrimSuffix(s.Message, ".")
}
