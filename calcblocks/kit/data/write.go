package data

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// CSV returns the tree as path,value lines (RFC 4180, LF): one line a leaf, lists by label or place.
// A text that a spreadsheet would take for a formula is preceded by an apostrophe.
func CSV(v Value) []byte { return AppendCSV(nil, v) }

// AppendCSV appends what CSV returns.
func AppendCSV(to []byte, v Value) []byte {
	to = append(to, "path,value\n"...)
	walk(make([]byte, 0, usualPath), v, func(path []byte, leaf Value) {
		to = append(appendText(to, path), ',')
		switch leaf := leaf.(type) {
		case Null:
		case Text:
			to = appendText(to, leaf)
		default:
			to = appendScalar(to, leaf) // of which no spreadsheet makes anything else
		}
		to = append(to, '\n')
	})
	return to
}

// usualPath is more bytes than nearly all paths have.
const usualPath = 128

// appendText writes a text as a cell.
func appendText[S ~string | ~[]byte](to []byte, s S) []byte {
	if isPlain(s) {
		return append(to, s...)
	}
	return appendCell(to, guardFormula(string(s)))
}

// isPlain says of nearly all texts that they stand in a cell as they are: they begin with a letter or a digit and hold
// nothing but ASCII without the signs that part cells in some country, and without those that quote.
func isPlain[S ~string | ~[]byte](s S) bool {
	for i := range len(s) {
		switch c := s[i]; {
		case 'a' <= c && c <= 'z', 'A' <= c && c <= 'Z', '0' <= c && c <= '9':
		case i == 0, c < ' ', c > '~', c == '"', c == ',', c == ';', c == '\\':
			return false
		}
	}
	return true
}

// appendCell writes a cell, in quotes where its text could be misread: RFC 4180, as encoding/csv does it, whose writer
// takes a buffer of 4 KB for each.
func appendCell(to []byte, s string) []byte {
	first, _ := utf8.DecodeRuneInString(s)
	if !unicode.IsSpace(first) && s != `\.` && !strings.ContainsAny(s, "\",\r\n") {
		return append(to, s...)
	}
	to = append(to, '"')
	to = append(to, strings.ReplaceAll(s, `"`, `""`)...)
	return append(to, '"')
}

// mark makes a text of what a spreadsheet would run.
const mark = "'"

// guardFormula puts the mark where a cell may start with what makes it a formula: at the start of the text, or behind
// what parts cells in countries whose decimal sign is the comma. The wide signs are those of East Asian keyboards.
func guardFormula(s string) string {
	var out []byte
	from, starts := 0, true
	for i, r := range s {
		switch r {
		case '=', '+', '-', '@', '＝', '＋', '－', '＠':
			if starts {
				out, from = append(append(out, s[from:i]...), mark...), i
			}
			starts = false
		case ';', '\t', '\r', '\n':
			if i == 0 && r != ';' {
				out = append(out, mark...)
			}
			starts = true
		default:
			starts = false
		}
	}
	if out == nil {
		return s
	}
	return string(append(out, s[from:]...))
}

// Walk visits every leaf with its path: keys and list members joined by "/". A member of a list is
// named by its label, amendment, name, key or id as a slug, else by its place from 1; a name that an
// earlier member has gets its place too, so that every path is one leaf's.
func Walk(v Value, visit func(path string, leaf Value)) {
	walk(nil, v, func(path []byte, leaf Value) { visit(string(path), leaf) })
}

// walk is Walk with a path that holds until visit returns.
func walk(path []byte, v Value, visit func([]byte, Value)) {
	join := func(name string) []byte {
		if len(path) == 0 {
			return append(path, name...)
		}
		return append(append(path, '/'), name...)
	}
	switch v := v.(type) {
	case Object:
		for _, f := range v {
			walk(join(f.Key), f.Value, visit)
		}
	case List:
		for i, name := range memberNames(v) {
			walk(join(name), v[i], visit)
		}
	default:
		visit(path, v)
	}
}

// memberNames returns the names of a list's members, each different.
func memberNames(l List) []string {
	taken := make(map[string]bool, len(l))
	out := make([]string, 0, len(l))
	for i, item := range l {
		name := memberName(i, item)
		if taken[name] {
			name += "-" + strconv.Itoa(i+1)
		}
		taken[name] = true
		out = append(out, name)
	}
	return out
}

func memberName(i int, v Value) string {
	if o, ok := v.(Object); ok {
		for _, key := range []string{"label", "amendment", "name", "key", "id"} {
			if t, ok := o.Get(key).(Text); ok {
				return Slug(string(t))
			}
		}
	}
	return strconv.Itoa(i + 1)
}
