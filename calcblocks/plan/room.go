package plan

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// cropWords is a crop's name as it stands inside a sentence: "tomato" for "Tomato, indeterminate".
func cropWords(c *reference.Crop) string {
	name, _, _ := strings.Cut(c.Name, ", ")
	return view.Small(name)
}

func contains(text, part string) bool { return strings.Contains(text, part) }

func sortedKeys[T any](m map[string]T) []string { return slices.Sorted(maps.Keys(m)) }

// judgeRoom holds the mix of a pot against what its plants need: litres for each plant, the least that works
// and what the usual yield assumes, and the least depth (crops.yaml, mix_l_per_plant and depth_cm). A pot
// whose volume is a range is judged by its larger end.
func (c *computation) judgeRoom(r *row) {
	if r.crop == nil {
		return
	}
	c.judgeLitres(r)
	if depth := r.crop.Depth; depth.Known && r.pot.Vessel.FillHeight() < depth.Low-rounding && !r.pot.Vessel.Assumed {
		r.brief = append(r.brief, brief{"shallow-mix", fmt.Sprintf("%s (%s cm, %s wants %s)", view.Small(r.pot.Label), view.Number(r.pot.Vessel.FillHeight()), cropWords(r.crop), view.Number(depth.Low)), depth.Source})
		r.guards = append(r.guards, care.Guard{
			ID: "shallow-mix", Word: "Shallow", Sources: depth.Source,
			Text: fmt.Sprintf("%s: the mix is %s cm deep; %s wants %s cm or more.", r.pot.Label, view.Number(r.pot.Vessel.FillHeight()), cropWords(r.crop), view.Number(depth.Low)),
		})
	}
}

func (c *computation) judgeLitres(r *row) {
	least, good := r.crop.MixMin, r.crop.MixGood
	if r.plants == 0 || !least.Known {
		return
	}
	each := r.litres[1] / float64(r.plants)
	switch {
	case each < least.Typical*(1-rounding):
		d := diag.Errorf(r.plantsAt.At(), "too-many-plants", "%s of %q: too many for the %s L of %q", plantsOf(r.plants), r.crop.ID, view.Number(r.litres[1]), r.pot.Pot)
		d.Severity = diag.Doubt
		c.pass.Report(d.Hint("%s", fewer(r.litres[1], least.Typical)))
		r.guards = append(r.guards, care.Guard{
			ID: "too-many-plants", Word: "Too many plants", Sources: least.Source,
			Text: fmt.Sprintf("%s: %s L of mix for %s; %s needs %s L each at least. %s.", r.pot.Label, view.Number(r.litres[1]), plantsOf(r.plants), cropWords(r.crop), view.Number(least.Typical), view.Capital(fewer(r.litres[1], least.Typical))),
		})
	case good.Known && each < good.Typical*(1-rounding):
		r.brief = append(r.brief, brief{"little-mix", fmt.Sprintf("%s (%s L for each, %s wants %s)", view.Small(r.pot.Label), view.Number(each), cropWords(r.crop), view.Number(good.Typical)), good.Source})
		r.guards = append(r.guards, care.Guard{
			ID: "little-mix", Word: "Little mix", Sources: good.Source,
			Text: fmt.Sprintf("%s: %s L of mix for each plant; a full yield of %s assumes %s L. Expect less, or plant fewer.", r.pot.Label, view.Number(each), cropWords(r.crop), view.Number(good.Typical)),
		})
	}
}

// A brief is what a guard of a pot says among those of others: on a page of many pots one caution for all of
// them is read, and twenty are not.
type brief struct {
	id, text string
	sources  []string
}

// briefs joins what several pots have in common.
func (c *computation) briefs() []care.Guard {
	var out []care.Guard
	for _, g := range []care.Guard{
		{ID: "little-mix", Word: "Little mix", Text: "A full yield assumes more litres for each plant than there are in %s. Expect less, or plant fewer."},
		{ID: "shallow-mix", Word: "Shallow", Text: "The mix is less deep than the crop wants in %s."},
	} {
		var texts []string
		for _, r := range c.rows {
			for _, b := range r.brief {
				if b.id == g.ID {
					texts = append(texts, b.text)
					g.Sources = care.Keys(g.Sources, b.sources)
				}
			}
		}
		if len(texts) > 0 {
			g.Text = fmt.Sprintf(g.Text, view.And(texts))
			out = append(out, g)
		}
	}
	return out
}

// fewer says how many plants a pot bears.
func fewer(litres, each float64) string {
	switch n := int(litres/each + rounding); n {
	case 0:
		return fmt.Sprintf("choose a pot of %s L or more", view.Number(each))
	case 1:
		return "plant 1 at most"
	default:
		return fmt.Sprintf("plant %d at most", n)
	}
}
