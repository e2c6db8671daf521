package layouts

import (
	_ "embed"
	"fmt"
	"html/template"
	"reflect"
	"slices"
	"strings"
	"unicode"
)

//go:embed dress.md
var aboutDress string

// DressDoc describes a dress in Markdown: what it may hold, and the data that each template reads, as the
// types here have them.
func DressDoc() string {
	var b strings.Builder
	b.WriteString(aboutDress)
	for _, part := range []struct {
		title, folder, reads string
		all                  []pattern
	}{
		{"Pages", "pages", "Body holds", pages},
		{"Pieces of pages", "pages", "Reads", pieces},
		{"Parts of a block", "parts", "Reads", parts},
	} {
		fmt.Fprintf(&b, "\n## %s\n\n| File | Prints | %s |\n|---|---|---|\n", part.title, part.reads)
		for _, p := range part.all {
			fmt.Fprintf(&b, "| `%s/%s.html` | %s | %s |\n", part.folder, p.name, p.prints, typeWords(reflect.TypeOf(p.reads)))
		}
	}
	b.WriteString("\n## Data\n\n")
	fmt.Fprintf(&b, "- **a part's place**: %s\n", strings.Join(fieldWords(place), ", "))
	for _, t := range types() {
		if names := fieldWords(t); len(names) > 0 {
			fmt.Fprintf(&b, "- **%s**: %s\n", typeName(t), strings.Join(names, ", "))
		}
	}
	return b.String()
}

// fieldWords tells what data of a type holds, by name. Where a part stands is told once.
func fieldWords(t reflect.Type) []string {
	var out []string
	for _, f := range shown(t) {
		if !placed(t) || !slices.ContainsFunc(shown(place), func(p reflect.StructField) bool { return p.Name == f.Name }) {
			out = append(out, "`"+f.Name+"` "+typeWords(f.Type))
		}
	}
	for i := range t.NumMethod() {
		out = append(out, "`"+t.Method(i).Name+"` "+methodWords(t.Method(i).Type))
	}
	if placed(t) {
		out = append(out, "and its place")
	}
	return out
}

var place = reflect.TypeFor[here]()

// placed says whether data of a type tells where its part stands.
func placed(t reflect.Type) bool {
	f, ok := t.FieldByName("here")
	return ok && f.Type == place && f.Anonymous
}

// methodWords says what a method of data answers, and what it asks for.
func methodWords(t reflect.Type) string {
	out := typeWords(t.Out(0))
	for i := 1; i < t.NumIn(); i++ { // the first is the data itself
		if i == 1 {
			out += " from"
		} else {
			out += " and"
		}
		out += " " + typeWords(t.In(i))
	}
	return out
}

// typeWords says in words what data of a type is.
func typeWords(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Slice:
		return "list of " + typeWords(t.Elem())
	case reflect.Map:
		return typeWords(t.Elem()) + " by " + typeWords(t.Key())
	case reflect.Pointer:
		return typeWords(t.Elem()) + " or nothing"
	case reflect.Bool:
		return "yes or no"
	case reflect.Int, reflect.Float64:
		return "number"
	case reflect.Interface:
		return "any data"
	case reflect.String:
		return textWords(t)
	}
	if len(shown(t)) == 0 {
		return "nothing"
	}
	return typeName(t)
}

func textWords(t reflect.Type) string {
	switch t {
	case reflect.TypeFor[template.HTML]():
		return "HTML"
	case reflect.TypeFor[template.JS]():
		return "JSON for a script"
	}
	return "text"
}

// typeName is what the page calls a type: its own name without the word that our code adds.
func typeName(t reflect.Type) string {
	name := []rune(strings.TrimSuffix(t.Name(), "Model"))
	name[0] = unicode.ToUpper(name[0])
	return string(name)
}
