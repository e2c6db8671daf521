package form

import (
	"regexp"
	"strings"
)

// misfit returns the first line that stands at none of the indents that the lines above it opened, or is
// a key among list entries or the reverse. The library names the start of the whole block instead.
func (s Source) misfit() (spot, bool) {
	var open indents
	skip := foldedLines(s.Text)
	above := ""
	for i, line := range s.lines {
		text := strings.TrimLeft(line, " ")
		if skip[i] || text == "" || text[0] == '#' {
			continue
		}
		if !open.take(line, above) {
			return spot{i + 1, len(line) - len(text) + 1}, true
		}
		above = strings.TrimRight(text, " ")
	}
	return spot{}, false
}

// An indent is a column at which the entries of a mapping or a list stand.
type indent struct {
	column int
	list   bool
}

type indents []indent

var (
	dashes  = regexp.MustCompile(`^ *(?:-(?: +|$))*`)
	keyLine = regexp.MustCompile(`^(?:"[^"]*"|'[^']*'|[^"'\s][^:]*(?::\S[^:]*)*):(?: |$)`)
)

// take opens and closes indents as a line does, and says whether the line fits into them. A line that is
// neither a key nor a list entry goes on with the text above.
func (in *indents) take(line, above string) bool {
	lead := dashes.FindString(line)
	column := len(line) - len(strings.TrimLeft(line, " "))
	dash, key := strings.Contains(lead, "-"), keyLine.MatchString(line[len(lead):])
	if !dash && !key {
		return true
	}
	fell := in.close(column)
	if fits := in.fit(indent{column, dash}, fell, strings.HasSuffix(above, ":")); !fits {
		return false
	}
	if dash && key {
		*in = append(*in, indent{len(lead), false}) // the key behind a dash opens an indent too
	}
	return true
}

// close drops the indents further in than column and says whether there were any.
func (in *indents) close(column int) bool {
	fell := false
	for in.top().column > column {
		*in, fell = (*in)[:len(*in)-1], true
	}
	return fell
}

func (in *indents) top() indent {
	if len(*in) == 0 {
		return indent{column: -1}
	}
	return (*in)[len(*in)-1]
}

// fit enters a line's indent. A list may stand at the indent of the key that it belongs to: then that key
// has no value of its own.
func (in *indents) fit(line indent, fell, afterKey bool) bool {
	switch top := in.top(); {
	case top.column < line.column && fell:
		return false
	case top.column < line.column, !top.list && line.list && afterKey:
		*in = append(*in, line)
	case top.list && !line.list:
		*in = (*in)[:len(*in)-1]
		return in.top() == line
	default:
		return top.list == line.list
	}
	return true
}
