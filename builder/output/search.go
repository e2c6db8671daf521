package output

import (
	"bytes"
	"cmp"
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"trug/calcblocks/kit/data"
)

// A Find is one thing that the search finds. Href counts from the root of the site. Title, Heads and Words
// are where it looks, and count in that order.
type Find struct {
	Kind, Title, Href, Summary string
	Heads                      []string // headings, topics, other names
	Words                      string   // running text
}

// How large an index may grow. A thing is found by every word of its title and heads. Of its running text
// it keeps the words that it says often and other things seldom, as many as its share of mostEntered,
// between fewest and most: a handbook of 1,000 notes keeps 400 words of each, which is nearly all of a
// page, and one of 10,000 notes 40, in an index of about 3 MB.
const (
	mostEntered = 400_000
	fewestWords = 40
	mostWords   = 600
	longSummary = 160 // characters
)

// rank is how much a word counts: 0 in the title, 1 in heads, 2 in the text. The index writes it as a
// letter behind the thing's number; nothing stands for the text.
var rankLetters = []string{"T", "H", ""}

// folded returns the words of a text as the search compares them: in lower case, without accents.
func folded(text string) []string {
	if strings.TrimSpace(text) == "" {
		return nil
	}
	return strings.Split(data.Slug(text), "-")
}

// place is a thing in a word's list.
type place struct{ find, rank int }

// searchFile is what the page's script reads: things as [title, address, kind, summary], and words, each on
// a line with the things that hold it, as steps from one number to the next to the base of 36.
type searchFile struct {
	Finds [][4]string `json:"finds"`
	Words string      `json:"words"`
}

// A Worded is a find with the words that it is found by.
type Worded struct {
	Find
	said  map[string]int // how often its text says a word
	names map[string]int // words of its title and heads, with their rank
}

// InWords takes a find apart. That is most of the work of an index, and can be done for many at once.
func InWords(f Find) Worded {
	out := Worded{f, map[string]int{}, map[string]int{}}
	for _, word := range folded(f.Words + " " + f.Summary) {
		if len(word) > 1 { // one letter of a small alphabet finds nothing; one of a large one has more bytes
			out.said[word]++
		}
	}
	for _, head := range f.Heads {
		for _, word := range folded(head) {
			out.names[word] = 1
		}
	}
	for _, word := range folded(f.Title) {
		out.names[word] = 0
	}
	return out
}

// SearchIndex returns the index as a script that hands it to the page's element with the attribute
// data-search: a script works from a folder on disk, where a page may read no file.
func SearchIndex(finds []Worded) []byte {
	words, by := map[string][]place{}, saidBy(finds)
	for i, f := range finds {
		for word, rank := range f.names {
			words[word] = append(words[word], place{i, rank})
		}
		for _, word := range f.kept(by, len(finds)) {
			if _, named := f.names[word]; !named {
				words[word] = append(words[word], place{i, 2})
			}
		}
	}
	file := searchFile{Words: lines(words)}
	for _, f := range finds {
		file.Finds = append(file.Finds, [4]string{f.Title, f.Href, f.Kind, shortened(f.Summary)})
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b) // it writes <, >, & and the two line ends of scripts as escapes
	if err := enc.Encode(file); err != nil {
		panic("output: writing JSON to memory failed: " + err.Error()) // texts alone
	}
	return []byte("document.querySelector(\"[data-search]\").searchIndex = " + strings.TrimSpace(b.String()) + ";\n")
}

// lines writes the words in order.
func lines(words map[string][]place) string {
	sorted := make([]string, 0, len(words))
	for word := range words {
		sorted = append(sorted, word)
	}
	slices.Sort(sorted)
	var b strings.Builder
	for _, word := range sorted {
		b.WriteString(word)
		at := 0
		for _, p := range words[word] { // in order of the things, since they were gone through in order
			b.WriteString(" " + strconv.FormatInt(int64(p.find-at), 36) + rankLetters[p.rank])
			at = p.find
		}
		b.WriteByte('\n')
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// saidBy counts how many things say each word in their text.
func saidBy(finds []Worded) map[string]int {
	out := map[string]int{}
	for _, f := range finds {
		for word := range f.said {
			out[word]++
		}
	}
	return out
}

// telling is a word of a thing: times said, and how many things say it.
type telling struct {
	word     string
	said, by int
}

// kept returns the words of a thing's text that go into the index: those with the highest share of all that
// is said of them, counted by times said over things that say it.
func (f Worded) kept(by map[string]int, finds int) []string {
	all := make([]telling, 0, len(f.said))
	for word, said := range f.said {
		all = append(all, telling{word, said, by[word]})
	}
	share := min(max(mostEntered/finds, fewestWords), mostWords)
	if len(all) > share { // in what order they are kept does not matter
		slices.SortFunc(all, func(a, b telling) int {
			return cmp.Or(cmp.Compare(b.said*a.by, a.said*b.by), cmp.Compare(a.word, b.word))
		})
		all = all[:share]
	}
	out := make([]string, len(all))
	for i, t := range all {
		out[i] = t.word
	}
	return out
}

func shortened(text string) string {
	letters := []rune(text)
	if len(letters) <= longSummary {
		return text
	}
	cut := string(letters[:longSummary])
	if space := strings.LastIndexByte(cut, ' '); space > 0 {
		cut = cut[:space]
	}
	return cut + "…"
}
