package layouts

import (
	"html/template"
	"slices"
	"strings"
)

// What a page holds is long and printed already. A template copies it several times over, so ours print a mark in its
// place, where it is set in. A dress may do with it what it likes, and is given the whole.

// inside prints a page's own template in pieces.
func (l *Layouts) inside(name string, f framed) ([]string, error) {
	switch body := f.Body.(type) {
	case NotePage:
		return l.around(name, []string{string(body.Body)}, func(html template.HTML) any { body.Body = html; f.Body = body; return f })
	case RecipePage:
		return l.around(name, []string{string(body.Parts)}, func(html template.HTML) any { body.Parts = html; f.Body = body; return f })
	}
	html, err := l.print(name, f)
	return []string{string(html)}, err
}

// around prints a template that prints what is inside once, as it is, and returns the pieces of both. The model is what
// the template reads with that HTML.
func (l *Layouts) around(name string, inside []string, model func(template.HTML) any) ([]string, error) {
	if _, dressed := l.own[name]; dressed {
		html, err := l.print(name, model(template.HTML(strings.Join(inside, ""))))
		return []string{string(html)}, err
	}
	html, err := l.print(name, model(bodyMark))
	before, after, _ := strings.Cut(string(html), bodyMark)
	return slices.Concat([]string{before}, inside, []string{after}), err
}
