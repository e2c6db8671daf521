package recipe

import (
	"slices"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
)

// A blend is one pick of every choice with what holds for it in every size.
type blend struct {
	picks      []int    // an option for each row
	with       []string // the picked ids, one for each choice
	label      string   // "with kelp meal"
	cautions   []*reference.Caution
	sow, plant float64 // weeks to wait
}

// blend works out every combination of picks.
func (c *computation) blend() []*blend {
	var out []*blend
	for _, picks := range c.combinations() {
		b := &blend{picks: picks}
		var materials []*garden.Material
		for i, r := range c.rows {
			m := r.materials[picks[i]]
			materials = append(materials, m)
			if r.choice != "" {
				b.with = append(b.with, m.ID)
			}
		}
		b.label, b.cautions = withText(c, b.with), c.applicable(materials)
		b.sow, b.plant = wait(materials)
		out = append(out, b)
	}
	return out
}

// combinations lists every pick of every choice, the reader's (or the defaults) first.
func (c *computation) combinations() [][]int {
	all := [][]int{nil}
	for _, r := range c.rows {
		var next [][]int
		for _, picks := range all {
			for i := range r.materials {
				next = append(next, append(slices.Clone(picks), i))
			}
		}
		all = next
	}
	first := c.picked()
	at := slices.IndexFunc(all, func(p []int) bool { return slices.Equal(p, first) })
	return append([][]int{first}, slices.Delete(all, at, at+1)...)
}

// picked returns the option of each row that the reader picked, else its first.
func (c *computation) picked() []int {
	out := make([]int, len(c.rows))
	for i, r := range c.rows {
		for j, m := range r.materials {
			if r.choice != "" && slices.Contains(c.pass.With, m.ID) {
				out[i] = j
			}
		}
	}
	return out
}

// checkPicks reports a pick that no choice offers, or two of one choice.
func (c *computation) checkPicks() {
	for _, r := range c.rows {
		picks := slices.DeleteFunc(r.ids(), func(id string) bool { return !slices.Contains(c.pass.With, id) })
		if r.choice != "" && len(picks) > 1 {
			c.pass.Report(diag.Errorf(diag.Position{}, "two-picks", "%q and %q are picks of one choice", picks[0], picks[1]).Hint("name one of them"))
		}
	}
	for _, id := range c.pass.With {
		if !slices.ContainsFunc(c.rows, func(r resolved) bool { return r.choice != "" && r.offers(id) }) {
			c.pass.Report(diag.Errorf(diag.Position{}, "unknown-pick", "the recipe has no choice that offers %q", id).Hint("%s", c.offered()))
		}
	}
}

func (r resolved) offers(id string) bool { return slices.Contains(r.ids(), id) }

func (r resolved) ids() []string {
	var out []string
	for _, m := range r.materials {
		out = append(out, m.ID)
	}
	return out
}

func (c *computation) offered() string {
	out := ""
	for _, r := range c.rows {
		for _, m := range r.materials {
			if r.choice != "" {
				out += ", " + m.ID
			}
		}
	}
	if out == "" {
		return "it offers no choices"
	}
	return "it offers " + out[2:]
}
