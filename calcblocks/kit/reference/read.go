package reference

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"sync"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
)

// A reader turns the embedded fact files into typed figures. What is wrong in them is gathered in list.
type reader struct{ list *diag.List }

// openAll reads fact files at the same time: every run of the program waits for them.
func (r *reader) openAll(names []string) map[string]*form.Node {
	roots := make([]*form.Node, len(names))
	var all sync.WaitGroup
	for i, name := range names {
		all.Go(func() { roots[i] = r.open(name) })
	}
	all.Wait()
	trees := map[string]*form.Node{}
	for i, name := range names {
		trees[name] = roots[i]
	}
	return trees
}

// open reads one fact file strictly.
func (r *reader) open(name string) *form.Node {
	text, err := files.ReadFile("facts/" + name + ".yaml")
	if err != nil {
		r.list.Report(diag.Errorf(diag.Whole("facts/"+name+".yaml"), "no-file", "%s", err))
		return nil
	}
	file := diag.NewFile("facts/"+name+".yaml", string(text))
	return form.Read(form.FileSource(file, units.Parser{Set: units.US}, r.list.Report))
}

// err returns everything that was reported as one error, or nil.
func (r *reader) err() error {
	var all []error
	for _, d := range r.list.Sorted() {
		all = append(all, fmt.Errorf("%s:%d:%d: %s", d.At.Name(), d.At.Line, d.At.Column, d.Message))
	}
	return errors.Join(all...)
}

var numberText = regexp.MustCompile(`^-?\d+(\.\d+)?(e-?\d+)?$`)

// plainNumber reads the text of a node as a number; anything else is no number.
func plainNumber(n *form.Node) (float64, bool) {
	if !n.IsText() || !numberText.MatchString(n.Raw()) {
		return 0, false
	}
	x, err := strconv.ParseFloat(n.Raw(), 64)
	return x, err == nil && !math.IsInf(x, 0)
}

// number reads a number that may be null or absent; anything else is a fault.
func (r *reader) number(n *form.Node) (float64, bool) {
	if n == nil || n.IsNull() {
		return 0, false
	}
	x, ok := plainNumber(n)
	if !ok {
		n.Fault("not-number", "", "%q is not a number", n.Raw())
	}
	return x, ok
}

// text reads a text; null and absent are "".
func (r *reader) text(n *form.Node) string {
	if n == nil || n.IsNull() {
		return ""
	}
	t, _ := n.Text()
	return t
}

// texts reads a text or a list of texts; null and absent are none.
func (r *reader) texts(n *form.Node) []string {
	if n == nil || n.IsNull() {
		return nil
	}
	return slices.Clip(n.Texts()) // shared: who adds to it gets a list of their own
}

// need reads a text that must be there.
func (r *reader) need(m form.Mapping, key string) string {
	t, _ := m.Need(key, "").Text()
	return t
}

func (r *reader) confidence(n *form.Node) sources.Confidence {
	return sources.Confidence(r.text(n))
}

// A measure says in what a kind of figure is given and of what.
type measure struct{ unit, basis string }

// figure reads {typical, low, high, source, confidence, note}; null is not known. A missing end equals
// typical; without typical the figure is a range.
func (r *reader) figure(n *form.Node, in measure) Figure {
	if n == nil || n.IsNull() {
		return Figure{Unit: in.unit, Basis: in.basis}
	}
	m := n.Fields("typical", "low", "high", "source", "confidence", "note")
	f := r.span(m.Get("low"), m.Get("typical"), m.Get("high"), in)
	f.Source, f.Confidence = r.texts(m.Get("source")), r.confidence(m.Get("confidence"))
	f.Note = r.text(m.Get("note"))
	return f
}

// span returns the figure between low and high, each of which may be null. Source and confidence are
// left to the caller.
func (r *reader) span(low, typical, high *form.Node, in measure) Figure {
	f := Figure{Unit: in.unit, Basis: in.basis}
	l, hasLow := r.number(low)
	t, hasTypical := r.number(typical)
	h, hasHigh := r.number(high)
	f.fill(ends{l, hasLow}, ends{t, hasTypical}, ends{h, hasHigh})
	return f
}

// ends is a number that may be missing.
type ends struct {
	x  float64
	ok bool
}

// fill sets the figure's numbers from what is published: a single value is its own range, a range's middle
// is its typical value, and an end that no source gives is marked open.
func (f *Figure) fill(low, typical, high ends) {
	switch {
	case typical.ok:
		f.Low, f.Typical, f.High = typical.x, typical.x, typical.x
		if low.ok {
			f.Low = low.x
		}
		if high.ok {
			f.High = high.x
		}
	case low.ok && high.ok:
		f.Low, f.Typical, f.High, f.RangeOnly = low.x, (low.x+high.x)/2, high.x, true
	case low.ok:
		f.Low, f.Typical, f.High, f.RangeOnly, f.OpenHigh = low.x, low.x, low.x, true, true
	case high.ok:
		f.Low, f.Typical, f.High, f.RangeOnly, f.OpenLow = high.x, high.x, high.x, true, true
	default:
		return
	}
	f.Known = true
}
