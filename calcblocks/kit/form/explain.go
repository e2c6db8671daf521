package form

import (
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"trug/calcblocks/kit/diag"
)

// A riddle is what the library says when it cannot read on, and what it means to the author.
type riddle struct {
	says    []string
	message string
	hint    string
}

const lineUp = "give the keys of one block the same indentation"

var (
	indented      = riddle{nil, "this line stands further in than the one above it, which has a value already", lineUp + ", and put a text that holds \": \" in quotes"}
	unclosedQuote = riddle{nil, "a quote that was opened here is never closed", "close the quote on the same line"}
	unread        = riddle{nil, "this line cannot be read", "check the indentation, the quotes and the \": \" after each key"}
	between       = riddle{nil, "what stands between { and } or [ and ] here cannot be read", "check the commas, and put text that holds \": \" or a comma in quotes"}
)

var riddles = []riddle{
	{[]string{"did not find expected key", "did not find expected '-' indicator"}, "this line does not line up with the ones above it", lineUp},
	{[]string{"document start"}, "this text stands after the end of the document", "leave out the line \"...\" or \"---\" above it"},
	{[]string{"mapping values are not allowed"}, "this line holds a second \": \"", "put a text that holds \": \" in quotes, or check the indentation"},
	{[]string{"did not find expected ',' or"}, "the bracket that opens here is not closed", "close it with } or ], and put text that holds \": \" or a comma in quotes"},
	{[]string{"unexpected end of stream"}, unclosedQuote.message, unclosedQuote.hint},
	{[]string{"could not find expected ':'"}, "this line has no \": \" after its key", "write \"key: value\", and put longer text in quotes"},
	{[]string{"unknown escape character"}, "a \\ inside double quotes starts an unknown escape", "use single quotes for text with a \\"},
	{[]string{"exceeded max depth"}, "far too many lists and mappings stand in each other here", "write it with fewer levels"},
	{[]string{"control characters"}, "this text holds a control character", "take it out"},
}

// explain reports the library's error in our words.
func (s Source) explain(err error) {
	text := err.Error()
	if strings.Contains(text, "document start") && !documentEnd.MatchString(s.Text) {
		text = riddles[0].says[0] // no document ended: a line stands further left than the first
	}
	at := s.firstOf(lineOf(err.Error()))
	answer := unread
	for _, r := range riddles {
		for _, says := range r.says {
			if strings.Contains(text, says) {
				answer, at = s.place(r, says, at)
			}
		}
	}
	s.Report(diag.Errorf(s.At(at.line, at.column), "not-yaml", "%s", answer.message).Hint("%s", answer.hint))
}

var documentEnd = regexp.MustCompile(`(?m)^(\.\.\.|---)`)

// spot is a place in the text of the source.
type spot struct{ line, column int }

var (
	unknownEscape = regexp.MustCompile(`\\[^0abtnvfre "/\\N_LPxuU]`)
	colons        = regexp.MustCompile(`: |:$`)
)

// place finds where the author should look, which is not always where the library stopped.
func (s Source) place(r riddle, says string, at spot) (riddle, spot) {
	line := s.line(at.line)
	switch {
	case strings.HasPrefix(says, "did not find expected ','"):
		if open, found := s.openBracket(); found {
			return r, open
		}
		if i := strings.IndexAny(line, "{["); i >= 0 {
			at.column = s.column(at.line, i)
		}
		return between, at
	case strings.HasPrefix(says, "did not find expected"):
		if open, found := s.openQuote(at.line); found && strings.ContainsAny(line, `"'`) {
			return unclosedQuote, open // the next quote, here, closed it
		}
		if odd, found := s.misfit(); found {
			return r, odd
		}
	case strings.Contains(says, "end of stream"):
		if open, found := s.openQuote(at.line); found {
			return r, open
		}
	case strings.Contains(says, "escape"):
		if m := unknownEscape.FindStringIndex(line); m != nil {
			at.column = s.column(at.line, m[0])
		}
	case strings.Contains(says, "mapping values") && len(colons.FindAllString(line, -1)) == 1:
		return indented, at
	}
	return r, at
}

var errorLine = regexp.MustCompile(`line (\d+)`)

// lineOf returns the line that an error of the library is about. What its parser finds it reports one
// line early, what its scanner finds at the line.
func lineOf(err string) int {
	line := 1
	if m := errorLine.FindStringSubmatch(err); m != nil {
		line, _ = strconv.Atoi(m[1])
	}
	if strings.Contains(err, "did not find expected") {
		return line + 1
	}
	return line
}

func (s Source) line(n int) string {
	return s.lines[min(max(n, 1), len(s.lines))-1]
}

// firstOf returns the first character of a line that is not blank, at or before line.
func (s Source) firstOf(line int) spot {
	line = min(line, strings.Count(s.Text, "\n")+1)
	for line > 1 && strings.TrimSpace(s.line(line)) == "" {
		line--
	}
	text := s.line(line)
	return spot{line, len(text) - len(strings.TrimLeft(text, " ")) + 1}
}

var unclosed = regexp.MustCompile(`(?:: +|- +|[{\[,] *)("[^"]*|'[^']*)$`)

// openQuote returns the last quote up to a line that its own line does not close.
func (s Source) openQuote(upTo int) (at spot, found bool) {
	for i, text := range s.lines[:upTo] {
		if m := unclosed.FindStringSubmatchIndex(text); m != nil {
			at, found = spot{i + 1, utf8.RuneCountInString(text[:m[2]]) + 1}, true
		}
	}
	return at, found
}

// A bracket is a { or [ and its place: a line and a byte of it.
type bracket struct {
	sign       byte
	line, byte int
}

var closes = map[byte]byte{'}': '{', ']': '['}

// openBracket returns the { or [ that nothing closes, or that the other sign closes.
func (s Source) openBracket() (spot, bool) {
	var open []bracket
	free := freeLines(s.Text)
	for i, line := range s.lines {
		if free[i] {
			continue
		}
		line = notFlow.ReplaceAllStringFunc(line, func(m string) string { return strings.Repeat(" ", len(m)) })
		for j := range len(line) {
			switch sign := line[j]; sign {
			case '{', '[':
				open = append(open, bracket{sign, i + 1, j})
			case '}', ']':
				if len(open) == 0 {
					continue
				}
				last := open[len(open)-1]
				if last.sign != closes[sign] {
					return s.spot(last), true
				}
				open = open[:len(open)-1]
			}
		}
	}
	if len(open) == 0 {
		return spot{}, false
	}
	return s.spot(open[len(open)-1]), true
}

func (s Source) spot(b bracket) spot { return spot{b.line, s.column(b.line, b.byte)} }

// column returns the column of the byte at offset in a line.
func (s Source) column(line, offset int) int {
	return utf8.RuneCountInString(s.line(line)[:offset]) + 1
}
