package dates

import (
	"fmt"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/view"
)

// guards are the cautions that the dates raise.
func (c *computation) guards() []care.Guard {
	var out []care.Guard
	if g, ok := c.lateFrost(); ok {
		out = append(out, g)
	}
	var said []string
	for _, g := range c.grown {
		for _, n := range []struct {
			id, word string
			season.Note
		}{{"renewed-late", "Renewed late", g.plan.Late}, {"short-season", "Short season", g.plan.Short}} {
			if n.Text != "" && !slices.Contains(said, n.Text) {
				said = append(said, n.Text)
				out = append(out, care.Guard{ID: n.id, Word: n.word, Text: n.Text, Sources: n.Sources})
			}
		}
	}
	return out
}

// lateFrost speaks when a crop that frost kills goes out before the date after which one year in ten still
// has one.
func (c *computation) lateFrost() (care.Guard, bool) {
	late := c.late()
	var names []string
	for _, g := range c.grown {
		tender := g.crop.Hardiness == "tender" || g.crop.Hardiness == "very-tender"
		out := slices.ContainsFunc(g.plan.Jobs, func(j season.Job) bool {
			return (j.Name == "plant" || j.Name == "sow") && j.From.Before(late)
		})
		if words := season.CropWords(g.crop); tender && out && !slices.Contains(names, words) {
			names = append(names, words)
		}
	}
	if len(names) == 0 {
		return care.Guard{}, false
	}
	text := fmt.Sprintf("One year in ten has a frost after %s. Until then have a cover at hand for %s, or wait.", season.Words(late, late, c.year > 0), view.And(names))
	return care.Guard{ID: "late-frost", Word: "Late frost", Text: text, Sources: c.minimaKeys()}, true
}
