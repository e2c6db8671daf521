package pothistory

import "trug/calcblocks/kit/facts"

// Events returns what was done in a pot, by date.
func (h *History) Events(pot string) []facts.Event { return h.pots[pot] }

// Added returns what went into a pot in every year.
func (h *History) Added(pot string) []Added { return h.added(Scope{}, pot) }
