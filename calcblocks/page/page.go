// Package page reads the kind "page": what a note is about.
package page

import (
	_ "embed"
	"time"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

//go:embed doc.md
var doc string

// Kind is the kind "page".
// Its phase is below all others: what a note says of itself decides whether and how it is published.
var Kind = block.Kind{Name: "page", Doc: doc, Phase: -1, Parse: parse}

type page struct{ facts.Page }

func parse(n *form.Node) block.Block {
	m := n.Fields("summary", "written", "revised", "topics", "publish", "picture", "picture shows")
	var p page
	p.Summary, _ = m.Get("summary").Text()
	p.Written = date(m.Get("written"))
	p.Revised = date(m.Get("revised"))
	p.Topics = m.Get("topics").Texts()
	p.Picture, _ = m.Get("picture").Text()
	p.PictureShows, _ = m.Get("picture shows").Text()
	p.Hidden = hidden(m.Get("publish"))
	if !p.Revised.IsZero() && p.Revised.Before(p.Written) {
		at := m.Get("revised")
		d := diag.Errorf(at.At(), "revised-before-written", "the note was revised before it was written")
		at.Report(d.Hint("check the two dates").Also(m.Get("written").At(), "written is here"))
	}
	return p
}

func date(n *form.Node) time.Time {
	if n == nil {
		return time.Time{}
	}
	d, _ := form.Value(n, units.ReadDate)
	return d
}

func hidden(n *form.Node) bool {
	if n == nil {
		return false
	}
	answer, ok := form.Value(n, func(s string) (bool, error) {
		switch s {
		case "yes":
			return true, nil
		case "no":
			return false, nil
		}
		return false, units.Faultf(0, "not-yes-or-no", "write yes or no", "%q is neither yes nor no", s)
	})
	return ok && !answer
}

// Compute returns the page as a fact; it shows nothing of its own.
func (p page) Compute(*block.Pass) block.Result {
	return block.Result{
		Data: data.Object{
			{Key: "summary", Value: data.Text(p.Summary)},
			{Key: "topics", Value: data.Texts(p.Topics)},
			{Key: "publish", Value: data.Flag(!p.Hidden)},
		},
		Facts: []facts.Fact{p.Page},
	}
}
