// Package builder turns a content folder into a site.
package builder

import (
	"fmt"
	"sync"
	"time"

	"trug/builder/publish"
	"trug/calcblocks/kit/diag"
	"trug/layouts"
)

// Options says what to build.
type Options struct {
	Content string    // folder of the notes
	Out     string    // folder of the site
	Today   time.Time // the only thing that a block may know of the day
	Strict  bool      // for Proof: a number without a source is a fault, not a doubt
	Cache   *Cache    // what earlier builds of this handbook made; nil = each build starts anew
	// Swapping is held while the new site takes the place of the old one; nil = nobody reads it meanwhile.
	Swapping sync.Locker
}

// A Report is what a build did.
type Report struct {
	Notes, Recipes, Files int
	Address               string // of the handbook as its file says; "" = none
	Published             publish.Report
	Diagnostics           []diag.Diagnostic
	Remarks               []diag.Diagnostic // of Proof: for the author to know
	Faults                int
	Advice                []string // said once: what is left out, and why
}

// Build builds the site. With faults in the content nothing is written and the report holds them; an
// error means that the folders could not be read or written.
func Build(o Options) (Report, error) {
	if publish.Inside(o.Out, o.Content) || publish.Inside(o.Content, o.Out) {
		return Report{}, fmt.Errorf("the site folder %q and the content folder %q must not lie in each other", o.Out, o.Content)
	}
	s, err := render(o)
	if err != nil {
		return Report{}, err
	}
	report := s.report()
	if report.Faults > 0 {
		return report, nil
	}
	if o.Swapping != nil {
		o.Swapping.Lock()
		defer o.Swapping.Unlock()
	}
	report.Published, err = publish.Publish(o.Out, s.out)
	return report, err
}

// render reads the content and makes every file of the site.
func render(o Options) (*rendering, error) {
	h, err := readWith(o)
	if err != nil {
		return nil, err
	}
	var look *layouts.Layouts
	dressed := h.cache.traced(func() { look, err = h.look() })
	if err != nil {
		return nil, err
	}
	s := newSite(h, look)
	s.dressed = dressed.sum()
	_, err = s.files()
	o.Cache.sweep(h.Faults())
	return s, err
}

func (s *rendering) report() Report {
	return Report{
		Notes: len(s.Notes), Recipes: len(s.recipes), Files: len(s.out), Address: s.Garden.Handbook.Address,
		Diagnostics: s.Sorted(), Faults: s.Faults(), Advice: s.advice(),
	}
}
