package measure

import (
	"math/big"
	"strings"

	"trug/calcblocks/kit/units"
)

// A scoop is a pick ready to be written; cups is whole cups of an amount beyond fractions.
type scoop struct {
	pick   pick
	cups   *big.Int
	grains *big.Int
}

func (p pick) scoop() scoop { return scoop{pick: p, grains: big.NewInt(p.grains)} }

// pieces writes the terms in the order cup, tablespoon, teaspoon. Units stay in the singular: they read
// as symbols beside a fraction.
func (s scoop) pieces() []piece {
	if s.cups != nil {
		return []piece{{s.cups.String(), "cup"}}
	}
	var out []piece
	for _, part := range [...]struct {
		n, of int64
		unit  string
	}{{s.pick.twelfths, 12, "cup"}, {s.pick.sixths, 6, "tbsp"}, {s.pick.eighths, 8, "tsp"}} {
		if part.n > 0 {
			out = append(out, piece{mixed(part.n, part.of), part.unit})
		}
	}
	return out
}

// mixed writes n/of as "3", "1/4" or "1 1/4".
func mixed(n, of int64) string {
	whole, rest := big.NewInt(n/of).String(), big.NewRat(n%of, of)
	switch {
	case rest.Sign() == 0:
		return whole
	case n < of:
		return rest.RatString()
	}
	return whole + " " + rest.RatString()
}

// What a scoop reads as and holds.
type written struct {
	text   string
	pieces []piece
	volume units.Volume
	held   units.SomeVolume
}

// write writes a scoop out, once for all who scoop it.
func (g *gauge) write(s scoop) *written {
	if w, ok := g.written.Load(s.pick); ok && s.cups == nil {
		return w.(*written)
	}
	w := &written{pieces: s.pieces(), volume: g.volume(s.grains)}
	w.text, w.held = join(w.pieces), w.volume.Certain()
	if s.cups == nil {
		g.written.Store(s.pick, w)
	}
	return w
}

func join(pieces []piece) string {
	texts := make([]string, len(pieces))
	for i, p := range pieces {
		texts[i] = p.count + " " + p.unit
	}
	return strings.Join(texts, " + ")
}

// Range writes two ends as one text: "1/4 to 1/2 cup", "2 tbsp to 1/4 cup", and one end alone where both
// read the same. The unit of the low end is left out when both are one term of the same unit.
func Range(low, high Measure) string {
	if low.Text == high.Text {
		return low.Text
	}
	first := low.Text
	if len(low.pieces) == 1 && len(high.pieces) == 1 && low.pieces[0].unit == high.pieces[0].unit {
		first = low.pieces[0].count
	}
	return first + " to " + high.Text
}

// Volume adds up a text such as "1 1/4 cup + 2 tbsp" in a set's measures, exactly. Its error is a
// *units.Fault.
func Volume(text string, set units.Set) (units.Volume, error) {
	var total units.Volume
	offset := 0
	for _, term := range strings.Split(text, "+") {
		v, err := units.Parser{Set: set}.Volume(term)
		if fault, ok := err.(*units.Fault); ok && fault != nil {
			return total, fault.At(offset)
		}
		total = total.Add(v)
		offset += len([]rune(term)) + 1
	}
	return total, nil
}
