package vessel

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/units"
)

var parser = units.Parser{Set: units.US}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text     string
		describe string
		ml       float64
	}{
		{"20 L", "20 L", 20000},
		{"5 gal", "18.9 L", 18927.05892},
		{" 2 cups ", "0.47 L", 473.176473},
		{"a handful", "0.06 L", 59.147059125},
		{"½ uk gal", "2.27 L", 2273.045},
		{"round 30 cm top 24 cm base 28 cm deep", "round, 30 cm across the top, 24 cm at the base, 28 cm deep", 16098.007},
		{"Round 28cm deep 24cm base 30cm TOP", "round, 30 cm across the top, 24 cm at the base, 28 cm deep", 16098.007},
		{"round 30 top 24 base 28 cm deep", "round, 30 cm across the top, 24 cm at the base, 28 cm deep", 16098.007},
		{"round 300 mm top 24 cm base 28 cm deep", "round, 300 mm across the top, 240 mm at the base, 280 mm deep", 16098.007},
		{"round 11 1/4 in top 10 ¼ in base 14 in deep", "round, 11.25 in across the top, 10.25 in at the base, 14 in deep", 20838.0},
		{"round 12 in top", "round, 12 in across the top, the rest a rough guess", 15771.8},
		{"trough 60 x 20 x 18 cm", "trough, 60 × 20 cm at the top, 18 cm deep", 21600},
		{"trough 60x20×18cm", "trough, 60 × 20 cm at the top, 18 cm deep", 21600},
		{"trough 60 cm X 20 cm X 18 cm", "trough, 60 × 20 cm at the top, 18 cm deep", 21600},
		{"trough 2 ft x 8 x 7 in", "trough, 24 × 8 in at the top, 7 in deep", 22024.214},
		{"trough 24 x 8 x 7 in base 22 x 6 in", "trough, 24 × 8 in at the top, 22 × 6 in at the base, 7 in deep", 18506.458},
		{"oval 24 x 16 x 10 in base 20 x 12 in", "oval, 24 × 16 in at the top, 20 × 12 in at the base, 10 in deep", 39812.34},
		{"oval 60 x 40 x 30 cm", "oval, 60 × 40 cm at the top, 30 cm deep", 56548.668},
	} {
		v, err := Parse(c.text, parser)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.describe, v.Describe(), c.text)
		low, high := v.FillVolume()
		assert.InEpsilon(t, c.ml, low, 1e-4, c.text)
		assert.Equal(t, low, high, c.text)
	}
}

func TestParseNurseryClass(t *testing.T) {
	for _, text := range []string{"nursery class 5", "nursery class #5", "Nursery  Class 5"} {
		v, err := Parse(text, parser)
		require.NoError(t, err, text)
		assert.Equal(t, "nursery class 5, 12.9 to 20.4 L", v.Describe())
		assert.True(t, v.Assumed)
		assert.Equal(t, text, v.Text)
	}
}

func TestTopAloneIsARoughGuess(t *testing.T) {
	v, err := Parse("round 12 in top", parser)
	require.NoError(t, err)
	assert.True(t, v.RoughGuess)
	assert.True(t, v.Assumed)
	assert.InDelta(t, 12*2.54, v.TopLength, 1e-9)
	assert.InDelta(t, 9*2.54, v.BaseLength, 1e-9)
	ml, _ := v.FillVolume()
	assert.InDelta(t, 4.17, ml/3785.411784, 0.005)
}

func TestFilledVesselSaysSo(t *testing.T) {
	v, err := Parse("round 15 in top 12 in base 14 in deep", parser)
	require.NoError(t, err)
	v, err = v.WithFill(12 * 2.54)
	require.NoError(t, err)
	assert.Equal(t, "round, 15 in across the top, 12 in at the base, 14 in deep, filled to 12 in", v.Describe())
	_, err = v.WithFill(50)
	assert.EqualError(t, err, "a fill of 19.69 in is above the rim, which is 14 in above the base")
}

// A fault without a message here is one of package units, which words it.
func TestParseFaults(t *testing.T) {
	for _, c := range []struct {
		text    string
		offset  int
		code    string
		message string
		hint    string
	}{
		{"trouh 60 x 20 x 18 cm", 0, "unknown-shape", `"trouh" is not a shape of container`, `did you mean "trough"?`},
		{"bucket", 0, "unknown-shape", `"bucket" is not a shape of container`, `write a volume such as "20 L", or "round", "trough", "oval" or "nursery class" with inside measures`},
		{"square 30 x 30 x 30 cm", 0, "unknown-shape", `"square" is not a shape of container`, `write length x width x depth, such as "trough 60 x 20 x 18 cm"`},
		{"Cylinder 30 cm", 0, "unknown-shape", `"Cylinder" is not a shape of container`, shapes["round"]},
		{"#5", 0, "unknown-shape", `"#" is not a shape of container`, `write "nursery class 5"`},
		{"class 5", 0, "unknown-shape", `"class" is not a shape of container`, `write "nursery class 5"`},
		{"5 gal nursery pot", 6, "nominal-size", `"5 gal nursery pot" names a size of the trade, not a volume`, `measure the litres that it holds, or write "nursery class 5", which is a range`},
		{"12 to 20 L", 0, "volume-range", `a container has one volume, and "12 to 20 L" is a range`, `measure it, and write one volume such as "20 L"`},
		{"20", 0, "no-unit", "", ""},
		{"20 kg", 3, "wrong-dimension", "", ""},
		{"-3 L", 0, "negative-amount", "", ""},
		{"nursery class 6", 14, "unknown-class", `there is no nursery class "6"`, "the classes are 1, 2, 3, 5, 7, 10, 15, 20, 25"},
		{"nursery 5", 8, "bad-class", "a nursery container is named by its class", `write "nursery class 5"`},
		{"nursery class", 8, "bad-class", "a nursery container is named by its class", `write "nursery class 5"`},
		{"round", 5, "no-top", "the diameter of the top is missing", `write "round 30 cm top 24 cm base 28 cm deep"`},
		{"round 30 cm", 6, "no-role", `"30 cm" is neither top, base nor deep`, `write "round 30 cm top 24 cm base 28 cm deep"`},
		{"round 30 cm top 24 cm base", 26, "no-depth", "the depth is missing", `add the inside depth, such as "28 cm deep"`},
		{"round 30 cm top 28 cm deep", 26, "no-base", "the diameter of the base is missing", `add it, such as "24 cm base"; with straight sides it is that of the top`},
		{"round 24 cm base 28 cm deep", 27, "no-top", "the diameter of the top is missing", `write "round 30 cm top 24 cm base 28 cm deep"`},
		{"round 24 cm top 30 cm base 28 cm deep", 16, "wide-base", `the base of "30 cm" is wider than the top`, "write the top first; for a container that narrows upward measure the litres and write them"},
		{"round 30 cm top 24 cm base 0 cm deep", 27, "zero-amount", "", ""},
		{"round 30 cm top 24 cm base -28 cm deep", 27, "negative-amount", "", ""},
		{"round 30 cm top 24 cm base 28 deep", 27, "no-unit", `"28" has no unit`, `write the unit after the last measure, such as "cm"`},
		{"round 30 cm top top 24 cm base", 16, "twice", `"top" stands here twice`, "keep one of the two"},
		{"round 30 cm top base 28 cm deep", 16, "no-number", "a measure is missing here", `write "round 30 cm top 24 cm base 28 cm deep"`},
		{"round 30 kg top 24 cm base 28 cm deep", 9, "wrong-dimension", "", ""},
		{"trough 60 x 20 cm", 17, "no-depth", "the depth is missing", `write length x width x depth, such as "trough 60 x 20 x 18 cm"`},
		{"trough 60 cm", 12, "too-few-measures", "3 measures are needed", `write length x width x depth, such as "trough 60 x 20 x 18 cm"`},
		{"trough", 6, "too-few-measures", "3 measures are needed", `write length x width x depth, such as "trough 60 x 20 x 18 cm"`},
		{"trough 60 x 20 x 18 x 4 cm", 22, "too-many-measures", "4 measures stand here and 3 are needed", `write length x width x depth, such as "trough 60 x 20 x 18 cm"`},
		{"trough 60 x 20 x 18", 17, "no-unit", `"18" has no unit`, `write the unit after the last measure, such as "cm"`},
		{"trough 60 x 20 x 18 cm base 64 x 14 cm", 28, "wide-base", `the base of "64 x 14 cm" is wider than the top`, "write the top first; for a container that narrows upward measure the litres and write them"},
		{"oval 60 x 40 x 30 cm base 50 cm", 31, "too-few-measures", "2 measures are needed", `write length x width of the base, such as "base 54 x 14 cm"`},
		{"oval 60 x 40 x 30 cmm", 18, "unknown-unit", "", ""},
		{"oval 60 × 1,5 × 30 cm", 10, "decimal-comma", "", ""},
		{"", 0, "no-number", "", ""},
	} {
		_, err := Parse(c.text, parser)
		var fault *units.Fault
		require.ErrorAs(t, err, &fault, c.text)
		assert.Equal(t, c.offset, fault.Offset, c.text)
		assert.Equal(t, c.code, fault.Code, c.text)
		require.NotEmpty(t, fault.Hints, c.text)
		if c.message != "" {
			assert.Equal(t, c.message, fault.Message, c.text)
			assert.Equal(t, c.hint, fault.Hints[0], c.text)
		}
	}
}

// Whatever is written, the answer is a container that holds something, or a fault within the text.
func TestParseNeverStumbles(t *testing.T) {
	word := rapid.SampledFrom([]string{
		"round", "trough", "oval", "nursery", "class", "top", "base", "deep", "x", "×", "cm", "in", "L",
		"30", "1/2", "0", "-3", "½", "1,5", "#5", "pot", "é", " ", "  ",
	})
	rapid.Check(t, func(t *rapid.T) {
		text := ""
		for _, w := range rapid.SliceOfN(word, 0, 12).Draw(t, "words") {
			text += w + rapid.SampledFrom([]string{" ", ""}).Draw(t, "gap")
		}
		v, err := Parse(text, parser)
		if err == nil {
			low, high := v.FillVolume()
			assert.Positive(t, low)
			assert.GreaterOrEqual(t, high, low)
			return
		}
		var fault *units.Fault
		require.ErrorAs(t, err, &fault)
		assert.GreaterOrEqual(t, fault.Offset, 0)
		assert.LessOrEqual(t, fault.Offset, len([]rune(text)))
		assert.NotEmpty(t, fault.Message)
	})
}
