package builder

import (
	"crypto/sha256"
	"html"
	"regexp"
	"slices"

	"trug/builder/site"
	"trug/calcblocks/kit/diag"
	"trug/layouts"
)

// A sink takes the files of a site as they are made. It keeps no body: what holds it is written on again.
type sink interface {
	AddSummed(path string, body []byte, sum [sha256.Size]byte) error
}

// A keeper is a sink that knows the files of the site before.
type keeper interface {
	// Holds says whether the site before has a file of these bytes; it is read.
	Holds(path string, sum [sha256.Size]byte) bool
	// Again adds a file of the site before, if that has one of this size which should have these bytes.
	Again(path string, size int, sum [sha256.Size]byte) bool
}

// made is a file that was written.
type made struct {
	path string
	size int
	sum  [sha256.Size]byte
}

// A sheet is what writing a note and the pages of its blocks, or a page of the whole site, made.
type sheet struct {
	key    string // sum of what it was made from; "" = it is not kept for later builds
	files  []made
	pages  []sitePage
	places []pagePlaces
	aims   []aim
	said   []diag.Diagnostic
	whole  *layouts.WholeNote
	note   string   // path of the note, "" = none
	blocks []string // ids of those with a page to themselves
}

// pagePlaces are the places on a page that a link can lead to.
type pagePlaces struct {
	at  site.Address
	ids []string
}

var placeID = regexp.MustCompile(` id="([^"]+)"`)

func placesOn(at site.Address, page []byte) pagePlaces {
	out := pagePlaces{at: at}
	for _, m := range placeID.FindAllSubmatch(page, -1) {
		out.ids = append(out.ids, html.UnescapeString(string(m[1])))
	}
	return out
}

// fork returns a rendering that writes on a sheet of its own.
func (s *rendering) fork() *rendering {
	return &rendering{Handbook: s.Handbook, common: s.common, sheet: &sheet{}}
}

// Report adds a diagnostic to the handbook's list, and to what the sheet will say again.
func (s *rendering) Report(d diag.Diagnostic) {
	s.sheet.said = append(s.sheet.said, d)
	s.Handbook.Report(d)
}

// add adds a file to the site.
func (s *rendering) add(at site.Address, body []byte) {
	sum := sha256.Sum256(body)
	s.sheet.files = append(s.sheet.files, made{at.File(), len(body), sum})
	if err := s.to.AddSummed(at.File(), body, sum); err != nil {
		s.guard.Lock()
		defer s.guard.Unlock()
		if s.failed == nil {
			s.failed = err
		}
	}
}

// settle takes in what a fork wrote and gives it an empty sheet.
func (s *rendering) settle() {
	s.takeIn(s.sheet)
	s.sheet = &sheet{}
}

func (s *rendering) takeIn(done *sheet) {
	s.guard.Lock()
	defer s.guard.Unlock()
	for _, f := range done.files {
		s.listed[f.path] = f
	}
	for _, p := range done.places {
		s.places[p.at] = p.ids
	}
	s.pages, s.aims = append(s.pages, done.pages...), append(s.aims, done.aims...)
	if done.note != "" {
		s.done[done.note] = true
		if done.whole != nil {
			s.whole[done.note] = *done.whole
		}
	}
	for _, id := range done.blocks {
		s.done[id] = true
	}
	if done.key != "" {
		s.finished = append(s.finished, done)
	}
}

// pagesSoFar are the pages that were written, in no order.
func (s *rendering) pagesSoFar() []sitePage {
	s.guard.Lock()
	defer s.guard.Unlock()
	return slices.Clone(s.pages)
}

// again takes a sheet of an earlier build, if every file of it still stands in the site.
func (s *rendering) again(key string) bool {
	before, ok := s.to.(keeper)
	if !ok || s.cache == nil {
		return false
	}
	was, found := s.cache.sheets.get(key, s.cache.build)
	if !found {
		return false
	}
	for _, f := range was.files {
		if !before.Again(f.path, f.size, f.sum) {
			return false
		}
	}
	for _, d := range was.said {
		s.Handbook.Report(d)
	}
	s.takeIn(was)
	return true
}
