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
		rows = append(rows, []string{p.material.Name, view.Small(s.Material.Name), c.howMuch(s), s.sideEffects(purposes[p.material.Class()])})
	}
	return rows
}

// insteadSteps writes out the arithmetic of the substitutes.
func (c *computation) insteadSteps(s scaled) []view.WorkingStep {
	var steps []view.WorkingStep
	for _, l := range s.lines {
		for _, p := range l.options {
			worth := c.instead[p.material.ID].worth
			for _, other := range c.stands(p) {
				steps = append(steps, view.WorkingStep{
					What: fmt.Sprintf("%s instead of %s", view.Small(other.Material.Name), view.Small(p.material.Name)),
					Sum: fmt.Sprintf("%.4g g x %.3g %% / %.3g %% of %s this season = %.4g g", p.ends[1].mass.Typical,
						100*worth.Value.Typical, 100*other.Worth.Value.Typical, purposes[p.material.Class()].Name(), other.grams()),
					Sources: care.Keys(worth.Sources, other.Worth.Sources),
				})
			}
		}
	}
	return steps
}

// A replacement is what the page offers instead of an amendment, as it stands for 100 g of it.
type replacement struct {
	worth  substitute.Worth // of the amendment
	stands []substitute.Substitute
}

// A stand is a substitute for an amount: mass and effects are those for 100 g times a factor.
type stand struct {
	*substitute.Substitute
	factor float64
}

func (s stand) grams() float64 { return s.Mass.Typical * s.factor }

// lookAround looks for the substitutes of every amendment, once for all sizes.
func (c *computation) lookAround() {
	c.instead = map[string]*replacement{}
	for _, m := range c.allMaterials() {
		c.instead[m.ID] = c.lookFor(m)
	}
}

// stands returns the few substitutes that the page offers for one amount.
func (c *computation) stands(p portion) []stand {
	var out []stand
	all := c.instead[p.material.ID].stands
	for i := range all {
		out = append(out, stand{&all[i], p.ends[1].mass.Typical / 100})
	}
	return out
}

func (c *computation) lookFor(m *garden.Material) *replacement {
	out := &replacement{}
	purpose, ok := purposes[m.Class()]
	if !ok || c.isOption(m) {
		return out // the choice itself says what to use instead
	}
	out.worth = substitute.Of(c.pass.Ref, m, purpose)
	left := map[bool]int{true: fromCupboard, false: fromCatalogue}
	for _, s := range c.candidates(m, purpose) {
		if left[s.InCupboard] == 0 || !c.fitting(m, out.worth, s) {
			continue
		}
		left[s.InCupboard]--
		out.stands = append(out.stands, s)
	}
	return out
}

// candidatesKey is that of candidates among what a material keeps.
type candidatesKey struct{}

// candidates returns what can stand for 100 g of a material, those of its own class first.
func (c *computation) candidates(m *garden.Material, purpose reference.Nutrient) []substitute.Substitute {
	return garden.Kept(m, candidatesKey{}, func() []substitute.Substitute {
		found := substitute.For(c.pass.Ref, c.pass.Garden, m, units.SomeMass{Low: 100, Typical: 100, High: 100}, purpose)
		slices.SortStableFunc(found, func(a, b substitute.Substitute) int { return strangeness(m, a) - strangeness(m, b) })
		return found
	})
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
func (c *computation) fitting(m *garden.Material, worth substitute.Worth, s substitute.Substitute) bool {
	const mostTimes = 6 // a choice: more than that is another recipe
	used := slices.ContainsFunc(c.rows, func(r resolved) bool { return r.offers(s.Material.ID) })
	limes := s.Material.Class() == "liming" && m.Class() != "liming"
	return !used && !limes && s.Material.Class() != "compost" && s.Worth.Value.Typical*mostTimes > worth.Value.Typical
}

func (c *computation) howMuch(s stand) string {
	grams := "about " + view.Number(s.grams()) + " g"
	if !s.Material.Density().Known {
		return grams
	}
	return scoop.Words(s.Material, s.grams(), c.pass.Garden.Handbook) + ", " + grams
}

// sideEffects names what comes along and goes missing, most telling first.
func (s stand) sideEffects(purpose reference.Nutrient) string {
	var more, less []string
	for _, n := range reference.Nutrients {
		known, grams := s.Change[n].Known, s.Change[n].Value*s.factor
		switch {
		case n == purpose || !known:
		case grams >= 0.1:
			more = append(more, view.Number(grams)+" g more "+n.Symbol())
		case grams <= -0.1:
			less = append(less, view.Number(-grams)+" g less "+n.Symbol())
		}
	}
	out := append(more, less...)
	if s.Lime.Known && s.Lime.Value*s.factor >= 1 {
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
