package measure

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/units"
)

var allSets = append([]units.Set{units.Label}, units.Sets...)

// drawWanted draws a volume from 1/16 tsp up: on a fine grid of teaspoons, where ties and steps are
// frequent, or any float of millilitres, as geometry gives them.
func drawWanted(t *rapid.T, set units.Set) units.Volume {
	if rapid.Bool().Draw(t, "on the grid") {
		n := rapid.Int64Range(12, 192*48*5).Draw(t, "teaspoons x 192")
		return set.Teaspoon().Times(big.NewRat(n, 192))
	}
	ml := rapid.Float64Range(0.32, 2000).Draw(t, "mL")
	return unit.Times(new(big.Rat).SetFloat64(ml))
}

func drawSet(t *rapid.T) units.Set { return rapid.SampledFrom(allSets).Draw(t, "set") }

// slow is the rule for fine measures read word for word: every sum of terms, in fractions.
func slow(wanted units.Volume, set units.Set) string {
	var best *slowPick
	for _, p := range slowPicks(set) {
		off := new(big.Rat).Sub(p.volume.Over(wanted), big.NewRat(1, 1))
		p.off = off.Abs(off)
		if best == nil || slowBetter(p, *best) {
			best = &p
		}
	}
	return best.text
}

type slowPick struct {
	text   string
	terms  int
	volume units.Volume
	off    *big.Rat
}

func slowBetter(p, q slowPick) bool {
	limit := big.NewRat(6, 100)
	pNear, qNear := p.off.Cmp(limit) <= 0, q.off.Cmp(limit) <= 0
	if pNear != qNear {
		return pNear
	}
	if pNear && p.terms != q.terms {
		return p.terms < q.terms
	}
	if c := p.off.Cmp(q.off); c != 0 {
		return c < 0
	}
	if c := p.volume.Cmp(q.volume); c != 0 {
		return c < 0
	}
	return p.terms < q.terms // slowPicks lists larger units first
}

var slowMemo = map[units.Set][]slowPick{}

// slowPicks lists every sum of a cup term up to 9 cups, a tablespoon term and a teaspoon term, larger
// units first.
func slowPicks(set units.Set) []slowPick {
	if slowMemo[set] != nil {
		return slowMemo[set]
	}
	var cups []string
	for _, whole := range []string{"8", "7", "6", "5", "4", "3", "2", "1"} {
		for _, part := range []string{" 3/4", " 2/3", " 1/2", " 1/3", " 1/4", ""} {
			cups = append(cups, whole+part+" cup")
		}
	}
	cups = append(cups, "3/4 cup", "2/3 cup", "1/2 cup", "1/3 cup", "1/4 cup", "")
	spoons := []string{"3 tbsp", "2 tbsp", "1 tbsp", ""}
	teas := []string{"2 1/2 tsp", "2 tsp", "1 1/2 tsp", "1 tsp", "3/4 tsp", "1/2 tsp", "1/4 tsp", "1/8 tsp", ""}
	var out []slowPick
	for _, c := range cups {
		for _, s := range spoons {
			for _, tea := range teas {
				if p, some := slowSum(set, c, s, tea); some {
					out = append(out, p)
				}
			}
		}
	}
	slowMemo[set] = out
	return out
}

func slowSum(set units.Set, parts ...string) (slowPick, bool) {
	var p slowPick
	for _, part := range parts {
		if part == "" {
			continue
		}
		v, err := units.Parser{Set: set}.Volume(part)
		if err != nil {
			panic(err)
		}
		if p.terms++; p.terms > 1 {
			p.text += " + "
		}
		p.text, p.volume = p.text+part, p.volume.Add(v)
	}
	return p, p.terms > 0
}

// The fast search gives what the rule gives word for word.
func TestFineIsTheRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawSet(t)
		wanted := drawWanted(t, set)
		require.Equal(t, slow(wanted, set), Nearest(wanted, set, Fine).Text)
	})
}

// The text adds up to the volume exactly, holds at most three terms, and its error is what it says.
func TestMeasureHoldsWhatItSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawSet(t)
		wanted := drawWanted(t, set)
		m := Nearest(wanted, set, rapid.SampledFrom([]Rounding{Fine, Household}).Draw(t, "rounding"))
		require.False(t, m.TooSmall)
		sum, err := Volume(m.Text, set)
		require.NoError(t, err)
		require.Zero(t, sum.Cmp(m.Volume), m.Text)
		require.LessOrEqual(t, len(m.pieces), 3)
		require.InDelta(t, 100*(m.Volume.Float()/wanted.Float()-1), m.Error, 1e-9)
	})
}

// From one tablespoon up the error is within the bound. The Australian tablespoon is 4 teaspoons and the
// largest teaspoon term 2 1/2, so gaps stay there up to 3 tablespoons.
func TestFineKeepsTheBound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawSet(t)
		from := set.Tablespoon()
		if set == units.Australian {
			from = from.Times(big.NewRat(3, 1))
		}
		wanted := drawWanted(t, set).Add(from)
		m := Nearest(wanted, set, Fine)
		require.LessOrEqual(t, m.Error, 6.0, m.Text)
		require.GreaterOrEqual(t, m.Error, -6.0, m.Text)
	})
}

// A single term is read back by the reader of values.
func TestSingleTermsReadBack(t *testing.T) {
	for _, set := range allSets {
		for _, p := range slowPicks(set) {
			if p.terms != 1 {
				continue
			}
			m := Nearest(p.volume, set, Fine)
			assert.Zero(t, m.Error, p.text)
			v, err := units.Parser{Set: set}.Volume(m.Text)
			require.NoError(t, err, m.Text)
			assert.Zero(t, v.Cmp(p.volume), p.text)
		}
	}
}

// Twice a whole or half number of cups is twice the cups.
func TestDoublingCups(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawSet(t)
		halves := rapid.Int64Range(1, 400).Draw(t, "half cups")
		once := set.Cup().Times(big.NewRat(halves, 2))
		twice := Nearest(once.Add(once), set, Fine)
		require.Equal(t, mixed(2*halves, 2)+" cup", twice.Text)
		require.Zero(t, twice.Volume.Cmp(Nearest(once, set, Fine).Volume.Times(big.NewRat(2, 1))))
	})
}

// Who wants more never gets less, but for the bound that buys fewer spoons.
func TestMoreIsNotLess(t *testing.T) {
	slack := big.NewRat(106, 94)
	rapid.Check(t, func(t *rapid.T) {
		set := drawSet(t)
		less := drawWanted(t, set)
		more := less.Times(big.NewRat(rapid.Int64Range(1000, 2000).Draw(t, "per mille"), 1000))
		a, b := Nearest(less, set, Fine), Nearest(more, set, Fine)
		require.LessOrEqual(t, a.Volume.Cmp(b.Volume.Times(slack)), 0, "%s, then %s", a.Text, b.Text)
		a, b = Nearest(less, set, Household), Nearest(more, set, Household)
		require.LessOrEqual(t, a.Volume.Cmp(b.Volume), 0, "%s, then %s", a.Text, b.Text)
	})
}

func BenchmarkNearest(b *testing.B) {
	wanted := of(b, units.US, "37.123 mL")
	for b.Loop() {
		Nearest(wanted, units.Metric, Fine)
	}
}
