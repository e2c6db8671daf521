package recipe

import (
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// offer lets other blocks compute this recipe for a container of their own. It holds on to nothing that was
// computed: a handbook may have thousands of recipes.
func (c *computation) offer() facts.Recipe {
	bare := &computation{recipe: c.recipe, pass: c.pass, rows: c.rows, compost: c.compost, cropOK: c.cropOK, wanted: c.wanted}
	out := facts.Recipe{ID: c.pass.ID, Title: c.title, At: c.pass.At, Mix: c.mixText, For: bare.portioned}
	if c.cropOK != nil {
		out.Crop = c.cropOK.ID
	}
	for _, r := range c.rows {
		if r.choice != "" {
			out.Choices = append(out.Choices, r.ids())
		}
	}
	return out
}

// portioned computes the recipe for one container with picks.
func (c *computation) portioned(container garden.Container, with []string, grown facts.Grown) (facts.Portioned, []diag.Diagnostic) {
	var found diag.List
	pass := *c.pass
	pass.With, pass.Report = with, found.Report
	d := &computation{recipe: c.recipe, pass: &pass, rows: c.rows, compost: c.compost, cropOK: c.cropOK, wanted: c.wanted}
	d.grow(grown)
	if d.checkPicks(); found.Faults() > 0 {
		return facts.Portioned{}, found.Sorted()
	}
	d.blends = d.blend()
	s := d.scale(container)
	out := facts.Portioned{Litres: s.litres, Masses: s.combos[0].parts, Data: d.sizeTree(s), Parts: d.potParts(s)}
	if d.wanted != c.wanted {
		out.Working = d.ownNeedSteps(&s)
	}
	out.Wait.Sow, out.Wait.Plant = s.combos[0].sow, s.combos[0].plant
	if l := s.compost; l != nil {
		out.Firmed = l.firmed
		for i, loose := range l.loose {
			out.Loose[i] = loose.Typical / 1000
			mass := units.WeighSome(loose, l.material.Density().Density())
			out.Compost[i] = []dose.Portion{{Material: l.material, Mass: mass}}
		}
	}
	return out, nil
}

// grow puts a container's own crop and plants in the place of the recipe's. The yield that the recipe expects of a
// plant holds for its own crop alone.
func (c *computation) grow(grown facts.Grown) {
	if grown.Crop == nil || grown.Crop == c.cropOK && grown.Plants == 0 {
		return
	}
	own := *c.recipe
	own.plants = grown.Plants
	if grown.Crop != c.cropOK {
		own.yield = units.SomeMass{}
	}
	c.recipe, c.cropOK, c.potted = &own, grown.Crop, grown.Plants > 0
	c.wanted = c.want()
}

// potParts arranges one container's amounts for its own page: the picks alone, without what else the
// reader could have picked.
func (c *computation) potParts(s scaled) []view.Part {
	for i := range s.lines {
		s.lines[i] = line{options: []portion{s.lines[i].options[s.combos[0].picks[i]]}}
	}
	parts := []view.Part{c.amountsView(s)}
	if s.compost != nil {
		parts = append(parts, c.compostView(s))
	}
	if guards := guardViews(s.combos[0]); len(guards.Items) > 0 {
		parts = append(parts, guards)
	}
	parts = append(parts, c.nitrogenView(&s, s.combos[0].supplied))
	if bars := c.bars(&s, s.combos[0].supplied, 1, "g"); len(bars.Rows) > 0 {
		parts = append(parts, bars)
	}
	return append(parts, c.figuresView(s.combos[0]))
}
