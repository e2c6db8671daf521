// Package diag holds files, positions in them, and diagnostics: what is wrong or doubtful in a
// handbook, where, and what would help.
package diag

import (
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

// A File is the text of one source file. Name is the path as messages print it.
type File struct {
	Name string
	Text string

	made  sync.Once
	index index // made when the first place is asked for
}

// NewFile returns a file whose text lacks the byte-order mark and the carriage returns that some
// editors write: both would hide a fence or shift a column.
func NewFile(name, text string) *File {
	text = strings.TrimPrefix(text, "\ufeff")
	text = strings.ReplaceAll(text, "\r\n", "\n")
	return &File{Name: name, Text: text}
}

// Line returns line n (from 1) without its line end, or "" when there is no such line.
func (f *File) Line(n int) string {
	if f == nil || n < 1 {
		return ""
	}
	starts := f.indexed().starts
	if n > len(starts) {
		return ""
	}
	line, _, _ := strings.Cut(f.Text[starts[n-1]:], "\n")
	return line
}

// At returns the position of the byte at offset.
func (f *File) At(offset int) Position {
	offset = min(max(offset, 0), len(f.Text))
	x := f.indexed()
	line, found := slices.BinarySearch(x.starts, offset)
	if !found {
		line--
	}
	return Position{File: f, Line: line + 1, Column: x.characters(f.Text, offset) - x.characters(f.Text, x.starts[line]) + 1}
}

// Offset returns the offset of a line and a column, both from 1 and the column in characters; beyond the text it
// is that of its end.
func (f *File) Offset(line, column int) int {
	x := f.indexed()
	if line > len(x.starts) {
		return len(f.Text)
	}
	start := x.starts[max(line, 1)-1]
	return max(x.offset(f.Text, x.characters(f.Text, start)+column-1), start)
}

func (f *File) indexed() *index {
	f.made.Do(func() { f.index = newIndex(f.Text) })
	return &f.index
}

// An index finds places without counting from the start of the text each time: a note may have thousands of
// links, and all of it may be one line.
type index struct {
	starts []int // offset of each line
	counts []int // characters before each stride of the text
}

const stride = 1 << 10

func newIndex(text string) index {
	x := index{starts: []int{0}}
	n := 0
	for i := range len(text) {
		if i%stride == 0 {
			x.counts = append(x.counts, n)
		}
		if utf8.RuneStart(text[i]) {
			n++
		}
		if text[i] == '\n' {
			x.starts = append(x.starts, i+1)
		}
	}
	x.counts = append(x.counts, n)
	return x
}

// characters counts the characters before an offset.
func (x *index) characters(text string, offset int) int {
	n := x.counts[offset/stride]
	for i := offset / stride * stride; i < offset; i++ {
		if utf8.RuneStart(text[i]) {
			n++
		}
	}
	return n
}

// offset returns where the n-th character starts, counted from 0.
func (x *index) offset(text string, n int) int {
	i, _ := slices.BinarySearch(x.counts, n+1) // the first stride that starts behind it
	at := max(i-1, 0) * stride
	for n -= x.counts[max(i-1, 0)]; at < len(text); at++ {
		if utf8.RuneStart(text[at]) {
			if n == 0 {
				break
			}
			n--
		}
	}
	return min(at, len(text))
}

// A Position is a place in a file. Line and Column count from 1, Column in characters. Line 0 means
// the file as a whole.
type Position struct {
	File   *File
	Line   int
	Column int
}

// Whole returns the position that means the whole file called name.
func Whole(name string) Position { return Position{File: &File{Name: name}} }

// Name returns the name of the position's file, "" when it has none.
func (p Position) Name() string {
	if p.File == nil {
		return ""
	}
	return p.File.Name
}

// Shift returns the position n characters further on the same line.
func (p Position) Shift(n int) Position {
	p.Column += n
	return p
}

func (p Position) before(q Position) bool {
	if p.Name() != q.Name() {
		return p.Name() < q.Name()
	}
	if p.Line != q.Line {
		return p.Line < q.Line
	}
	return p.Column < q.Column
}
