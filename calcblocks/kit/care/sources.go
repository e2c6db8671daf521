package care

import (
	"maps"
	"slices"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// Keys joins lists of source keys, sorted, each key once.
func Keys(lists ...[]string) []string {
	keys := slices.Concat(lists...)
	slices.Sort(keys)
	return slices.Compact(keys)
}

// Cited returns the keys of all that a block's working, guards and cautions name, and more, sorted, each once: what a
// block names must stand among its sources.
func Cited(working []view.WorkingStep, guards []Guard, cautions []*reference.Caution, more ...[]string) []string {
	keys := KeySet{}
	for _, step := range working {
		keys.Add(step.Sources)
	}
	for _, g := range guards {
		keys.Add(g.Sources)
	}
	for _, caution := range cautions {
		keys.Add(caution.Source)
	}
	keys.Add(more...)
	return keys.Sorted()
}

// CitedIn returns the keys that the cautions among parts name.
func CitedIn(parts []view.Part) []string {
	var keys []string
	for _, part := range parts {
		if cautions, ok := part.(view.Cautions); ok {
			for _, item := range cautions.Items {
				keys = append(keys, item.Sources...)
			}
		}
	}
	return keys
}

// A KeySet gathers source keys, each once: for the many steps of a working.
type KeySet map[string]bool

// Add adds the keys of lists.
func (s KeySet) Add(lists ...[]string) {
	for _, list := range lists {
		for _, key := range list {
			s[key] = true
		}
	}
}

// Sorted returns the keys.
func (s KeySet) Sorted() []string { return slices.Sorted(maps.Keys(s)) }

// Entries returns the bibliography entries of keys, sorted, each once.
func Entries(g *garden.Garden, keys []string) []sources.Entry {
	var set sources.Set
	for _, key := range keys {
		if e, ok := g.Source(key); ok {
			set.Add(e)
		}
	}
	return set.Sorted()
}

// Own returns the entry of what the grower measured, read off a bag or had from a laboratory and wrote into
// a block: it is a source like any other. What says it in words: "Fish feed: label".
func Own(g *garden.Garden, at diag.Position, what string) sources.Entry {
	place := g.Place(at)
	return sources.Entry{Key: "own-" + data.Slug(place), Title: what, Publisher: "own measurement", Kind: "own", Place: place}
}

// Sealed puts the sources and then the stamp into a block's result. The stamp is of the numbers: it leaves out
// itself, the sources, the cautions, and every sentence of ours, which may be put better one day.
func Sealed(tree data.Object, entries []sources.Entry) data.Object {
	tree = tree.With("sources", SourceTree(entries))
	return tree.With("stamp", data.Text(data.Stamp(tree, "stamp", "sources", "cautions", "text")))
}

// SourceTree returns entries as the JSON contract has them; what is not known is null.
func SourceTree(entries []sources.Entry) data.List {
	out := data.List{}
	for _, e := range entries {
		year := data.Value(data.Null{})
		if e.Year > 0 {
			year = data.Number(e.Year)
		}
		out = append(out, data.Object{
			{Key: "key", Value: data.Text(e.Key)},
			{Key: "title", Value: data.Text(e.Title)},
			{Key: "publisher", Value: data.Text(e.Publisher)},
			{Key: "year", Value: year},
			{Key: "number", Value: data.TextOrNull(e.Number)},
			{Key: "url", Value: data.TextOrNull(e.URL)},
			{Key: "place", Value: data.TextOrNull(e.Place)},
		})
	}
	return out
}
