package form

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"trug/calcblocks/kit/diag"
)

// A trap is a line that the YAML library would refuse with a riddle, or read as something else than the
// author meant. The shape's first group is what comes before the value, the second the value.
type trap struct {
	shape   *regexp.Regexp
	code    string
	message func(value string) string
	hint    string
}

// keyed matches the start of a line up to a plain value: list dashes and a key.
const (
	keyOnly  = `[^\s#"'{\[&*!|>%@` + "`" + `-][^"'{\[#]*?: +`
	afterKey = `^(\s*(?:- +)*` + keyOnly + `)`
	keyed    = `^(\s*(?:- +)*(?:` + keyOnly + `|- +))`
)

const (
	inQuotes  = "put the text in quotes"
	noAlias   = "write the value out, or put the text in quotes"
	quotedTxt = `(?:"(?:[^"\\]|\\.)*"|'(?:[^']|'')*')`
)

var traps = []trap{
	{regexp.MustCompile("^(\\s*)([%@`*>|][^:]*:(?: .*)?)$"), "plain-start", startsWith, "put the key in quotes"},
	{regexp.MustCompile(keyed + "([%@`}\\],].*)$"), "plain-start", startsWith, inQuotes},
	{regexp.MustCompile(afterKey + `([-?](?:\s.*)?)$`), "plain-start", startsWith, inQuotes + ", or start a list on a line of its own"},
	{regexp.MustCompile(keyed + `(!\S*.*)$`), "tag", func(v string) string { return quoteFirst(v) + " is a tag" }, "leave the tag out, or put the text in quotes"},
	{regexp.MustCompile(keyed + `(&.*)$`), "anchor", func(v string) string { return quoteFirst(v) + " is an anchor" }, noAlias},
	{regexp.MustCompile(keyed + `(\*.*)$`), "alias", func(v string) string { return quoteFirst(v) + " is an alias" }, noAlias},
	{regexp.MustCompile(keyed + `([|>][^\s+\-\d#].*|[|>] +[^\s#].*)$`), "plain-start", startsWith, inQuotes},
	{regexp.MustCompile(keyed + `(#\S.*)$`), "plain-start", startsWith, inQuotes + ", or leave a space after the # of a comment"},
	{regexp.MustCompile(keyed + `([^\s"'{\[|>#].* #.*)$`), "hash-in-text", nil, inQuotes + ", or leave two spaces before a comment"},
	{regexp.MustCompile(afterKey + `([^\s"'{\[|>#][^#]*?: .*)$`), "colon-in-text", func(v string) string { return inDouble(v) + " holds \": \"" }, inQuotes},
	{regexp.MustCompile(afterKey + `([^\s"'{\[|>#:][^#]*:)\s*$`), "colon-in-text", func(v string) string { return inDouble(v) + " ends with \":\"" }, inQuotes},
	{regexp.MustCompile(keyed + `((?:\{[^{}]*\}|\[[^\[\]]*\])\s*[^\s#,}\]].*)$`), "plain-start", startsWith, inQuotes},
	{regexp.MustCompile(`^((?:[^"'#]|` + quotedTxt + `)*[\[{,]\s*)(#[^\s,\]}]+)`), "plain-start", startsWith, inQuotes + ", or leave a space after the # of a comment"},
	{regexp.MustCompile(`^(\s*(?:- +)*(?:` + keyOnly + `|- +)` + quotedTxt + `\s*)([^\s#:"'].*)$`), "after-quote", afterQuote, "put the whole text in quotes; a quote inside is written twice in single quotes ('it''s')"},
}

func inDouble(v string) string { return "\"" + clip(v) + "\"" }

func afterQuote(v string) string { return inDouble(v) + " stands after the closing quote" }

func startsWith(v string) string {
	return inDouble(v) + " starts with " + string([]rune(v)[:1])
}

func quoteFirst(v string) string { return "\"" + strings.Fields(v)[0] + "\"" }

// clip shortens a text for a message.
func clip(s string) string {
	s = strings.TrimSpace(s)
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}

// scan reports the traps that are seen line by line, before the library reads the text. It returns true
// when it reported any: what the library would say next would only be a consequence.
func (s Source) scan() bool {
	found := false
	fold := foldedLines(s.Text)
	for i, line := range s.lines {
		if fold[i] || isPlain(line) {
			continue
		}
		if d, bad := s.scanLine(i+1, line); bad {
			s.Report(d)
			found = true
		}
	}
	return found
}

// oddIndent is a tab, or a blank that a text processor makes so that a line does not break there.
var oddIndent = regexp.MustCompile("^ *([\t\u00a0\u2007\u202f])[ \t\u00a0\u2007\u202f]*[^ \t\u00a0\u2007\u202f]")

func (s Source) scanLine(n int, line string) (diag.Diagnostic, bool) {
	if m := oddIndent.FindStringSubmatchIndex(line); m != nil {
		what := "a tab"
		if line[m[2]] != '\t' {
			what = "a blank that does not break"
		}
		at := s.At(n, m[2]+1) // only plain blanks stand before it
		return diag.Errorf(at, "tab-indent", "%s indents this line", what).Hint("indent with spaces"), true
	}
	for _, t := range traps {
		m := t.shape.FindStringSubmatch(line)
		if m == nil || (t.code == "hash-in-text" && isComment(m[2])) {
			continue
		}
		at := s.At(n, utf8.RuneCountInString(m[1])+1)
		message := inDouble(m[2]) + " holds \" #\""
		if t.message != nil {
			message = t.message(beforeComment(m[2]))
		}
		return diag.Errorf(at, t.code, "%s", message).Hint("%s", t.hint), true
	}
	return diag.Diagnostic{}, false
}

var commentStart = regexp.MustCompile(`\s#`)

// isComment says whether the first # of a value starts a comment as the author meant it: two blanks or a
// tab stand before it.
func isComment(value string) bool {
	at := commentStart.FindStringIndex(value)
	return at != nil && at[0] > 0 && (value[at[0]-1] == ' ' || value[at[0]] == '\t')
}

func beforeComment(value string) string {
	if at := strings.Index(value, "  #"); at > 0 {
		return strings.TrimSpace(value[:at])
	}
	return value
}

var blockText = regexp.MustCompile(`(?:: +|- +)[|>][+\-\d]*\s*(?:#.*)?$`)

// foldedLines marks the lines that are not looked at one by one: those of a text written with | or >, and
// those that go on inside a { or [ that an earlier line opened.
func foldedLines(text string) []bool {
	out := freeLines(text)
	depth := 0
	for i, line := range strings.Split(text, "\n") {
		if out[i] {
			continue
		}
		out[i] = depth > 0
		depth = max(depth+openings(line), 0)
	}
	return out
}

// freeLines marks the lines of texts written with | or >, whose content is free.
func freeLines(text string) []bool {
	lines := strings.Split(text, "\n")
	out := make([]bool, len(lines))
	inside, indent := false, 0
	for i, line := range lines {
		own := len(line) - len(strings.TrimLeft(line, " "))
		if inside && (strings.TrimSpace(line) == "" || own > indent) {
			out[i] = true
			continue
		}
		inside, indent = strings.ContainsAny(line, "|>") && blockText.MatchString(line), own
	}
	return out
}

var notFlow = regexp.MustCompile(`"(?:[^"\\]|\\.)*"|'[^']*'|(?:^|\s)#.*`)

// openings counts the { and [ of a line that it does not close, outside quotes and comments.
func openings(line string) int {
	open := 0
	for i := 0; i < len(line); i++ {
		switch line[i] {
		case '{', '[':
			open++
		case '}', ']':
			open--
		case '"', '\'':
			i += quotedLength(line[i:]) - 1
		case '#':
			if i == 0 || strings.IndexByte(" \t\r\f", line[i-1]) >= 0 {
				return open
			}
		}
	}
	return open
}

// quotedLength is the length of a text in quotes with them, 1 where the quote is not closed.
func quotedLength(s string) int {
	for i := 1; i < len(s); i++ {
		switch {
		case s[i] == s[0]:
			return i + 1
		case s[i] == '\\' && s[0] == '"':
			i++
		}
	}
	return 1
}
