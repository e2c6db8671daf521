package recipe

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/scoop"
	"trug/calcblocks/kit/substitute"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// How many substitutes the page offers for an amendment: of the cupboard, and of the whole catalogue. The
// kind "swap" knows them all.
const (
	fromCupboard  = 2
	fromCatalogue = 1
)

// purposes says what a material of a class is there for.
var purposes = map[string]reference.Nutrient{
	"nitrogen": reference.N, "phosphorus": reference.P2O5, "potassium": reference.K2O, "calcium": reference.Ca,
	"magnesium": reference.Mg, "liming": substitute.Lime, "blend": reference.N,
}

// insteadView answers "no kelp? use ..." for one container: for each amendment the masses of others that bring
// as much of what it is there for, with what else they do.
func (c *computation) insteadView(s scaled) (view.Table, bool) {
	t := view.Table{
		Caption: "If you lack one of these, for " + s.container.Label,
		Columns: []view.Column{{Head: "Instead of"}, {Head: "Use"}, {Head: "How much"}, {Head: "And mind"}},
		Notes:   []string{"As much of what each is there for, this season. Amendments of this cupboard come first, then one of the catalogue."},
	}
	for _, l := range s.lines {
		for _, p := range l.options {
			t.Rows = append(t.Rows, c.insteadRows(p)...)
		}
	}
	return t, len(t.Rows) > 0
}

func (c *computation) insteadRows(p portion) [][]string {
	var rows [][]string
	for _, s := range c.stands(p) {
		rows = append(rows, []string{p.material.Name, view.Small(s.Material.Name), c.howMuch(s), sideEffects(s, purposes[p.material.Class()])})
	}
	return rows
}

// insteadSteps writes out the arithmetic of the substitutes.
func (c *computation) insteadSteps(s scaled) []view.WorkingStep {
	var steps []view.WorkingStep
	for _, l := range s.lines {
		for _, p := range l.options {
			for _, other := range c.stands(p) {
				worth := substitute.Of(c.pass.Ref, p.material, purposes[p.material.Class()])
				steps = append(steps, view.WorkingStep{
					What: fmt.Sprintf("%s instead of %s", view.Small(other.Material.Name), view.Small(p.material.Name)),
					Sum: fmt.Sprintf("%.4g g x %.3g %% / %.3g %% of %s this season = %.4g g", p.ends[1].mass.Typical,
						100*worth.Value.Typical, 100*other.Worth.Value.Typical, purposes[p.material.Class()].Name(), other.Mass.Typical),
					Sources: care.Keys(worth.Sources, other.Worth.Sources),
				})
			}
		}
	}
	return steps
}

// stands returns the few substitutes that the page offers for one amount. They are looked for once, at 100 g,
// and scaled: mass and effects are in proportion.
func (c *computation) stands(p portion) []substitute.Substitute {
	all, ok := c.instead[p.material.ID]
	if !ok {
		all = c.lookFor(p.material)
		c.instead[p.material.ID] = all
	}
	out := make([]substitute.Substitute, len(all))
	for i, s := range all {
		out[i] = scaledBy(s, p.ends[1].mass.Typical/100)
	}
	return out
}

func scaledBy(s substitute.Substitute, factor float64) substitute.Substitute {
	s.Mass = s.Mass.Scale(factor)
	change := map[reference.Nutrient]substitute.Change{}
	for n, v := range s.Change {
		v.Value *= factor
		change[n] = v
	}
	s.Change = change
	s.Lime.Value *= factor
	return s
}

func (c *computation) lookFor(m *garden.Material) []substitute.Substitute {
	purpose, ok := purposes[m.Class()]
	if !ok || c.isOption(m) {
		return nil // the choice itself says what to use instead
	}
	var out []substitute.Substitute
	left := map[bool]int{true: fromCupboard, false: fromCatalogue}
	found := substitute.For(c.pass.Ref, c.pass.Garden, m, units.SomeMass{Low: 100, Typical: 100, High: 100}, purpose)
	slices.SortStableFunc(found, func(a, b substitute.Substitute) int { return strangeness(m, a) - strangeness(m, b) })
	for _, s := range found {
		if left[s.InCupboard] == 0 || !c.fitting(m, s) {
			continue
		}
		left[s.InCupboard]--
		out = append(out, s)
	}
	return out
}

// strangeness is 1 for a material of another class: it brings more of something else.
func strangeness(m *garden.Material, s substitute.Substitute) int {
	if s.Material.Class() == m.Class() {
		return 0
	}
	return 1
}

func (c *computation) isOption(m *garden.Material) bool {
	return slices.ContainsFunc(c.rows, func(r resolved) bool { return r.choice != "" && r.offers(m.ID) })
}

// fitting leaves out what the recipe holds already, what raises the pH where the original does not, and what
// would take many times the weight.
func (c *computation) fitting(m *garden.Material, s substitute.Substitute) bool {
	const mostTimes = 6 // a choice: more than that is another recipe
	used := slices.ContainsFunc(c.rows, func(r resolved) bool { return r.offers(s.Material.ID) })
	limes := s.Material.Class() == "liming" && m.Class() != "liming"
	worth := substitute.Of(c.pass.Ref, m, purposes[m.Class()])
	return !used && !limes && s.Material.Class() != "compost" && s.Worth.Value.Typical*mostTimes > worth.Value.Typical
}

func (c *computation) howMuch(s substitute.Substitute) string {
	hb := c.pass.Garden.Handbook
	grams := "about " + view.Number(s.Mass.Typical) + " g"
	if !s.Material.Density().Known {
		return grams
	}
	return scoop.Of(s.Material, s.Mass.Typical, hb).Text(hb.Main) + ", " + grams
}

// sideEffects names what comes along and goes missing, most telling first.
func sideEffects(s substitute.Substitute, purpose reference.Nutrient) string {
	var more, less []string
	for _, n := range reference.Nutrients {
		change := s.Change[n]
		switch {
		case n == purpose || !change.Known:
		case change.Value >= 0.1:
			more = append(more, view.Number(change.Value)+" g more "+n.Symbol())
		case change.Value <= -0.1:
			less = append(less, view.Number(-change.Value)+" g less "+n.Symbol())
		}
	}
	out := append(more, less...)
	if s.Lime.Known && s.Lime.Value >= 1 {
		out = append(out, "raises the pH a little")
	}
	for _, caution := range s.Cautions {
		if len(caution.Word) > 0 && len(out) < 6 {
			out = append(out, "new caution: "+strings.ToLower(caution.Word))
		}
	}
	if len(out) == 0 {
		return "nothing else to speak of"
	}
	return strings.Join(out, "; ")
}
