package heap_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"trug/calcblocks/kit/heap"
	"trug/calcblocks/kit/units"
)

func within(r *rand.Rand, b units.SomeShare) float64 { return b.Low + r.Float64()*(b.High-b.Low) }

func belief(r *rand.Rand, low, high float64) units.SomeShare {
	x := [3]float64{}
	for i := range x {
		x[i] = low + r.Float64()*(high-low)
	}
	a, b := min(x[0], x[1]), max(x[0], x[1])
	return units.SomeShare{Low: a, Typical: (a + b) / 2, High: b}
}

// material draws a material whose figures have ranges.
func material(r *rand.Rand) heap.Material {
	m := heap.Material{
		Kg: belief(r, 0.1, 20), Moisture: belief(r, 0.05, 0.85), Carbon: belief(r, 0.3, 0.5), Nitrogen: belief(r, 0.003, 0.05),
		CToN: belief(r, 8, 120), Known: heap.Analysis(r.IntN(3)),
	}
	return m.Complete()
}

// a drawn is one material with every figure settled.
type drawn struct{ kg, moisture, c, n float64 }

func draw(r *rand.Rand, m heap.Material) drawn {
	d := drawn{kg: within(r, m.Kg), moisture: within(r, m.Moisture)}
	switch m.Known {
	case heap.NitrogenAndRatio:
		d.n = within(r, m.Nitrogen)
		d.c = d.n * within(r, m.CToN)
	case heap.CarbonAndRatio:
		d.c = within(r, m.Carbon)
		d.n = d.c / within(r, m.CToN)
	default:
		d.c, d.n = within(r, m.Carbon), within(r, m.Nitrogen)
	}
	return d
}

func ratio(all []drawn) (cn, moisture float64) {
	var c, n, water, kg float64
	for _, d := range all {
		c, n = c+d.kg*d.c*(1-d.moisture), n+d.kg*d.n*(1-d.moisture)
		water, kg = water+d.kg*d.moisture, kg+d.kg
	}
	return c / n, water / kg
}

func holds(t *testing.T, b units.SomeShare, x float64, what string) {
	t.Helper()
	slack := 1e-9 * (1 + max(x, -x))
	if x < b.Low-slack || x > b.High+slack {
		t.Fatalf("%s: %v lies outside %v", what, x, b)
	}
}

// TestBoundsHold: no draw of figures within their ranges leaves the bounds of the ratio, of the moisture, of
// what a material ties up, of the water to add.
func TestBoundsHold(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for range 500 {
		var all []heap.Material
		var nutrients, water []heap.Item
		for range 2 + r.IntN(3) {
			m := material(r)
			all, nutrients, water = append(all, m), append(nutrients, m.Nutrients()), append(water, m.Water())
		}
		cn, moisture := heap.Ratio(nutrients...), heap.Ratio(water...)
		decayed := belief(r, 0, 1)
		tied, add := heap.TiedUp(nutrients[0], 24, decayed), heap.WaterToAdd(0.6, all...)
		for range 20 {
			var d []drawn
			short := 0.0
			for _, m := range all {
				one := draw(r, m)
				d = append(d, one)
				short += one.kg * (0.6 - one.moisture) / 0.4
			}
			x, g := ratio(d)
			holds(t, cn, x, "C:N")
			holds(t, moisture, g, "moisture")
			holds(t, units.SomeShare(tied), 1000*d[0].kg*(1-d[0].moisture)*(d[0].c/24-d[0].n)*within(r, decayed), "tied up")
			holds(t, add, max(short, 0), "water")
		}
	}
}

// TestBoundsAreReached: the ends are those of some corner of the box, found by trying all of them.
func TestBoundsAreReached(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for range 200 {
		items := []heap.Item{{belief(r, 1, 9), belief(r, 1, 9), belief(r, 1, 9)}, {belief(r, 1, 9), belief(r, 1, 9), belief(r, 1, 9)}}
		low, high := 1e9, 0.0
		for corner := range 64 {
			end := func(k int, b units.SomeShare) float64 {
				if corner>>k&1 == 1 {
					return b.High
				}
				return b.Low
			}
			var top, bottom float64
			for i, item := range items {
				w := end(3*i, item.Weight)
				top, bottom = top+w*end(3*i+1, item.Top), bottom+w*end(3*i+2, item.Bottom)
			}
			low, high = min(low, top/bottom), max(high, top/bottom)
		}
		got := heap.Ratio(items...)
		assert.InEpsilon(t, low, got.Low, 1e-9)
		assert.InEpsilon(t, high, got.High, 1e-9)
	}
}

// TestSolveMultipliesBack: the amount solved for brings the blend to the goal, in every draw within bounds.
func TestSolveMultipliesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 19))
	reached, drawnAll := 0, 0
	for range 1000 {
		rest, last := []heap.Material{material(r), material(r)}, material(r)
		goal := 15 + 40*r.Float64()
		items := []heap.Item{rest[0].Nutrients(), rest[1].Nutrients()}
		a := heap.Solve(items, last.One().Nutrients(), goal)
		if a.Reached {
			reached++
			typical := func(m heap.Material, kg float64) drawn {
				m = m.Complete()
				c, n := m.Carbon.Typical, m.Nitrogen.Typical
				return drawn{kg, m.Moisture.Typical, c, n}
			}
			x, _ := ratio([]drawn{typical(rest[0], rest[0].Kg.Typical), typical(rest[1], rest[1].Kg.Typical), typical(last, a.Kg.Typical)})
			assert.InEpsilon(t, goal, x, 1e-9)
		}
		for range 10 {
			d0, d1, d2 := draw(r, rest[0]), draw(r, rest[1]), draw(r, last)
			above := func(d drawn) float64 { return d.kg * (1 - d.moisture) * (d.c - goal*d.n) }
			d2.kg = 1
			kg := (above(d0) + above(d1)) / -above(d2)
			if kg < 0 || a.Open {
				continue
			}
			drawnAll++
			holds(t, a.Kg, kg, "amount")
		}
	}
	assert.Greater(t, reached, 200)
	assert.Greater(t, drawnAll, 2000)
}

// TestSolveOutOfReach: both materials below the goal leave it out of reach, and so does a material that sits
// on the goal itself.
func TestSolveOutOfReach(t *testing.T) {
	grass := heap.Material{Kg: heap.Sure(10), Moisture: heap.Sure(0.77), Carbon: heap.Sure(0.45), Nitrogen: heap.Sure(0.024)}
	leaves := heap.Material{Moisture: heap.Sure(0.35), Carbon: heap.Sure(0.50), Nitrogen: heap.Sure(0.0075)}
	a := heap.Solve([]heap.Item{grass.Nutrients()}, leaves.One().Nutrients(), 15)
	assert.False(t, a.Reached)
	assert.Zero(t, a.Kg.Typical)
	a = heap.Solve([]heap.Item{grass.Nutrients()}, grass.One().Nutrients(), 18.75)
	assert.False(t, a.Reached)
	a = heap.Solve([]heap.Item{grass.Nutrients()}, leaves.One().Nutrients(), 30)
	assert.InDelta(t, 3.474126, a.Kg.Typical, 5e-7)
	assert.Equal(t, a.Kg.Low, a.Kg.High)
	// moisture: 10 kg of 77 % and Q of 35 % at 60 %: Q = 10 x 17 / 25 = 6.8
	b := heap.Solve([]heap.Item{grass.Water()}, leaves.One().Water(), 0.60)
	assert.InEpsilon(t, 6.8, b.Kg.Typical, 1e-12)
}

// TestWaterToAdd: 10 kg at 20 % hold 8 kg dry; at 60 % those go with 12 kg of water, 10 more than 2.
func TestWaterToAdd(t *testing.T) {
	m := heap.Material{Kg: heap.Sure(10), Moisture: heap.Sure(0.2)}
	assert.InDelta(t, 10, heap.WaterToAdd(0.6, m).Typical, 1e-12)
	m.Moisture = heap.Sure(0.7)
	assert.Zero(t, heap.WaterToAdd(0.6, m).Typical)
	assert.InDelta(t, 3, m.Dry().Typical, 1e-12)
}
