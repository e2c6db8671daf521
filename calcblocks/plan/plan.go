// Package plan computes the kind "plan": a season, pot by pot. What grows where, by which recipe, which old mix
// goes where, what it takes in all, and what comes back too soon.
package plan

import (
	_ "embed"
	"regexp"
	"strconv"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

//go:embed doc.md
var doc string

// Kind is the kind "plan".
var Kind = block.Kind{Name: "plan", Doc: doc, NeedsID: true, Phase: 2, Parse: parse}

// plan is the block as the author wrote it.
type plan struct {
	title   string
	season  int // the year in which it begins, 0 when it could not be read
	at      *form.Node
	entries []entry
}

// An entry is one pot of the plan. What was not told is nil.
type entry struct {
	key      *form.Node // the pot's id
	at       *form.Node
	recipe   *form.Node
	with     []*form.Node
	crop     *form.Node
	plants   int // 0 = not told
	plantsAt *form.Node
	told     bool // settled or take stands there, be it right or wrong
	settled  *length
	take     *length
	leave    *length
	oldMixTo *form.Node // a pot id, "heap" or "discard"
}

// length is a length with its place, for faults that only the pot can show.
type length struct {
	cm  float64
	all bool // down to the base
	at  *form.Node
}

func parse(n *form.Node) block.Block {
	m := n.Fields("title", "season", "pots")
	p := &plan{at: n}
	if t := m.Get("title"); t != nil {
		p.title, _ = t.Text()
	}
	if s := m.Need("season", "write the year in which the season begins, such as \"season: 2027\""); s != nil {
		p.season, _ = form.Value(s, readSeason)
	}
	p.parsePots(m.Need("pots", "write one pot a line below \"pots:\", such as \"blue-tub: {recipe: spring-tubs, crop: pepper, plants: 2}\""))
	return p
}

var year = regexp.MustCompile(`^(?:19|20|21)\d\d$`)

func readSeason(text string) (int, error) {
	if !year.MatchString(text) {
		return 0, units.Faultf(0, "bad-season", "write the year in which the season begins, such as 2027", "%q is not a year", text)
	}
	return strconv.Atoi(text)
}

// parsePots reads the pots; of a key that stands there twice, which was reported, the first counts.
func (p *plan) parsePots(n *form.Node) {
	if n == nil {
		return
	}
	read := map[string]bool{}
	entries := n.Mapping().Entries
	for _, e := range entries {
		if !read[e.Name] {
			p.entries = append(p.entries, parseEntry(e))
		}
		read[e.Name] = true
	}
	if n.IsMapping() && len(entries) == 0 {
		n.Fault("no-pots", "write one pot a line, such as \"blue-tub: {recipe: spring-tubs, crop: pepper, plants: 2}\"", "the plan has no pots")
	}
}

var entryFields = []string{"recipe", "with", "crop", "plants", "settled", "take", "leave", "old mix to"}

func parseEntry(e form.Entry) entry {
	m := e.Value.Fields(entryFields...)
	out := entry{
		key: e.Key, at: e.Value, recipe: m.Get("recipe"), crop: m.Get("crop"), plantsAt: m.Get("plants"), oldMixTo: m.Get("old mix to"),
		settled: readLength(m.Get("settled")), take: readTake(m.Get("take")), leave: readLength(m.Get("leave")),
	}
	out.told = m.Get("settled") != nil || m.Get("take") != nil
	if e.Value.IsMapping() && out.recipe == nil && out.crop == nil {
		e.Value.Fault("missing-key", "write \"recipe: ID\", \"crop: ID\" or both", "the pot %q has neither recipe nor crop", e.Name)
	}
	if out.plantsAt != nil {
		out.plants, _ = form.Value(out.plantsAt, readPlants)
	}
	out.readWith(m.Get("with"))
	return out
}

func (e *entry) readWith(n *form.Node) {
	switch {
	case n == nil:
		return
	case e.recipe == nil:
		n.Fault("with-without-recipe", "write the recipe too, or leave \"with\" out", "picks are made among the choices of a recipe")
	}
	if n.IsText() {
		e.with = []*form.Node{n}
		return
	}
	e.with = n.Items()
}

func readLength(n *form.Node) *length {
	if n == nil {
		return nil
	}
	l, ok := form.Value(n, n.Values().Length)
	if !ok {
		return nil
	}
	return &length{cm: l.Float(), at: n}
}

// readTake reads a depth, or "all".
func readTake(n *form.Node) *length {
	if n.IsText() && n.Raw() == "all" {
		return &length{all: true, at: n}
	}
	return readLength(n)
}

func readPlants(text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 1000 {
		return 0, units.Faultf(0, "bad-count", "write a whole number of plants, such as 2", "%q is not a number of plants", text)
	}
	return n, nil
}
