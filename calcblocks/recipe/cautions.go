package recipe

import (
	"slices"
	"strings"

	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// figure returns a figure of the reference whose path is a constant of this package; a missing one is
// our bug and is caught by the tests of the guards.
func (c *computation) figure(file string, path ...string) reference.Figure {
	f, ok := c.pass.Ref.At(file, path...)
	if !ok {
		panic("recipe: no figure " + file + "/" + strings.Join(path, "/"))
	}
	return f
}

func (c *computation) cautionSources(id string) []string {
	for _, caution := range c.pass.Ref.Cautions {
		if caution.ID == id {
			return caution.Source
		}
	}
	panic("recipe: no caution " + id)
}

// tasks returns what a reader of the recipe does with these materials.
func (c *computation) tasks(materials []*garden.Material) []string {
	out := []string{"mixing", "spreading"}
	for _, m := range materials {
		switch {
		case m.ID == "wood-ash":
			out = append(out, "spreading-ash")
		case m.Class() == "liming":
			out = append(out, "liming")
		}
	}
	if c.compost != nil {
		out = append(out, "opening-mix", "filling-container")
	}
	return out
}

// applicable returns the cautions of cautions.yaml that concern these materials and tasks: those that
// always apply, those of a hazard or an amendment, and those of a task alone.
func (c *computation) applicable(materials []*garden.Material) []*reference.Caution {
	if c.compost != nil {
		materials = append(slices.Clone(materials), c.compost)
	}
	tasks := c.tasks(materials)
	var out []*reference.Caution
	for _, caution := range c.pass.Ref.Cautions {
		if concerns(caution, materials, tasks) {
			out = append(out, caution)
		}
	}
	return out
}

func concerns(caution *reference.Caution, materials []*garden.Material, tasks []string) bool {
	doing := overlap(caution.Tasks, tasks)
	switch {
	case caution.Always:
		return true
	case len(caution.Hazards)+len(caution.Amendments) == 0:
		return doing
	case !doing && len(caution.Tasks) > 0:
		return false
	}
	for _, m := range materials {
		if overlap(caution.Hazards, m.Hazards()) || slices.Contains(caution.Amendments, m.ID) && company(caution, m, materials) {
			return true
		}
	}
	return false
}

// company says whether one of the hazards that a caution needs besides its amendment is there, in
// another material.
func company(caution *reference.Caution, self *garden.Material, materials []*garden.Material) bool {
	if len(caution.WithHazards) == 0 {
		return true
	}
	return slices.ContainsFunc(materials, func(m *garden.Material) bool {
		return m.ID != self.ID && overlap(caution.WithHazards, m.Hazards())
	})
}

func overlap(a, b []string) bool {
	return slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}

// wait returns the weeks to wait before sowing and before planting: 2 to 3 and 1 after meals that give
// off ammonia or block germination (cautions.yaml, fast-nitrogen-seed, derived and from memory), 6 for
// sowing after corn gluten (amendments.md, germination-block, from memory). The later end is given.
func (c *computation) wait(parts []dose.Portion) (sow, plant float64) {
	for _, p := range parts {
		n := p.Material.Content(reference.N)
		if p.Material.ID == "corn-gluten-meal" {
			sow = 6
		}
		if n.Typical > 0 && overlap([]string{"ammonia", "germination-block", "phytotoxic"}, p.Material.Hazards()) {
			sow, plant = max(sow, 3), 1
		}
	}
	return sow, plant
}

var deferTo = map[string]string{
	"label": "follow the label", "local-code": "ask what the rules where you live say",
	"licensed-practice": "ask a licensed professional (a doctor, a veterinarian, an engineer)",
}

func deferText(words []string) string {
	var out []string
	for _, w := range words {
		out = append(out, deferTo[w])
	}
	if len(out) == 0 {
		return ""
	}
	return upperFirst(view.And(out)) + "."
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// cautionView prints a caution of the reference; its word is its id in plain words.
func cautionView(caution *reference.Caution) view.Caution {
	return view.Caution{
		ID: caution.ID, Word: upperFirst(strings.ReplaceAll(caution.ID, "-", " ")), Text: caution.Text,
		Defer: deferText(caution.DeferTo), Sources: caution.Source,
	}
}

func guardViews(guards []guard) []view.Caution {
	var out []view.Caution
	for _, g := range guards {
		if !g.note {
			out = append(out, view.Caution{ID: g.id, Word: g.word, Text: g.text, Sources: g.sources, Guard: true})
		}
	}
	return out
}
