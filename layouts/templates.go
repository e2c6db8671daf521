package layouts

import (
	"maps"
	"reflect"
	"slices"

	"trug/calcblocks/kit/view"
)

// A pattern is one template file: what it prints and the data that it reads. For a page that is the data's
// Body.
type pattern struct {
	name, prints string
	reads        any
}

// pages are the templates of whole pages, by the type of their body.
var pages = []pattern{
	{"front", "the front page", FrontPage{}},
	{"note", "a note", NotePage{}},
	{"notes", "the notes by topic", NotesPage{}},
	{"recipes", "the list of recipes", RecipesPage{}},
	{"recipe", "a recipe", RecipePage{}},
	{"card", "a recipe's printed card", CardPage{}},
	{"block", "a block or a kind on a page of its own: plan, trial, dates, shopping", BlockPage{}},
	{"pots", "all containers", PotsPage{}},
	{"pot", "a container", PotPage{}},
	{"labels", "the sheet of pot labels", LabelsPage{}},
	{"cupboard", "the cupboard", CupboardPage{}},
	{"sources", "the bibliography", SourcesPage{}},
	{"search", "the search", SearchPage{}},
	{"whole", "all notes on one page", WholePage{}},
	{"plain", "how a kind works", PlainPage{}},
	{"notfound", "the page for an address that holds nothing", NotFoundPage{}},
}

// pieces are the templates that stand in the pages and are no part of a block.
var pieces = []pattern{
	{"frame", "what stands around every page", framed{}},
	{"shared", "what links to a page show elsewhere, in its head", framed{}},
	{"intro", "the opening of the front page", Intro{}},
	{"entries", "a list of notes", []Item{}},
	{"links", "links in a row", []Link{}},
	{"season", "jobs in order", []Season{}},
	{"code", "a QR code", &Code{}},
}

// parts are the templates of what a block shows, and of what stands in them.
var parts = []pattern{
	{"block", "all parts of a block", blockModel{}},
	{"paragraph", "running text", view.Paragraph{}},
	{"more", "the title of a block in a note, and the way to its page", moreModel{}},
	{"steps", "things to do, in order", stepsModel{}},
	{"sizes", "one result for several containers", sizesModel{}},
	{"own", "the form for the reader's own pot", &ownModel{}},
	{"amounts", "what goes in", amountsModel{}},
	{"amount", "one amendment of the amounts", amountModel{}},
	{"measures", "an amount in each set of spoons", amountModel{}},
	{"terms", "a measure, its number large", [][]term{}},
	{"variants", "what follows the picks among choices", variantsModel{}},
	{"ticks", "a list to tick off", ticksModel{}},
	{"figures", "named results", figuresModel{}},
	{"table", "a table", tableModel{}},
	{"bars", "spans on one axis", barsModel{}},
	{"chart", "quantities over time", chartModel{}},
	{"dots", "single values by group", dotsModel{}},
	{"cautions", "cautions", cautionsModel{}},
	{"caution", "one caution", markedCaution{}},
	{"cites", "the sources of a number", citations{}},
	{"section", "a cut through a pot with its layers", sectionModel{}},
	{"pots", "containers at one scale", potsModel{}},
	{"row", "the row of containers", potsModel{}},
	{"pot", "the drawing of a container", potModel{}},
	{"cut", "the drawing of a cut", potModel{}},
	{"working", "the arithmetic of a result", workingModel{}},
	{"listing", "source text to copy", listingModel{}},
	{"bibliography", "the works that a result rests on", bibliographyModel{}},
	{"work", "one of them", workModel{}},
}

// patterns returns all templates under the names of their files.
func patterns() []pattern {
	var out []pattern
	for _, p := range pages {
		out = append(out, pattern{"pages/" + p.name + ".html", p.prints, p.reads})
	}
	for _, p := range pieces {
		out = append(out, pattern{"pages/" + p.name + ".html", p.prints, p.reads})
	}
	for _, p := range parts {
		out = append(out, pattern{"parts/" + p.name + ".html", p.prints, p.reads})
	}
	return out
}

// described is what each template is said to read.
var described = func() map[string]reflect.Type {
	out := map[string]reflect.Type{}
	for _, p := range patterns() {
		out[p.name] = reflect.TypeOf(p.reads)
	}
	return out
}()

// reads says whether a template is described to read data of a type. Every page's own template reads what the
// frame reads, of which the list tells the body alone.
func reads(name string, data any) bool {
	_, page := data.(framed)
	return page || described[name] == reflect.TypeOf(data)
}

func templateNames() []string {
	var out []string
	for _, p := range patterns() {
		out = append(out, p.name)
	}
	return out
}

// wordNames returns the functions that templates may call: ours and the library's.
func wordNames() []string {
	return append(slices.Sorted(maps.Keys(words)), "and", "eq", "ge", "gt", "index", "le", "len", "lt", "ne", "not", "or", "print", "printf", "slice")
}

// pageName returns the template of a page's body.
func pageName(body any) (string, bool) {
	i := slices.IndexFunc(pages, func(p pattern) bool { return reflect.TypeOf(p.reads) == reflect.TypeOf(body) })
	if i < 0 {
		return "", false
	}
	return pages[i].name, true
}

// types lists every type of data that a template can reach, in the order in which the templates do, and
// the templates' own first.
func types() []reflect.Type {
	var out []reflect.Type
	var reach func(t reflect.Type)
	reach = func(t reflect.Type) {
		t = inside(t)
		if t.Kind() != reflect.Struct || slices.Contains(out, t) {
			return
		}
		out = append(out, t)
		for _, f := range shown(t) {
			reach(f.Type)
		}
	}
	for _, p := range patterns() {
		reach(reflect.TypeOf(p.reads))
	}
	return out
}

// inside returns what a list, a table by name or a pointer holds.
func inside(t reflect.Type) reflect.Type {
	for t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer || t.Kind() == reflect.Map {
		t = t.Elem()
	}
	return t
}

// shown returns the fields of a type that a template can read, those of what it embeds among them.
func shown(t reflect.Type) []reflect.StructField {
	return slices.DeleteFunc(reflect.VisibleFields(t), func(f reflect.StructField) bool { return f.Anonymous || !f.IsExported() })
}

// namesOf returns the names that data of a type has, by the name that the library gives the type. Of a page's
// body it knows no more than that it is anything.
func namesOf(typeName, template string) []string {
	i := slices.IndexFunc(types(), func(t reflect.Type) bool {
		if body, page := described[template]; page && typeName == "interface {}" {
			return t == body
		}
		return t.String() == typeName || "*"+t.String() == typeName
	})
	var out []string
	if i >= 0 {
		for _, f := range shown(types()[i]) {
			out = append(out, f.Name)
		}
	}
	return out
}
