package compost

import (
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

// entry is one material as the author wrote it. What was not told is nil.
type entry struct {
	key    *form.Node
	name   string
	amount *units.Amount

	density, moisture, carbon, nitrogen, ratio, decays *units.SomeShare

	broken bool // a figure of its own could not be read, which was reported
}

// readEntry reads "10 kg", or a mapping.
func readEntry(key *form.Node, name string, n *form.Node) *entry {
	e := &entry{key: key, name: name}
	if n.IsText() {
		e.amount = readAmount(n)
		return e
	}
	m := n.Fields("weight", "volume", "density", "moisture", "c", "n", "c_to_n", "decays")
	e.readAmounts(m)
	e.moisture = readShares(m.Get("moisture"))
	e.carbon, e.nitrogen, e.decays = readShares(m.Get("c")), readShares(m.Get("n")), readShares(m.Get("decays"))
	if v := m.Get("c_to_n"); v != nil {
		if r, ok := form.Value(v, readRatio); ok {
			e.ratio = &r
		}
		if e.carbon != nil && e.nitrogen != nil {
			v.Fault("one-too-many", "leave one of the three out", "c, n and c_to_n are told, and two of them say the third")
		}
	}
	for key, read := range map[string]bool{"moisture": e.moisture != nil, "c": e.carbon != nil, "n": e.nitrogen != nil, "c_to_n": e.ratio != nil, "density": e.density != nil} {
		e.broken = e.broken || m.Get(key) != nil && !read
	}
	if e.moisture != nil && e.moisture.High >= 1 {
		m.Get("moisture").Fault("all-water", "write a moisture below 100 %", "%q leaves nothing dry", m.Get("moisture").Raw())
	}
	return e
}

func (e *entry) readAmounts(m form.Mapping) {
	weight, volume := m.Get("weight"), m.Get("volume")
	switch {
	case weight != nil && volume != nil:
		volume.Fault("weight-and-volume", "keep the one that you measured", "\"weight\" and \"volume\" both say how much there is")
		e.amount = readAmount(weight)
	case weight != nil:
		e.amount = readAmount(weight)
		if e.amount != nil && !e.amount.Low.Weighed {
			weight.Fault("wrong-dimension", "write a weight such as \"10 kg\", or use \"volume\"", "%q is not a weight", weight.Raw())
			e.amount = nil
		}
	case volume != nil:
		e.amount = readAmount(volume)
		if e.amount != nil && e.amount.Low.Weighed {
			volume.Fault("wrong-dimension", "write a volume such as \"40 L\", or use \"weight\"", "%q is not a volume", volume.Raw())
			e.amount = nil
		}
	}
	if v := m.Get("density"); v != nil {
		if d, ok := form.Value(v, func(text string) (units.SomeShare, error) { return readDensity(v.Values(), text) }); ok {
			e.density = &d
		}
	}
}

func readAmount(n *form.Node) *units.Amount {
	a, ok := form.Value(n, n.Values().Amount)
	if !ok {
		return nil
	}
	return &a
}

func readShares(n *form.Node) *units.SomeShare {
	if n == nil {
		return nil
	}
	s, ok := form.Value(n, func(text string) (units.SomeShare, error) {
		low, high, err := n.Values().Shares(text)
		a, b := low.Float(), high.Float()
		return units.SomeShare{Low: a, Typical: (a + b) / 2, High: b}, err
	})
	if !ok {
		return nil
	}
	return &s
}

// readDensity reads kg for each litre: "0.1 kg/L". Its error is a *units.Fault.
func readDensity(values units.Parser, text string) (units.SomeShare, error) {
	const hint = "write it like \"0.1 kg/L\": weigh a bucket and divide by its litres"
	rate, err := values.Rate(text)
	if fault, ok := err.(*units.Fault); ok && fault != nil && fault.Code != "no-rate" {
		fault.Hints = []string{hint}
		return units.SomeShare{}, fault
	}
	d := rate.Mass.Float() / 1000
	if !rate.Weighed || d < 0.01 || d > 2 {
		return units.SomeShare{}, units.Faultf(0, "bad-density", hint, "%q is not a density of what goes on a heap", text)
	}
	return units.SomeShare{Low: d, Typical: d, High: d}, nil
}
