// Package sources holds bibliography entries and sets of them.
package sources

import (
	"cmp"
	"slices"
)

// Confidence says how far a figure's citation was followed.
type Confidence string

// The confidence words of the reference, strongest first.
const (
	Checked        Confidence = "checked"         // the text of the source was read
	SecondHand     Confidence = "second-hand"     // a copy, a quotation or an abstract only
	Derived        Confidence = "derived"         // computed from other figures here
	CommonPractice Confidence = "common-practice" // trade habit, no authority
	FromMemory     Confidence = "from-memory"     // recalled, not checked
	OwnMeasurement Confidence = "own measurement" // the grower's own label or weighed cup
)

// An Entry is one work in the bibliography. An own measurement is an entry too: its Title says what
// was measured and its Place names the file and line.
type Entry struct {
	Key       string
	Title     string
	Publisher string
	Year      int // 0 = not known
	Number    string
	URL       string
	Kind      string // standard, regulation, extension, paper, handbook, dataset, common-practice, own
	Place     string // file:line of an own measurement
}

// A Set is a set of entries by key. The zero Set is empty and ready to use.
type Set struct{ entries map[string]Entry }

// Add adds entries.
func (s *Set) Add(entries ...Entry) {
	if s.entries == nil {
		s.entries = map[string]Entry{}
	}
	for _, e := range entries {
		s.entries[e.Key] = e
	}
}

// Get returns the entry of a key.
func (s *Set) Get(key string) (Entry, bool) {
	e, ok := s.entries[key]
	return e, ok
}

// Sorted returns the entries by key.
func (s *Set) Sorted() []Entry {
	out := make([]Entry, 0, len(s.entries))
	for _, e := range s.entries {
		out = append(out, e)
	}
	slices.SortFunc(out, func(a, b Entry) int { return cmp.Compare(a.Key, b.Key) })
	return out
}
