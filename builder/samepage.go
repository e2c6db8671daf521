package builder

import (
	"reflect"

	"trug/builder/site"
	"trug/layouts"
)

// A printedPage is a page of the whole with what it was printed from.
type printedPage struct {
	dressed string // sum of the dress
	from    layouts.Page
	file    made
	places  *pagePlaces // nil = nobody asked for them
}

// samePage takes a page of the whole as an earlier build printed it from the same, if it still stands in the site. Most
// edits change no word of the long lists.
func (s *rendering) samePage(at site.Address, p layouts.Page) bool {
	before, ok := s.to.(keeper)
	if !ok || !s.ofWhole || s.cache == nil {
		return false
	}
	was, found := s.cache.pages.get(string(at), s.cache.build)
	if !found || was.dressed != s.dressed || s.targets[at] && was.places == nil || !reflect.DeepEqual(was.from, p) {
		return false
	}
	if !before.Holds(was.file.path, was.file.sum) || !before.Again(was.file.path, was.file.size, was.file.sum) {
		return false
	}
	s.sheet.files = append(s.sheet.files, was.file)
	if was.places != nil {
		s.sheet.places = append(s.sheet.places, *was.places)
	}
	return true
}

// keepPage keeps a page of the whole for later builds, after it was added.
func (s *rendering) keepPage(at site.Address, p layouts.Page) {
	if !s.ofWhole || s.cache == nil {
		return
	}
	done := &printedPage{dressed: s.dressed, from: p, file: s.sheet.files[len(s.sheet.files)-1]}
	if s.targets[at] {
		done.places = &s.sheet.places[len(s.sheet.places)-1]
	}
	s.cache.pages.put(string(at), done, s.cache.build)
}
