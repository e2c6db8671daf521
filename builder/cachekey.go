package builder

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"html/template"
	"math"
	"reflect"
	"slices"
	"strings"
	"time"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// ground is what every block stands on: the grower's files, the day, and the folder that places name.
func (h *Handbook) ground(files trace) string {
	return sumOf(h.folder, h.today.Format(time.DateOnly), files.sum())
}

// key is the sum of all that a block is computed from: its own text and place, the ground, and what the
// blocks of lower phases were computed from, which stands for what they told.
func (p *Placed) key(ground, told string) string {
	return sumOf(ground, told, p.Kind.Name, p.ID, p.Source, spot(p.At), p.lines())
}

// lines are the lines of the file that the block takes up, from fence to fence: a message about it shows
// them. A block of a file of its own has its whole text as its source.
func (p *Placed) lines() string {
	if p.fence == nil || p.fence.At.File == nil {
		return ""
	}
	first, last := p.fence.At, p.fence.Position(math.MaxInt, 1)
	all := strings.Split(first.File.Text, "\n")
	return spot(first) + "\n" + strings.Join(all[first.Line-1:min(last.Line, len(all))], "\n")
}

func spot(at diag.Position) string { return fmt.Sprintf("%s:%d:%d", at.Name(), at.Line, at.Column) }

// sumOf is the digest of texts and of where each ends.
func sumOf(parts ...string) string {
	digest := sha256.New()
	for _, p := range parts {
		digest.Write(binary.AppendUvarint(nil, uint64(len(p))))
		digest.Write([]byte(p))
	}
	return string(digest.Sum(nil))
}

func sumOfFile(text []byte, err error) string {
	if err != nil {
		return sumOf("none", err.Error())
	}
	return sumOf("text", string(text))
}

// print prints parts where they stand, once for the same parts in the same place.
func (s *rendering) print(doc view.Doc, c layouts.Context) (template.HTML, error) {
	key := func() string {
		return sumOf(s.dressed, string(written(written(nil, reflect.ValueOf(doc)), reflect.ValueOf(c))))
	}
	return s.cache.print(key, func() (template.HTML, error) { return s.look.Parts(doc, c) })
}

// written appends a value of plain data with its types and lengths, so that no two differ alike. What is not
// plain data, such as a function, cannot be told from its like and is our own fault.
func written(out []byte, v reflect.Value) []byte {
	switch v.Kind() {
	case reflect.String:
		out = binary.AppendUvarint(out, uint64(v.Len()))
		return append(out, v.String()...)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return binary.AppendVarint(out, v.Int())
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return binary.AppendUvarint(out, v.Uint())
	case reflect.Float32, reflect.Float64:
		return binary.BigEndian.AppendUint64(out, math.Float64bits(v.Float()))
	case reflect.Bool:
		return binary.AppendVarint(out, int64(btoi(v.Bool())))
	case reflect.Slice, reflect.Array:
		out = binary.AppendUvarint(out, uint64(v.Len()))
		for i := range v.Len() {
			out = written(out, v.Index(i))
		}
		return out
	case reflect.Struct:
		for i := range v.NumField() {
			out = written(out, v.Field(i))
		}
		return out
	case reflect.Map:
		return writtenMap(out, v)
	case reflect.Interface, reflect.Pointer:
		if v.IsNil() {
			return append(out, 0)
		}
		name := v.Elem().Type().String()
		return written(append(append(append(out, 1), name...), 0), v.Elem())
	}
	panic(fmt.Sprintf("builder: a part holds a %s, which has no text", v.Type()))
}

// writtenMap appends the entries in the order of what their keys are written as.
func writtenMap(out []byte, v reflect.Value) []byte {
	out = binary.AppendUvarint(out, uint64(v.Len()))
	var entries []string
	for _, key := range v.MapKeys() {
		entries = append(entries, string(written(written(nil, key), v.MapIndex(key))))
	}
	slices.Sort(entries)
	return append(out, strings.Join(entries, "")...)
}
