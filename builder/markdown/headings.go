package markdown

import (
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
)

// A Heading is one heading of a note, the title among them. ID is unique in the note and keeps letters
// of every script.
type Heading struct {
	Level int // 1 to 6
	Text  string
	ID    string
}

func (r *reader) readHeading(n *ast.Heading) {
	h := Heading{Level: n.Level, Text: strings.TrimSpace(r.text(n))}
	h.ID = r.newID(h.Text)
	r.ids[n] = h.ID
	if len(r.Headings) == 0 {
		r.Title = h.Text
		if n.Level == 1 && !r.plain {
			r.title = n
			r.hideReferences(n)
		}
	} else if n.Level > r.headings+1 {
		r.report(doubt(r.headingAt(n), "heading-jump",
			"heading %q jumps from level %d to level %d", h.Text, r.headings, n.Level).
			Hint("use level %d, so that readers who listen to the page do not miss a step", r.headings+1))
	}
	r.headings = n.Level
	r.Headings = append(r.Headings, h)
}

// newID returns an id from a heading's text; equal ones get -2, -3 and so on.
func (r *reader) newID(text string) string {
	base := data.Slug(text)
	id := base
	for r.used[id] > 0 {
		r.used[base]++ // counting on: a note may have thousands of equal headings
		id = base + "-" + strconv.Itoa(r.used[base])
	}
	r.used[id] = 1
	return id
}

func (r *reader) headingAt(n *ast.Heading) diag.Position {
	if lines := n.Lines(); lines.Len() > 0 {
		return r.at(lines.At(0).Start)
	}
	return r.at(n.Pos())
}

// leadingLines reports a note that starts with a line of three hyphens and takes what stands between
// that line and the next such line out of the note: it is no prose, and read as such it would give a
// heading and more faults. Offsets stay as they are.
func (r *reader) leadingLines() {
	lines := strings.SplitAfter(r.file.Text, "\n")
	if strings.TrimRight(lines[0], " \t\n") != "---" {
		return
	}
	r.report(diag.Errorf(r.at(0), "leading-lines", "a note cannot start with \"---\"").
		Hint("put those lines in a page block: write ```page instead of the first \"---\" and ``` instead of the last"))
	if r.plain {
		return
	}
	for i := range leadingLength(lines) {
		if r.source[i] != '\n' {
			r.source[i] = ' '
		}
	}
}

// leadingLength returns the bytes up to and with the closing line; only the first line when there is
// no closing line before a fence, for then the hyphens are a mere rule.
func leadingLength(lines []string) int {
	n := len(lines[0])
	for _, line := range lines[1:] {
		n += len(line)
		switch trimmed := strings.TrimRight(line, " \t\n"); {
		case trimmed == "---" || trimmed == "...":
			return n
		case run(trimmed) != "":
			return len(lines[0])
		}
	}
	return len(lines[0])
}
