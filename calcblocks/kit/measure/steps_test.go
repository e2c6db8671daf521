package measure

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/units"
)

// at returns the measure that the steps give for a wanted volume.
func at(steps []Step, wanted units.Volume) Measure {
	var m Measure
	for _, s := range steps {
		if !s.Begins(wanted) {
			break
		}
		m = s.Measure
	}
	return m
}

// The steps are Nearest read from a table: they agree at any volume, and on both sides of every step.
func TestStepsAgreeWithNearest(t *testing.T) {
	for _, set := range units.Sets {
		for _, r := range []Rounding{Fine, Household} {
			steps := Steps(set, r, set.Cup().Times(big.NewRat(60, 1)))
			require.Greater(t, len(steps), 250)
			for i, s := range steps {
				for _, off := range []*big.Rat{big.NewRat(999999, 1000000), big.NewRat(1, 1), big.NewRat(1000001, 1000000)} {
					v := s.From.Times(off)
					if i > 0 || off.Cmp(big.NewRat(1, 1)) >= 0 {
						assert.Equal(t, Nearest(v, set, r).Text, at(steps, v).Text, "%s %s step %d", set, r, i)
					}
				}
			}
			rapid.Check(t, func(t *rapid.T) {
				v := units.Millilitres(rapid.Float64Range(0.4, 12000).Draw(t, "mL"))
				assert.Equal(t, Nearest(v, set, r).Text, at(steps, v).Text)
			})
		}
	}
}

func TestStepsRise(t *testing.T) {
	steps := Steps(units.US, Fine, units.US.Cup().Times(big.NewRat(100, 1)))
	for i := 1; i < len(steps); i++ {
		assert.Positive(t, steps[i].From.Cmp(steps[i-1].From))
		assert.Positive(t, steps[i].Measure.Volume.Cmp(steps[i-1].Measure.Volume))
	}
}

func BenchmarkSteps(b *testing.B) {
	for b.Loop() {
		l := ladder{gauge: gaugeOf(units.US)}
		l.climb(units.US.Cup().Times(big.NewRat(40, 1)))
	}
}
