package layouts

import "html/template"

// SearchPage lists everything that the search finds; a script narrows it down. Names stand in the order of
// the lists.
type SearchPage struct {
	Topics []Topic
	Lists  []SearchList
}

// SearchList is one named list of pages.
type SearchList struct {
	Name  string
	Links []Link
}

// WholePage is the whole handbook on one page, for paper.
type WholePage struct {
	Title, Author string
	Notes         []WholeNote
}

// WholeNote is one note of the whole handbook. Its Body's ids and headings are made for this page.
type WholeNote struct {
	ID, Title, Summary string
	Written, Revised   string
	Picture            *Picture
	Body               template.HTML
}

// Shared is what a page is called where links to it are shown (the Open Graph protocol, "Object types").
func (f framed) Shared() string {
	if _, note := f.Body.(NotePage); note {
		return "article"
	}
	return "website"
}
