// Package diag holds files, positions in them, and diagnostics: what is wrong or doubtful in a
// handbook, where, and what would help.
package diag

import (
	"strings"
	"unicode/utf8"
)

// A File is the text of one source file. Name is the path as messages print it.
type File struct {
	Name string
	Text string
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
	rest := f.Text
	for i := 1; i < n; i++ {
		_, after, found := strings.Cut(rest, "\n")
		if !found {
			return ""
		}
		rest = after
	}
	line, _, _ := strings.Cut(rest, "\n")
	return line
}

// At returns the position of the byte at offset.
func (f *File) At(offset int) Position {
	offset = min(max(offset, 0), len(f.Text))
	before := f.Text[:offset]
	start := strings.LastIndexByte(before, '\n') + 1
	return Position{
		File:   f,
		Line:   strings.Count(before, "\n") + 1,
		Column: utf8.RuneCountInString(before[start:]) + 1,
	}
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
