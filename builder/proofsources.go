package builder

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// recipesWithout doubts a recipe that shows no size, or not one caution.
func (p *proofreader) recipesWithout() {
	for _, b := range p.published() {
		if b.Kind.Name != "recipe" {
			continue
		}
		if sizes, _ := b.Result.Data.Get("sizes").(data.List); len(sizes) == 0 {
			p.doubt(b.At, "no-sizes", "write \"sizes: [10 L, 20 L]\" in the recipe, or in handbook.yaml for all", "the recipe %q is worked out for no size", b.ID)
		}
		if len(cautionsIn(b.Result.View.Parts)) == 0 {
			p.doubt(b.At, "no-cautions", "say in its steps what to take care of", "the recipe %q shows no caution", b.ID)
		}
	}
}

func (p *proofreader) recipesWithoutNeed() {
	for _, b := range p.published() {
		if b.Kind.Name == "recipe" {
			p.needless(b)
		}
	}
}

// needless tells the author what would let a recipe be compared with a need. It may be right as it is: a recipe may be
// for whatever grows.
func (p *proofreader) needless(b *Placed) {
	says := func(key string) bool {
		return b.root != nil && b.root.IsMapping() && slices.ContainsFunc(b.root.Mapping().Entries, func(e form.Entry) bool { return e.Name == key })
	}
	switch {
	case !says("crop"):
		p.remark(b.At, "no-crop", "write \"crop\", \"plants\" and, if known, \"yield\" in the recipe", "the recipe %q names no crop, so it is not compared with what a crop needs", b.ID)
	case !says("plants"):
		p.remark(b.At, "no-plants", "write \"plants: 2\" in the recipe", "the recipe %q does not say how many plants there are, so it is not compared with what they take up", b.ID)
	}
}

// cautionsIn returns every caution of parts, those beside steps and in sizes among them.
func cautionsIn(parts []view.Part) []view.Caution {
	var out []view.Caution
	for _, part := range parts {
		switch part := part.(type) {
		case view.Cautions:
			out = append(out, part.Items...)
		case view.Steps:
			for _, s := range part.Items {
				out = append(out, s.Cautions...)
			}
		case view.Sizes:
			for _, s := range part.Items {
				out = append(out, cautionsIn(s.Parts)...)
			}
		case view.Variants:
			for _, v := range part.Items {
				out = append(out, cautionsIn(v.Parts)...)
			}
		}
	}
	return out
}

// notOurs is the hint where no author can mend a number: each figure of the program has a source.
const notOurs = "no handbook can cause this: please tell those who look after the program"

// sourceless finds numbers that rest on no source: blocks that work something out and name no work, steps and
// cautions that name a work which is not among the block's sources, and figures of materials without one. A step without a source
// is arithmetic with what stands in other steps or in the block.
func (p *proofreader) sourceless() {
	for _, b := range p.published() {
		if len(b.Result.Working) > 0 && len(b.Result.Sources) == 0 {
			p.grave(b.At, "no-source", notOurs, "the numbers of this %s name no source", b.Kind.Name)
		}
		for _, step := range b.Result.Working {
			p.unknownSources(b, "the working of "+step.What, step.Sources)
		}
		for _, c := range cautionsIn(b.Result.View.Parts) {
			p.unknownSources(b, "the caution "+c.ID, c.Sources)
		}
	}
	for _, m := range p.materialsUsed() {
		for _, f := range figuresOf(m) {
			if len(f.Source) == 0 {
				p.grave(m.At, "no-source", "write its label and what a level cup weighs in cupboard.yaml: what you measured is a source", "a figure of %q has no source", m.ID)
			}
		}
	}
}

// unknownSources finds keys that a reader of the block cannot look up: what stands in the bibliography and not among
// the block's own sources is on another page.
func (p *proofreader) unknownSources(b *Placed, where string, keys []string) {
	for _, key := range keys {
		if !slices.ContainsFunc(b.Result.Sources, func(e sources.Entry) bool { return e.Key == key }) {
			p.grave(b.At, "no-source", notOurs, "%s names the source %q, which is not among its sources", where, key)
		}
	}
}

// materialsUsed returns what the blocks use, by id.
func (p *proofreader) materialsUsed() []*garden.Material {
	var ids []string
	for _, b := range p.published() {
		for _, f := range b.Result.Facts {
			if use, ok := f.(facts.Use); ok {
				ids = append(ids, use.Amendment)
			}
		}
	}
	return named(ids, p.Garden.Material)
}

// named returns what ids stand for, each once and by id.
func named[T any](ids []string, find func(id string) (T, bool)) []T {
	slices.Sort(ids)
	var out []T
	for _, id := range slices.Compact(ids) {
		if it, ok := find(id); ok {
			out = append(out, it)
		}
	}
	return out
}

// figuresOf returns the known figures of a material that numbers rest on.
func figuresOf(m *garden.Material) []reference.Figure {
	all := []reference.Figure{m.Density()}
	for _, n := range reference.Nutrients {
		all = append(all, m.Content(n))
	}
	return slices.DeleteFunc(all, func(f reference.Figure) bool { return !f.Known })
}

// fromMemory counts the figures that were recalled and not read in a source: those of the materials used which the
// grower can replace, then the others.
func (p *proofreader) fromMemory() {
	var own, others, crops recalled
	for _, m := range p.materialsUsed() {
		own.count(m.ID, figuresOf(m))
		if m.Ref != nil {
			rest := *m.Ref
			rest.Analysis, rest.Density = nil, reference.Figure{}
			others.count(m.ID, reference.FiguresIn(rest))
		}
	}
	for _, c := range p.cropsNamed() {
		crops.count(c.ID, reference.FiguresIn(c))
	}
	if own.n > 0 {
		p.remark(diag.Position{}, "from-memory", "a label and the weight of a level cup in cupboard.yaml take their place",
			"figures of analyses and densities that are from memory, not yet read in a source: %d, of %s", own.n, own.names())
	}
	if others.n > 0 {
		p.remark(diag.Position{}, "from-memory", fmt.Sprintf("see: trug catalogue amendments %s", others.ids[0]),
			"other figures of materials, such as their release and salt, that are from memory: %d, of %s", others.n, others.names())
	}
	if crops.n > 0 {
		p.remark(diag.Position{}, "from-memory", fmt.Sprintf("see: trug catalogue crops %s", crops.ids[0]),
			"figures of crops that are from memory: %d, of %s", crops.n, crops.names())
	}
}

// recalled counts figures from memory, and names what they are of.
type recalled struct {
	n   int
	ids []string
}

func (r *recalled) count(id string, figures []reference.Figure) {
	before := r.n
	for _, f := range figures {
		if f.Confidence == sources.FromMemory {
			r.n++
		}
	}
	if r.n > before {
		r.ids = append(r.ids, id)
	}
}

func (r *recalled) names() string { return strings.Join(r.ids, ", ") }

// cropsNamed returns the crops that published blocks name, by id.
func (p *proofreader) cropsNamed() []*reference.Crop {
	var ids []string
	for _, b := range p.published() {
		for _, f := range b.Result.Facts {
			ids = append(ids, cropOf(f))
		}
	}
	return named(ids, p.Ref.Crop)
}
