package reading

import (
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/extract"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// compostFindings judge a neat compost by what is wanted of one that goes into a mix (judging.yaml, compost_limits, wanted):
// by its own method where a limit is held for it, else by what it would show in the saturated extract.
func (c *computation) compostFindings() []finding {
	if !c.compost || c.ec == nil {
		return nil
	}
	limit, own := c.compostLimit()
	if !own {
		return c.convertedSalt(limit)
	}
	if *c.ec < limit.Typical {
		return nil
	}
	return []finding{found(wash, "compost-salt", "Salty compost", limit.Source, "EC %s mS/cm by %s is not below the %s wanted of a compost in a growing medium. Use little of it, or let rain wash it first.", n(*c.ec), c.method.Name(), n(limit.Typical))}
}

// convertedSalt holds the EC of a compost, converted to the saturated extract, against the limit for that one. It may
// miss the limit by the last bits of a number.
func (c *computation) convertedSalt(limit reference.Figure) []finding {
	ec, ok := c.sme()
	most, cited := limit.Typical*(1-1e-9), care.Keys(limit.Source, c.conversionSources(extract.SME))
	switch {
	case !ok:
		return nil
	case ec.Typical >= most:
		have, below := view.Apart(ec.Typical, limit.Typical)
		return []finding{found(wash, "compost-salt", "Salty compost", cited, "EC %s mS/cm by %s is about %s (%s) in the saturated extract, where less than %s is wanted of a compost in a growing medium. Use little of it, or let rain wash it first.", n(*c.ec), c.method.Name(), have, view.Span(ec.Low, ec.High), below)}
	case ec.High >= most:
		high, below := view.Apart(ec.High, limit.Typical)
		return []finding{found(note, "compost-salt-near", "Close to the limit", cited, "Converted from %s, EC may be as much as %s mS/cm in the saturated extract, and less than %s is wanted of a compost in a growing medium. Test by that method to be surer.", c.method.Name(), high, below)}
	}
	return nil
}

// compostLimit is what is wanted of a compost: by its own method, else, own false, in the saturated extract.
func (c *computation) compostLimit() (limit reference.Figure, own bool) {
	wanted := func(row string) reference.Figure {
		return c.pass.Ref.Must("judging", "compost_limits", "wanted", row, "below")
	}
	if c.method == extract.OneToTwo {
		return wanted("EC, 1:2"), true
	}
	return wanted("EC as a part of a growing medium, saturated paste"), c.method == extract.SME
}
