package builder

import (
	"fmt"
	"slices"
)

// Place returns where a block stands: "content/tubs/spring.md:12".
func (p *Placed) Place() string { return fmt.Sprintf("%s:%d", p.At.Name(), p.At.Line) }

// Implied says whether no note holds the block: its plan alone asks for it.
func (p *Placed) Implied() bool { return p.fence == nil && p.Note != nil }

// Named returns the block with an id, or the one that stands at a place as Place writes it.
func (h *Handbook) Named(name string) (*Placed, bool) {
	if p, ok := h.Block(name); ok {
		return p, name != ""
	}
	i := slices.IndexFunc(h.Blocks, func(p *Placed) bool { return p.Place() == name && !p.Implied() })
	if i < 0 {
		return nil, false
	}
	return h.Blocks[i], true
}
