package markdown

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"trug/calcblocks/kit/diag"
)

// A Block is a closed fenced block whose first info word names a kind, or nearly names one.
type Block struct {
	// Kind is the kind that the first word names. When the word was one slip away (a fault is
	// reported then), it is the kind that was meant, so that the rest can be checked all the same.
	Kind string
	// ID is the second word as written, "" without one. It may be faulty, which is reported.
	ID string
	// At is the position of the opening fence, InfoAt of the first word, IDAt of the second; IDAt is
	// the zero position when there is no id.
	At, InfoAt, IDAt diag.Position
	// Body is the text between the fences as YAML reads it: without what belongs to lists and quotes
	// and without the fence's own indentation. It ends in a line end when it is not empty.
	Body string
	// Under is the level of the heading that the block stands under, 0 before the first.
	Under int

	place place
}

// A place maps the body of a block to the file.
type place struct {
	file   *diag.File
	open   int    // offset of the opening fence
	shut   int    // offset of the closing fence
	header string // the opening line from the fence on
	marker string
	lines  []bodyLine
}

// A bodyLine is where one line of a body comes from: padding spaces that stand for the rest of a tab,
// then the bytes from start to stop.
type bodyLine struct{ start, stop, padding int }

func newBlock(file *diag.File, source []byte, f *fence, kind string, words []word) *Block {
	header, _, _ := bytes.Cut(source[f.open:], []byte("\n"))
	b := &Block{
		Kind: kind, At: file.At(f.open), InfoAt: file.At(words[0].at),
		place: place{
			file: file, open: f.open, shut: f.shut,
			header: strings.TrimRight(string(header), " \t"), marker: f.marker(source),
		},
	}
	if len(words) > 1 {
		b.ID, b.IDAt = words[1].text, file.At(words[1].at)
	}
	var body strings.Builder
	for i := range f.node.Lines().Len() {
		s := f.node.Lines().At(i)
		body.Write(s.Value(source))
		b.place.lines = append(b.place.lines, bodyLine{s.Start, s.Stop, s.Padding})
	}
	b.Body = body.String()
	return b
}

// Position turns a line and a column of Body, both from 1 and the column in characters, into the
// place in the file. A column beyond the line gives its end; a line before the body gives the opening
// fence and one after it the closing fence.
func (b *Block) Position(line, column int) diag.Position {
	switch {
	case line < 1:
		return b.At
	case line > len(b.place.lines):
		return b.place.file.At(b.place.shut)
	}
	l := b.place.lines[line-1]
	text := strings.TrimSuffix(b.place.file.Text[l.start:l.stop], "\n")
	n := max(column-1, 0) - l.padding
	if n < 0 { // inside a tab that is partly the container's
		return b.place.file.At(l.start - 1)
	}
	return b.place.file.At(l.start).Shift(min(n, utf8.RuneCountInString(text)))
}

// Fenced returns the block with its fences, as it would be written outside any list or quote.
func (b *Block) Fenced() string {
	return b.place.header + "\n" + b.Body + b.place.marker + "\n"
}
