// Package output writes the files that stand beside the pages.
package output

import (
	"regexp"
	"strconv"
	"strings"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
)

// A RecipeFile is a recipe as another handbook can use it.
type RecipeFile struct {
	ID    string
	Set   string     // of the measures that its cups and spoons are of
	Root  *form.Node // the block's fields
	Body  string     // the same as they were written
	Sizes []string   // in place of those written, where some are pots of this handbook; nil = as written
	// Blends are the materials that the reference does not know, with label and weighed cup.
	Blends []*garden.Material
}

// Text returns the file.
func (f RecipeFile) Text() []byte {
	var b strings.Builder
	b.WriteString("recipe: " + f.ID + "\n")
	b.WriteString("measures: " + f.Set + "\n")
	body := f.Body
	if f.Root.IsFlow() {
		body = f.Root.Spread()
	}
	b.WriteString(WithSizes(strings.TrimSuffix(body, "\n")+"\n", f.Sizes))
	if len(f.Blends) > 0 {
		b.WriteString("amendments:\n")
	}
	for _, m := range f.Blends {
		b.WriteString(m.Entry())
	}
	return []byte(b.String())
}

// sizesEntry is the key with the lines of its list.
var sizesEntry = regexp.MustCompile(`(?m)^(?:sizes|"sizes"|'sizes') *:.*\n(?:[ \t\-#].*\n|\n)*`)

// WithSizes puts sizes in the place of those that a recipe's fields have; nil leaves them.
func WithSizes(body string, sizes []string) string {
	at := sizesEntry.FindStringIndex(body)
	if sizes == nil || at == nil {
		return body
	}
	var items []string
	for _, size := range sizes {
		if strings.ContainsAny(size, `,[]{}"'#:`) {
			size = strconv.Quote(size)
		}
		items = append(items, size)
	}
	return body[:at[0]] + "sizes: [" + strings.Join(items, ", ") + "]\n" + body[at[1]:]
}
