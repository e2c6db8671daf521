package layouts

import (
	"html/template"
	"strconv"
	"strings"
)

// What the markup of a block says of its place stands in few spots: ways to the root, levels of titles, anchors
// of sizes. A block for many places is printed with a mark in each, which is filled in for each place. A mark
// counts only straight after markup that no text can hold, since there < and " are escaped: a note that speaks
// of marks stays as it is. Addresses and ids, which could begin with one, are made by the program.
const (
	stem       = "MARK."
	rootMark   = stem + "root/"
	howMark    = stem + "how"
	anchorMark = stem + "anchor-"
	levelMark  = stem + "level" // and a digit
	partMark   = stem + "part"  // and the place among the kept
	bodyMark   = "<" + stem + "body>"
)

// unplaced is the level of a block's own titles while its place is not known, far from any real one.
const unplaced = 1 << 20

// deepest is the level of the smallest titles.
const deepest = 6

// A gap is what a mark stands for.
type gap int

const (
	noGap gap = iota
	rootGap
	howGap
	anchorGap // before the anchor of a size
	partGap   // a part that is printed already
	levelGap  // and those after it: how far a title is below the block's own
	gaps      = levelGap + deepest
)

// A piece is a stretch of markup, and the gap behind it.
type piece struct {
	text  string
	gap   gap
	alone bool // left out in notes
}

// kept holds what stands inside other parts while these are printed, so that it is not copied at each level.
type kept struct{ parts []keptPart }

type keptPart struct {
	html  template.HTML
	alone bool
}

// keep returns the mark of a part that is set in later. A printer for one place prints it as it is.
func (p printer) keep(html template.HTML, alone bool) template.HTML {
	if p.kept == nil {
		return html
	}
	p.kept.parts = append(p.kept.parts, keptPart{html, alone})
	return template.HTML("<" + partMark + strconv.Itoa(len(p.kept.parts)-1) + ">")
}

// split appends the pieces of a part and of what stands in it.
func (k *kept) split(out []piece, part keptPart) []piece {
	text := string(part.html)
	from := 0
	for at := strings.Index(text, stem); at >= 0; {
		gap, end := gapAt(text, at)
		switch gap {
		case noGap:
		case partGap:
			out = append(out, piece{text[from : at-len("<")], noGap, part.alone})
			inside, _ := strconv.Atoi(text[at+len(partMark) : end-len(">")])
			inner := k.parts[inside]
			inner.alone = inner.alone || part.alone
			out, from = k.split(out, inner), end
		default:
			out, from = append(out, piece{text[from:at], gap, part.alone}), end
		}
		if at = strings.Index(text[end:], stem); at >= 0 {
			at += end
		}
	}
	return append(out, piece{text[from:], noGap, part.alone})
}

// gapAt returns the gap of the mark at a place of the text and where the mark ends.
func gapAt(text string, at int) (gap, int) {
	before, after := text[:at], text[at:]
	follows := func(mark string, behind ...string) bool {
		return strings.HasPrefix(after, mark) && (strings.HasSuffix(before, behind[0]) || strings.HasSuffix(before, behind[len(behind)-1]))
	}
	switch {
	case follows(rootMark, ` href="`):
		return rootGap, at + len(rootMark)
	case follows(howMark, ` href="`):
		return howGap, at + len(howMark)
	case follows(anchorMark, ` href="#`, ` id="`):
		return anchorGap, at + len(anchorMark)
	case follows(levelMark, "<h", "</h"):
		return levelGap + gap(after[len(levelMark)]-'0'), at + len(levelMark) + 1
	case follows(partMark, "<"):
		return partGap, at + strings.Index(after, ">") + 1
	}
	return noGap, at + len(stem)
}

// fill writes the pieces as they read at a place.
func (p printer) fill(b *strings.Builder, pieces []piece) {
	in := [gaps]string{rootGap: p.Root, howGap: p.How, anchorGap: p.before()}
	for below := range deepest {
		in[levelGap+gap(below)] = levelText(p.level + below)
	}
	for _, piece := range pieces {
		if !piece.alone || !p.InNote {
			b.WriteString(piece.text)
			b.WriteString(in[piece.gap])
		}
	}
}

// levelText is a level from 1 to 6 as it stands in a tag.
func levelText(level int) string {
	if below := level - unplaced; below >= 0 {
		return levelMark + strconv.Itoa(min(below, deepest-1))
	}
	return strconv.Itoa(min(max(level, 1), deepest))
}
