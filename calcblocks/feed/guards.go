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
		word, text := c.undissolved()
		out = append(out, care.Guard{ID: "not-all-dissolves", Word: word, Text: text, Sources: []string{"planning-values"}})
	}
	return append(out, c.thickStock()...)
}

// undissolved says what stays behind, as far as the kind of product tells.
func (c *computation) undissolved() (word, text string) {
	switch {
	case c.staysSolid():
		return "No liquid feed", fmt.Sprintf("Most of %s settles and does not dissolve; the figures count all of it as if it did. Work it into the mix dry, as a recipe does, or take a product that is made to be dissolved and follow its label.", care.InWords(c.material))
	case c.material != nil && c.material.Ref == nil && !c.isLiquid():
		return "See whether it dissolves", "The figures count the whole label, and whether all of it dissolves is not told here: the label of the product says. What stays behind does not feed this week. Strain it, or the rose clogs."
	}
	return "Not all of it feeds at once", "The figures count the whole label. Of a fish, seaweed or meal feed only the soluble part feeds this week; the rest waits for microbes. Strain what stays behind, or the rose clogs."
}

// thickStock speaks of a stock that cannot be: a litre of it would take a litre of the product or more, or as much by
// weight as the water weighs (arithmetic alone: how much of a salt dissolves is held nowhere here).
func (c *computation) thickStock() []care.Guard {
	if c.injector == nil || c.isLiquid() {
		return nil
	}
	grams := c.stockPerLitre(1)
	d, sources, known := c.density()
	room := known && grams >= 1000*d.Typical
	if !room && grams < 1000 {
		return nil
	}
	much := view.Number(grams) + " g"
	if known {
		much += ", " + view.Number(grams/d.Typical/1000) + " L,"
	}
	return []care.Guard{{
		ID: "thick-stock", Word: "No such stock", Sources: care.Keys(c.basis.sources, sources),
		Text: fmt.Sprintf("A litre of stock would take %s of %s: more than there is water for. Take a smaller ratio or a weaker feed, and hold to the label.", much, view.Small(c.name)),
	}}
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
