package layouts

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

func em(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimSuffix(text, "em"), 64)
	require.NoError(t, err)
	return x
}

// The drawn width over the true width is the same for every pot of a row.
func TestPotsShareOneScale(t *testing.T) {
	pots := samplePots()
	scale := rowScale(pots)
	for _, pot := range pots {
		d := drawPot(pot, scale)
		require.NotNil(t, d)
		box := strings.Fields(d.Box)
		perUnit := em(t, d.Width) / em(t, box[2]) * 10
		assert.InEpsilon(t, scale, perUnit, 0.01, pot.Name)
		rim := em(t, d.Rim.RX) * 2 * perUnit / 10
		assert.InEpsilon(t, pot.TopCM*scale, rim, 0.01, pot.Name)
		assert.LessOrEqual(t, rim, rowWidth+0.01)
	}
}

func TestPotWithoutShapeIsNotDrawn(t *testing.T) {
	for _, pot := range []view.Pot{{}, {TopCM: 30, BaseCM: 20}, {TopCM: math.NaN(), BaseCM: 1, HeightCM: 1}, {TopCM: math.Inf(1), BaseCM: 1, HeightCM: 1}} {
		assert.Nil(t, drawPot(pot, 1))
		assert.Nil(t, drawCut("x", pot, nil))
	}
	assert.Empty(t, drawPot(view.Pot{TopCM: 3, BaseCM: 2, HeightCM: 2}, 1).Mix, "nothing is in it")
}

func TestAssumedPotIsDashed(t *testing.T) {
	html := string(printSample(t, ourLayouts(t), view.Doc{Parts: []view.Part{view.Pots{Items: samplePots()[1:3]}}}, Context{}))
	assert.Equal(t, 1, strings.Count(html, `class="pot assumed"`))
	assert.Equal(t, 1, strings.Count(html, "shape assumed"), "a screen reader hears it too")
}

func TestPotWithDimensions(t *testing.T) {
	pot := samplePots()[2]
	pot.Dimensions = true
	text := textOf(parsed(t, string(printSample(t, ourLayouts(t), view.Doc{Parts: []view.Part{view.Pots{Items: []view.Pot{pot}}}}, Context{}))))
	for _, want := range []string{"38 cm", "30 cm", "34", "Mix", "31 cm", "Headspace", "3 cm"} {
		assert.Contains(t, text, want)
	}
}

// However thin the layers are, no label lies on another, and all are on the sheet.
func TestLabelsOfACutDoNotOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pot := view.Pot{TopCM: 40, BaseCM: 30, HeightCM: 30}
		var layers []view.Layer
		from := 0.0
		for range rapid.IntRange(1, 6).Draw(t, "layers") {
			to := from + rapid.Float64Range(0.1, 5).Draw(t, "height")
			layers = append(layers, view.Layer{Kind: "mix", Label: rapid.StringMatching(`[a-z ]{1,60}`).Draw(t, "label"), FromCM: from, ToCM: to})
			from = to
		}
		d := drawCut("x", pot, layers)
		last := 0.0
		for _, layer := range d.Layers {
			for _, line := range layer.Lines {
				y, err := strconv.ParseFloat(line.Y, 64)
				require.NoError(t, err)
				assert.GreaterOrEqual(t, y, last+labelLine-0.2)
				last = y
			}
		}
		tall, err := strconv.ParseFloat(strings.Fields(d.Box)[3], 64)
		require.NoError(t, err)
		assert.Less(t, last, tall)
	})
}

func TestAxisReachesTheMost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		high := rapid.Float64Range(0.001, 1e6).Draw(t, "high")
		step, most := axis([]view.Bar{{Low: 0, High: high}})
		assert.GreaterOrEqual(t, most, high*(1-1e-9))
		marks := most / step
		assert.InDelta(t, math.Round(marks), marks, 1e-6)
		assert.LessOrEqual(t, marks, 5.01)
	})
	step, most := axis(nil)
	assert.Equal(t, [2]float64{1, 1}, [2]float64{step, most})
	_, most = axis([]view.Bar{{High: 2, Need: &view.Band{Low: 3, High: 9}}})
	assert.Equal(t, 10.0, most, "the wanted band is on the sheet")
}

func TestBarSaysEnough(t *testing.T) {
	m := printer{made: map[string]int{}}.bars(sampleBars())
	var enough []string
	for _, row := range m.Rows {
		if row.Enough {
			enough = append(enough, row.Label)
		}
	}
	assert.Equal(t, []string{"N"}, enough)
}

func TestDigits(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 3: "3", 0.12345: "0.123", 12.345: "12.3", 1234.6: "1235", -2.5: "-2.5", 2e-4: "0.0002"} {
		assert.Equal(t, want, digits(x))
	}
	assert.Equal(t, "0", digits(math.NaN()))
}

func TestEndsAndTerms(t *testing.T) {
	for measure, want := range map[string][][]term{
		"1 1/2 cup + 2 tbsp":       {{{"", "1 1/2", "cup"}, {"", "2", "tbsp"}}},
		"1/4 to 1/2 cup":           {{{"", "1/4", ""}}, {{"", "1/2", "cup"}}},
		"2 tbsp to 2 tbsp + 2 tsp": {{{"", "2", "tbsp"}}, {{"", "2", "tbsp"}, {"", "2", "tsp"}}},
		"about ½ tsp":              {{{"about", "½", "tsp"}}},
		"a pinch":                  {{{"a pinch", "", ""}}},
		"":                         nil,
	} {
		assert.Equal(t, want, ends(measure), measure)
	}
}

// What is copied from a listing is what was written.
func TestListingKeepsItsText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`([a-z:#\- "']{0,30}\n){0,5}`).Draw(t, "text")
		var b strings.Builder
		for _, l := range marked(view.Listing{Language: "yaml", Text: text}) {
			b.WriteString(l.Indent + l.Key + l.Rest + l.Remark + "\n")
		}
		assert.Equal(t, text, b.String())
	})
}

func TestDateAndConfidence(t *testing.T) {
	assert.Equal(t, "12 April 2027", date("2027-04-12"))
	assert.Equal(t, "in spring", date("in spring"))
	for _, c := range []sources.Confidence{sources.Checked, sources.SecondHand, sources.Derived, sources.CommonPractice, sources.FromMemory, sources.OwnMeasurement} {
		assert.NotEmpty(t, confidence(c), c)
	}
	assert.Empty(t, confidence("hearsay"))
}
