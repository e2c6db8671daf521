package reference

import (
	"slices"
	"strings"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/sources"
)

// A Family is one plant family, with how long a mix rests from it.
type Family struct {
	ID, Name          string
	Members           []string // plants, more than the crops of the reference
	Interval          Figure   // years without a host; not known = none is published
	After             []AfterDisease
	Published         []Published
	Discard           []string // findings that make used mix unfit for any vegetable
	DiscardConfidence sources.Confidence
	Related           string
}

// AfterDisease is the longer interval after a disease.
type AfterDisease struct {
	Disease string // such as "white rot"
	Years   Figure
	Never   bool // no host ever again
}

// Published is what a source says on the interval.
type Published struct {
	What  string
	Years Figure // not known = the source gives no number
	By    Evidence
}

// FamilyOf returns the family that a plant belongs to.
func (l *Library) FamilyOf(plant string) (*Family, bool) {
	for _, f := range l.Families {
		if slices.Contains(f.Members, plant) {
			return f, true
		}
	}
	return nil, false
}

func (r *reader) families(root *form.Node) []*Family {
	var out []*Family
	m := root.Fields("families", "persistence", "heat_treatment")
	for _, item := range m.Need("families", "").Items() {
		out = append(out, r.family(item.Fields("id", "name", "members", "interval_years", "published",
			"discard", "discard_confidence", "related")))
	}
	return out
}

func (r *reader) family(m form.Mapping) *Family {
	f := &Family{
		ID: r.need(m, "id"), Name: r.need(m, "name"), Members: r.texts(m.Get("members")),
		Discard: r.texts(m.Get("discard")), DiscardConfidence: r.confidence(m.Get("discard_confidence")),
		Related: r.text(m.Get("related")),
	}
	for _, item := range m.Need("published", "").Items() {
		f.Published = append(f.Published, r.published(item.Fields("what", "years", "source", "confidence")))
	}
	r.interval(f, m.Need("interval_years", ""))
	return f
}

var years = measure{"years", "without a host in the same mix"}

func (r *reader) published(m form.Mapping) Published {
	p := Published{What: r.need(m, "what")}
	p.By = Evidence{p.What, r.need(m, "source"), r.confidence(m.Get("confidence"))}
	span := r.part(m.Get("years"), "low", "high")
	p.Years = r.signed(r.span(span.Get("low"), nil, span.Get("high"), years), m)
	return p
}

// interval reads the years to flag. They are picked over what is published on the family.
func (r *reader) interval(f *Family, n *form.Node) {
	m := n.Mapping()
	sign := func(y Figure) Figure {
		if !y.Known {
			return y
		}
		y.Confidence = r.confidence(m.Get("confidence"))
		for _, p := range f.Published {
			y.Source = union(y.Source, []string{p.By.Source})
		}
		return y
	}
	f.Interval = sign(r.span(m.Get("low"), m.Get("default"), m.Get("high"), years))
	for _, e := range m.Entries {
		disease, after := strings.CutPrefix(e.Name, "after_")
		if !after {
			continue
		}
		out := AfterDisease{Disease: strings.ReplaceAll(disease, "_", " "), Never: e.Value.Raw() == "never"}
		if !out.Never {
			out.Years = sign(r.span(nil, e.Value, nil, years))
		}
		f.After = append(f.After, out)
	}
}
