package reading_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/reading"
)

func TestCases(t *testing.T) { blocktest.Run(t, reading.Kind) }

func compute(body string) blocktest.Output {
	return blocktest.Compute(reading.Kind, blocktest.Input{Body: body, Files: map[string]string{"pots.yaml": "tub: {holds: 20 L}\n"}})
}

// TestRangesHold: ten thousand rates, lime values and tolerances within their published ranges stay within what
// the page says for lime and yield.
func TestRangesHold(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 3))
	out := compute("method: 1:2\nec: 1.1\nph: 5.0\ncontainer: 20 L\ncrop: bush-bean\n")
	require.Empty(t, out.Printed())
	in := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
	for range 10000 {
		grams := 20 * (6.15 - 5) * in(1.5, 5.6) / in(0.85, 1)
		if grams < out.Number("lime_g/low")-1e-9 || grams > out.Number("lime_g/high")+1e-9 {
			t.Fatalf("%v g is outside", grams)
		}
		ec := in(out.Number("ec_range/sme/low"), out.Number("ec_range/sme/high"))
		y := min(100, max(0, 100-19*(ec-1-in(1, 1.5))))
		if y < out.Number("yield_percent_soilless/low")-1e-9 || y > out.Number("yield_percent_soilless/high")+1e-9 {
			t.Fatalf("%v %% is outside", y)
		}
	}
	assert.InDelta(t, 2.9, out.Number("ec/sme"), 1e-9, "0.3/0.5 of the way from 2.0 to 3.5")
	assert.InDelta(t, 2.86, out.Number("ec_range/sme/low"), 1e-9, "2.6 x 1.1")
	assert.InDelta(t, 3.3, out.Number("ec_range/sme/high"), 1e-9, "3.0 x 1.1")
}

// TestSameECByEachUnit: meters print mS/cm, dS/m and µS/cm; a bare number is mS/cm and a huge one is refused.
func TestSameECByEachUnit(t *testing.T) {
	for _, ec := range []string{"1.8", "1.8 mS/cm", "1.8 dS/m", "1800 µS/cm", "1800 uS/cm"} {
		assert.InDelta(t, 1.8, compute("method: sme\nec: "+ec+"\n").Number("ec_measured_ms_cm"), 1e-12, ec)
	}
	out := compute("method: sme\nec: 1800\n")
	require.Len(t, out.Faults, 1)
	assert.Equal(t, "bad-ec", out.Faults[0].Code)
}

// TestVerdict: each edge of salt and pH, and never a verdict on what was not tested.
func TestVerdict(t *testing.T) {
	for body, starts := range map[string]string{
		"method: sme\nec: 1.9\nph: 6.2\n":         "Nothing in this reading stands against",
		"method: sme\nec: 3.49\nph: 6.2\n":        "Nothing in this reading stands against",
		"method: sme\nec: 3.5\nph: 6.2\n":         "Wash this mix first",
		"method: sme\nec: 5.0\nph: 6.2\n":         "Wash this mix first",
		"method: sme\nec: 5.1\nph: 6.2\n":         "Do not plant into this mix",
		"method: 1:2\nec: 2.4\n":                  "Do not plant into this mix",
		"method: sme\nec: 2.1\ncrop: bush-bean\n": "Wash this mix first",
		"ph: 5.4\n":                                     "Put this mix right first",
		"ph: 5.79\n":                                    "Put this mix right first",
		"ph: 6.5\n":                                     "Nothing in this reading",
		"ph: 6.9\n":                                     "Nothing in this reading",
		"ph: 7.1\n":                                     "Put this mix right first",
		"method: sme\nna: 101\n":                        "Wash this mix first",
		"method: sme\nb: 0.8\n":                         "Put this mix right first",
		"method: sme\nec: 4.0\nof: compost\n":           "Wash this compost first",
		"method: 1:5\nec: 0.84\nof: compost\n":          "Wash this compost first",
		"method: sme\nec: 3.9\nof: compost\n":           "Nothing in this reading stands against a share",
		"method: sme\nk: 260\nmg: 40\nca: 300\n":        "Put this mix right first",
		"method: pour-through\nk: 260\nmg: 40\nec: 2\n": "Nothing in this reading",
	} {
		out := compute(body)
		require.Empty(t, out.Printed(), body)
		verdict := string(out.Find("verdict").(data.Text))
		assert.True(t, strings.HasPrefix(verdict, starts), "%s: %s", body, verdict)
		assert.Contains(t, verdict, "says nothing of diseases")
	}
}

// TestClassesOnlyByTheirOwnMethod: a value of another extract gets no class.
func TestClassesOnlyByTheirOwnMethod(t *testing.T) {
	for _, method := range []string{"pour-through", "1:2", "1:5"} {
		out := compute("method: " + method + "\nk: 200\n")
		assert.IsType(t, data.Null{}, out.Find("classes/k"), method)
		assert.Contains(t, out.Cautions(""), "own-method")
	}
	assert.EqualValues(t, "optimum", compute("method: sme\nk: 200\n").Find("classes/k"))
	assert.EqualValues(t, "normal", compute("method: sme\nfe: 1\n").Find("classes/fe"))
}

// TestFact: what the rest of the site learns; what was not tested is missing, and only the saturated extract
// tells what is dissolved.
func TestFact(t *testing.T) {
	out := compute("method: sme\nno3_n: 100\nnh4_n: 20\nk: 0\npot: tub\non: 2027-03-02\n")
	require.Len(t, out.Facts, 1)
	f := out.Facts[0].(facts.Reading)
	assert.Equal(t, "tub", f.Pot)
	assert.Equal(t, 2027, f.On.Year())
	assert.Equal(t, map[string]float64{"no3_n": 100, "nh4_n": 20, "k": 0}, f.MgPerL)
	assert.InDelta(t, 0.096, f.Soluble[reference.N].Typical, 1e-12, "120 mg/L x 0.8 L")
	zero, tested := f.Soluble[reference.K2O]
	assert.True(t, tested)
	assert.Zero(t, zero.Typical)
	_, tested = f.Soluble[reference.P2O5]
	assert.False(t, tested, "not tested is not zero")
	other := compute("method: 1:2\nno3_n: 100\n").Facts[0].(facts.Reading)
	assert.Empty(t, other.Soluble)
	assert.Empty(t, compute("method: sme\nec: 2\nof: compost\n").Facts)
}

// TestLimeByMedium: the picks for peat, dolomite and bark: 1 unit in 10 L at pure lime.
func TestLimeByMedium(t *testing.T) {
	for more, grams := range map[string]float64{
		"medium: peat\n": 25, "medium: used\n": 25, "medium: bark\n": 20, "medium: peat\nlime: dolomitic-lime\n": 30,
	} {
		out := compute("ph: 5.2\ntarget: 6.2\nlime value: 100 %\ncontainer: 10 L\n" + more)
		assert.InDelta(t, grams, out.Number("lime_g/typical"), 1e-9, more)
		assert.InDelta(t, 15, out.Number("lime_g/low"), 1e-9)
		assert.InDelta(t, 56, out.Number("lime_g/high"), 1e-9)
	}
	assert.Zero(t, compute("ph: 6.3\ntarget: 6.2\ncontainer: 20 L\n").Number("lime_g"), "never negative")
	assert.IsType(t, data.Null{}, compute("method: sme\nec: 2\ncontainer: 20 L\n").Find("lime_g"), "no pH, no lime")
}

// TestFlush: twice the pot, and a reader's pot takes its place.
func TestFlush(t *testing.T) {
	for litres := range 40 {
		out := compute(fmt.Sprintf("method: sme\nec: 4\ncontainer: %d L\n", litres+1))
		assert.InEpsilon(t, 2*float64(litres+1), out.Number("flush_litres"), 1e-9)
	}
	asked := blocktest.Compute(reading.Kind, blocktest.Input{Body: "method: sme\nec: 4\n", For: "30 L"})
	assert.InEpsilon(t, 60, asked.Number("flush_litres"), 1e-9)
}

// TestLeachingFaults: what drained is less than what was poured on.
func TestLeachingFaults(t *testing.T) {
	out := compute("ph: 6\napplied: 1 L\ndrained: 1 L\n")
	require.Len(t, out.Faults, 1)
	assert.Equal(t, "drained-too-much", out.Faults[0].Code)
	out = compute("ph: 6\nwater ec: 13\ncrop: tomato\n")
	assert.IsType(t, data.Null{}, out.Find("leaching/required_percent"))
	assert.Contains(t, out.Text(), "none is enough")
}
