// Package output writes the files that stand beside the pages.
package output

import (
	"strings"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
)

// RecipeFile returns a recipe as a file that another handbook can use: its id, the set of measures that
// its cups and spoons are of, the block's fields as they were written, and the blends that the
// reference does not know, with label and weighed cup.
func RecipeFile(id, set string, root *form.Node, body string, blends []*garden.Material) []byte {
	var b strings.Builder
	b.WriteString("recipe: " + id + "\n")
	b.WriteString("measures: " + set + "\n")
	if root.IsFlow() {
		body = root.Spread()
	}
	b.WriteString(strings.TrimSuffix(body, "\n") + "\n")
	if len(blends) > 0 {
		b.WriteString("amendments:\n")
	}
	for _, m := range blends {
		b.WriteString(m.Entry())
	}
	return []byte(b.String())
}
