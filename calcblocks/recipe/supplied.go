package recipe

import (
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/need"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/supply"
	"trug/calcblocks/kit/units"
)

// supplied is what the crop can take up of a set of portions, at the author's low and high end: nitrogen by
// each of supply.Times, every nutrient over the season.
type supplied struct {
	nitrogen [3][2]dose.Sum[units.SomeMass]
	season   map[reference.Nutrient][2]dose.Sum[units.SomeMass]
}

// supplies works out what becomes available of portions in a mix of the temperature of the recipe.
func (c *computation) supplies(parts [2][]dose.Portion) supplied {
	out := supplied{season: map[reference.Nutrient][2]dose.Sum[units.SomeMass]{}}
	both := func(n reference.Nutrient, at supply.When) [2]dose.Sum[units.SomeMass] {
		return ofBoth(parts, func(p []dose.Portion) dose.Sum[units.SomeMass] {
			return dose.Available(c.pass.Ref, p, n, at, c.celsius)
		})
	}
	for _, at := range supply.Times {
		out.nitrogen[at] = both(reference.N, at)
	}
	out.season[reference.N] = out.nitrogen[supply.Season]
	for _, n := range reference.Nutrients[1:] {
		out.season[n] = both(n, supply.Season)
	}
	return out
}

// wants is what the crop needs in the volume of mix that the recipe is for.
type wants struct {
	bands  []need.Band // of need.Nutrients; nitrogen by the crop's class where nothing better is known
	class  need.Class
	rated  bool // the class is known
	byRate bool // nitrogen is by the class
}

// want works out the need of the recipe's crop: that of its plants where their number is told, else by its
// class for nitrogen alone.
func (c *computation) want() *wants {
	if c.cropOK == nil {
		return nil
	}
	w := &wants{}
	w.class, w.rated = need.ClassOf(c.pass.Ref, c.cropOK)
	if c.plants > 0 {
		w.bands = need.Bands(c.pass.Ref, c.cropOK, float64(c.plants), c.yield)
	} else {
		for _, n := range need.Nutrients {
			w.bands = append(w.bands, need.Band{Nutrient: n, Why: "the number of plants is not told"})
		}
	}
	if n := &w.bands[0]; !n.Known && w.rated {
		litres := c.mix.Float() / 1000
		n.Known, n.Sources = true, w.class.Sources
		n.Need = units.SomeMass{Low: w.class.Low, Typical: w.class.Typical, High: w.class.High}.Scale(litres)
		w.byRate = true
	}
	return w
}

// rates says whether the need of a nutrient is that of the crop's class, so much to a litre.
func (w *wants) rates(n reference.Nutrient) bool { return w.byRate && n == reference.N }

// band returns the need of a nutrient, not known where there is none.
func (w *wants) band(n reference.Nutrient) need.Band {
	if w == nil {
		return need.Band{}
	}
	for _, b := range w.bands {
		if b.Nutrient == n {
			return b
		}
	}
	return need.Band{}
}

// needIn returns the need of a nutrient in a container at its low and high litres: that of its own plants where
// they are told, else in proportion to the mix, as the amounts are.
func (c *computation) needIn(s *scaled, n reference.Nutrient) ([2]units.SomeMass, bool) {
	b := c.wanted.band(n)
	if c.potted && !c.wanted.rates(n) {
		return [2]units.SomeMass{b.Need, b.Need}, b.Known
	}
	var out [2]units.SomeMass
	for e := range 2 {
		out[e] = b.Need.Scale(s.litres[e] * 1000 / c.mix.Float())
	}
	return out, b.Known
}

// availableTree is the nitrogen available by each time, g.
func availableTree(s supplied) data.Object {
	out := data.Object{}
	for _, at := range supply.Times {
		out = append(out, data.Field{Key: at.String(), Value: spanTree(s.nitrogen[at][0], s.nitrogen[at][1])})
	}
	return out
}

// seasonTree is what becomes available of each nutrient over the season, g.
func seasonTree(s supplied) data.Object {
	return nutrientsTree(func(n reference.Nutrient) data.Value { return spanTree(s.season[n][0], s.season[n][1]) })
}

// needTree is what the crop needs in the container, g: low and high of the need's own range.
func (c *computation) needTree(s *scaled) data.Value {
	if c.wanted == nil {
		return data.Null{}
	}
	out := data.Object{}
	for _, n := range need.Nutrients {
		g, known := c.needIn(s, n)
		if !known {
			out = append(out, data.Field{Key: string(n), Value: data.Null{}})
			continue
		}
		out = append(out, data.Field{Key: string(n), Value: data.Object{
			{Key: "low", Value: data.Number(g[0].Low)}, {Key: "high", Value: data.Number(g[1].High)},
		}})
	}
	return out
}

// metTree is the share of the need that the amendments bring over the season, percent: low and high at the
// typical figures, least and most over the ranges of supply and need. The compost is counted apart.
func (c *computation) metTree(s *scaled, out supplied) data.Value {
	if c.wanted == nil {
		return data.Null{}
	}
	tree := data.Object{}
	for _, n := range need.Nutrients {
		met, known := c.met(s, out, n)
		if !known {
			tree = append(tree, data.Field{Key: string(n), Value: data.Null{}})
			continue
		}
		tree = append(tree, data.Field{Key: string(n), Value: spanTree(met[0], met[1])})
	}
	return tree
}

// met returns the percent of the need of a nutrient that is met, at the low and the high end.
func (c *computation) met(s *scaled, out supplied, n reference.Nutrient) (met [2]dose.Sum[units.SomeShare], known bool) {
	g, known := c.needIn(s, n)
	if !known {
		return met, false
	}
	for e, sum := range out.season[n] {
		met[e] = dose.Sum[units.SomeShare]{Known: sum.Known, Missing: sum.Missing, Value: units.Part(sum.Value, g[e]).Scale(100)}
	}
	return met, true
}
