package rotation

import (
	"slices"
	"strings"
	"unicode"

	"trug/calcblocks/kit/reference"
)

// A Finding is a disease or a pest that the reference names as lasting in a mix.
type Finding struct {
	Name  string // as the reference writes it: "Verticillium wilt"
	Unfit bool   // the mix is unfit for use again: it is discarded, not rotated
}

// Findings recognises the names of families.yaml in what a grower writes.
type Findings struct{ names []name }

// name is one way to write a finding.
type name struct {
	words    []string
	finding  Finding
	families []string // ids of the families that list it
	general  bool     // it names an organism, or several families list it: it counts for any crop
}

// FindingsOf returns the findings that the reference names: those that make a mix unfit, and those with an
// interval of their own (families.yaml).
func FindingsOf(lib *reference.Library) Findings {
	var f Findings
	for _, family := range lib.Families {
		for _, text := range family.Discard {
			head, others := discarded(text)
			f.add(family.ID, Finding{head, true}, append(others, head)...)
		}
	}
	for _, family := range lib.Families {
		for _, after := range family.After {
			f.add(family.ID, Finding{after.Disease, false}, after.Disease)
		}
		for _, p := range family.Published {
			for _, head := range heads(p.What) {
				if p.Years.Known && telling(head) {
					f.add(family.ID, Finding{head, false}, head)
				}
			}
		}
	}
	slices.SortStableFunc(f.names, func(a, b name) int { return len(b.words) - len(a.words) })
	return f
}

// add keeps a finding under its names; one that is there only gains a family.
func (f *Findings) add(family string, found Finding, texts ...string) {
	for _, text := range texts {
		words := wordsOf(text)
		i := slices.IndexFunc(f.names, func(n name) bool { return slices.Equal(n.words, words) })
		if i < 0 {
			f.names = append(f.names, name{words: words, finding: found, general: isGenus(strings.Fields(text)[0])})
			i = len(f.names) - 1
		}
		n := &f.names[i]
		if !slices.Contains(n.families, family) {
			n.families = append(n.families, family)
		}
		n.general = n.general || len(n.families) > 1
	}
}

// discarded splits an entry such as "bacterial wilt (Ralstonia)" into its name and other names: the organism
// in brackets, and the genus that its name begins with.
func discarded(text string) (head string, others []string) {
	head, _, _ = strings.Cut(text, ":")
	head, inside, _ := strings.Cut(head, "(")
	head = strings.TrimSuffix(strings.TrimSpace(head), " complex")
	for _, word := range []string{strings.TrimSuffix(inside, ")"), strings.Fields(head)[0]} {
		if isGenus(word) && word != head {
			others = append(others, word)
		}
	}
	return head, others
}

// isGenus says whether a word is the Latin name of an organism: the only words with a capital here.
func isGenus(word string) bool {
	return word != "" && unicode.IsUpper(rune(word[0])) && !strings.Contains(word, " ")
}

// heads returns the diseases that a line on an interval is about: "clubroot: 7 years" is on clubroot.
func heads(what string) []string {
	head, _, _ := strings.Cut(what, ":")
	head, _, _ = strings.Cut(head, " persists")
	head = strings.TrimPrefix(head, "host of ")
	var out []string
	for _, part := range strings.FieldsFunc(strings.ReplaceAll(head, " and ", ","), func(r rune) bool { return r == ',' }) {
		part, _, _ = strings.Cut(strings.TrimSpace(part), " of ")
		out = append(out, part)
	}
	return out
}

// telling says whether a name can be told from ordinary words: "drop" cannot.
func telling(head string) bool {
	return strings.Contains(head, " ") || isGenus(head) || len(head) >= len("blackleg")
}

// In returns the finding that a text speaks of, the longest name first; family is the id of the crop's family,
// "" when it is not known. A name that only other families list counts when it is an organism's or several
// list it. "No clubroot" and "Fusarium resistant" speak of none.
func (f Findings) In(text, family string) (Finding, bool) {
	clauses := clausesOf(text)
	for _, n := range f.names {
		if family != "" && !n.general && !slices.Contains(n.families, family) {
			continue
		}
		for _, words := range clauses {
			if at := indexOf(words, n.words); at >= 0 && !denied(words, at, at+len(n.words)) {
				return n.finding, true
			}
		}
	}
	return Finding{}, false
}

// Names returns every name, for hints.
func (f Findings) Names() []string {
	var out []string
	for _, n := range f.names {
		if !slices.Contains(out, n.finding.Name) {
			out = append(out, n.finding.Name)
		}
	}
	slices.Sort(out)
	return out
}

// denied says whether the words around a name take it back.
func denied(words []string, from, to int) bool {
	for _, w := range words[max(0, from-4):from] {
		if slices.Contains([]string{"no", "not", "without", "free", "never", "nor", "against"}, w) {
			return true
		}
	}
	return to < len(words) && slices.Contains([]string{"resistant", "resistance", "tolerant", "free"}, words[to])
}

// clausesOf splits a text at its stops and into words.
func clausesOf(text string) [][]string {
	var out [][]string
	for _, clause := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(".,;:!?()", r) }) {
		out = append(out, wordsOf(clause))
	}
	return out
}

// wordsOf returns small words without their plural: "Root-knot nematodes" is root, knot, nematode.
func wordsOf(text string) []string {
	out := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for i, w := range out {
		if len(w) > 3 {
			out[i] = strings.TrimSuffix(w, "s")
		}
	}
	return out
}

// indexOf returns where some words stand one behind the other in others, -1 when they do not.
func indexOf(words, some []string) int {
	for i := range len(words) - len(some) + 1 {
		if slices.Equal(words[i:i+len(some)], some) {
			return i
		}
	}
	return -1
}
