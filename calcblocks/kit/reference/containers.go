package reference

import (
	"strings"

	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

// The kinds of container.
const (
	CommonContainer = "common"
	NurseryClass    = "nursery-class"
	FabricBag       = "fabric-bag"
	BagOfMix        = "bag"
)

// A Container is a common container, a nursery class, a fabric bag or a bag of mix as it is sold.
type Container struct {
	ID, Name, Kind, Shape string
	Volume                Figure // L: to the brim, of a class its whole span, of a bag as declared
	Filled                Figure // L, to the usual fill line
	Nominal               Figure // L that the name seems to say
	Declared              Figure // L that one nursery gives for its own pot of the class
	Top, Base, Height     Figure // cm, inside; Top and Base are diameters
	Length, Width         Figure // cm, inside, at the brim
	BaseLength, BaseWidth Figure // cm, inside
	Note                  string
}

// Exact factors as floats; package units derives them from the inch.
var (
	inchCM     = factor("in")
	litreUSGal = factor("gal") / 1000
	litreCuIn  = factor("cu in") / 1000
)

// factor returns how many base units (mL, g, cm) one of the unit is.
func factor(word string) float64 {
	u, ok := units.Lookup(word, units.US)
	if !ok {
		panic("reference: no unit " + word)
	}
	x, _ := u.Factor.Float64()
	return x
}

func (r *reader) containers(root *form.Node) []*Container {
	m := root.Mapping()
	out := r.commonContainers(m.Need("common_containers", ""))
	out = append(out, r.nurseryClasses(m.Need("nursery_classes", ""))...)
	out = append(out, r.fabricBags(m.Need("fabric_bags", ""))...)
	return append(out, r.bags(m.Need("bags", "").Mapping().Need("sizes", ""))...)
}

var commonKeys = []string{
	"id", "name", "shape", "top", "base", "height", "length", "width", "base_length", "base_width",
	"brim_litres", "brim_us_gal", "nominal_litres", "filled_litres", "filled_to_in",
	"litres_with_2_in_headspace", "cubic_feet", "cubic_yards", "confidence", "note", "source",
}

func (r *reader) commonContainers(n *form.Node) []*Container {
	var out []*Container
	for _, item := range n.Items() {
		out = append(out, r.common(item.Fields(commonKeys...)))
	}
	return out
}

func (r *reader) common(m form.Mapping) *Container {
	c := &Container{
		ID: r.need(m, "id"), Name: r.need(m, "name"), Kind: CommonContainer, Shape: r.need(m, "shape"),
		Note: r.text(m.Get("note")),
	}
	c.Volume = r.contained(m, "brim_litres", "volumes", 1, measure{"L", "to the brim"})
	c.Nominal = r.contained(m, "nominal_litres", "volumes", 1, measure{"L", "as its name says"})
	c.Filled = r.contained(m, "filled_litres", "volumes", 1, measure{"L", "to the usual fill line"})
	if headspace := m.Get("litres_with_2_in_headspace"); headspace != nil {
		c.Filled = r.contained(m, "litres_with_2_in_headspace", "volumes", 1, measure{"L", "to 2 in below the brim"})
	}
	for _, d := range []struct {
		key string
		to  *Figure
	}{
		{"top", &c.Top},
		{"base", &c.Base},
		{"height", &c.Height},
		{"length", &c.Length},
		{"width", &c.Width},
		{"base_length", &c.BaseLength},
		{"base_width", &c.BaseWidth},
	} {
		*d.to = r.contained(m, d.key, "dimensions", inchCM, measure{"cm", "inside"})
	}
	return c
}

// contained reads a number or a list of two as a figure of one of a container's two qualities, and scales
// it.
func (r *reader) contained(m form.Mapping, key, quality string, scale float64, in measure) Figure {
	f := r.spanOrNumber(m.Get(key), in)
	if !f.Known {
		return f
	}
	f.Confidence = r.confidence(m.Need("confidence", "").Mapping().Get(quality))
	if f.Source = r.texts(m.Get("source")); f.Source == nil {
		f.Source = fallback("volumes", f.Confidence)
	}
	return f.scaled(scale)
}

// spanOrNumber reads a number, or a list of low and high.
func (r *reader) spanOrNumber(n *form.Node, in measure) Figure {
	if !n.IsList() {
		return r.span(nil, n, nil, in)
	}
	items := n.Items()
	if len(items) != 2 {
		n.Fault("bad-range", "", "low and high are needed here")
		return Figure{Unit: in.unit, Basis: in.basis}
	}
	return r.span(items[0], nil, items[1], in)
}

// scaled returns the figure in another unit: every number times x.
func (f Figure) scaled(x float64) Figure {
	f.Low, f.Typical, f.High = f.Low*x, f.Typical*x, f.High*x
	return f
}

// bags reads the sizes in which mix is sold.
func (r *reader) bags(n *form.Node) []*Container {
	m := n.Fields("cubic_feet", "dry_quarts", "litres", "confidence", "source")
	var out []*Container
	for _, kind := range []struct{ key, unit, short string }{
		{"cubic_feet", "cu ft", "cu-ft"}, {"dry_quarts", "dry qt", "dry-qt"}, {"litres", "L", "l"},
	} {
		for _, size := range m.Need(kind.key, "").Items() {
			f := r.signed(r.span(nil, size, nil, measure{"L", "as declared on the bag, loose"}), m)
			out = append(out, &Container{
				ID:   "bag-" + strings.ReplaceAll(size.Raw(), ".", "-") + "-" + kind.short,
				Name: "Bag of " + size.Raw() + " " + kind.unit, Kind: BagOfMix,
				Volume: f.scaled(factor(kind.unit) / 1000),
			})
		}
	}
	return out
}
