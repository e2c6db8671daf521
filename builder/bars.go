package builder

import (
	"slices"

	"trug/builder/site"
)

// A way is a link that every page has to one of the lists.
type way struct {
	name string
	at   site.Address
	// has says whether the handbook has anything for the page; nil = it always has. Without it the page stands at its
	// address, and no reader is led to it: what it says then is for the author.
	has func(*rendering) bool
}

// bar is what stands at the head of every page.
var bar = []way{
	{"Notes", "notes/", nil},
	{"Recipes", "recipes/", func(s *rendering) bool { return len(s.recipes) > 0 }},
	{"Pots", "pots/", hasPots},
	{"Dates", "dates/", shows("dates")},
	{"Shopping", "shopping/", shows("shopping")},
	{"Cupboard", "cupboard/", func(s *rendering) bool { return len(s.Garden.Cupboard()) > 0 || s.computes() }},
	{"Search", searchAt, nil},
}

// foot leads to what a reader looks up now and then.
var foot = []way{
	{"Sources", "sources/", (*rendering).computes},
	{"Pot labels", "labels/", func(s *rendering) bool { return len(s.Garden.Standing()) > 0 }},
	{"How the numbers are made", howIndex, nil},
}

func hasPots(s *rendering) bool { return len(s.Garden.Pots) > 0 }

// shows says whether a published note holds a block of a kind, or a plan that implies one.
func shows(kind string) func(*rendering) bool {
	return func(s *rendering) bool { return slices.ContainsFunc(s.of(kind), (*Placed).visible) }
}

// computes says whether a published note holds a block that numbers are computed of.
func (s *rendering) computes() bool {
	return slices.ContainsFunc(s.Blocks, func(p *Placed) bool { return p.Kind.Phase >= 0 && p.visible() })
}

// leading returns the ways that lead to something.
func (s *rendering) leading(ways []way) []way {
	return slices.DeleteFunc(slices.Clone(ways), func(w way) bool { return w.has != nil && !w.has(s) })
}
