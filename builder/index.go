package builder

import (
	"slices"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/builder/site"
)

// An index finds the blocks and notes of a handbook.
type index struct {
	byID    map[string]*Placed // the first of that id
	byFence map[*markdown.Block]*Placed
	byOwn   map[site.Address]*Placed // by the page that a block has to itself
	inNote  map[string][]*Placed     // by the path of the note, with what its plans imply
	byPath  map[string]*notes.Note
}

func newIndex(h *Handbook) index {
	out := index{
		byID: map[string]*Placed{}, byFence: map[*markdown.Block]*Placed{}, byOwn: map[site.Address]*Placed{},
		inNote: map[string][]*Placed{}, byPath: map[string]*notes.Note{},
	}
	for i, p := range slices.Backward(h.Blocks) {
		p.place = i
		out.byID[p.ID] = p
		if p.fence != nil {
			out.byFence[p.fence] = p
		}
		if at, own := ownAddress(p); own {
			out.byOwn[at] = p
		}
	}
	for _, p := range h.Blocks {
		if p.Note != nil {
			out.inNote[p.Note.Path] = append(out.inNote[p.Note.Path], p)
		}
	}
	for _, n := range h.Notes {
		out.byPath[n.Path] = n
	}
	return out
}

// Block returns the block with an id.
func (h *Handbook) Block(id string) (*Placed, bool) {
	p, ok := h.byID[id]
	return p, ok
}

// IDs returns the ids of all blocks, for hints.
func (h *Handbook) IDs() []string {
	var out []string
	for _, p := range h.Blocks {
		if p.ID != "" {
			out = append(out, p.ID)
		}
	}
	return out
}
