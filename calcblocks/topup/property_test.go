package topup_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/renewal"
	"trug/calcblocks/topup"
)

// A tub is a pot with straight sides, in cm, and how high it is filled.
type tub struct {
	shape                                      string // round, trough or oval
	topLength, topWidth, baseLength, baseWidth float64
	depth, fill                                float64
	settled, take, leave, fresh, screened      float64 // cm and percent; negative = not written
	with                                       string
}

func (p tub) text() string {
	if p.shape == "round" {
		return fmt.Sprintf("round %.2f cm top %.2f cm base %.2f cm deep", p.topLength, p.baseLength, p.depth)
	}
	return fmt.Sprintf("%s %.2f x %.2f x %.2f cm base %.2f x %.2f cm", p.shape, p.topLength, p.topWidth, p.depth, p.baseLength, p.baseWidth)
}

func (p tub) body() string {
	body := "pot: it\nwith: " + p.with + "\n"
	for _, f := range []struct {
		key, unit string
		x         float64
	}{{"settled", "cm", p.settled}, {"take", "cm", p.take}, {"leave", "cm", p.leave}, {"fresh", "%", p.fresh}, {"screened", "%", p.screened}} {
		if f.x >= 0 {
			body += fmt.Sprintf("%s: %.2f %s\n", f.key, f.x, f.unit)
		}
	}
	return body
}

func (p tub) pots() string {
	return fmt.Sprintf("it: {shape: %s, fill: %.2f cm}\n", p.text(), p.fill)
}

// slices returns the litres between two heights as the sum of thin slices, each as wide as the pot is half
// way up it: the second road, without a formula for the whole.
func (p tub) slices(from, to float64) float64 {
	const n = 400
	sum, thick := 0.0, (to-from)/n
	for i := range n {
		up := (from + (float64(i)+0.5)*thick) / p.depth
		length := p.baseLength + (p.topLength-p.baseLength)*up
		width := p.baseWidth + (p.topWidth-p.baseWidth)*up
		area := length * width
		if p.shape != "trough" {
			area *= math.Pi / 4
		}
		sum += area * thick
	}
	return sum / 1000
}

// cents rounds to the two decimals that an author's text has.
func cents(x float64) float64 { return math.Round(x*100) / 100 }

func randomTub(r *rand.Rand) tub {
	between := func(low, high float64) float64 { return cents(low + r.Float64()*(high-low)) }
	p := tub{shape: []string{"round", "trough", "oval"}[r.IntN(3)], topLength: between(10, 90), depth: between(10, 60), settled: -1, take: -1, leave: -1, fresh: -1, screened: -1}
	taper := 0.4 + 0.6*r.Float64()
	p.topWidth, p.baseLength = p.topLength, cents(p.topLength*taper)
	p.baseWidth = p.baseLength
	if p.shape != "round" {
		p.topWidth = between(8, 60)
		p.baseWidth = cents(p.topWidth * (0.4 + 0.6*r.Float64()))
	}
	p.fill = cents(p.depth * (0.7 + 0.3*r.Float64()))
	if r.IntN(3) > 0 {
		p.settled = cents(0.01 + p.fill*0.3*r.Float64())
	}
	if r.IntN(3) == 0 {
		p.leave = cents(0.01 + 0.2*p.depth*r.Float64())
	}
	switch r.IntN(3) {
	case 0:
		p.take = cents(0.01 + p.fill*0.5*r.Float64())
	case 1:
		p.fresh = between(1, 100)
	}
	if r.IntN(2) == 0 {
		p.screened = between(20, 100)
	}
	p.with = []string{"yard-compost", "worm-castings", "mix"}[r.IntN(3)]
	return p
}

// TestTenThousandPots renews random pots, and holds each answer to the balance, to slices and to the sums.
func TestTenThousandPots(t *testing.T) {
	for seed := range uint64(4) {
		t.Run(fmt.Sprintf("seed %d", seed), func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(2027, seed))
			full := 0
			for range 2_500 {
				if renew(t, randomTub(r)) {
					full++
				}
			}
			assert.Less(t, full, 500, "most pots have room")
		})
	}
}

// renew renews one pot and says whether it was too full for anything to fit.
func renew(t *testing.T, p tub) (full bool) {
	out := blocktest.Compute(topup.Kind, blocktest.Input{Files: map[string]string{"pots.yaml": p.pots()}, Body: p.body()})
	if len(out.Faults) > 0 {
		require.Equal(t, "no-room", out.Faults[0].Code, "%s\n%s", p.pots(), out.Printed())
		line, surface := p.heights()
		require.GreaterOrEqual(t, surface-max(p.take, 0), line-1e-9, "a pot with room was refused")
		return true
	}
	require.True(t, p.check(t, out), "%s%s", p.pots(), p.body())
	return false
}

// check returns false once something is wrong.
func (p tub) check(t *testing.T, out blocktest.Output) bool {
	n := out.Number
	firmed, mix := n("compost_litres/firmed"), n("mix_litres/firmed")
	fill, left, gone, room := n("fill_litres"), n("left_litres"), n("old_mix_out_litres"), n("room_litres")
	line, surface := p.heights()
	ok := assert.InDelta(t, fill, left-gone+firmed+mix, 1e-9*fill, "left - out + compost + mix = fill")
	ok = ok && assert.InDelta(t, room, firmed+mix, 1e-9*fill, "what goes in is what has room")
	ok = ok && assert.InEpsilon(t, p.slices(0, line), fill, 1e-4, "the line to fill to")
	ok = ok && assert.InEpsilon(t, p.slices(0, surface), left, 1e-4, "the old mix")
	ok = ok && assert.InEpsilon(t, 100*room/fill, n("fresh_share_percent"), 1e-9)
	ok = ok && assert.GreaterOrEqual(t, gone, 0.0) && assert.LessOrEqual(t, gone, left*(1+1e-9))
	switch {
	case p.take >= 0:
		ok = ok && assert.InEpsilon(t, p.slices(surface-p.take, surface), gone, 1e-4, "by slices")
	case p.fresh >= 0:
		want := renewal.Renew(fill, 1-left/fill, p.fresh/100)
		ok = ok && assert.InDelta(t, want.Out, gone, 1e-9*fill) && assert.InDelta(t, want.Compost+want.NewMix, firmed+mix, 1e-9*fill)
		if p.with != "mix" {
			ok = ok && assert.InDelta(t, want.Compost, firmed, 1e-9*fill)
		}
	default:
		ok = ok && assert.Zero(t, gone, "nothing was asked out")
	}
	if p.with == "mix" {
		ok = ok && assert.Zero(t, firmed)
	}
	return ok && p.checkBuying(t, out, firmed, mix) && checkYears(t, out)
}

// heights returns the line to fill to and how high the old mix stands.
func (p tub) heights() (line, surface float64) {
	line = p.fill
	if p.leave >= 0 {
		line = p.depth - p.leave
	}
	switch {
	case p.settled >= 0:
		return line, p.fill - p.settled
	case p.take >= 0:
		return line, p.fill
	}
	return line, 0.85 * p.fill // volumes.yaml, settling_percent_of_fill_height: 15 % by default
}

// checkBuying: loose is firmed / 0.80 (0.645 to 0.952), what must be sieved is more, and the bags are enough
// while one fewer is not.
func (p tub) checkBuying(t *testing.T, out blocktest.Output, firmed, mix float64) bool {
	n := out.Number
	ok := assert.InDelta(t, firmed/0.80, n("compost_litres/loose"), 1e-9*(firmed+1))
	ok = ok && assert.InDelta(t, firmed/0.952, n("compost_litres/loose_least"), 1e-9*(firmed+1))
	ok = ok && assert.InDelta(t, firmed/0.645, n("compost_litres/loose_most"), 1e-9*(firmed+1))
	sieve := firmed / 0.80
	if p.screened >= 0 {
		sieve /= p.screened / 100
	}
	ok = ok && assert.InDelta(t, sieve, n("compost_before_screen_litres"), 1e-9*(sieve+1))
	bags, _ := out.Find("bags").(data.List)
	ok = ok && assert.NotEmpty(t, bags)
	for i := range bags {
		holds, count := n(fmt.Sprintf("bags/%d/holds_litres", i+1)), n(fmt.Sprintf("bags/%d/count", i+1))
		least := fewest(sieve, holds) + fewest(mix/0.80, holds)
		ok = ok && assert.InDelta(t, least, count, 0, "bags of %v L for %v and %v L", holds, sieve, mix/0.80)
	}
	return ok
}

// fewest counts bags one by one until they hold the litres, but for a rounding of the arithmetic.
func fewest(litres, holds float64) float64 {
	n := 0.0
	for n*holds < litres-1e-6*holds {
		n++
	}
	return n
}

// checkYears: each renewal leaves the same share of what was there, counted step by step.
func checkYears(t *testing.T, out blocktest.Output) bool {
	left, ok := 100.0, true
	for year := 1; year <= 5; year++ {
		left -= left * out.Number("fresh_share_percent") / 100
		ok = ok && assert.InDelta(t, left, out.Number(fmt.Sprintf("original_left_percent/%d", year)), 1e-9)
	}
	return ok
}
