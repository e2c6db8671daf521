package data

import (
	"regexp"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// spelled are Latin letters that no accent can be taken off, and what they are written as where they are not at hand.
// look/search.js folds what is asked in the same way.
var spelled = map[rune]string{
	'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'ł': "l", 'đ': "d", 'ð': "d", 'þ': "th", 'ħ': "h", 'ı': "i",
}

// Slug turns text into a lower-case name for an address or a path: letters and digits of any script,
// accents folded off Latin letters and those of spelled written out, everything else one hyphen. Text without either is "section". Marks
// on letters of other scripts stay: there they are vowels, or make another letter.
func Slug(s string) string {
	if isSlug(s) {
		return s
	}
	var b strings.Builder
	gap, latin := false, false
	for _, r := range norm.NFKD.String(strings.ToLower(s)) {
		switch {
		case 'a' <= r && r <= 'z' || '0' <= r && r <= '9': // nearly all of a text
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap, latin = false, r >= 'a'
			b.WriteByte(byte(r))
		case r == ' ':
			gap = true
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap, latin = false, unicode.Is(unicode.Latin, r)
			if letters, ok := spelled[r]; ok {
				b.WriteString(letters)
			} else {
				b.WriteRune(r)
			}
		case unicode.IsMark(r):
			if !gap && !latin && b.Len() > 0 {
				b.WriteRune(r)
			}
		default:
			gap = true
		}
	}
	if b.Len() == 0 {
		return "section"
	}
	return norm.NFC.String(b.String())
}

// isSlug says whether text is a slug of plain letters already, as ids are.
func isSlug(s string) bool {
	gap := true
	for i := range len(s) {
		switch c := s[i]; {
		case 'a' <= c && c <= 'z', '0' <= c && c <= '9':
			gap = false
		case c == '-' && !gap:
			gap = true
		default:
			return false
		}
	}
	return !gap
}

var reserved = regexp.MustCompile(`^(?:con|prn|aux|nul|(?:com|lpt)[0-9])$`)

// Reserved says whether a slug or an id is a device on some systems, where no file or folder can have its name
// (Microsoft, "Naming Files, Paths, and Namespaces").
func Reserved(name string) bool { return reserved.MatchString(name) }
