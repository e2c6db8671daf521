package reference

import (
	"strings"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/sources"
)

// nurseryClasses reads the classes of nursery pots. The span in cubic inches is the class (the standard
// named as its source); litres follow from it.
func (r *reader) nurseryClasses(n *form.Node) []*Container {
	m := n.Fields("source", "classes", "declared_litres", "other")
	declared := m.Need("declared_litres", "").Fields("values", "confidence", "source")
	var out []*Container
	for _, item := range m.Need("classes", "").Items() {
		row := item.Fields("class", "cubic_inches", "litres", "us_gal", "nominal_gallon_litres", "confidence", "note")
		class := r.need(row, "class")
		c := &Container{
			ID: "nursery-class-" + strings.TrimPrefix(class, "#"), Name: "Nursery class " + class,
			Kind: NurseryClass, Note: r.text(row.Get("note")),
		}
		c.Volume = r.spanOrNumber(row.Get("cubic_inches"), measure{"L", "the span of the class"}).scaled(litreCuIn)
		c.Nominal = r.span(nil, row.Get("nominal_gallon_litres"), nil, measure{"L", "as many US gallons as the class number"})
		for _, f := range []*Figure{&c.Volume, &c.Nominal} {
			f.Source, f.Confidence = r.texts(m.Get("source")), r.confidence(row.Get("confidence"))
		}
		c.Nominal.Source, c.Nominal.Confidence = []string{"derived-units"}, sources.Derived
		own := declared.Need("values", "").Mapping().Get(class)
		c.Declared = r.signed(r.span(nil, own, nil, measure{"L", "one nursery's own pot"}), declared)
		out = append(out, c)
	}
	return out
}

// fabricBags reads the sizes of fabric bags: two makers' cylinders for one nominal size, given as a range.
func (r *reader) fabricBags(n *form.Node) []*Container {
	m := n.Fields("confidence", "computed_confidence", "source", "true_share_of_nominal", "sizes")
	var out []*Container
	for _, item := range m.Need("sizes", "").Items() {
		row := item.Fields("nominal_gal", "a", "b", "note")
		size := row.Need("nominal_gal", "").Raw()
		c := &Container{
			ID: "fabric-bag-" + size + "-gal", Name: "Fabric bag, nominal " + size + " gal",
			Kind: FabricBag, Shape: "cylinder", Note: r.text(row.Get("note")),
		}
		c.Top = r.signed(r.makers(row, "d_in", measure{"cm", "across, as the makers say"}), m).scaled(inchCM)
		c.Base = c.Top
		c.Height = r.signed(r.makers(row, "h_in", measure{"cm", "high, as the makers say"}), m).scaled(inchCM)
		c.Volume = r.signed(r.makers(row, "litres", measure{"L", "to the brim"}), m)
		c.Volume.Confidence = r.confidence(m.Get("computed_confidence"))
		c.Nominal = r.signed(r.span(nil, row.Get("nominal_gal"), nil, measure{"L", "as its name says"}), m).scaled(litreUSGal)
		out = append(out, c)
	}
	return out
}

// makers returns the span of one measure over the makers that give it.
func (r *reader) makers(row form.Mapping, key string, in measure) Figure {
	var all []float64
	for _, maker := range []string{"a", "b"} {
		part := r.part(row.Get(maker), "d_in", "h_in", "gal", "litres")
		if x, ok := r.number(part.Get(key)); ok {
			all = append(all, x)
		}
	}
	f := Figure{Unit: in.unit, Basis: in.basis}
	switch len(all) {
	case 1:
		f.fill(ends{}, ends{all[0], true}, ends{})
	case 2:
		f.fill(ends{min(all[0], all[1]), true}, ends{}, ends{max(all[0], all[1]), true})
	}
	return f
}
