package blocktest

import (
	"maps"
	"slices"
	"strings"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
)

// placed is one block of a case where it stands.
type placed struct {
	kind  block.Kind
	id    string
	at    diag.Position
	block block.Block
	main  bool
}

// Compute parses and computes a block among the other blocks of its case, lower phases first. A block reads
// the facts of the phases below its own; the faults of all are in the output. A body that is no YAML gives
// the zero Result with its faults.
func Compute(k block.Kind, in Input, others ...block.Kind) Output {
	var list diag.List
	g := Open(in.Files, &list)
	out := Output{Garden: g}
	var told, below []facts.Fact // by all so far, and by the phases below
	phase := 0
	for _, p := range around(k, in, others, g, &list) {
		if p.kind.Phase > phase {
			phase, below = p.kind.Phase, slices.Clone(told)
		}
		pass := &block.Pass{ID: p.id, At: p.at, Ref: reference.Default(), Garden: g, Facts: below, Report: list.Report}
		if p.main {
			pass.For, pass.With = in.For, in.With
		}
		result := p.block.Compute(pass)
		told = append(told, result.Facts...)
		if p.main {
			out.Result = result
		}
	}
	out.Faults = list.Sorted()
	return out
}

// around returns the block under test among the others of its case, in the order in which they compute.
func around(k block.Kind, in Input, others []block.Kind, g *garden.Garden, list *diag.List) []placed {
	kinds := append(slices.Clone(others), k)
	var out []placed
	add := func(kind block.Kind, id string, root *form.Node, main bool) {
		if root != nil {
			out = append(out, placed{kind, id, root.At(), kind.Parse(root), main})
		}
	}
	for _, name := range slices.Sorted(maps.Keys(in.Files)) {
		if kind, id, ok := named(name, kinds); ok {
			add(kind, id, read(name, in.Files[name], g, list), false)
		}
	}
	for _, f := range g.Recipes {
		if i := slices.IndexFunc(others, func(k block.Kind) bool { return k.Name == "recipe" }); i >= 0 {
			add(others[i], f.ID, f.Node, false)
		}
	}
	add(k, in.ID, read("in.yaml", in.Body, g, list), true)
	slices.SortStableFunc(out, func(a, b placed) int { return a.kind.Phase - b.kind.Phase })
	return out
}

func read(name, text string, g *garden.Garden, list *diag.List) *form.Node {
	return form.Read(form.FileSource(diag.NewFile(name, text), g.Values(), list.Report))
}

// named tells the kind and the id of a block from the name of its file; false for a file of the grower's own.
func named(name string, kinds []block.Kind) (block.Kind, string, bool) {
	base, isYAML := strings.CutSuffix(name, ".yaml")
	word, id, hasID := strings.Cut(base, " ")
	if i := slices.IndexFunc(kinds, func(k block.Kind) bool { return k.Name == word }); isYAML && i >= 0 {
		return kinds[i], id, true
	}
	if isYAML && hasID {
		panic("blocktest: no kind was given for the block in " + name)
	}
	return block.Kind{}, "", false
}
