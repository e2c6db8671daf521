// Package renewal is the volume arithmetic of giving a used mix a fresh part: what comes out, what goes
// in, what to buy for it, and what is left of the first mix after some years. Volumes are litres up to the
// fill line unless a name says loose, shares are parts of 1. The formulas are volume balances, derived.
package renewal

import "math"

// A Balance is one renewal. Left - Out + Compost + NewMix = Fill.
type Balance struct {
	Fill    float64 // L, the refilled volume
	Left    float64 // L of old mix before any is taken out
	Out     float64 // L of old mix to take out
	Compost float64 // L of compost to add, firmed
	NewMix  float64 // L of new mix to add, firmed
}

// Renew returns the balance of a renewal: fill is the volume up to the fill line, settled the share of it
// that the level fell, compost the wanted share of compost in the refilled volume. Where the room that
// settling left is too small for the compost, old mix comes out; where it is larger, new mix goes in with it.
func Renew(fill, settled, compost float64) Balance {
	return Balance{
		Fill:    fill,
		Left:    fill * (1 - settled),
		Out:     fill * max(compost-settled, 0),
		Compost: fill * compost,
		NewMix:  fill * max(settled-compost, 0),
	}
}

// A Level is how high the mix stands in a renewal, in cm above the base: before, once old mix is out, and the
// line to fill to.
type Level struct{ Before, After, Refill float64 }

// ByDepth returns the balance of a renewal by measured heights, where litres is the volume up to a height. All
// that goes in counts as compost.
func (l Level) ByDepth(litres func(cm float64) float64) Balance {
	fill, left := litres(l.Refill), litres(l.Before)
	out := left - litres(l.After)
	return Balance{Fill: fill, Left: left, Out: out, Compost: fill - left + out}
}

// Room returns the litres free for fresh material once the old mix is out.
func (b Balance) Room() float64 { return b.Fill - b.Left + b.Out }

// Refilled returns the litres in the pot afterwards; it equals the fill.
func (b Balance) Refilled() float64 { return b.Left - b.Out + b.Compost + b.NewMix }

// FreshShare returns the share of the refilled volume that is compost or new mix.
func (b Balance) FreshShare() float64 { return (b.Compost + b.NewMix) / b.Refilled() }

// Loose returns the loose litres to buy for a firmed volume: firmed / firming, the share that a loose litre takes up
// once it is firmed and watered in (volumes.yaml, packing).
func Loose(firmed, firming float64) float64 { return firmed / firming }

// OriginalLeft returns the share of the first mix that is left after so many renewals, each of which
// replaces the same share of it: (1 - share)^times.
func OriginalLeft(share float64, times int) float64 {
	return math.Pow(1-share, float64(times))
}

// nearly is the part of a bag by which a volume may pass a whole number of bags before one more is
// bought: a billionth, which only rounding of the arithmetic can leave.
const nearly = 1e-9

// Bags returns the number of whole bags for a volume, both in loose litres: part bags are bought whole.
func Bags(litres, holds float64) int {
	return int(math.Ceil(litres/holds - nearly))
}
