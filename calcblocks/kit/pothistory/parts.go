package pothistory

import (
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/rotation"
	"trug/calcblocks/kit/view"
)

// PotParts returns the history of one pot for its own page: what comes too soon, the years from the newest back,
// the summary, its working and its sources. It is empty when no diary names the pot.
func (h *History) PotParts(pot string) []view.Part {
	events := h.pots[pot]
	conflicts := slices.DeleteFunc(slices.Clone(h.Conflicts()), func(c facts.Conflict) bool { return c.Pot != pot })
	if len(events)+len(conflicts) == 0 {
		return nil
	}
	var parts []view.Part
	if items := h.ConflictViews(conflicts, false); len(items) > 0 {
		parts = append(parts, view.Cautions{Items: items})
	}
	for end := len(events); end > 0; {
		from := end - 1
		for from > 0 && h.growing(events[from-1].On) == h.growing(events[from].On) {
			from--
		}
		parts = append(parts, h.year(events[from:end]))
		end = from
	}
	all := Scope{Pots: []string{pot}}
	steps := h.Working(all)
	parts = append(parts, h.Summary(all)...)
	if len(steps) > 0 {
		parts = append(parts, view.Working{Title: "Working", Steps: steps})
	}
	if entries := care.Entries(h.garden, Keys(steps, conflicts)); len(entries) > 0 {
		parts = append(parts, view.Bibliography{Title: "Sources", Entries: entries})
	}
	return parts
}

// Keys returns the source keys of a working and of conflicts, sorted, each once.
func Keys(steps []view.WorkingStep, conflicts []facts.Conflict) []string {
	var keys []string
	for _, step := range steps {
		keys = append(keys, step.Sources...)
	}
	for _, c := range conflicts {
		keys = append(keys, c.Sources...)
	}
	return care.Keys(keys)
}

// ConflictViews words conflicts as cautions, with the name of the pot where named, and after a mix that is unfit
// the reference's caution on throwing it away.
func (h *History) ConflictViews(conflicts []facts.Conflict, named bool) []view.Caution {
	var out []view.Caution
	discard := false
	for _, c := range conflicts {
		item := view.Caution{ID: "rotation", Word: "Too soon", Text: rotation.Told(c, h.garden.Place), Sources: care.Keys(c.Sources), Guard: true}
		if c.Never {
			item.ID, item.Word, discard = "unfit-mix", "Mix not fit for use again", true
		}
		if named {
			item.Text = h.Name(c.Pot) + ": " + item.Text
		}
		out = append(out, item)
	}
	if caution, ok := h.lib.Caution("discarded-mix"); ok && discard {
		out = append(out, caution.View())
	}
	return out
}
