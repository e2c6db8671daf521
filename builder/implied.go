package builder

import (
	"slices"

	"trug/calcblocks"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
)

// impliedKinds are the kinds that every plan has one of, whether or not a note holds it: what to buy for
// the plan, and when to do what.
var impliedKinds = []string{"shopping", "dates"}

// placeImplied adds the shopping list and the dates of each plan that no block asks for, so that their
// pages are there. They stand in no note.
func (h *Handbook) placeImplied() {
	for _, plan := range h.of("plan") {
		if plan.ID == "" {
			continue // reported
		}
		for _, name := range impliedKinds {
			kind, ok := calcblocks.Named(name)
			if !ok || slices.ContainsFunc(h.of(name), func(p *Placed) bool { return h.covers(p, plan) }) {
				continue
			}
			text := "plan: " + plan.ID + "\n"
			root := form.Read(form.FileSource(diag.NewFile(plan.At.Name(), text), h.Garden.Values(), h.Report))
			h.add(&Placed{Kind: kind, At: plan.At, Note: plan.Note, Source: text, root: root})
		}
	}
}

// covers says whether a block asks for a plan: it names it, or it names none and there is one only.
func (h *Handbook) covers(p, plan *Placed) bool {
	if !p.root.IsMapping() {
		return false
	}
	for _, e := range p.root.Mapping().Entries {
		if e.Name == "plan" {
			return e.Value.Raw() == plan.ID
		}
	}
	return p.Kind.Name == "shopping" && len(h.of("plan")) == 1
}

// of returns the blocks of a kind.
func (h *Handbook) of(kind string) []*Placed {
	var out []*Placed
	for _, p := range h.Blocks {
		if p.Kind.Name == kind {
			out = append(out, p)
		}
	}
	return out
}
