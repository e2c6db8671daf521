package extract_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/extract"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

var lib = reference.Default()

func convert(t *testing.T, from, to extract.Method, ec float64) units.SomeEC {
	t.Helper()
	out, ok := extract.Convert(lib, from, to, ec)
	require.True(t, ok, "%s %v to %s", from, ec, to)
	return out
}

// TestConvertBetweenBreakPoints: by hand from the printed columns; 0.5 lies 0.2/0.5 of the way from 0.3 to
// 0.8, so SME 0.8 + 0.4 x 1.2 = 1.28 and pour-through 1.0 + 0.4 x 1.6 = 1.64.
func TestConvertBetweenBreakPoints(t *testing.T) {
	assert.InDelta(t, 1.28, convert(t, extract.OneToTwo, extract.SME, 0.5).Typical, 1e-12)
	assert.InDelta(t, 1.64, convert(t, extract.OneToTwo, extract.PourThrough, 0.5).Typical, 1e-12)
	assert.InDelta(t, 2.75, convert(t, extract.PourThrough, extract.SME, 3.6).Typical, 1e-12, "midway from 2.6 to 4.6: 2.0 to 3.5")
	assert.InDelta(t, 3.5, convert(t, extract.OneToFive, extract.SME, 0.5).Typical, 1e-12, "x 7")
	assert.InDelta(t, 0.5, convert(t, extract.SME, extract.OneToFive, 3.5).Typical, 1e-12)
}

// TestConvertThereAndBack: typical comes back exactly, and the span that comes back holds where it started.
func TestConvertThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 10000 {
		from, to := extract.Methods[r.IntN(4)], extract.Methods[r.IntN(4)]
		ec := 0.8 * r.Float64()
		there := convert(t, from, to, ec)
		assert.LessOrEqual(t, there.Low, there.Typical+1e-12)
		assert.GreaterOrEqual(t, there.High, there.Typical-1e-12)
		back, ok := extract.Convert(lib, to, from, there.Typical)
		if !ok {
			assert.True(t, to.Extreme(lib, there.Typical))
			continue
		}
		if diff := back.Typical - ec; diff > 1e-9 || diff < -1e-9 {
			t.Fatalf("%s %v to %s %v and back %v", from, ec, to, there.Typical, back.Typical)
		}
	}
}

// TestConvertSpread: the other roads of the facts lie within: 2.6 and 3.0 for 1:2, 6.8 and 10 for 1:5, 1.3 for
// pour-through.
func TestConvertSpread(t *testing.T) {
	sme := convert(t, extract.OneToTwo, extract.SME, 1)
	assert.InDelta(t, 2.6, sme.Low, 1e-12, "table 2.6 at 1.0: 2.0 + 0.2/0.5 x 1.5")
	assert.InDelta(t, 3.0, sme.High, 1e-12)
	sme = convert(t, extract.OneToFive, extract.SME, 0.35)
	assert.InDelta(t, 2.38, sme.Low, 1e-12)
	assert.InDelta(t, 3.5, sme.High, 1e-12, "the published pair of 3.5 and 0.35")
	pour := convert(t, extract.SME, extract.PourThrough, 3.5)
	assert.InDelta(t, 4.55, pour.Low, 1e-12)
	assert.InDelta(t, 4.6, pour.High, 1e-12)
	same := convert(t, extract.SME, extract.SME, 9)
	assert.Equal(t, units.SomeEC{Low: 9, Typical: 9, High: 9}, same)
}

func TestNothingBeyondTheTable(t *testing.T) {
	for method, ec := range map[extract.Method]float64{extract.SME: 6, extract.OneToTwo: 2.3, extract.PourThrough: 7.8} {
		for _, to := range extract.Methods {
			_, ok := extract.Convert(lib, method, to, ec)
			assert.True(t, ok)
			_, ok = extract.Convert(lib, method, to, ec+0.01)
			assert.Equal(t, method == to, ok, "%s to %s", method, to)
		}
		assert.False(t, method.Extreme(lib, ec))
		assert.True(t, method.Extreme(lib, ec+0.01))
	}
	assert.True(t, extract.OneToFive.Extreme(lib, 0.9), "0.9 x 7 is above 6")
	assert.False(t, extract.OneToFive.Extreme(lib, 0.85))
}

// TestClasses: an edge belongs to the class above; 1:5 has none; calcium none above optimum.
func TestClasses(t *testing.T) {
	for _, c := range []struct {
		m    extract.Method
		ec   float64
		name string
	}{
		{extract.SME, 0, "low"},
		{extract.SME, 0.75, "acceptable"},
		{extract.SME, 3.49, "optimum"},
		{extract.SME, 5, "very high"},
		{extract.SME, 50, "very high"},
		{extract.OneToTwo, 0.29, "very low"},
		{extract.OneToTwo, 0.3, "low"},
		{extract.OneToTwo, 0.8, "normal"},
		{extract.OneToTwo, 1.8, "very high"},
		{extract.OneToTwo, 2.3, "extreme"},
		{extract.PourThrough, 4.6, "high"},
		{extract.PourThrough, 7.8, "extreme"},
	} {
		got, ok := extract.ClassOf(lib, c.m, c.ec)
		assert.True(t, ok)
		assert.Equal(t, c.name, got.Name, "%s %v", c.m, c.ec)
		assert.NotEmpty(t, got.Lab)
	}
	_, ok := extract.ClassOf(lib, extract.OneToFive, 0.4)
	assert.False(t, ok)
	got, _ := extract.SMEClass(lib, "ca", 9000)
	assert.Equal(t, "optimum", got.Name)
	_, ok = extract.SMEClass(lib, "na", 5)
	assert.False(t, ok)
	for x, name := range map[float64]string{0.05: "low", 0.1: "normal", 0.5: "normal", 0.51: "high"} {
		got, ok := extract.Normal(lib, "b", x)
		assert.True(t, ok)
		assert.Equal(t, name, got.Name, "%v", x)
	}
	_, ok = extract.Normal(lib, "cl", 1)
	assert.False(t, ok)
}

// TestYieldAtTenPercentLoss: the line passes 90 % at a + 10/b, which the fact file prints for each crop.
func TestYieldAtTenPercentLoss(t *testing.T) {
	seen := 0
	for _, crop := range []string{"bean", "carrot", "tomato", "zucchini", "beet", "spinach"} {
		at := func(key string) float64 { return lib.Number("judging", "salinity_table", "rows", crop, key) }
		assert.InDelta(t, 90, extract.Yield(at("loss_10"), at("a"), at("b")), 1.1, crop) // loss_10 is printed with one decimal
		assert.InDelta(t, 90, extract.Yield(at("a")+10/at("b"), at("a"), at("b")), 1e-9, crop)
		seen++
	}
	assert.Equal(t, 6, seen)
}

// TestYieldOfBounds: no EC and no threshold within their ranges leave the bounds.
func TestYieldOfBounds(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 10000 {
		ec, step := 6*r.Float64(), r.Float64()
		b := units.SomeEC{Low: ec, Typical: ec + step/2, High: ec + step}
		a := units.SomeEC{Low: 1, Typical: 2, High: 2.5}
		slope := 5 + 20*r.Float64()
		got := extract.YieldOf(b, a, slope)
		y := extract.Yield(b.Low+step*r.Float64(), a.Low+1.5*r.Float64(), slope)
		if y < got.Low-1e-9 || y > got.High+1e-9 || got.Low < 0 || got.High > 100 {
			t.Fatalf("%v outside %v", y, got)
		}
	}
}

// TestShareBySaltMixesBack: the mix of that share stands at the limit.
func TestShareBySaltMixesBack(t *testing.T) {
	share := extract.ShareBySalt(1, 8, 2.5)
	assert.InDelta(t, 2.5, share*8+(1-share)*1, 1e-12)
	assert.InDelta(t, 1, extract.ShareBySalt(1, 3, 3.5), 0)
	assert.Zero(t, extract.ShareBySalt(4, 8, 3.5), "the rest alone is over the limit")
}

// TestLeaching: by hand, and the requirement applied gives back the fraction.
func TestLeaching(t *testing.T) {
	share, ok := extract.LeachingRequirement(3, 2.5)
	assert.True(t, ok)
	assert.InDelta(t, 3/9.5, share, 1e-12)
	applied := extract.Applied(100, share)
	assert.InDelta(t, share, extract.LeachingFraction(applied-100, applied), 1e-12)
	_, ok = extract.LeachingRequirement(12.5, 2.5)
	assert.False(t, ok)
	_, ok = extract.LeachingRequirement(7, 2.5)
	assert.False(t, ok, "7 / 5.5 is more than all of it")
	assert.InDelta(t, 40, extract.Flush(20, 2), 0)
}
