package plan

import (
	"fmt"
	"time"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/purchase"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/rotation"
	"trug/calcblocks/kit/units"
)

// computation carries one Compute. What is looked up by id is in maps, so that the work grows with the pots
// and not with their square.
type computation struct {
	*plan
	pass    *block.Pass
	pots    map[string]garden.Pot
	recipes map[string]facts.Recipe
	events  []facts.Event
	moved   []facts.Move // by the diary
	rows    []*row
	byPot   map[string]*row

	plantings []facts.Planting
	moves     []facts.Move
	conflicts []facts.Conflict
	needs     []*purchase.Need
}

// A row is one pot of the plan with all that was found out about it.
type row struct {
	entry
	pot     garden.Container
	recipe  *facts.Recipe // nil for none
	with    []string
	crop    *reference.Crop // nil when not told
	content facts.Portioned // empty without a recipe
	litres  [2]float64
	cost    [2]dose.Sum[units.SomeMoney] // of the author's low and high end, with the compost
	mix     mix
	guards  []care.Guard
	brief   []brief
}

// Compute computes the season.
func (p *plan) Compute(pass *block.Pass) block.Result {
	c := &computation{plan: p, pass: pass, pots: map[string]garden.Pot{}, recipes: map[string]facts.Recipe{}, byPot: map[string]*row{}}
	c.index()
	for _, e := range p.entries {
		if r, ok := c.resolve(e); ok {
			c.rows = append(c.rows, r)
			c.byPot[r.pot.Pot] = r
		}
	}
	c.checkAsked()
	c.followMix()
	if p.season == 0 || len(c.rows) == 0 {
		return block.Result{Title: c.name(), Facts: []facts.Fact{c.fact()}}
	}
	c.plant()
	c.rotate()
	c.needs = purchase.Of(c.plantings)
	return c.result()
}

func (c *computation) index() {
	for _, pot := range c.pass.Garden.Pots {
		c.pots[pot.ID] = pot
	}
	for _, f := range c.pass.Facts {
		switch f := f.(type) {
		case facts.Recipe:
			c.recipes[f.ID] = f
		case facts.Event:
			c.events = append(c.events, f)
		case facts.Move:
			c.moved = append(c.moved, f)
		}
	}
}

// checkAsked refuses a container that a reader asks for: a plan is for its own pots.
func (c *computation) checkAsked() {
	if c.pass.For != "" {
		c.pass.Report(diag.Errorf(diag.Position{}, "own-pots", "a plan is for its own pots").Hint("leave \"--for\" out, or ask a recipe"))
	}
}

func (c *computation) name() string {
	if c.title == "" {
		return "Season " + c.year().Name(c.season)
	}
	return c.title
}

// resolve looks up all that an entry names, so that every fault of it is found at once.
func (c *computation) resolve(e entry) (*row, bool) {
	r := &row{entry: e}
	potOK := c.resolvePot(r)
	recipeOK := c.resolveRecipe(r)
	cropOK := c.resolveCrop(r)
	if !potOK || !recipeOK || !cropOK || (e.recipe == nil && e.crop == nil) {
		return nil, false
	}
	if r.recipe != nil && !c.portion(r) {
		return nil, false
	}
	c.judgeRoom(r)
	return r, c.measure(r)
}

func (c *computation) resolvePot(r *row) bool {
	id := r.key.Raw()
	pot, ok := c.pots[id]
	if !ok {
		container, ok := form.Value(r.key, c.pass.Garden.OwnPot) // for the hint of an unknown id
		if ok {
			r.key.Fault("not-a-pot", "add it to pots.yaml and write its id", "a plan is for pots of the pot file, and %q is none", container.Text)
		}
		return false
	}
	if !c.stands(pot, r.key, "leave it out of the plan, or put the day right in pots.yaml") {
		return false
	}
	r.pot = garden.Container{Text: id, Label: pot.Name, Pot: id, Vessel: pot.Vessel}
	r.litres[0], r.litres[1] = r.pot.Litres()
	if !(r.litres[1] > 0) {
		r.key.Report(diag.Errorf(r.key.At(), "pot-without-volume", "it is not known what the pot %q holds", id).
			Hint("write its \"shape\" or what it \"holds\" in pots.yaml").Also(pot.At, "the pot is here"))
		return false
	}
	return true
}

func (c *computation) year() units.GrowingYear { return c.pass.Garden.Handbook.Year() }

// stands reports a pot that left before the season.
func (c *computation) stands(pot garden.Pot, at *form.Node, hint string) bool {
	if pot.Gone.IsZero() || c.year().Of(pot.Gone) >= c.season {
		return true
	}
	d := diag.Errorf(at.At(), "pot-gone", "the pot %q left on %s", pot.ID, pot.Gone.Format(time.DateOnly))
	c.pass.Report(d.Hint("%s", hint).Also(pot.At, "the pot is here"))
	return false
}

func (c *computation) resolveRecipe(r *row) bool {
	if r.entry.recipe == nil {
		return true
	}
	id, ok := r.entry.recipe.Text()
	if !ok {
		return false
	}
	recipe, known := c.recipes[id]
	if known {
		r.recipe = &recipe
		return true
	}
	d := diag.Errorf(r.entry.recipe.At(), "unknown-recipe", "unknown recipe %q", id)
	if near := diag.Closest(id, sortedKeys(c.recipes)); near != "" {
		d = d.Hint("did you mean %q?", near)
	} else {
		d = d.Hint("write the id of a recipe of this handbook; one with faults of its own has to be put right first")
	}
	c.pass.Report(d)
	return false
}

// resolveCrop finds the crop of the entry, else that of its recipe.
func (c *computation) resolveCrop(r *row) bool {
	if r.entry.crop == nil {
		if r.recipe != nil && r.recipe.Crop != "" {
			r.crop, _ = c.pass.Ref.Crop(r.recipe.Crop)
		}
		return true
	}
	id, ok := r.entry.crop.Text()
	if !ok {
		return false
	}
	crop, known := c.pass.Crop(id, r.entry.crop.At())
	if known {
		r.crop = crop
	}
	return known
}

// portion computes the recipe for the pot. What is wrong with the picks is told at the pick.
func (c *computation) portion(r *row) bool {
	for _, n := range r.entry.with {
		if text, ok := n.Text(); ok {
			r.with = append(r.with, text)
		}
	}
	content, faults := r.recipe.For(r.pot, r.with, facts.Grown{Crop: r.crop, Plants: r.plants})
	for _, d := range faults {
		d.At = c.pickAt(r, d).At()
		c.pass.Report(d.Also(r.recipe.At, "the recipe is here"))
	}
	r.content = content
	for end := range 2 {
		r.cost[end] = dose.Add(append(append([]dose.Portion{}, content.Masses[end]...), content.Compost[end]...)).Cost
	}
	return len(faults) == 0
}

// pickAt returns the pick that a fault quotes last, else the recipe.
func (c *computation) pickAt(r *row, d diag.Diagnostic) *form.Node {
	at := r.entry.recipe
	for _, n := range r.entry.with {
		if contains(d.Message, fmt.Sprintf("%q", n.Raw())) {
			at = n
		}
	}
	return at
}

// plant turns the rows into plantings and moves of old mix.
func (c *computation) plant() {
	for _, r := range c.rows {
		p := facts.Planting{
			At: r.key.At(), Plan: c.pass.ID, Season: c.season, Pot: r.pot.Pot, Plants: r.plants,
			With: r.with, Content: r.content, Parts: c.potParts(r), Data: c.potTree(r),
		}
		if r.content.Litres == [2]float64{} {
			p.Content.Litres = r.litres
		}
		if r.crop != nil {
			p.Crop = r.crop.ID
		}
		if r.recipe != nil {
			p.Recipe = r.recipe.ID
		}
		c.plantings = append(c.plantings, p)
	}
}

// rotate finds what comes back too soon, with the old mix that the diary and this plan move. A pot whose mix
// is replaced whole has no story.
func (c *computation) rotate() {
	all := append(append([]facts.Move{}, c.moved...), c.moves...)
	for _, conflict := range rotation.Conflicts(c.pass.Ref, c.year(), c.events, c.plantings, all...) {
		if conflict.Plan == c.pass.ID && !c.byPot[conflict.Pot].renewedWhole() {
			c.conflicts = append(c.conflicts, conflict)
			c.pass.Report(rotation.Doubt(c.year(), conflict))
		}
	}
}
