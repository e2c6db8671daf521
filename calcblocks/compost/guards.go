package compost

import (
	"fmt"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/heap"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

func n(x float64) string { return view.Number(x) }

// verdict says in a sentence what comes out.
func (c *computation) verdict() string {
	b := c.shown()
	ratio, ideal := b.ratio.Typical, c.band("c_to_n_ideal")
	wide := c.band("c_to_n_acceptable")
	switch {
	case !c.reached():
		return "impossible: " + c.outOfReach()
	case c.conflict():
		return "conflict: " + c.conflictText()
	case c.isApart():
		return "C:N and moisture pull apart: " + c.apartText()
	case ratio < wide.Low:
		return fmt.Sprintf("rich in nitrogen: C:N %s is below %s, and ammonia escapes; add straw, leaves or chips", n(ratio), n(wide.Low))
	case ratio > wide.High:
		return fmt.Sprintf("poor in nitrogen: C:N %s is above %s, and the heap hardly warms; add green or a meal", n(ratio), n(wide.High))
	case c.tooWet():
		return fmt.Sprintf("too wet: moisture is %s %%; add something dry and coarse, or turn it often", n(100*b.moisture.Typical))
	case c.tooDry():
		return fmt.Sprintf("too dry: moisture is %s %%; add %s as you build it", n(100*b.moisture.Typical), c.water())
	case ratio < ideal.Low || ratio > ideal.High:
		return fmt.Sprintf("workable: C:N %s lies outside the usual %s, and moisture is right", n(ratio), view.Span(ideal.Low, ideal.High))
	}
	return fmt.Sprintf("balanced: C:N %s and moisture %s %% lie in the usual bands", n(ratio), n(100*b.moisture.Typical))
}

// outOfReach says why no amount of the material reaches the goal.
func (c *computation) outOfReach() string {
	own, goal, what, unit := c.change.material.CToN.Typical, c.goal, "C:N", ""
	rest := c.restBlend()
	with := rest.ratio.Typical
	if c.goal == 0 {
		own, goal, what, unit, with = 100*c.change.material.Moisture.Typical, 100*c.moisture, "moisture", " %", 100*rest.moisture.Typical
	}
	return fmt.Sprintf("%s %s%s does not lie between %s at %s%s and the rest at %s%s, so no amount reaches it; take another material", what, n(goal), unit, view.Small(c.change.title), n(own), unit, n(with), unit)
}

// restBlend is the heap without the material that is adjusted.
func (c *computation) restBlend() blend {
	var rest []heap.Material
	for _, s := range c.stuffs {
		if s != c.change {
			rest = append(rest, s.material)
		}
	}
	return c.mix(rest)
}

// water is what a dry heap wants.
func (c *computation) water() string {
	if c.lacksLittle() {
		return "a little water"
	}
	return "about " + n(c.shown().addWater.Typical) + " L of water"
}

// guards are the cautions that the numbers raise.
func (c *computation) guards() []care.Guard {
	var out []care.Guard
	b := c.shown()
	add := func(id, word, text string, f reference.Figure) {
		out = append(out, care.Guard{ID: id, Word: word, Text: text, Sources: f.Source})
	}
	wide, wet := c.band("c_to_n_acceptable"), c.band("moisture_percent_ideal")
	switch {
	case !c.reached():
		add("out-of-reach", "Out of reach", view.Capital(c.outOfReach())+".", c.pass.Ref.Must("heap", "targets", "c_to_n", "start"))
	case c.conflict():
		add("goals-conflict", "Carbon and water pull apart", view.Capital(c.conflictText())+".", wet)
	case c.isApart():
		add("goals-apart", "Carbon and water pull apart", view.Capital(c.apartText())+".", wet)
	}
	switch ratio := b.ratio.Typical; {
	case ratio < wide.Low:
		add("rich-heap", "Rich in nitrogen", fmt.Sprintf("C:N is %s; below %s nitrogen leaves as ammonia and the heap smells. Add straw, leaves or chips.", n(ratio), n(wide.Low)), wide)
	case ratio > wide.High:
		add("poor-heap", "Poor in nitrogen", fmt.Sprintf("C:N is %s; above %s a heap hardly warms and takes long. Add green, grounds or a meal.", n(ratio), n(wide.High)), wide)
	}
	switch {
	case c.tooWet():
		add("too-wet", "Too wet", fmt.Sprintf("Moisture is about %s %%; above %s %% air is short and the heap turns sour. Add something dry and coarse.", n(100*b.moisture.Typical), n(wet.High)), wet)
	case c.tooDry():
		add("too-dry", "Too dry", fmt.Sprintf("Moisture is about %s %%; below %s %% the heap is slow. Add %s as you build it.", n(100*b.moisture.Typical), n(wet.Low), c.water()), wet)
	}
	return out
}

// cautions are those of handling the materials and of compost in a mix.
func (c *computation) cautions() []*reference.Caution {
	var materials []*garden.Material
	for _, s := range c.stuffs {
		if s.garden != nil {
			materials = append(materials, s.garden)
		}
	}
	return care.Concerning(c.pass.Ref, materials, []string{"mixing", "sourcing-compost"})
}
