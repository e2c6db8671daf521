package measure

import (
	"math"
	"math/big"
	"sync"

	"trug/calcblocks/kit/units"
)

// A gauge holds a set's measures in grains of 1/24 teaspoon: the largest unit in which every spoon, every
// quarter and every third of a cup of each set is a whole number. The search for the best measure is
// then whole-number arithmetic, fast and exact.
type gauge struct {
	grain            *big.Rat     // mL
	inFloat          float64      // grain, as nearly as a float tells it
	least            units.Volume // half of the smallest spoon: what is less is weighed
	cup, tbsp, eight int64        // grains in a cup, a tablespoon, 1/8 teaspoon
	written          *sync.Map    // of written by pick: the same few are scooped again and again
}

const grainsPerTeaspoon = 24

var gauges = func() map[units.Set]*gauge {
	all := map[units.Set]*gauge{}
	for _, set := range append([]units.Set{units.Label}, units.Sets...) {
		grain := set.Teaspoon().Times(big.NewRat(1, grainsPerTeaspoon))
		g := &gauge{
			grain: grain.Rat(), inFloat: grain.Float(),
			cup:     set.Cup().Over(grain).Num().Int64(),
			tbsp:    set.Tablespoon().Over(grain).Num().Int64(),
			eight:   grainsPerTeaspoon / 8,
			written: &sync.Map{},
		}
		g.least = g.smallest().Times(big.NewRat(1, 2))
		all[set] = g
	}
	return all
}()

func gaugeOf(set units.Set) *gauge {
	g, ok := gauges[set]
	if !ok {
		panic("measure: no set of measures called " + string(set))
	}
	return g
}

// volume returns grains as a volume.
func (g *gauge) volume(grains *big.Int) units.Volume {
	r := new(big.Rat).SetInt(grains)
	return asVolume(r.Mul(r, g.grain))
}

// asVolume returns the volume of ml millilitres: the unit of every Volume.
func asVolume(ml *big.Rat) units.Volume { return unit.Times(ml) }

// unit is one millilitre, read as an author writes it.
var unit = func() units.Volume {
	v, err := units.Parser{Set: units.Metric}.Volume("1 mL")
	if err != nil {
		panic(err)
	}
	return v
}()

// smallest returns the smallest spoon, 1/8 teaspoon.
func (g *gauge) smallest() units.Volume { return g.volume(big.NewInt(g.eight)) }

// A target is a wanted amount, made ready for comparing whole numbers of grains with it.
type target struct {
	// quarters stands for the wanted amount in quarter grains. Of the fraction of a grain only its order
	// to 0 and 1/2 matters for which of two whole numbers is nearer, so 0, below 1/2, 1/2 and above 1/2
	// become 0, 1, 2 and 3 quarters: distances to quarters compare exactly as the true ones do.
	quarters  int64
	low, high int64 // the grains whose error is at most the bound
}

// bound is the error, in percent, up to which fewer spoons are worth more than a closer measure: a US and a metric
// cup differ by 5.7 %, and densities vary more.
const bound = 6

var boundShare = big.NewRat(bound, 100)

// most is the amount in grains, about 200 cubic metres, beyond which a fraction of a cup means nothing.
const most = 1 << 40

// aim returns the target of a wanted volume, and false when it is beyond all kitchen measures.
func (g *gauge) aim(wanted units.Volume) (target, bool) {
	w := new(big.Rat).Quo(wanted.Rat(), g.grain)
	whole := floor(w)
	if !whole.IsInt64() || whole.Int64() > most {
		return target{}, false
	}
	slack := new(big.Rat).Mul(w, boundShare)
	t := target{
		quarters: 4 * whole.Int64(),
		low:      ceil(new(big.Rat).Sub(w, slack)).Int64(),
		high:     floor(new(big.Rat).Add(w, slack)).Int64(),
	}
	part := new(big.Rat).Sub(w, new(big.Rat).SetInt(whole))
	switch half := part.Cmp(big.NewRat(1, 2)); {
	case part.Sign() == 0:
	case half < 0:
		t.quarters++
	case half == 0:
		t.quarters += 2
	default:
		t.quarters += 3
	}
	return t, true
}

// aimAt is aim in floats. It is sure where nothing that a target tells turns within a millionth of a grain.
func aimAt(w float64) (target, bool) {
	low, high := (100-bound)/100.0*w, (100+bound)/100.0*w
	for _, edge := range [...]float64{2 * w, low, high} { // whole and half grains, and the bound
		if math.Abs(edge-math.Round(edge)) < 1e-6 {
			return target{}, false
		}
	}
	whole := math.Floor(w)
	t := target{quarters: 4*int64(whole) + 1, low: int64(math.Ceil(low)), high: int64(math.Floor(high))}
	if w-whole > 0.5 {
		t.quarters += 2
	}
	return t, w < 1e6
}

// distance orders grains by how far they are from the target.
func (t target) distance(grains int64) int64 { return max(4*grains-t.quarters, t.quarters-4*grains) }

// near says whether the error of grains is within the bound.
func (t target) near(grains int64) bool { return t.low <= grains && grains <= t.high }
