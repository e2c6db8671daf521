package diary

import (
	"fmt"
	"slices"
	"time"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/pothistory"
	"trug/calcblocks/kit/rotation"
	"trug/calcblocks/kit/view"
)

// computation carries one Compute.
type computation struct {
	*diary
	pass     *block.Pass
	recipes  map[string]facts.Recipe
	findings rotation.Findings
	portions map[portion]facts.Portioned // of recipes
	events   []facts.Event               // in the order of the lines
	moves    []facts.Move
	used     []string // amendments that lines name
	steps    []view.WorkingStep
	history  *pothistory.History
}

// Compute resolves the lines and adds them up with what is known of the pots.
func (d *diary) Compute(p *block.Pass) block.Result {
	c := &computation{diary: d, pass: p, recipes: map[string]facts.Recipe{}, findings: rotation.FindingsOf(p.Ref), portions: map[portion]facts.Portioned{}}
	told := slices.Clone(p.Facts)
	for _, f := range p.Facts {
		if r, ok := f.(facts.Recipe); ok {
			c.recipes[r.ID] = r
		}
	}
	for _, e := range d.entries {
		c.resolve(e)
	}
	own := c.facts()
	c.history = pothistory.Of(p.Ref, p.Garden, append(told, own...))
	return c.result(own)
}

// facts returns what the block tells the rest of the site.
func (c *computation) facts() []facts.Fact {
	var out []facts.Fact
	for _, e := range c.events {
		out = append(out, e)
	}
	for _, m := range c.moves {
		out = append(out, m)
	}
	for _, id := range c.used {
		out = append(out, facts.Use{Block: c.pass.ID, Amendment: id})
	}
	return out
}

// resolve turns a line into an event for each of its pots.
func (c *computation) resolve(e *entry) {
	crop, cropAt := c.crop(e)
	w := c.with(e)
	to := c.goal(e)
	disease := c.disease(e, crop)
	var seen []string
	for _, node := range e.pots {
		pot, ok := c.pot(node)
		if !ok {
			continue
		}
		if slices.Contains(seen, pot.Pot) {
			node.Fault("repeated-pot", "keep one of the two", "the pot %q stands here twice", pot.Pot)
			continue
		}
		seen = append(seen, pot.Pot)
		c.checkStands(pot, e.on, node)
		event := facts.Event{
			At: e.node.At(), CropAt: cropAt, On: e.on, Pot: pot.Pot, Did: e.did, Crop: crop, Plants: e.plants, With: w.id, Picks: w.picks,
			OldMixTo: to, Yield: e.yield, Note: e.note, Disease: disease.Name,
		}
		if disease.Unfit {
			event.Unfit = disease.Name
		}
		if e.amountAt != nil {
			event.Amount = e.amountAt.Raw()
		}
		c.fill(&event, w, pot)
		c.renewed(&event, e, pot)
		c.events = append(c.events, event)
	}
}

// checkStands doubts what was done to a pot after it had left.
func (c *computation) checkStands(container garden.Container, on time.Time, at *form.Node) {
	pot, _ := c.pass.Garden.Pot(container.Pot)
	if !pot.GoneBy(on) {
		return
	}
	d := diag.Errorf(at.At(), "pot-gone", "the pot %q left on %s", pot.ID, pot.Gone.Format(time.DateOnly))
	d.Severity = diag.Doubt
	c.pass.Report(d.Hint("put this day right, or the one in pots.yaml").Also(pot.At, "the pot is here"))
}

// pot finds a pot of the pot file; a size that is no pot has no history.
func (c *computation) pot(n *form.Node) (garden.Container, bool) {
	found, ok := form.Value(n, c.pass.Garden.PastPot)
	if ok && found.Pot == "" {
		n.Fault("not-a-pot", "write the id of a pot of pots.yaml", "%q is a size and not a pot", n.Raw())
		return found, false
	}
	return found, ok
}

// crop finds the crop of a line; "" when it names none, or none that is known.
func (c *computation) crop(e *entry) (string, diag.Position) {
	if e.crop == nil {
		return "", e.node.At()
	}
	id, ok := e.crop.Text()
	if !ok {
		return "", e.node.At()
	}
	if _, known := c.pass.Ref.Crop(id); known || rotation.FamilyOf(c.pass.Ref, id) != nil {
		return id, e.crop.At()
	}
	ids := slices.Clone(c.pass.Ref.CropIDs())
	for _, f := range c.pass.Ref.Families {
		ids = append(ids, f.Members...)
	}
	c.pass.Unknown(e.crop.At(), "crop", id, ids, "see: trug catalogue crops")
	return "", e.node.At()
}

// goal finds where old mix went.
func (c *computation) goal(e *entry) string {
	if e.oldMixTo == nil || e.did != "renewed" {
		return ""
	}
	to, ok := e.oldMixTo.Text()
	if !ok || to == "heap" || to == "discard" {
		return to
	}
	pot, ok := c.pot(e.oldMixTo)
	if ok {
		c.checkStands(pot, e.on, e.oldMixTo)
	}
	if ok && slices.ContainsFunc(e.pots, func(n *form.Node) bool { return n.Raw() == pot.Pot }) {
		e.oldMixTo.Fault("mix-to-itself", "write another pot, \"heap\" or \"discard\"", "the old mix of %q cannot go to %q", pot.Pot, pot.Pot)
		return ""
	}
	return pot.Pot
}

// disease recognises what was found: the line's own word first, then its note.
func (c *computation) disease(e *entry, crop string) rotation.Finding {
	family := ""
	if f := rotation.FamilyOf(c.pass.Ref, crop); f != nil {
		family = f.ID
	}
	if e.disease == nil {
		found, _ := c.findings.In(e.note, family)
		return found
	}
	word, ok := e.disease.Text()
	if !ok {
		return rotation.Finding{}
	}
	if found, known := c.findings.In(word, family); known {
		return found
	}
	if found, known := c.findings.In(word, ""); known {
		return found
	}
	d := diag.Errorf(e.disease.At(), "unknown-disease", "nothing is known of how long %q lasts in a mix", word)
	d.Severity = diag.Doubt
	hint := "it stays in the history and changes no rest"
	if near := diag.Closest(word, c.findings.Names()); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	c.pass.Report(d.Hint("%s", hint))
	return rotation.Finding{Name: word}
}
