package garden

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/vessel"
)

// A Pot is one container of the pot file. Several alike have ids with a number: half-barrel-1.
type Pot struct {
	ID     string
	Name   string
	Place  string
	Vessel vessel.Vessel
	Holds  string    // its measured volume as the author wrote it; "" = its shape is told
	Gone   time.Time // the day on which it left; zero = it stands
	At     diag.Position
}

// Words says what the author told of a pot, in the author's own units: its shape, or what it holds.
func (p Pot) Words() string {
	if p.Holds != "" {
		return p.Holds + ", measured"
	}
	return p.Vessel.Describe()
}

// GoneBy says whether a pot is there no more on a day.
func (p Pot) GoneBy(day time.Time) bool { return !p.Gone.IsZero() && p.Gone.Before(day) }

// Standing returns the pots that did not leave. What is left of the others is their history.
func (g *Garden) Standing() []Pot {
	return slices.DeleteFunc(slices.Clone(g.Pots), func(p Pot) bool { return !p.Gone.IsZero() })
}

// A Container is a size that something is computed for: a pot of the pot file, or a shape or volume
// written in place.
type Container struct {
	Text   string // as the author wrote it
	Label  string // "20 L", "Blue tub"
	Pot    string // id of the pot, "" for none
	Vessel vessel.Vessel
}

// Litres returns the fill volume in litres, low and high: they differ for a nursery class.
func (c Container) Litres() (low, high float64) {
	low, high = c.Vessel.FillVolume()
	return low / 1000, high / 1000
}

var kebab = regexp.MustCompile(`^[a-z][a-z0-9]*(?:-[a-z0-9]+)*$`)

// How many pots a handbook has at most, each with a page and a place on others, and for how many sizes something
// is computed, each with all of its amounts.
const (
	mostPots  = 1000
	mostSizes = 60
)

func (g *Garden) readPots(root *form.Node) {
	read := map[string]bool{}
	for _, e := range mappingOf(root) {
		if read[e.Name] {
			continue // a repeated key was reported when the file was read
		}
		read[e.Name] = true
		if !kebab.MatchString(e.Name) {
			badID(e.Key, "blue-tub")
			continue
		}
		g.readPot(e)
		if len(g.Pots) > mostPots {
			e.Key.Fault("too-many-pots", "leave out those that no plan and no diary names", "with these there are more than %d pots", mostPots)
			return
		}
	}
}

// badID reports a key that is no id, with the id that it may become.
func badID(key *form.Node, example string) {
	hint := fmt.Sprintf("use lower-case letters, digits and hyphens, such as %q", example)
	if id := kebabOf(key.Raw()); id != "" {
		hint = fmt.Sprintf("use lower-case letters, digits and hyphens: %q", id)
	}
	key.Fault("bad-id", hint, "%q is not an id", key.Raw())
}

func (g *Garden) readPot(e form.Entry) {
	if e.Value.IsText() && e.Value.Raw() != "" {
		e.Value.Fault("not-mapping", potHint(e, g.Values()), "what a pot is stands behind a key")
		return
	}
	m := e.Value.Fields("name", "shape", "fill", "holds", "count", "place", "gone")
	v, ok := readVessel(m)
	count := valueOr(m.Get("count"), wholeNumber, 1)
	pot := Pot{
		ID: e.Name, Name: textOr(m.Get("name"), e.Name), Place: textOr(m.Get("place"), ""), Vessel: v, Holds: textOr(m.Get("holds"), ""),
		Gone: valueOr(m.Get("gone"), units.ReadDate, time.Time{}), At: e.Key.At(),
	}
	if !ok {
		return
	}
	if count == 1 {
		g.addPot(e.Key, pot)
		return
	}
	for i := range count {
		one := pot
		one.ID, one.Name = fmt.Sprintf("%s-%d", pot.ID, i+1), fmt.Sprintf("%s %d", pot.Name, i+1)
		g.addPot(e.Key, one)
	}
}

// potHint puts the one text of a pot behind the key that it belongs to.
func potHint(e form.Entry, p units.Parser) string {
	if _, err := p.Volume(e.Value.Raw()); err == nil {
		return fmt.Sprintf("write \"%s: {holds: %s}\"", e.Name, e.Value.Raw())
	}
	if _, err := vessel.Parse(e.Value.Raw(), p); err == nil {
		return fmt.Sprintf("write \"%s: {shape: %s}\"", e.Name, e.Value.Raw())
	}
	return "write \"shape: round 38 cm top 30 cm base 34 cm deep\" or \"holds: 20 L\" below it"
}

// addPot adds a pot and reports an id that another has: a count gives ids that a key may give too.
func (g *Garden) addPot(key *form.Node, pot Pot) {
	if before, taken := g.Pot(pot.ID); taken {
		d := diag.Errorf(key.At(), "repeated-pot", "there are two pots %q", pot.ID)
		key.Report(d.Hint("choose another id for one of them").Also(before.At, "the first %q is here", pot.ID))
		return
	}
	g.Pots = append(g.Pots, pot)
}

// readVessel reads the shape with its fill, or the measured volume.
func readVessel(m form.Mapping) (vessel.Vessel, bool) {
	shape, holds, fill := m.Get("shape"), m.Get("holds"), m.Get("fill")
	switch {
	case shape != nil && holds != nil:
		holds.Fault("shape-and-volume", "keep the measured volume, or the shape with \"fill\"", "a pot has a shape or a measured volume, not both")
		return vessel.Vessel{}, false
	case holds != nil && fill != nil:
		fill.Fault("fill-without-shape", "leave \"fill\" out: what it holds is measured up to the fill line", "a measured volume has no fill height")
		return vessel.Vessel{}, false
	case holds != nil:
		v, ok := form.Value(holds, vessel.Size(holds.Values()))
		return vessel.Of(v), ok
	case shape == nil:
		m.Need("shape", "write \"shape: round 38 cm top 30 cm base 34 cm deep\" or \"holds: 20 L\"")
		return vessel.Vessel{}, false
	}
	v, ok := form.Value(shape, func(s string) (vessel.Vessel, error) { return readShape(s, shape.Values()) })
	if !ok || fill == nil {
		return v, ok
	}
	return form.Value(fill, func(s string) (vessel.Vessel, error) {
		height, err := fill.Values().Length(s)
		if err != nil {
			return v, err
		}
		return v.WithFill(height.Float())
	})
}

func wholeNumber(text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 500 {
		return 0, units.Faultf(0, "bad-count", "write a whole number from 1 to 500", "%q is not a count", text)
	}
	return n, nil
}

// Pot returns the pot with an id.
func (g *Garden) Pot(id string) (Pot, bool) {
	i := slices.IndexFunc(g.Pots, func(p Pot) bool { return p.ID == id })
	if i < 0 {
		return Pot{}, false
	}
	return g.Pots[i], true
}

// Container resolves a pot id, a volume or a shape.
func (g *Garden) Container(text string) (Container, error) {
	if pot, ok := g.Pot(text); ok {
		return Container{text, pot.Name, pot.ID, pot.Vessel}, nil
	}
	if kebab.MatchString(text) {
		return Container{}, unknownPot(text, g.Standing(), "add it to pots.yaml, or write a size such as \"20 L\"")
	}
	if pot, ok := g.likelyPot(text); ok {
		return Container{}, units.Faultf(0, "unknown-pot", fmt.Sprintf("write its id, %q", pot.ID), "%q is not the id of a pot", text)
	}
	v, err := readShape(text, g.Values())
	return Container{Text: text, Label: text, Vessel: v}, err
}

// likelyPot returns the pot whose name, or whose id in another case, a text is.
func (g *Garden) likelyPot(text string) (Pot, bool) {
	i := slices.IndexFunc(g.Pots, func(p Pot) bool { return strings.EqualFold(p.Name, text) || strings.EqualFold(p.ID, text) })
	if i < 0 {
		return Pot{}, false
	}
	return g.Pots[i], true
}

// OwnPot resolves a pot id alone: a container that is no pot of the pot file will not do.
func (g *Garden) OwnPot(text string) (Container, error) {
	return g.ownPot(text, g.Standing(), "add it to pots.yaml")
}

// PastPot is OwnPot for what was done: the pot may have left since.
func (g *Garden) PastPot(text string) (Container, error) {
	return g.ownPot(text, g.Pots, "add it to pots.yaml; if it has left, with that day behind \"gone\"")
}

func (g *Garden) ownPot(text string, among []Pot, hint string) (Container, error) {
	if _, known := g.Pot(text); known || !kebab.MatchString(text) {
		return g.Container(text)
	}
	return Container{}, unknownPot(text, among, hint)
}

// unknownPot is the refusal of an id, with the one among the pots that it may have meant.
func unknownPot(id string, among []Pot, hint string) error {
	ids := make([]string, len(among))
	for i, p := range among {
		ids[i] = p.ID
	}
	if near := diag.Closest(id, ids); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	} else if slices.ContainsFunc(ids, func(s string) bool { return strings.HasPrefix(s, id+"-") }) {
		hint = fmt.Sprintf("there are several: write one of them, such as %q", id+"-1")
	}
	return units.Faultf(0, "unknown-pot", hint, "unknown pot %q", id)
}

// Containers resolves a list of containers and reports those that it cannot.
func (g *Garden) Containers(list *form.Node) []Container {
	var out []Container
	items := list.Items()
	if len(items) > mostSizes {
		list.Fault("too-many-sizes", "leave out sizes that are near to others: each pot has its own page with its amounts", "%d sizes stand here, more than %d", len(items), mostSizes)
		return nil
	}
	for _, item := range items {
		c, ok := form.Value(item, g.Container)
		if !ok {
			continue
		}
		if slices.ContainsFunc(out, func(have Container) bool { return have.Label == c.Label }) {
			item.Fault("repeated-size", "keep one of the two", "the size %q stands here twice", c.Label)
			continue
		}
		out = append(out, c)
	}
	return out
}
