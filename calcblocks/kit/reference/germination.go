package reference

import (
	"trug/calcblocks/kit/form"
)

// GerminationOf returns what is known of the seed of a plant.
func (l *Library) GerminationOf(plant string) (*Germination, bool) {
	return find(l.Germination, plant, func(g *Germination) string { return g.Plant })
}

// germination reads the two lists of soil temperatures by plant.
func (r *reader) germination(m form.Mapping) []*Germination {
	var out []*Germination
	of := func(plant string) *Germination {
		if g, ok := find(out, plant, func(g *Germination) string { return g.Plant }); ok {
			return g
		}
		out = append(out, &Germination{Plant: plant})
		return out[len(out)-1]
	}
	for _, item := range m.Need("realistic_soil_temp_c", "").Items() {
		row := item.Fields("crop", "value", "source", "confidence")
		f := r.span(nil, row.Get("value"), nil, measure{"C", "soil, realistic for sowing or planting"})
		of(r.need(row, "crop")).Realistic = r.signed(f, row)
	}
	for _, item := range m.Need("emergence_days", "").Items() {
		row := item.Fields("crop", "days", "source", "confidence")
		of(r.need(row, "crop")).Emergence = r.emergence(row)
	}
	return out
}

func (r *reader) emergence(row form.Mapping) []Emergence {
	var out []Emergence
	for _, e := range row.Need("days", "").Mapping().Entries {
		t, ok := r.number(e.Key)
		if !ok {
			continue
		}
		f := r.span(nil, e.Value, nil, measure{"days", "from sowing to emergence"})
		out = append(out, Emergence{t, r.signed(f, row)})
	}
	return out
}

// signed gives a figure the source and confidence that stand in its row.
func (r *reader) signed(f Figure, row form.Mapping) Figure {
	if f.Known {
		f.Source, f.Confidence = r.texts(row.Get("source")), r.confidence(row.Get("confidence"))
	}
	return f
}
