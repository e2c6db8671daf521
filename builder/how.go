package builder

import (
	"html/template"
	"strings"

	"trug/builder/markdown"
	"trug/builder/site"
	"trug/calcblocks"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/layouts"
)

const howIndex = site.Address("how/")

// howPages writes a page for each kind from its own doc: what it computes, its fields, its formulas with
// their sources.
func (s *rendering) howPages() error {
	var index layouts.PlainPage
	index.Title, index.Summary = "How the numbers are made", "Each kind of block, its fields and its formulas, from its own documentation."
	var list strings.Builder
	list.WriteString("<ul>\n")
	for _, k := range calcblocks.All() {
		at := site.How(k.Name)
		list.WriteString(`<li><a href="` + template.HTMLEscapeString(howIndex.To(at)) + `">` + template.HTMLEscapeString(k.Name) + "</a></li>\n")
		if err := s.howPage(k, at); err != nil {
			return err
		}
	}
	list.WriteString(`<li><a href="` + template.HTMLEscapeString(howIndex.To(dressAt)) + `">dress</a>: how to change the look of the site</li>` + "\n")
	if err := s.dressPage(); err != nil {
		return err
	}
	index.HTML = template.HTML(list.String() + "</ul>\n")
	return s.page(howIndex, layouts.Page{Title: index.Title, Description: index.Summary, Body: index})
}

// dressAt is the page on the grower's own templates and style.
const dressAt = howIndex + "dress/"

// DressDoc describes the grower's own templates and style.
func DressDoc() string { return layouts.DressDoc() }

func (s *rendering) dressPage() error {
	body := layouts.PlainPage{Title: "How to dress the site", HTML: docHTML("dress", DressDoc())}
	return s.page(dressAt, layouts.Page{
		Title: body.Title, Description: "The templates that a handbook can replace, and what each reads", Body: body,
		Trail: []layouts.Link{{Name: "How the numbers are made", Href: dressAt.To(howIndex)}},
	})
}

// docHTML prints a doc without its title.
func docHTML(name, text string) template.HTML {
	doc := markdown.Parse(diag.NewFile(name+"/doc.md", text), markdown.Options{}, nil)
	return template.HTML(doc.HTML(markdown.Hooks{}))
}

func (s *rendering) howPage(k block.Kind, at site.Address) error {
	body := layouts.PlainPage{Title: "How " + k.Name + " works", HTML: docHTML(k.Name, k.Doc)}
	return s.page(at, layouts.Page{
		Title: body.Title, Description: "What the kind " + k.Name + " computes, its fields, formulas and sources", Body: body,
		Trail: []layouts.Link{{Name: "How the numbers are made", Href: at.To(howIndex)}},
	})
}
