package data

import (
	"bytes"
	"crypto/sha256"
	"encoding/base32"
	"encoding/json"
	"fmt"
	"hash"
	"math"
	"slices"
	"strconv"
	"strings"
)

// JSON returns the tree as indented JSON with a final newline. Its panic on a number that is not finite
// is ours to mend: such a value is Null.
func JSON(v Value) []byte { return AppendJSON(nil, v) }

// AppendJSON appends what JSON returns.
func AppendJSON(to []byte, v Value) []byte {
	w := writer{text: to}
	w.value(v, 0)
	return append(w.text, '\n')
}

// Stamp returns a short code of the tree's numbers and texts, without the fields named at any depth:
// eight letters and digits in two groups, such as "k3f9-2mq7".
func Stamp(o Object, without ...string) string {
	w := writer{text: make([]byte, 0, 2*handOver), without: without, sum: sha256.New()}
	w.value(o, 0)
	w.sum.Write(append(w.text, '\n'))
	code := strings.ToLower(base32.StdEncoding.EncodeToString(w.sum.Sum(nil)[:5]))
	return code[:4] + "-" + code[4:8]
}

// A writer writes a tree as JSON.
type writer struct {
	text    []byte
	without []string  // fields that are left out
	sum     hash.Hash // nil, or where the text goes as it is written
}

// handOver is how many bytes go to the sum at a time.
const handOver = 4096

func (w *writer) value(v Value, depth int) {
	switch v := v.(type) {
	case Object:
		w.object(v, depth)
	case List:
		w.text = append(w.text, '[')
		for i, item := range v {
			w.item(i == 0, depth+1)
			w.value(item, depth+1)
		}
		w.end(']', len(v) > 0, depth)
	case Text:
		w.text = appendQuoted(w.text, string(v))
	default:
		w.text = appendScalar(w.text, v)
	}
	if w.sum != nil && len(w.text) > handOver {
		w.sum.Write(w.text)
		w.text = w.text[:0]
	}
}

func (w *writer) object(o Object, depth int) {
	w.text = append(w.text, '{')
	first := true
	for _, f := range o {
		if slices.Contains(w.without, f.Key) {
			continue
		}
		w.item(first, depth+1)
		w.text = append(appendQuoted(w.text, f.Key), ": "...)
		w.value(f.Value, depth+1)
		first = false
	}
	w.end('}', !first, depth)
}

// item begins the line of a member.
func (w *writer) item(first bool, depth int) {
	if !first {
		w.text = append(w.text, ',')
	}
	w.line(depth)
}

// end closes an object or a list, on a line of its own unless it is empty.
func (w *writer) end(sign byte, filled bool, depth int) {
	if filled {
		w.line(depth)
	}
	w.text = append(w.text, sign)
}

func (w *writer) line(depth int) {
	w.text = append(w.text, '\n')
	for range depth {
		w.text = append(w.text, ' ')
	}
}

// appendScalar writes a value that is neither a text nor made of others.
func appendScalar(to []byte, v Value) []byte {
	switch v := v.(type) {
	case Number:
		return appendNumber(to, float64(v))
	case Flag:
		return strconv.AppendBool(to, bool(v))
	case Null, nil:
		return append(to, "null"...)
	}
	panic(fmt.Sprintf("data: no scalar %T", v))
}

func number(x float64) string { return string(appendNumber(nil, x)) }

func appendNumber(to []byte, x float64) []byte {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		panic("data: a number that is not finite must be Null")
	}
	if math.Abs(x) < 1e6 && x == math.Trunc(x) {
		return strconv.AppendInt(to, int64(x), 10) // and never -0
	}
	var room [16]byte
	text := strconv.AppendFloat(room[:0], x, 'e', 5, 64) // Six, as "-1.23450e-01"
	if text[0] == '-' {
		to, text = append(to, '-'), text[1:]
	}
	power, _ := strconv.Atoi(string(text[len("1.23450e"):])) // what is written so reads so
	if power < -6 || power >= 15 {
		return strconv.AppendFloat(to, Six(math.Abs(x)), 'g', 6, 64)
	}
	text[1] = text[0]
	return appendDigits(to, bytes.TrimRight(text[1:len("1.23450")], "0"), power)
}

// appendDigits writes digits, of which the first stands for 10^power, without an exponent.
func appendDigits(to, digits []byte, power int) []byte {
	if power < 0 {
		to = append(append(to, "0."...), "00000"[:-power-1]...)
		return append(to, digits...)
	}
	for i := range max(len(digits), power+1) {
		if i == power+1 {
			to = append(to, '.')
		}
		if i < len(digits) {
			to = append(to, digits[i])
		} else {
			to = append(to, '0')
		}
	}
	return to
}

// appendQuoted writes a text as JSON. Most texts hold nothing that needs an escape.
func appendQuoted(to []byte, s string) []byte {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
			return append(to, escaped(s)...)
		}
	}
	return append(append(append(to, '"'), s...), '"')
}

func escaped(s string) []byte {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		panic(err) // a string always encodes
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n"))
}
