// Package recipe computes the kind "recipe": amendments for a volume of mix, scaled to every container
// size, in spoons and grams, with what they bring, what they cost and which guards they trip.
package recipe

import (
	_ "embed"
	"math/big"
	"regexp"
	"slices"
	"strconv"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/vessel"
)

//go:embed doc.md
var doc string

// Kind is the kind "recipe".
var Kind = block.Kind{Name: "recipe", Doc: doc, NeedsID: true, Parse: parse}

// recipe is the block as the author wrote it.
type recipe struct {
	title   string
	mix     units.Volume // the volume of mix that the amounts are written for
	mixText string
	crop    *form.Node
	plants  int
	yield   units.SomeMass // g a plant; zero = not told
	rows    []row          // plain amounts and choices in the author's order
	top     *top
	steps   []string
	sizes   *form.Node
	at      *form.Node
	celsius float64 // of the mix in the season, which nitrogen is released at
}

// A row is one amount, or a named choice among several.
type row struct {
	choice  string // name of the choice, "" for a plain amount
	options []ingredient
}

// An ingredient is one amendment with its amount for the recipe's mix.
type ingredient struct {
	id     string
	amount units.Amount
	key    *form.Node
}

// A top is compost laid on top: exactly one of depth, share of the refilled volume, or volume for the
// recipe's mix.
type top struct {
	compost *form.Node
	depth   *units.Length
	share   *units.Share
	volume  *units.Volume
	text    string // that one as its author wrote it
	at      *form.Node
}

var fields = []string{"title", "for", "crop", "plants", "yield", "temperature", "amounts", "top", "steps", "sizes"}

func parse(n *form.Node) block.Block {
	m := n.Fields(fields...)
	r := &recipe{at: n, crop: m.Get("crop"), sizes: m.Get("sizes")}
	r.title, _ = m.Need("title", "write \"title: Spring renewal\"").Text()
	if mix := m.Need("for", "write the volume of mix that the amounts are for, such as \"for: 60 L\""); mix != nil {
		r.mix, _ = form.Value(mix, vessel.Size(mix.Values()))
		r.mixText = mix.Raw()
	}
	if p := m.Get("plants"); p != nil {
		r.plants, _ = form.Value(p, readPlants)
	}
	if y := m.Get("yield"); y != nil {
		r.yield, _ = form.Value(y, readYield(y.Values()))
	}
	r.celsius = supply.Celsius
	if v := m.Get("temperature"); v != nil {
		if celsius, ok := form.Value(v, units.ReadTemperature); ok {
			r.celsius = celsius
		}
	}
	r.parseAmounts(m.Need("amounts", "write one amendment a line below \"amounts:\", such as \"kelp-meal: 1/2 cup\""))
	r.checkAmounts()
	r.parseTop(m.Get("top"))
	r.steps = m.Get("steps").Texts()
	return r
}

func readPlants(text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 1000 {
		return 0, units.Faultf(0, "bad-count", "write a whole number of plants, such as 2", "%q is not a number of plants", text)
	}
	return n, nil
}

// readYield reads a mass a plant, or a range of masses.
func readYield(p units.Parser) func(string) (units.SomeMass, error) {
	return func(text string) (units.SomeMass, error) {
		a, err := p.Amount(text)
		if err != nil || !a.Low.Weighed || !a.High.Weighed {
			m, err := p.Mass(text) // its message asks for a mass
			return m.Certain(), err
		}
		low, high := a.Low.Mass.Float(), a.High.Mass.Float()
		return units.SomeMass{Low: low, Typical: (low + high) / 2, High: high}, nil
	}
}

var choiceKey = regexp.MustCompile(`^(.*\S), *one of$`)

func (r *recipe) parseAmounts(n *form.Node) {
	if n == nil {
		return
	}
	first := seen{}
	for _, e := range n.Mapping().Entries {
		if m := e.Match(choiceKey, "potash, one of"); m != nil {
			r.rows = append(r.rows, row{m[1], parseChoice(e, first)})
			continue
		}
		if in, ok := parseIngredient(n, e, first); ok {
			r.rows = append(r.rows, row{"", []ingredient{in}})
		}
	}
	if n.IsMapping() && r.combinations() > mostCombinations {
		n.Fault("many-combinations", "write two recipes, or fewer options", "the choices make %d combinations; %d are the most", r.combinations(), mostCombinations)
		r.rows = nil
	}
	if len(n.Mapping().Entries) == 0 && n.IsMapping() {
		n.Fault("no-amounts", "write one amendment a line, such as \"kelp-meal: 1/2 cup\"", "the amounts are empty")
	}
}

// mostCombinations is how many combinations of picks a recipe may have: each is computed for every size.
const mostCombinations = 64

func (r *recipe) combinations() int {
	n := 1
	for _, row := range r.rows {
		n *= max(len(row.options), 1)
		if n > 1e6 {
			break
		}
	}
	return n
}

func parseChoice(e form.Entry, first seen) []ingredient {
	var out []ingredient
	entries := e.Value.Mapping().Entries
	for _, option := range entries {
		if in, ok := parseIngredient(e.Value, option, first); ok {
			out = append(out, in)
		}
	}
	if e.Value.IsMapping() && len(entries) < 2 {
		e.Key.Fault("one-option", "write two amendments or more below it, or make it a plain amount", "a choice needs at least two amendments")
	}
	return out
}

// heaviest is more than any dry material weighs, in g/mL.
var heaviest = big.NewRat(5, 1)

// checkAmounts reports amounts that are more than the mix which they are for, and leaves them out: one of the two
// has a wrong unit, and the cups would run into the millions.
func (r *recipe) checkAmounts() {
	for i := range r.rows {
		r.rows[i].options = slices.DeleteFunc(r.rows[i].options, func(in ingredient) bool {
			tooMuch := r.mix.Sign() > 0 && r.isTooMuch(in.amount.High)
			if tooMuch {
				in.key.Fault("more-than-mix", "check both numbers and their units", "%q of %s is more than the mix that it is for, %q", in.amount.Text, in.id, r.mixText)
			}
			return tooMuch
		})
	}
	r.rows = slices.DeleteFunc(r.rows, func(row row) bool { return len(row.options) == 0 })
}

func (r *recipe) isTooMuch(q units.Quantity) bool {
	if q.Weighed {
		return q.Mass.Rat().Cmp(new(big.Rat).Mul(r.mix.Rat(), heaviest)) > 0
	}
	return q.Volume.Cmp(r.mix) > 0
}

// seen remembers where an amendment stood first, and in which mapping.
type seen map[string]struct{ key, within *form.Node }

func parseIngredient(within *form.Node, e form.Entry, first seen) (ingredient, bool) {
	if before, twice := first[e.Name]; twice {
		if before.within != within { // in one mapping the repeated key was reported already
			d := diag.Errorf(e.Key.At(), "repeated-amendment", "%q stands in the amounts twice", e.Name)
			e.Key.Report(d.Hint("keep one of the two").Also(before.key.At(), "the first %q is here", e.Name))
		}
		return ingredient{}, false
	}
	first[e.Name] = struct{ key, within *form.Node }{e.Key, within}
	amount, ok := form.Value(e.Value, e.Value.Values().Amount)
	return ingredient{e.Name, amount, e.Key}, ok
}

func (r *recipe) parseTop(n *form.Node) {
	if n == nil {
		return
	}
	m := n.Fields("compost", "depth", "share", "volume")
	t := &top{compost: m.Need("compost", "name the compost, such as \"compost: yard-compost\""), at: n}
	if m.OneOf("write one of depth (\"5 cm\"), share (\"25 %\") or volume (\"10 L\")", "depth", "share", "volume") == nil {
		return
	}
	if v := m.Get("depth"); v != nil {
		x, ok := form.Value(v, v.Values().Length)
		t.depth, t.text = when(ok, x), v.Raw()
	}
	if v := m.Get("share"); v != nil {
		x, ok := form.Value(v, v.Values().Share)
		t.share, t.text = when(ok, x), v.Raw()
	}
	if v := m.Get("volume"); v != nil {
		x, ok := form.Value(v, v.Values().Volume)
		t.volume, t.text = when(ok, x), v.Raw()
	}
	r.top = t
}

// measured says whether the top's one measure could be read.
func (t *top) measured() bool { return t.depth != nil || t.share != nil || t.volume != nil }

func when[T any](ok bool, v T) *T {
	if !ok {
		return nil
	}
	return &v
}
