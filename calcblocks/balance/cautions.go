package balance

import (
	"fmt"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// guards returns the cautions that the spoons' own numbers raise: what the program kept within its limits may
// pass them by rounding, and what the program cannot know is named.
func (c *computation) guards() []care.Guard {
	return slices.Concat(c.overLimits(), c.overBounds(), c.coarse(), c.unlimited(), c.moves(), care.SizeKnown(c.pass.Ref, c.container))
}

func (c *computation) overLimits() []care.Guard {
	var out []care.Guard
	for _, u := range c.used {
		if grams := u.scoop.Mass.Typical; u.mostWhy != "" && grams > u.most*(1+1e-6) {
			out = append(out, care.Guard{
				ID: "over-limit", Word: "Over the usual most", Sources: u.sources,
				Text: fmt.Sprintf("%s: the measure holds %s g; %s is %s g. Weigh it.", u.material.Name, view.Number(grams), u.mostWhy, view.Number(u.most)),
			})
		}
	}
	return out
}

// overBounds holds what the spoons bring against each guard of the program.
func (c *computation) overBounds() []care.Guard {
	var out []care.Guard
	for _, b := range c.bounds {
		sum, size := c.boundSum(b, c.used)
		if sum <= b.most+1e-6*max(size, b.most) {
			continue
		}
		out = append(out, care.Guard{
			ID: b.id, Word: b.word, Sources: b.sources,
			Text: fmt.Sprintf("The measures bring %s %s; %s is the most: %s.", view.Number(sum), b.unit, view.Number(b.most), b.text),
		})
	}
	return out
}

// coarse speaks when the spoons miss by more than 10 %, on the coarser household steps by more than 34 %, and when the
// steps of a scale miss by more than 10 %.
func (c *computation) coarse() []care.Guard {
	household := c.pass.Garden.Handbook.Rounding == measure.Household
	var out []care.Guard
	for _, u := range c.used {
		if u.scoop.Weighed {
			out = append(out, care.CoarseScale(u.material, u.scoop.Mass.Typical, u.scoop.Error())...)
			continue
		}
		out = append(out, care.CoarseMeasure(u.material, u.scoop.Error(), household)...)
	}
	return out
}

// unlimited names what has no usual most.
func (c *computation) unlimited() []care.Guard {
	var names []string
	for _, u := range c.used {
		if u.mostWhy == "" {
			names = append(names, fmt.Sprintf("%s (%s g per litre of mix)", care.InWords(u.material), view.Number(u.scoop.Mass.Typical/c.litres)))
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []care.Guard{{
		ID: "no-limit", Word: "No usual most is known",
		Text: "Nothing but the bands holds the amount of " + view.And(names) + ". Set one under \"limits\" if you know better.",
	}}
}

// moves speaks of materials that move the pH.
func (c *computation) moves() []care.Guard {
	var ids []string
	for _, u := range c.used {
		if class := u.material.Class(); class == "liming" || class == "acidifying" {
			ids = append(ids, care.InWords(u.material))
		}
	}
	if len(ids) == 0 {
		return nil
	}
	grid := c.pass.Ref.Must("judging", "ph_lime_compost_grid", "derived_slopes", "ph_per_tenth_compost_no_lime")
	return []care.Guard{{
		ID: "moves-ph", Word: "Moves the pH", Sources: grid.Source,
		Text: "This balance knows nothing of your mix's pH. Use " + view.And(ids) + " only when a test calls for it.",
	}}
}

func (c *computation) materials() []*garden.Material {
	var out []*garden.Material
	for _, u := range c.used {
		out = append(out, u.material)
	}
	return out
}

// cautions returns those of the reference that concern these materials.
func (c *computation) cautions() []*reference.Caution {
	return care.Concerning(c.pass.Ref, c.materials(), care.Tasks(c.materials(), "mixing", "spreading", "watering"))
}
