// Package care holds cautions: those of the reference that concern what a reader does with which
// materials, and the guards that a block's own numbers raise. Nothing here says that a thing is safe.
package care

import (
	"slices"
	"strings"

	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// A Guard is a caution that a block's own numbers raise. Sources are keys of the bibliography.
type Guard struct {
	ID, Word, Text string
	Sources        []string
	Note           bool // says how a size is known rather than what is too much
}

// Concerning returns the cautions that concern materials and tasks: those that always apply, those of a
// hazard or an amendment, and those of a task alone.
func Concerning(lib *reference.Library, materials []*garden.Material, tasks []string) []*reference.Caution {
	var out []*reference.Caution
	for _, c := range lib.Cautions {
		if concerns(c, materials, tasks) {
			out = append(out, c)
		}
	}
	return out
}

func concerns(c *reference.Caution, materials []*garden.Material, tasks []string) bool {
	doing := Overlap(c.Tasks, tasks)
	switch {
	case c.Always:
		return true
	case len(c.Hazards)+len(c.Amendments) == 0:
		return doing
	case !doing && len(c.Tasks) > 0:
		return false
	}
	return slices.ContainsFunc(materials, func(m *garden.Material) bool {
		return Overlap(c.Hazards, hazards(m)) || slices.Contains(c.Amendments, m.ID) && company(c, m, materials)
	})
}

// hazards are a material's own. Wood ash is listed under ammonia because it drives it out of others; what
// holds no nitrogen gives none off by itself.
func hazards(m *garden.Material) []string {
	n := m.Content(reference.N)
	if !n.Known || n.Typical > 0 {
		return m.Hazards()
	}
	return slices.DeleteFunc(slices.Clone(m.Hazards()), func(h string) bool { return h == "ammonia" })
}

// company says whether one of the hazards that a caution needs besides its amendment is there, in
// another material.
func company(c *reference.Caution, self *garden.Material, materials []*garden.Material) bool {
	if len(c.WithHazards) == 0 {
		return true
	}
	return slices.ContainsFunc(materials, func(m *garden.Material) bool {
		return m.ID != self.ID && Overlap(c.WithHazards, hazards(m))
	})
}

// Tasks adds to what is done in any case what is done with some materials alone: spreading ash, liming, sourcing
// a compost. The words are those of the reference's cautions.
func Tasks(materials []*garden.Material, always ...string) []string {
	for _, m := range materials {
		switch {
		case m.ID == "wood-ash":
			always = append(always, "spreading-ash")
		case m.Class() == "liming":
			always = append(always, "liming")
		case m.Class() == "compost":
			always = append(always, "sourcing-compost")
		}
	}
	return always
}

// Overlap says whether two lists of words share one.
func Overlap(a, b []string) bool {
	return slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}

// Views prints cautions of the reference.
func Views(cautions []*reference.Caution) []view.Caution {
	var out []view.Caution
	for _, c := range cautions {
		out = append(out, c.View())
	}
	return out
}

// GuardViews prints guards other than notes on the size.
func GuardViews(guards []Guard) []view.Caution {
	var out []view.Caution
	for _, g := range guards {
		if !g.Note {
			out = append(out, view.Caution{ID: g.ID, Word: g.Word, Text: g.Text, Sources: g.Sources, Guard: true})
		}
	}
	return out
}

// Notes returns the texts of the notes on the size.
func Notes(guards []Guard) []string {
	var out []string
	for _, g := range guards {
		if g.Note {
			out = append(out, g.Text)
		}
	}
	return out
}

// InWords returns a material's name as it stands inside a sentence: "calcitic lime" for "Calcitic lime,
// ground". What stands in brackets stays whole.
func InWords(m *garden.Material) string {
	depth := 0
	for i, r := range m.Name {
		switch {
		case r == '(':
			depth++
		case r == ')':
			depth--
		case depth == 0 && strings.HasPrefix(m.Name[i:], ", "):
			return view.Small(m.Name[:i])
		}
	}
	return view.Small(m.Name)
}
