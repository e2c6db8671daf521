package data

import (
	"bytes"
	"crypto/sha256"
	"encoding/base32"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// JSON returns the tree as indented JSON with a final newline. Its panic on a number that is not finite
// is ours to mend: such a value is Null.
func JSON(v Value) []byte {
	var b bytes.Buffer
	writeJSON(&b, v, "\n")
	b.WriteByte('\n')
	return b.Bytes()
}

func writeJSON(b *bytes.Buffer, v Value, newline string) {
	inner := newline + " "
	switch v := v.(type) {
	case Object:
		writeRun(b, '{', '}', len(v), newline, func(i int) {
			b.WriteString(quote(v[i].Key) + ": ")
			writeJSON(b, v[i].Value, inner)
		})
	case List:
		writeRun(b, '[', ']', len(v), newline, func(i int) { writeJSON(b, v[i], inner) })
	default:
		b.WriteString(scalar(v, quote))
	}
}

func writeRun(b *bytes.Buffer, open, end byte, n int, newline string, item func(int)) {
	b.WriteByte(open)
	for i := range n {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(newline + " ")
		item(i)
	}
	if n > 0 {
		b.WriteString(newline)
	}
	b.WriteByte(end)
}

func scalar(v Value, text func(string) string) string {
	switch v := v.(type) {
	case Number:
		return number(float64(v))
	case Text:
		return text(string(v))
	case Flag:
		return strconv.FormatBool(bool(v))
	case Null, nil:
		return "null"
	}
	panic(fmt.Sprintf("data: no scalar %T", v))
}

func number(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		panic("data: a number that is not finite must be Null")
	}
	x = Six(x)
	if x == 0 {
		return "0" // never -0
	}
	if a := math.Abs(x); a < 1e-6 || a >= 1e15 {
		return strconv.FormatFloat(x, 'g', 6, 64)
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

func quote(s string) string {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		panic(err) // a string always encodes
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// CSV returns the tree as path,value lines (RFC 4180, LF): one line a leaf, lists by label or place.
// A text that a spreadsheet would take for a formula is preceded by an apostrophe.
func CSV(v Value) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	write := func(record ...string) {
		if err := w.Write(record); err != nil {
			panic(err) // a buffer never fails
		}
	}
	write("path", "value")
	Walk(v, func(path string, leaf Value) {
		if _, null := leaf.(Null); null {
			write(guardFormula(path), "")
			return
		}
		write(guardFormula(path), scalar(leaf, guardFormula))
	})
	w.Flush()
	return b.Bytes()
}

// mark makes a text of what a spreadsheet would run.
const mark = "'"

// cellStart is where a cell may start with what makes it a formula: at the start of the text, or behind what
// parts cells in countries whose decimal sign is the comma. The wide signs are those of East Asian keyboards.
var cellStart = regexp.MustCompile("(^|[;\t\r\n])([=+@＝＋－＠-])")

func guardFormula(s string) string {
	if first, _ := utf8.DecodeRuneInString(s); !strings.ContainsRune("=+@＝＋－＠-", first) && !strings.ContainsAny(s, ";\t\r\n") {
		return s // as nearly all are: the search below takes its time
	}
	s = cellStart.ReplaceAllString(s, "${1}"+mark+"${2}")
	if s != "" && strings.ContainsRune("\t\r\n", rune(s[0])) {
		return mark + s
	}
	return s
}

// Walk visits every leaf with its path: keys and list members joined by "/". A member of a list is
// named by its label, amendment, name, key or id as a slug, else by its place from 1; a name that an
// earlier member has gets its place too, so that every path is one leaf's.
func Walk(v Value, visit func(path string, leaf Value)) { walk("", v, visit) }

func walk(path string, v Value, visit func(string, Value)) {
	join := func(name string) string {
		if path == "" {
			return name
		}
		return path + "/" + name
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
	taken := map[string]bool{}
	var out []string
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

// Stamp returns a short code of the tree's numbers and texts, without the fields named at any depth:
// eight letters and digits in two groups, such as "k3f9-2mq7".
func Stamp(o Object, without ...string) string {
	sum := sha256.Sum256(JSON(prune(o, without)))
	code := strings.ToLower(base32.StdEncoding.EncodeToString(sum[:5]))
	return code[:4] + "-" + code[4:8]
}

// prune returns the tree without the fields named.
func prune(v Value, without []string) Value {
	switch v := v.(type) {
	case Object:
		out := Object{}
		for _, f := range v {
			if !slices.Contains(without, f.Key) {
				out = append(out, Field{f.Key, prune(f.Value, without)})
			}
		}
		return out
	case List:
		out := List{}
		for _, item := range v {
			out = append(out, prune(item, without))
		}
		return out
	}
	return v
}
