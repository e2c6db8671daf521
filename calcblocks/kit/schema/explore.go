package schema

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"trug/calcblocks/kit/form"
)

// A shape is what a reader takes at one place: a text, a list, a mapping, or several of them. An open shape
// is a value that the reader did not look at.
type shape struct {
	open    bool
	text    *text
	list    *list
	mapping *mappingShape
	about   string // what the author is told who leaves it out
}

// A text is any scalar: the readers take all of them as text.
type text struct {
	picky   bool     // some texts are refused
	hint    string   // what the author is told who writes nonsense
	samples []string // texts that the reader takes; none for one that takes whatever it gets
}

type list struct{ item *shape }

const (
	nonsense = `"?"`
	freeKey  = "sample-key"
	deepest  = 6
)

// explore finds the shape of the value in a frame.
func (p prober) explore(f frame, depth int) *shape {
	asText, asList, asMapping := p.read(f, nonsense), p.read(f, "["+nonsense+"]"), p.read(f, "{}")
	refused := asText.refused() || asList.refused() || asMapping.refused()
	if depth > deepest || !refused && !asText.looked() && !asList.looked() && !asMapping.looked() {
		return &shape{open: true}
	}
	s := &shape{}
	if !asText.refused() {
		s.text = p.exploreText(f, asText)
	}
	if !asList.refused() {
		s.list = &list{&shape{open: true}}
		if _, read := asList.asked(form.AskedItems); read {
			s.list.item = p.explore(f.item(), depth+1)
		}
	}
	if !asMapping.refused() {
		s.mapping = p.exploreMapping(f, asMapping, depth)
	}
	return s
}

// usual are texts that a reader of quantities, dates, ids or counts may take, beside those that its own hints
// name.
var usual = []string{
	"20 L", "1/2 to 1 cup", "35 g", "3 g/L", "5 cm", "25 %", "95 %", "2", "6.2", "2027-04-12", "04-20", "2027", "1:100", "5-1-1", "kelp-meal",
	"round 30 cm top 24 cm base 28 cm deep",
}

var (
	quotedWords = regexp.MustCompile(`"(?:[a-z0-9 ]+: )?([^"]+)"`)
	bareWords   = regexp.MustCompile(`[A-Za-z0-9][A-Za-z0-9.:/-]*[A-Za-z0-9]|[A-Za-z0-9]`)
	leading     = regexp.MustCompile(`^.*such as |^write (?:one of |it like )?`)
)

// suggested returns the texts that a hint names: those in quotes, else the words behind "such as" or "write".
func suggested(hint string) []string {
	var out []string
	for _, m := range quotedWords.FindAllStringSubmatch(hint, -1) {
		out = append(out, m[1])
	}
	if len(out) > 0 {
		return out
	}
	return bareWords.FindAllString(leading.ReplaceAllString(hint, ""), -1)
}

// exploreText finds texts that the reader takes: it is given those of its own hint, and the usual ones.
func (p prober) exploreText(f frame, bad heard) *text {
	t := &text{}
	faults := bad.within()
	if len(faults) == 0 {
		return t
	}
	t.picky, t.hint = true, strings.Join(faults[0].Hints, "; ")
	for _, word := range append(suggested(t.hint), usual...) {
		if !slices.Contains(t.samples, word) && len(p.read(f, strconv.Quote(word)).within()) == 0 {
			t.samples = append(t.samples, word)
		}
	}
	return t
}

// vague says whether nothing is known yet of what the reader takes.
func (s *shape) vague() bool {
	return s.open || s.list == nil && s.mapping == nil && s.text != nil && s.text.picky && len(s.text.samples) == 0
}

// sample returns a value that the reader takes, as it stands in a probe.
func (s *shape) sample() string {
	switch {
	case s.open:
		return `"kelp-meal"`
	case s.text != nil && len(s.text.samples) > 0:
		return strconv.Quote(s.text.samples[0])
	case s.text != nil:
		return `"kelp-meal"`
	case s.list != nil:
		return "[" + s.list.item.sample() + "]"
	}
	return s.mapping.sample()
}

// samples returns several values that the reader takes.
func (s *shape) samples() []string {
	if s.open || s.text == nil || len(s.text.samples) == 0 {
		return []string{s.sample()}
	}
	var out []string
	for _, text := range s.text.samples[:min(len(s.text.samples), 8)] {
		out = append(out, strconv.Quote(text))
	}
	return out
}
