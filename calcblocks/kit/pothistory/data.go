package pothistory

import (
	"strconv"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// Tree returns the numbers of a scope: what was added by year, phosphate so far, harvests, what is left of the
// first mix. Each is keyed by pot.
func (h *History) Tree(s Scope) data.Object {
	var added, running, harvests, left data.Object
	for _, pot := range s.Pots {
		a, r := h.addedTree(s, pot)
		added = append(added, data.Field{Key: pot, Value: a})
		running = append(running, data.Field{Key: pot, Value: r})
		harvests = append(harvests, data.Field{Key: pot, Value: h.harvestTree(s, pot)})
		left = append(left, data.Field{Key: pot, Value: h.originalTree(s, pot)})
	}
	return data.Object{
		{Key: "added_g_per_year", Value: added},
		{Key: "running_p2o5_g", Value: running},
		{Key: "yields", Value: harvests},
		{Key: "original_left_percent", Value: left},
	}
}

func (h *History) addedTree(s Scope, pot string) (added, running data.Object) {
	added, running = data.Object{}, data.Object{}
	for _, a := range h.added(s, pot) {
		year := data.Object{}
		for _, n := range reference.Nutrients {
			year = append(year, data.Field{Key: string(n), Value: sumTree(a.Low[n], a.High[n])})
		}
		if len(a.Unweighed) > 0 {
			year = append(year, data.Field{Key: "not_counted", Value: data.Texts(a.Unweighed)})
		}
		key := strconv.Itoa(a.Year)
		added = append(added, data.Field{Key: key, Value: year})
		running = append(running, data.Field{Key: key, Value: sumTree(a.Phosphate.Total[0], a.Phosphate.Total[1])})
	}
	return added, running
}

// sumTree gives the two ends of the amounts at the typical figures (low, high), and the same with the figures'
// own ranges (least, most); null where no material has the figure.
func sumTree(low, high dose.Sum[units.SomeMass]) data.Value {
	out := data.Object{
		{Key: "low", Value: data.Number(low.Value.Typical)},
		{Key: "high", Value: data.Number(high.Value.Typical)},
		{Key: "least", Value: data.Number(min(low.Value.Low, high.Value.Low))},
		{Key: "most", Value: data.Number(max(low.Value.High, high.Value.High))},
	}
	if !low.Known {
		for i := range out {
			out[i].Value = data.Null{}
		}
	}
	if len(high.Missing) > 0 {
		out = append(out, data.Field{Key: "missing", Value: data.Texts(high.Missing)})
	}
	return out
}

func (h *History) harvestTree(s Scope, pot string) data.List {
	out := data.List{}
	for _, r := range h.Harvests(pot) {
		if !s.holds(r.Year) {
			continue
		}
		var kg, perLitre data.Value = data.Null{}, data.Null{}
		if r.Mass.Sign() > 0 {
			kg = data.Number(r.Mass.Float() / 1000)
			if r.Litres[1] > 0 {
				perLitre = data.Pair(r.PerLitre[0], r.PerLitre[1])
			}
		}
		out = append(out, data.Object{
			{Key: "year", Value: data.Number(float64(r.Year))},
			{Key: "crop", Value: data.Text(r.Crop)},
			{Key: "pickings", Value: data.Number(float64(r.Pickings))},
			{Key: "yield_kg", Value: kg},
			{Key: "yield_g_per_litre", Value: perLitre},
		})
	}
	return out
}

func (h *History) originalTree(s Scope, pot string) data.List {
	out := data.List{}
	for _, r := range h.Renewals(pot) {
		if !s.holds(h.growing(r.On)) {
			continue
		}
		var fresh, left data.Value = data.Null{}, data.Null{}
		if r.Fresh.High > 0 {
			fresh = shareTree(r.Fresh)
		}
		if r.Known {
			left = shareTree(r.Left)
		}
		out = append(out, data.Object{
			{Key: "on", Value: data.Text(Day(r.On))}, {Key: "fresh_percent", Value: fresh}, {Key: "left_percent", Value: left},
		})
	}
	return out
}

func shareTree(s units.SomeShare) data.Object { return data.Pair(100*s.Low, 100*s.High) }

// ConflictTree returns conflicts as the JSON contract has them; wait_years is null where waiting is not enough.
func ConflictTree(conflicts []facts.Conflict) data.List {
	out := data.List{}
	for _, c := range conflicts {
		var wait data.Value = data.Null{}
		if !c.Never {
			wait = data.Number(float64(c.Wait))
		}
		out = append(out, data.Object{
			{Key: "pot", Value: data.Text(c.Pot)},
			{Key: "crop", Value: data.Text(c.Crop)},
			{Key: "family", Value: data.TextOrNull(c.Family)},
			{Key: "year", Value: data.Number(float64(c.Year))},
			{Key: "last_year", Value: data.Number(float64(c.LastYear))},
			{Key: "wait_years", Value: wait},
			{Key: "discard", Value: data.Flag(c.Never)},
			{Key: "text", Value: data.Text(c.Text)},
		})
	}
	return out
}
