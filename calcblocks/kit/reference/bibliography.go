package reference

import (
	"maps"
	"slices"
	"strconv"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/sources"
)

// kinds lists what a work may be.
var kinds = []string{"standard", "regulation", "extension", "paper", "handbook", "dataset", "common-practice"}

// bibliography reads the two source files into one. A key that stands in both must have one entry.
func (r *reader) bibliography(roots ...*form.Node) map[string]sources.Entry {
	out := map[string]sources.Entry{}
	for _, root := range roots {
		seen := map[string]bool{}
		for _, item := range root.Fields("sources").Need("sources", "").Items() {
			e := r.entry(item)
			if before, known := out[e.Key]; seen[e.Key] || known && before != e {
				item.Fault("two-entries", "", "the key %q has two entries", e.Key)
			}
			seen[e.Key], out[e.Key] = true, e
		}
	}
	return out
}

func (r *reader) entry(n *form.Node) sources.Entry {
	m := n.Fields("key", "title", "publisher", "year", "number", "url", "kind")
	e := sources.Entry{
		Key: r.need(m, "key"), Title: r.need(m, "title"), Publisher: r.need(m, "publisher"),
		Number: r.text(m.Get("number")), URL: r.text(m.Get("url")), Kind: r.need(m, "kind"),
	}
	if year := r.text(m.Get("year")); year != "" {
		var err error
		if e.Year, err = strconv.Atoi(year); err != nil {
			m.Get("year").Fault("bad-year", "", "%q is not a year", year)
		}
	}
	if !slices.Contains(kinds, e.Kind) {
		m.Get("kind").Fault("bad-kind", "", "%q is not a kind of source", e.Kind)
	}
	return e
}

// Source returns the entry of a work.
func (l *Library) Source(key string) (sources.Entry, bool) {
	e, ok := l.bibliography[key]
	return e, ok
}

// Bibliography returns every entry by key.
func (l *Library) Bibliography() []sources.Entry { return l.Entries(l.SourceKeys()...) }

// SourceKeys returns the keys of all works, sorted.
func (l *Library) SourceKeys() []string { return slices.Sorted(maps.Keys(l.bibliography)) }

// Entries returns the entries of keys, each once, sorted by key. A key that is not in the bibliography is
// left out; the tests prove that the fact files hold none.
func (l *Library) Entries(keys ...string) []sources.Entry {
	var set sources.Set
	for _, key := range keys {
		if e, ok := l.bibliography[key]; ok {
			set.Add(e)
		}
	}
	return set.Sorted()
}
