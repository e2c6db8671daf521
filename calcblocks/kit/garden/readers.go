package garden

import (
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/reference"
)

// A Reader is what reads one of the grower's own files, and reports what is wrong with it into the node.
type Reader struct {
	Name, About string
	Read        func(*form.Node)
}

// Readers returns the readers of the three files, and of a recipe file, whose other fields go to block. Each
// reads into a garden that is otherwise empty.
func Readers(ref *reference.Library, block func(*form.Node)) []Reader {
	empty := func() *Garden { return &Garden{Handbook: defaultHandbook(), ref: ref} }
	return []Reader{
		{"handbook", "handbook.yaml: title, measures, currency, usual sizes, frost dates", func(n *form.Node) {
			g := empty()
			g.Handbook = readHandbook(n)
			g.Handbook.checkSizes(g)
		}},
		{"cupboard", "cupboard.yaml: amendments at hand, by their ids", func(n *form.Node) { empty().readCupboard(n) }},
		{"pots", "pots.yaml: containers, by ids of your own", func(n *form.Node) { empty().readPots(n) }},
		{"recipe-file", "NAME.recipe.yaml: a recipe without a note", func(n *form.Node) {
			_, rest, _ := empty().recipeFields(n)
			block(rest)
		}},
	}
}
