package builder

import (
	"html/template"
	"strings"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/builder/site"
	"trug/calcblocks/kit/diag"
	"trug/layouts"
)

const wholeAt = site.Address("whole/")

// mostOnWhole is how many notes the page holds at most: a larger one no browser prints.
const mostOnWhole = 100

func (s *rendering) hasWhole() bool { return len(s.Notes) > 0 && len(s.Notes) <= mostOnWhole }

// wholeFrom is the way to the page from another, "" when there is none.
func (s *rendering) wholeFrom(at site.Address) string {
	if !s.hasWhole() {
		return ""
	}
	return at.To(wholeAt)
}

// wholePage puts all notes on one page, in the order of their paths, for paper.
func (s *rendering) wholePage() error {
	if !s.hasWhole() {
		return nil
	}
	hb := s.Garden.Handbook
	body := layouts.WholePage{Title: hb.Title, Author: hb.Author}
	for _, n := range s.Notes {
		body.Notes = append(body.Notes, s.whole[n.Path])
	}
	return s.page(wholeAt, layouts.Page{
		Title: "The whole handbook", Description: "All notes on one page, for paper", Current: "Notes", Body: body,
		Trail: []layouts.Link{{Name: "Notes", Href: wholeAt.To("notes/")}},
	})
}

// wholeID is a note's id on the page. Ids of its headings follow after a low line. Slugs hold neither it
// nor a full stop, and ids of blocks hold no full stop, so that no two ids meet.
func wholeID(n *notes.Note) string {
	return strings.ReplaceAll(strings.TrimSuffix(string(n.Address), "/"), "/", ".")
}

// wholeNote writes a note as if it stood at the page's address. What is wrong with it was reported when it
// was written at its own, and is not reported twice.
func (s *rendering) wholeNote(n *notes.Note) layouts.WholeNote {
	here := *n
	here.Address = wholeAt
	prefix := wholeID(n) + "_"
	out := layouts.WholeNote{
		ID: wholeID(n), Title: n.Title(), Summary: n.Page.Summary, Written: day(n.Page.Written), Revised: day(n.Page.Revised),
		Body: template.HTML(n.Document.HTML(markdown.Hooks{
			Block:  func(b *markdown.Block) string { return s.blockHTML(&here, b, 1) },
			Link:   func(target string, at diag.Position) string { return within(n, s.byHref, s.link(&here, target, at)) },
			Text:   s.figureWords,
			Image:  func(i markdown.Image) markdown.Picture { return s.image(&here, i) },
			Prefix: prefix, Deeper: 1,
		})),
	}
	if p, atHead := s.headPicture(&here); atHead {
		out.Picture = &p
	}
	return out
}

// within turns a link to a note, by its address from here, into one to its place on this page; n is the note in
// which the link stands. A note's title stands on the page, and not in its body.
func within(n *notes.Note, byHref map[string]*notes.Note, href string) string {
	file, anchor, anchored := strings.Cut(href, "#")
	to, known := byHref[file]
	switch {
	case file == "" && anchored:
		to = n
	case !known:
		return href
	}
	if !anchored || anchor == to.TitleID() {
		return "#" + wholeID(to)
	}
	return "#" + wholeID(to) + "_" + anchor
}
