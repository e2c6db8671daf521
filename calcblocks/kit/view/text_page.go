package view

import (
	"strings"
	"unicode"
)

// A page is text as it grows: lines of at most textWidth, indented.
type page struct {
	strings.Builder
	indent int
	quiet  bool // the last line was blank, or a title that its content follows
}

// line prints one line as it is, without blanks at its end.
func (p *page) line(s string) {
	if s = strings.TrimRight(s, " "); s != "" {
		p.WriteString(strings.Repeat(" ", p.indent))
	}
	p.WriteString(s + "\n")
	p.quiet = s == ""
}

// gap prints a blank line, but never two and none at the start.
func (p *page) gap() {
	if p.Len() > 0 && !p.quiet {
		p.line("")
	}
}

// title prints the title of a part; a part without one has none.
func (p *page) title(s string) {
	if s != "" {
		p.text("", s)
		p.quiet = true
	}
}

// head prints a head with a rule below it.
func (p *page) head(s, rule string) {
	if s != "" {
		p.line(s)
		p.line(strings.Repeat(rule, min(width(s), textWidth-p.indent)))
		p.quiet = true
	}
}

// inside prints with n more blanks before each line.
func (p *page) inside(n int, print func()) {
	p.indent += n
	print()
	p.indent -= n
}

// text prints a text in lines that fit, the first after lead and the others below its words. Below a long
// lead there would be little room: there the others are indented a little.
func (p *page) text(lead, s string) {
	hang := width(lead)
	if hang > 6 {
		lead, s, hang = "", lead+s, 4
	}
	for i, line := range wrap(s, textWidth-p.indent-hang) {
		if i == 0 {
			p.line(lead + line)
			continue
		}
		p.line(strings.Repeat(" ", hang) + line)
	}
}

// wrap breaks a text into lines of at most limit columns, between words; a longer word has a line of its
// own and is left whole.
func wrap(s string, limit int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		switch {
		case line == "":
			line = word
		case width(line)+1+width(word) <= limit:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	return append(lines, line)
}

// width returns how many columns a text takes in a terminal: none for marks that sit on a letter, two for
// the wide letters of East Asia and for pictures (Unicode Standard Annex 11, its main ranges).
func width(s string) int {
	n := 0
	for _, r := range s {
		switch {
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		case unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul),
			r >= 0x3000 && r <= 0x303e, r >= 0xff01 && r <= 0xff60, r >= 0xffe0 && r <= 0xffe6,
			r >= 0x1f300 && r <= 0x1faff:
			n += 2
		default:
			n++
		}
	}
	return n
}

// pad fills a text up to w columns, on the left when it is a number.
func pad(s string, w int, left bool) string {
	fill := strings.Repeat(" ", max(w-width(s), 0))
	if left {
		return fill + s
	}
	return s + fill
}
