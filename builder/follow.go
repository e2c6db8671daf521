package builder

import (
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
)

// Report adds a diagnostic, unless it only follows from a fault that was reported: one slip is said once, where it
// was made.
func (h *Handbook) Report(d diag.Diagnostic) {
	if !h.follows(d) {
		h.List.Report(d)
	}
}

// ofBlocks are the codes of what is wrong with the name of a block; ofPages those with the address of a page.
var (
	ofBlocks = map[string]bool{"unknown-recipe": true, "unknown-plan": true, "unknown-with": true, "dead-figure": true, "dead-link": true}
	ofPages  = map[string]bool{"dead-link": true}
)

// follows says whether a diagnostic speaks of a block or a pot that is there and could not be read, or holds a text
// against numbers that a fault in the grower's files left in doubt.
func (h *Handbook) follows(d diag.Diagnostic) bool {
	switch {
	case h.Garden == nil: // its files are being read
		return false
	case h.Garden.Follows(d):
		return true
	case d.Code == "figure-differs" && h.Garden.Faulty():
		return true
	case ofPages[d.Code] && garden.Quotes(d, h.Garden.UnreadPot):
		return true
	}
	return ofBlocks[d.Code] && garden.Quotes(d, func(id string) bool { return h.lost[id] })
}
