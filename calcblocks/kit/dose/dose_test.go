package dose_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/dose"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// shelf returns materials of the reference and of a cupboard.
func shelf(cupboard string) func(id string) *garden.Material {
	var list diag.List
	g := blocktest.Open(map[string]string{"cupboard.yaml": cupboard}, &list)
	if all := list.Sorted(); len(all) > 0 {
		panic(all[0].Message)
	}
	return func(id string) *garden.Material {
		m, ok := g.Material(id)
		if !ok {
			panic("no material " + id)
		}
		return m
	}
}

func grams(x float64) units.SomeMass { return units.SomeMass{Low: x, Typical: x, High: x} }

// TestCToNByCorners holds the ratio of a blend to all corners of its figures: each nitrogen and each ratio at
// its low or high end.
func TestCToNByCorners(t *testing.T) {
	of := shelf("")
	rated := []string{"alfalfa-meal", "feather-meal", "kelp-meal", "soybean-meal", "bone-meal-steamed", "rice-hulls", "coffee-grounds", "worm-castings"}
	rapid.Check(t, func(t *rapid.T) {
		ids := rapid.SliceOfNDistinct(rapid.SampledFrom(rated), 1, 4, rapid.ID).Draw(t, "ids")
		var portions []dose.Portion
		for _, id := range ids {
			low := rapid.Float64Range(1, 100).Draw(t, "grams of "+id)
			more := rapid.Float64Range(0, 0.5).Draw(t, "spread of "+id)
			portions = append(portions, dose.Portion{Material: of(id), Mass: units.SomeMass{Low: low, Typical: low * (1 + more/2), High: low * (1 + more)}})
		}
		got := dose.Add(portions).CToN
		require.True(t, got.Known)
		least, most := corners(portions)
		assert.InEpsilon(t, least, got.Value.Low, 1e-9)
		assert.InEpsilon(t, most, got.Value.High, 1e-9)
		lowest, highest := 1e9, 0.0
		for _, p := range portions {
			lowest, highest = min(lowest, p.Material.CToN().Typical), max(highest, p.Material.CToN().Typical)
		}
		assert.GreaterOrEqual(t, got.Value.Typical, lowest-1e-9, "a blend lies between its parts")
		assert.LessOrEqual(t, got.Value.Typical, highest+1e-9)
		assert.LessOrEqual(t, got.Value.Low, got.Value.Typical+1e-9)
		assert.GreaterOrEqual(t, got.Value.High, got.Value.Typical-1e-9)
	})
}

func corners(portions []dose.Portion) (least, most float64) {
	least = 1e18
	for corner := range 1 << (2 * len(portions)) {
		carbon, nitrogen := 0.0, 0.0
		for i, p := range portions {
			content, ratio := p.Material.Content(reference.N), p.Material.CToN()
			n, r := p.Mass.Low*content.Low/100, ratio.Low
			if corner>>(2*i)&1 == 1 {
				n = p.Mass.High * content.High / 100
			}
			if corner>>(2*i+1)&1 == 1 {
				r = ratio.High
			}
			carbon += n * r
			nitrogen += n
		}
		least, most = min(least, carbon/nitrogen), max(most, carbon/nitrogen)
	}
	return least, most
}

func TestCToNByHand(t *testing.T) {
	of := shelf("own-blend: {name: Own blend, label: {n: 4}, cup weighs: 100 g}\n")
	ratio := func(portions ...dose.Portion) dose.Sum[units.SomeShare] { return dose.Add(portions).CToN }
	// 100 g alfalfa x 2.7 % = 2.7 g N at 16, 20 g feather x 12.5 % = 2.5 g N at 4: (43.2 + 10) / 5.2 = 10.2308.
	alfalfa, feather := dose.Portion{Material: of("alfalfa-meal"), Mass: grams(100)}, dose.Portion{Material: of("feather-meal"), Mass: grams(20)}
	assert.InEpsilon(t, 53.2/5.2, ratio(alfalfa, feather).Value.Typical, 1e-12)
	assert.InEpsilon(t, 16, ratio(alfalfa).Value.Typical, 1e-12)
	// What has no nitrogen, or none that counts, changes nothing.
	for _, id := range []string{"gypsum", "langbeinite", "wood-ash", "oyster-shell-flour"} {
		with := ratio(alfalfa, dose.Portion{Material: of(id), Mass: grams(500)})
		assert.True(t, with.Known, id)
		assert.Empty(t, with.Missing, id)
		assert.InEpsilon(t, 16, with.Value.Typical, 1e-12, id)
	}
	assert.False(t, ratio(dose.Portion{Material: of("gypsum"), Mass: grams(5)}).Known)
	// A blend with nitrogen of unknown ratio is named, and no ratio is given that leaves it out.
	with := ratio(alfalfa, dose.Portion{Material: of("own-blend"), Mass: grams(1)})
	assert.False(t, with.Known)
	assert.Equal(t, []string{"own-blend"}, with.Missing)
}

// TestLime: 10 g of calcitic lime at 95 % and 10 g of cottonseed meal at -10 % are 9.5 - 1 = 8.5 g CaCO3;
// sulfur is -281 %. What is not known is named, and is not neutral.
func TestLime(t *testing.T) {
	of := shelf("")
	lime := func(portions ...dose.Portion) dose.Sum[units.SomeMass] { return dose.Add(portions).Lime }
	calcitic := dose.Portion{Material: of("calcitic-lime"), Mass: grams(10)}
	cottonseed := dose.Portion{Material: of("cottonseed-meal"), Mass: grams(10)}
	assert.InEpsilon(t, 8.5, lime(calcitic, cottonseed).Value.Typical, 1e-12)
	acid := lime(dose.Portion{Material: of("sulfur-powder"), Mass: grams(2)})
	assert.InEpsilon(t, -5.62, acid.Value.Typical, 1e-12)
	assert.LessOrEqual(t, acid.Value.Low, acid.Value.Typical)
	assert.LessOrEqual(t, acid.Value.Typical, acid.Value.High)
	both := lime(calcitic, dose.Portion{Material: of("alfalfa-meal"), Mass: grams(100)})
	assert.Equal(t, []string{"alfalfa-meal"}, both.Missing)
	assert.InEpsilon(t, 9.5, both.Value.Typical, 1e-12)
	assert.False(t, lime(dose.Portion{Material: of("alfalfa-meal"), Mass: grams(100)}).Known)
}

// TestSalt: 1 g of sulfate of potash per litre adds 1.5 to 2.0 mS/cm (judging.yaml, salinity_use); langbeinite
// at salt index 43.2 to 46.1 is 0.93709 of it, alfalfa at 3.5 is 0.075922.
func TestSalt(t *testing.T) {
	of := shelf("")
	ten, _ := units.Parser{Set: units.US}.Volume("10 L")
	salt := func(portions ...dose.Portion) dose.Sum[units.SomeShare] {
		return dose.Salt(portions, ten, reference.Default())
	}
	sulfate := dose.Portion{Material: of("potassium-sulfate"), Mass: grams(10)}
	assert.InEpsilon(t, 1.5, salt(sulfate).Value.Low, 1e-12)
	assert.InEpsilon(t, 1.75, salt(sulfate).Value.Typical, 1e-12)
	assert.InEpsilon(t, 2.0, salt(sulfate).Value.High, 1e-12)
	both := salt(dose.Portion{Material: of("langbeinite"), Mass: grams(20)}, dose.Portion{Material: of("alfalfa-meal"), Mass: grams(50)})
	assert.InEpsilon(t, 1.75*(2*43.2/46.1+5*3.5/46.1), both.Value.Typical, 1e-12)
	kelp := salt(sulfate, dose.Portion{Material: of("kelp-meal"), Mass: grams(50)})
	assert.Equal(t, []string{"kelp-meal"}, kelp.Missing)
	assert.InEpsilon(t, 1.75, kelp.Value.Typical, 1e-12)
}

// TestSumsAreLinear: what is added up in one go is the sum of the portions alone, bound to bound, and twice
// the mass is twice everything.
func TestSumsAreLinear(t *testing.T) {
	of := shelf("alfalfa-meal: {packs: [{holds: 1 kg, price: 3.00}]}\nkelp-meal: {packs: [{holds: 2 kg, price: 14.00}]}\n")
	ids := []string{"alfalfa-meal", "kelp-meal", "calcitic-lime", "yard-compost", "wood-ash"}
	rapid.Check(t, func(t *rapid.T) {
		var portions, twice []dose.Portion
		for _, id := range ids {
			m := grams(rapid.Float64Range(0.1, 500).Draw(t, id))
			portions = append(portions, dose.Portion{Material: of(id), Mass: m})
			twice = append(twice, dose.Portion{Material: of(id), Mass: m.Scale(2)})
		}
		all, double := dose.Add(portions), dose.Add(twice)
		for _, n := range reference.Nutrients {
			var sum units.SomeMass
			for _, p := range portions {
				sum = sum.Add(dose.Nutrient([]dose.Portion{p}, n).Value)
				f := p.Material.Content(n)
				assert.InDelta(t, p.Mass.Typical*f.Typical/100, dose.Nutrient([]dose.Portion{p}, n).Value.Typical, 1e-9)
			}
			assert.InDelta(t, sum.Low, all.Added[n].Value.Low, 1e-9)
			assert.InDelta(t, sum.Typical, all.Added[n].Value.Typical, 1e-9)
			assert.InDelta(t, sum.High, all.Added[n].Value.High, 1e-9)
			assert.InDelta(t, 2*sum.High, double.Added[n].Value.High, 1e-9)
		}
		assert.InEpsilon(t, all.CToN.Value.Typical, double.CToN.Value.Typical, 1e-9, "a ratio does not grow")
		assert.InEpsilon(t, 300*portions[0].Mass.Typical/1000+1400*portions[1].Mass.Typical/2000, all.Cost.Value.Typical, 1e-9)
		assert.Equal(t, []string{"calcitic-lime", "yard-compost", "wood-ash"}, all.Cost.Missing)
	})
}

// TestNothingUnknownIsZero looks at every amendment of the reference and every nutrient.
func TestNothingUnknownIsZero(t *testing.T) {
	of := shelf("")
	unknown := 0
	for _, a := range reference.Default().Amendments {
		p := []dose.Portion{{Material: of(a.ID), Mass: grams(10)}}
		for _, n := range reference.Nutrients {
			sum := dose.Nutrient(p, n)
			assert.Equal(t, a.AsIs(n).Known, sum.Known, "%s %s", a.ID, n)
			if !sum.Known {
				unknown++
				assert.Equal(t, []string{a.ID}, sum.Missing)
			} else {
				assert.NotEmpty(t, sum.Sources, fmt.Sprintf("%s %s", a.ID, n))
			}
		}
	}
	assert.Positive(t, unknown, "the reference does not know everything")
}

// TestMoney: minor units are rounded once, at the end, a half away from zero.
func TestMoney(t *testing.T) {
	for minor, want := range map[float64]float64{63.4: 0.63, 63.5: 0.64, 0: 0, 1250: 12.5} {
		assert.InDelta(t, want, dose.Money(dose.Sum[units.SomeMoney]{Value: units.SomeMoney{Typical: minor}}), 1e-12)
	}
}
