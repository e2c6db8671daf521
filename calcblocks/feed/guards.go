package feed

import (
	"fmt"
	"slices"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// some is mg/L as far as it is known.
type some = units.SomeShare

// A practice is a published strength of feed.
type practice struct {
	what   string
	figure reference.Figure
}

// published returns the strengths of constant feed that the reference holds (judging.yaml, nitrogen_targets).
func (c *computation) published() []practice {
	var out []practice
	for _, what := range []string{
		"constant liquid feed, vegetables in an organic mix", "constant liquid feed, vegetables in containers", "constant liquid feed, florist crops",
	} {
		out = append(out, practice{what, c.pass.Ref.Must("judging", "nitrogen_targets", "published_rates", what, "mg_n_per_l_water")})
	}
	return out
}

// guards are the cautions that the numbers raise.
func (c *computation) guards() []care.Guard {
	var out []care.Guard
	if g, strong := c.strong(); strong {
		out = append(out, g)
	}
	if c.can != nil && c.spoons == nil {
		out = append(out, care.Guard{
			ID: "no-spoon", Word: "Weigh it", Sources: c.basis.sources, Text: fmt.Sprintf("How heavy %s is was not told, so no spoon is given: weigh %s g, or weigh a level cup of it and write \"cup weighs\".", view.Small(c.name), c.gramsText()),
		})
	}
	if !c.allSalt() {
		out = append(out, care.Guard{
			ID: "not-all-dissolves", Word: "Not all of it feeds at once", Sources: []string{"planning-values"},
			Text: "The figures count the whole label. Of a fish, seaweed or meal feed only the soluble part feeds this week; the rest waits for microbes. Strain what stays behind, or the rose clogs.",
		})
	}
	return out
}

// strong speaks above the strongest of the published strengths of constant feed, 250 mg/L N.
func (c *computation) strong() (care.Guard, bool) {
	n, known := c.reached(nutrients[0], 1)
	top := c.published()[2].figure
	if !known || n.Typical <= top.High*(1+1e-9) {
		return care.Guard{}, false
	}
	return care.Guard{
		ID: "strong-feed", Word: "Strong feed", Sources: top.Source,
		Text: fmt.Sprintf("It holds %s mg/L nitrogen. Florists feed with %s mg/L at every watering and vegetables get less: thin it, feed a moist mix, and see what the label allows.", view.Number(n.Typical), view.Span(top.Low, top.High)),
	}, true
}

// cautions are those of feeding, of run-off, and of the product's own hazards. Those on bags of mix do not
// concern a can of feed.
func (c *computation) cautions() []*reference.Caution {
	var materials []*garden.Material
	if c.material != nil {
		materials = append(materials, c.material)
	}
	tasks := []string{"feeding", "mixing"}
	out := slices.DeleteFunc(care.Concerning(c.pass.Ref, materials, tasks), func(caution *reference.Caution) bool { return caution.ID == "legionella-in-mix" })
	extra := []string{"runoff"}
	if p, known := c.reached(nutrients[1], 1); known && p.Typical > 0 {
		extra = append(extra, "phosphorus-rules")
	}
	for _, id := range extra {
		if caution, ok := c.pass.Ref.Caution(id); ok && !slices.Contains(out, caution) {
			out = append(out, caution)
		}
	}
	return out
}
