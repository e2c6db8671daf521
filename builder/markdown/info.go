package markdown

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
)

// A word is one word of an info line and the offset of its first byte.
type word struct {
	text string
	at   int
}

// info returns the words of a fence's info line.
func (r *reader) info(f *fence) []word {
	if f.node.Info == nil {
		return nil
	}
	segment := f.node.Info.Segment
	rest, start := string(r.source[segment.Start:segment.Stop]), segment.Start
	var out []word
	for {
		trimmed := strings.TrimLeftFunc(rest, unicode.IsSpace)
		if trimmed == "" {
			return out
		}
		start += len(rest) - len(trimmed)
		end := strings.IndexFunc(trimmed, unicode.IsSpace)
		if end < 0 {
			end = len(trimmed)
		}
		out = append(out, word{trimmed[:end], start})
		rest, start = trimmed[end:], start+end
	}
}

func (r *reader) isKind(name string) bool { return slices.Contains(r.kinds, name) }

// judgeKind returns the kind that the first word of an info line means, "" when the block is ordinary
// code. A kind's exact name wins over a language, and a language over a kind that it is near to.
func (r *reader) judgeKind(w word) string {
	if r.isKind(w.text) {
		return w.text
	}
	meant := strings.ToLower(w.text)
	if !r.isKind(meant) {
		if isLanguage(w.text) {
			return ""
		}
		if meant = diag.Closest(meant, r.kinds); meant == "" {
			return ""
		}
	}
	r.report(diag.Errorf(r.at(w.at), "kind-unknown", "unknown kind of block %q", w.text).
		Hint("did you mean %q?", meant))
	return meant
}

var kebab = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

// judgeRest reports an id that is not kebab-case and words after the id.
func (r *reader) judgeRest(kind string, words []word) {
	if len(words) < 2 {
		return
	}
	id := words[1]
	if !kebab.MatchString(id.text) {
		d := diag.Errorf(r.at(id.at), "id-not-kebab",
			"id %q is not made of lower-case letters, digits and single hyphens, with a letter first", id.text)
		if better := kebabCase(kind, id.text); better != "" {
			d = d.Hint("write %q", better)
		}
		r.report(d)
	}
	if len(words) > 2 {
		extra := words[2]
		d := diag.Errorf(r.at(extra.at), "info-extra-word", "unexpected %q after the id %q", extra.text, id.text)
		if joined := kebabCase(kind, id.text+" "+extra.text); joined != "" {
			d = d.Hint("the line holds a kind and an id, nothing more; an id of two words is written %q", joined)
		}
		r.report(d)
	}
}

// kebabCase returns a valid id near to the one written, "" when nothing of it can be kept. An id that
// starts with a digit gets the kind in front.
func kebabCase(kind, id string) string {
	ascii := strings.Map(func(c rune) rune {
		if c > unicode.MaxASCII {
			return '-'
		}
		return c
	}, data.Slug(id))
	parts := strings.FieldsFunc(ascii, func(c rune) bool { return c == '-' })
	if !strings.ContainsFunc(id, func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }) || len(parts) == 0 {
		return ""
	}
	if first := parts[0][0]; first >= '0' && first <= '9' {
		parts = append([]string{kind}, parts...)
	}
	return strings.Join(parts, "-")
}
