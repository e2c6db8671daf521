package renewal

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestTheBalanceCloses(t *testing.T) {
	share := rapid.Float64Range(0, 0.9)
	rapid.Check(t, func(t *rapid.T) {
		fill, settled, compost := rapid.Float64Range(0.1, 1000).Draw(t, "fill"), share.Draw(t, "settled"), share.Draw(t, "compost")
		b := Renew(fill, settled, compost)
		assert.InDelta(t, fill, b.Refilled(), 1e-9)
		assert.InDelta(t, b.Room(), b.Compost+b.NewMix, 1e-9)
		assert.InDelta(t, max(settled, compost), b.FreshShare(), 1e-9)
		assert.Zero(t, min(b.Out, b.NewMix), "never old mix out and new mix in")
	})
}

// TestByDepth: a straight box of 2 L a cm, filled to 20 cm, fallen by 4 cm and emptied by 6 cm more, has room
// for 20 L.
func TestByDepth(t *testing.T) {
	b := Level{Before: 16, After: 10, Refill: 20}.ByDepth(func(cm float64) float64 { return 2 * cm })
	assert.Equal(t, Balance{Fill: 40, Left: 32, Out: 12, Compost: 20}, b)
	assert.Equal(t, b.Fill, b.Refilled())
}

func TestRenew(t *testing.T) {
	assert.Equal(t, Balance{Fill: 40, Left: 36, Out: 6, Compost: 10}, Renew(40, 0.1, 0.25))
	assert.Equal(t, Balance{Fill: 40, Left: 20, Compost: 10, NewMix: 10}, Renew(40, 0.5, 0.25))
}

func TestLoose(t *testing.T) {
	assert.Equal(t, 12.5, Loose(10, 0.8))
}

func TestOriginalLeft(t *testing.T) {
	for _, c := range []struct {
		share   float64
		years   int
		percent float64
	}{{0.25, 3, 42.19}, {0.33, 3, 30.08}, {0.5, 3, 12.5}, {0.25, 0, 100}, {1, 1, 0}} {
		assert.InDelta(t, c.percent, 100*OriginalLeft(c.share, c.years), 0.005)
	}
}

func TestBags(t *testing.T) {
	assert.Equal(t, 3, Bags(42.1, 20))
	assert.Equal(t, 2, Bags(40, 20))
	assert.Equal(t, 3, Bags(0.1+0.2, 0.1), "rounding of the arithmetic buys no bag")
	assert.Equal(t, 0, Bags(0, 20))
	assert.Equal(t, 1, Bags(0.001, 20))
}
