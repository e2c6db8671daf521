// Package builder turns a content folder into a site.
package builder

import (
	"errors"
	"fmt"
	"sync"
	"time"

	"trug/builder/publish"
	"trug/calcblocks/kit/diag"
	"trug/layouts"
)

// Options says what to build.
type Options struct {
	Content string          // folder of the notes
	Out     string          // folder of the site
	Today   time.Time       // the only thing that a block may know of the day
	Strict  bool            // for Proof: a number without a source is a fault, not a doubt
	Workers int             // goroutines that compute and write; 0 = one a core
	Memory  *Memory         // of what earlier runs made; nil = none
	Stop    <-chan struct{} // closed when the build is to end early, with ErrStopped; nil = never
	Cache   *Cache          // what earlier builds of this handbook made; nil = each build starts anew
	// Swapping is held while the new site takes the place of the old one; nil = nobody reads it meanwhile.
	Swapping sync.Locker
}

// ErrStopped says that a build ended because it was told to. The site is as it was.
var ErrStopped = errors.New("stopped")

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
	defer roomy()()
	stage, err := o.stage()
	if err != nil {
		return Report{}, err
	}
	defer func() { _ = stage.Drop() }() // after Publish there is nothing left to drop
	from := ""
	if o.Memory != nil {
		from = o.Memory.from(o)
		if report, ok := o.Memory.recall(o, from, stage); ok {
			return report, nil
		}
	}
	s, err := render(o, stage)
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
	report.Published, err = stage.Publish()
	if err == nil && o.Memory != nil {
		o.Memory.keep(o, from, report)
	}
	return report, err
}

// stage begins the stage of the site.
func (o Options) stage() (*publish.Stage, error) {
	if o.Cache != nil {
		return o.Cache.spare.Begin(o.Out)
	}
	return publish.Begin(o.Out)
}

// render reads the content, computes its blocks and makes every file of the site.
func render(o Options, to sink) (*rendering, error) {
	h, err := open(o)
	if err != nil {
		return nil, err
	}
	var look *layouts.Layouts
	var dress trace
	look, err = h.readLook(dress.of(h.files))
	if err != nil {
		return nil, err
	}
	s := newSite(h, look, to)
	_, publishes := to.(*publish.Stage)
	s.dressed, s.album.site, s.keep = dress.sum(), o.Out, !publishes
	if err := s.write(); err != nil {
		return nil, err
	}
	if s.cache != nil && s.Faults() == 0 {
		for _, done := range s.finished {
			s.cache.sheets.put(done.key, done, s.cache.build)
		}
	}
	o.Cache.sweep(h.Faults())
	return s, nil
}

func (s *rendering) report() Report {
	return Report{
		Notes: len(s.Notes), Recipes: len(s.recipes), Files: len(s.listed), Address: s.Garden.Handbook.Address,
		Diagnostics: s.Sorted(), Faults: s.Faults(), Advice: s.advice(),
	}
}
