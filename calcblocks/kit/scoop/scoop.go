// Package scoop is a computed amount of a material as a kitchen measures it: the spoons of every set, or the
// scale, and what they really hold.
package scoop

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/measure"
	"trug/calcblocks/kit/units"
)

// A Scoop is an amount of one material. It is weighed when the weight of a cup is not known or the spoons
// are too coarse; otherwise Mass is what the main set's spoons hold.
type Scoop struct {
	Material *garden.Material
	Wanted   float64 // g asked for
	Weighed  bool
	Volume   units.Volume                  // what the main set's spoons hold; zero when weighed
	Grams    units.Mass                    // what the scale shows; zero when not weighed
	Fill     units.SomeVolume              // mL; zero when the density is not known
	Mass     units.SomeMass                // g
	Measures map[units.Set]measure.Measure // empty when the density is not known
}

// Of returns the nearest measure of so many grams.
func Of(m *garden.Material, grams float64, hb garden.Handbook) Scoop {
	volume, ok := volumeOf(m, grams)
	if !ok {
		return weigh(m, grams, hb)
	}
	return from(m, grams, measure.Spoons(volume, hb.Main, hb.Rounding), hb)
}

// Words returns the nearest measure of so many grams as the main set has it: the Text of Of.
func Words(m *garden.Material, grams float64, hb garden.Handbook) string {
	if volume, ok := volumeOf(m, grams); ok {
		if main := measure.Spoons(volume, hb.Main, hb.Rounding); !main.TooSmall {
			return main.Text
		}
	}
	return weigh(m, grams, hb).Text(hb.Main)
}

// Near returns measures near so many grams that stay themselves when they are measured again, so that they can
// be written down as amounts: at most n within a quarter of what was asked, the nearest first; the one on the
// scale where there is no such measure.
func Near(m *garden.Material, grams float64, n int, hb garden.Handbook) []Scoop {
	volume, ok := volumeOf(m, grams)
	if !ok {
		return []Scoop{weigh(m, grams, hb)}
	}
	var out []Scoop
	for percent := int64(-25); percent <= 25; percent++ {
		near := measure.Spoons(volume.Times(big.NewRat(100+percent, 100)), hb.Main, hb.Rounding)
		again := measure.Spoons(near.Volume, hb.Main, hb.Rounding)
		known := slices.ContainsFunc(out, func(s Scoop) bool { return s.Measures[hb.Main].Text == near.Text })
		if !near.TooSmall && again.Text == near.Text && !known {
			out = append(out, from(m, grams, near, hb))
		}
	}
	if len(out) == 0 {
		return []Scoop{weigh(m, grams, hb)}
	}
	slices.SortStableFunc(out, func(a, b Scoop) int { return cmp.Compare(a.off(), b.off()) })
	return out[:min(n, len(out))]
}

func (s Scoop) off() float64 { return max(s.Mass.Typical-s.Wanted, s.Wanted-s.Mass.Typical) }

// volumeOf returns the volume of so many grams; false where they must be weighed.
func volumeOf(m *garden.Material, grams float64) (units.Volume, bool) {
	d := m.Density()
	if !d.Known || grams <= 0 {
		return units.Volume{}, false
	}
	return units.Millilitres(grams / d.Typical), true
}

func from(m *garden.Material, grams float64, main measure.Measure, hb garden.Handbook) Scoop {
	if main.TooSmall {
		return weigh(m, grams, hb)
	}
	s := Scoop{Material: m, Wanted: grams, Volume: main.Volume, Fill: main.Held, Measures: map[units.Set]measure.Measure{hb.Main: main}}
	s.Mass = units.WeighSome(main.Held, m.Density().Density())
	wanted, _ := volumeOf(m, grams)
	for _, set := range hb.Also {
		s.Measures[set] = measure.Spoons(wanted, set, hb.Rounding)
	}
	return s
}

// weigh rounds to what a kitchen scale shows: whole grams from 10 g, tenths below.
func weigh(m *garden.Material, grams float64, hb garden.Handbook) Scoop {
	steps := int64(1)
	if grams < 10 {
		steps = 10
	}
	n := new(big.Int)
	big.NewFloat(grams*float64(steps) + 0.5).Int(n)
	gram, _ := units.Parser{Set: units.Metric}.Mass("1 g")
	s := Scoop{Material: m, Wanted: grams, Weighed: true, Grams: gram.Times(new(big.Rat).SetFrac(n, big.NewInt(steps))), Measures: map[units.Set]measure.Measure{}}
	s.Mass = s.Grams.Certain()
	if d := m.Density(); d.Known && s.Grams.Sign() > 0 {
		s.Fill = units.Fill(s.Grams, d.Density())
		for _, set := range hb.Sets() {
			s.Measures[set] = measure.Spoons(units.Millilitres(s.Fill.Typical), set, hb.Rounding)
		}
	}
	return s
}

// Error is by how many percent the scoop holds more than was asked.
func (s Scoop) Error() float64 {
	if s.Wanted == 0 {
		return 0
	}
	return 100 * (s.Mass.Typical - s.Wanted) / s.Wanted
}

// Text prints the measure of one set; of a weighed amount it is only about, and "" without a density.
func (s Scoop) Text(set units.Set) string {
	text := s.Measures[set].Text
	if s.Weighed && text != "" {
		return "about " + text
	}
	return text
}

// Amount writes the scoop as an author writes an amount: "1 3/8 cup", or "12.5 g" when weighed. A sum of
// spoons has no such text of its own: it becomes a count of the largest spoon that leaves a short fraction.
func (s Scoop) Amount(set units.Set) string {
	if s.Weighed {
		return decimal(s.Grams.Rat()) + " g"
	}
	if text := s.Measures[set].Text; !strings.Contains(text, "+") {
		return text
	}
	for _, spoon := range []struct {
		unit string
		of   units.Volume
		most int64
	}{{"cup", set.Cup(), 8}, {"tbsp", set.Tablespoon(), 4}, {"tsp", set.Teaspoon(), 24}} {
		if n := s.Volume.Over(spoon.of); n.Denom().IsInt64() && n.Denom().Int64() <= spoon.most {
			return mixed(n) + " " + spoon.unit
		}
	}
	panic("scoop: spoons that hold no whole number of 1/24 teaspoons")
}

// mixed writes 11/8 as "1 3/8".
func mixed(n *big.Rat) string {
	whole := new(big.Int).Quo(n.Num(), n.Denom())
	rest := new(big.Rat).Sub(n, new(big.Rat).SetInt(whole))
	switch {
	case rest.Sign() == 0:
		return whole.String()
	case whole.Sign() == 0:
		return rest.RatString()
	}
	return fmt.Sprintf("%s %s", whole, rest.RatString())
}

func decimal(n *big.Rat) string {
	return strings.TrimSuffix(n.FloatString(1), ".0")
}
