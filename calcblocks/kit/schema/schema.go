// Package schema draws up JSON Schemas (draft 2020-12) of what a reader of YAML takes. Nothing is declared a
// second time: the reader itself reads small probes, and what it asks of them and reports about them says
// which keys it knows, which it needs, and whether it wants a text, a list or a mapping. What a reader keeps
// unread until it knows more of the handbook is left open.
package schema

import (
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/form"
)

// Draft names the standard that the schemas follow.
const Draft = "https://json-schema.org/draft/2020-12/schema"

// A Subject is what a schema is drawn up of.
type Subject struct {
	Title string
	About string // one line
	Doc   string // Markdown that explains keys, each as "- key: ..."
	Empty bool   // nothing at all is fine too
	Read  func(*form.Node)
}

// Of returns the schema of a subject, without the name of its draft.
func Of(s Subject) data.Object {
	head := data.Object{{Key: "title", Value: data.Text(s.Title)}, {Key: "description", Value: data.Text(s.About)}}
	top := prober(s.Read).explore(frame{}, 0)
	top.explain(s.Doc)
	body := top.schema()
	if s.Empty {
		body = anyOf(data.List{data.Object{{Key: "type", Value: data.Text("null")}}, body})
	}
	return append(head, object(body)...)
}

// Whole returns the schema of one subject as a document of its own.
func Whole(s Subject) data.Object {
	return append(data.Object{{Key: "$schema", Value: data.Text(Draft)}}, Of(s)...)
}

// All returns one document that holds the schema of each subject under "$defs".
func All(title string, subjects []Subject) data.Object {
	var defs data.Object
	for _, s := range subjects {
		defs = append(defs, data.Field{Key: s.Title, Value: Of(s)})
	}
	return data.Object{
		{Key: "$schema", Value: data.Text(Draft)},
		{Key: "title", Value: data.Text(title)},
		{Key: "$defs", Value: defs},
	}
}
