// Package block is the contract between the kinds and the rest of the program.
package block

import (
	"errors"
	"time"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// A Kind describes one sort of block. Each package under calcblocks exports one.
type Kind struct {
	Name    string // the word on the fence line
	Doc     string // what it computes, formula, sources, example: shown by "trug show --help KIND"
	NeedsID bool   // an id is required
	Bare    bool   // the block may be empty: all its fields have a usual value
	Phase   int    // blocks of a higher phase read the facts of lower ones
	// Parse reads the block's YAML. It reports into the form and never stops early.
	Parse func(*form.Node) Block
}

// A Block is one parsed block.
type Block interface {
	// Compute returns the result. The author's faults were reported by Parse or go to Pass.Report;
	// anything else is our bug.
	Compute(*Pass) Result
}

// A Pass is what a block may read while it computes.
type Pass struct {
	ID     string        // the block's id, "" when it has none
	At     diag.Position // the opening fence
	Ref    *reference.Library
	Garden *garden.Garden
	Today  time.Time // no kind reads it: the pages do not depend on the day
	Facts  []facts.Fact
	For    string   // a container that the reader asked for, instead of the block's sizes
	With   []string // the picks among choices, by amendment id; empty = the defaults
	Report func(diag.Diagnostic)
}

// Asked returns the container that the reader asked for; asked is false when the reader asked for none, ok
// is false when the container cannot be resolved, which was reported then.
func (p *Pass) Asked() (c garden.Container, asked, ok bool) {
	if p.For == "" {
		return c, false, false
	}
	c, err := p.Garden.Container(p.For)
	if err == nil {
		return c, true, true
	}
	d := diag.Errorf(diag.Position{}, "bad-container", "%s", err)
	var fault *units.Fault
	if errors.As(err, &fault) {
		d.Hints = fault.Hints
	}
	p.Report(d)
	return c, true, false
}

// A Result is what a block computed: the numbers, their arrangement for people, and what the rest of
// the site should know.
type Result struct {
	Title   string
	Data    data.Object
	View    view.Doc
	Facts   []facts.Fact
	Working []view.WorkingStep
	Sources []sources.Entry
}
