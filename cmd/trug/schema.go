package main

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/schema"
)

// subjects returns what there is a schema of: the grower's files, then the kinds.
func subjects() []schema.Subject {
	recipe, _ := calcblocks.Named("recipe")
	var out []schema.Subject
	for _, r := range garden.Readers(reference.Default(), parser(recipe)) {
		out = append(out, schema.Subject{Title: r.Name, About: r.About, Read: r.Read})
	}
	for _, k := range calcblocks.All() {
		out = append(out, schema.Subject{Title: k.Name, About: firstParagraph(k.Doc), Doc: k.Doc, Empty: k.Bare, Read: parser(k)})
	}
	return out
}

func parser(k block.Kind) func(*form.Node) { return func(n *form.Node) { k.Parse(n) } }

// firstParagraph returns the text below a doc's heading, in one line.
func firstParagraph(doc string) string {
	parts := strings.SplitN(doc, "\n\n", 3)
	return strings.Join(strings.Fields(parts[min(1, len(parts)-1)]), " ")
}

// schema prints the JSON Schema of one file or kind, or a document with those of all.
func (c Console) schema(what string) error {
	all := subjects()
	var tree data.Object
	i := slices.IndexFunc(all, func(s schema.Subject) bool { return s.Title == what })
	switch {
	case what == "":
		tree = schema.All("What trug reads", all)
	case i < 0:
		return unknownSubject(what, all)
	default:
		tree = schema.Whole(all[i])
	}
	_, err := c.Out.Write(data.JSON(tree))
	return err
}

func unknownSubject(what string, all []schema.Subject) error {
	names := make([]string, len(all))
	for i, s := range all {
		names[i] = s.Title
	}
	hint := "there are " + strings.Join(names, ", ")
	if near := diag.Closest(what, names); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	return usageError{fmt.Sprintf("there is no schema of %q", what), hint}
}
