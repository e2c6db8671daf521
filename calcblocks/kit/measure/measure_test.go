package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/units"
)

// of reads a volume as an author writes it, in a set's own measures.
func of(t testing.TB, set units.Set, text string) units.Volume {
	t.Helper()
	v, err := Volume(text, set)
	require.NoError(t, err, text)
	return v
}

// The measures of the golden handbook: amounts in US measures scaled to a size, and the nearest measure
// in each set. 5/16 cup is 60 g of a blend of 96 g a cup, halved.
func TestGoldenMeasures(t *testing.T) {
	for _, c := range []struct {
		wanted     string
		us, metric string
	}{
		{"1/8 cup", "2 tbsp", "2 tbsp"},
		{"1/4 cup", "1/4 cup", "1/4 cup"},
		{"1/2 cup", "1/2 cup", "1/2 cup"},
		{"1 cup", "1 cup", "1 cup"},
		{"1/2 tbsp", "1 1/2 tsp", "1 1/2 tsp"},
		{"1 tbsp", "1 tbsp", "1 tbsp"},
		{"2 tbsp", "2 tbsp", "2 tbsp"},
		{"5/32 cup", "2 tbsp + 1 1/2 tsp", "2 tbsp + 1 1/2 tsp"},
		{"5/16 cup", "1/4 cup + 1 tbsp", "1/4 cup + 2 1/2 tsp"},
		{"5/8 cup", "1/2 cup + 2 tbsp", "1/2 cup + 2 tbsp"},
	} {
		wanted := of(t, units.US, c.wanted)
		us := Nearest(wanted, units.US, Fine)
		assert.Equal(t, c.us, us.Text, c.wanted)
		assert.Zero(t, us.Error, c.wanted)
		assert.Zero(t, us.Volume.Cmp(wanted), c.wanted)
		assert.Equal(t, c.metric, Nearest(wanted, units.Metric, Fine).Text, c.wanted)
	}
}

func TestFine(t *testing.T) {
	for _, c := range []struct {
		set    units.Set
		wanted string
		text   string
		errPct float64
	}{
		{units.US, "1 1/4 cup + 2 tbsp", "1 1/3 cup", -3.0303}, // one term at 3 % beats two exact ones
		{units.US, "1 1/8 cup", "1 cup + 2 tbsp", 0},           // 1 cup is 11 % short
		{units.US, "2 cup", "2 cup", 0},
		{units.US, "3 tsp", "1 tbsp", 0},
		{units.US, "4 tbsp", "1/4 cup", 0},
		{units.US, "2 3/4 tsp", "2 1/2 tsp", -9.0909},        // a tie with 1 tbsp: the smaller
		{units.US, "3/16 tsp", "1/8 tsp", -33.3333},          // a tie with 1/4 tsp: the smaller
		{units.US, "0.3 tsp", "1/4 tsp", -16.6667},           // none within the bound
		{units.US, "1/16 tsp", "1/8 tsp", 100},               // just not too small
		{units.US, "1/4 cup + 1 tbsp + 1 tsp", "1/3 cup", 0}, // 16 tsp
		{units.US, "5 tsp", "1 tbsp + 2 tsp", 0},
		{units.Australian, "15 mL", "2 1/2 tsp", -16.6667}, // its tablespoon is 20 mL: a gap
		{units.Australian, "20 mL", "1 tbsp", 0},
		{units.Australian, "2 us tbsp", "1 tbsp + 2 tsp", 1.4421},
		{units.Metric, "1 us cup", "1 cup", 5.66882}, // the reason for the bound
		{units.UK, "1 us cup", "1 cup", 5.66882},
		{units.Metric, "20 L", "80 cup", 0},
		{units.US, "1000000000000 L", "4226752837730 cup", 0}, // beyond fractions
		{units.US, "33/100 cup", "1/3 cup", 1.0101},
		{units.Metric, "100 mL", "1/3 cup + 1 tbsp", -1.6666667},
		{units.Metric, "7/24 cup", "1/4 cup + 2 tsp", -0.5714286},
	} {
		m := Nearest(of(t, c.set, c.wanted), c.set, Fine)
		assert.Equal(t, c.text, m.Text, "%s %s", c.set, c.wanted)
		assert.InDelta(t, c.errPct, m.Error, 1e-4, "%s %s", c.set, c.wanted)
		assert.False(t, m.TooSmall)
	}
}

func TestTooSmall(t *testing.T) {
	wanted := of(t, units.US, "0.05 tsp")
	m := Nearest(wanted, units.US, Fine)
	assert.Equal(t, "less than 1/8 tsp", m.Text)
	assert.True(t, m.TooSmall)
	assert.Zero(t, m.Volume.Cmp(wanted), "what is to be weighed is what was wanted")
	assert.Zero(t, m.Error)
	assert.True(t, Nearest(wanted, units.US, Household).TooSmall)

	none := Nearest(units.Volume{}, units.US, Fine)
	assert.Equal(t, "none", none.Text)
	assert.Zero(t, none.Volume.Sign())
}

func TestBatch(t *testing.T) {
	for wanted, pots := range map[string]int{
		"0.05 tsp": 3, "1/16 tsp": 2, "1/24 tsp": 3, "1/8 tsp": 1, "1 cup": 1, "0.001 tsp": 125,
		"1/99999999999999 tsp": 1<<31 - 1,
	} {
		assert.Equal(t, pots, Batch(of(t, units.US, wanted), units.US), wanted)
	}
	assert.Equal(t, 1, Batch(units.Volume{}, units.US))
}

func TestRange(t *testing.T) {
	for _, c := range []struct{ low, high, text string }{
		{"1/4 cup", "1/2 cup", "1/4 to 1/2 cup"},
		{"2 tbsp", "1/4 cup", "2 tbsp to 1/4 cup"},
		{"1 tbsp", "1 tbsp", "1 tbsp"},
		{"0.99 tbsp", "1.01 tbsp", "1 tbsp"},
		{"1 tbsp", "2 tbsp + 1 1/2 tsp", "1 tbsp to 2 tbsp + 1 1/2 tsp"},
		{"1/32 tsp", "1/4 tsp", "less than 1/8 tsp to 1/4 tsp"},
		{"1/4 tsp", "1/2 tsp", "1/4 to 1/2 tsp"},
	} {
		low, high := Nearest(of(t, units.US, c.low), units.US, Fine), Nearest(of(t, units.US, c.high), units.US, Fine)
		assert.Equal(t, c.text, Range(low, high))
	}
}

// A range is read back as the two volumes it was written from.
func TestRangeReadsBack(t *testing.T) {
	low, high := Nearest(of(t, units.US, "1/3 cup"), units.US, Fine), Nearest(of(t, units.US, "2 cup"), units.US, Fine)
	amount, err := units.Parser{Set: units.US}.Amount(Range(low, high))
	require.NoError(t, err)
	assert.Zero(t, amount.Low.Volume.Cmp(low.Volume))
	assert.Zero(t, amount.High.Volume.Cmp(high.Volume))
}

func TestVolumeRefusals(t *testing.T) {
	for text, offset := range map[string]int{"1 cup + 2 tbps": 10, "1 cop": 2, "1 cup + ": 8, "1 cup + 0 tsp": 8} {
		_, err := Volume(text, units.US)
		var fault *units.Fault
		require.ErrorAs(t, err, &fault, text)
		assert.Equal(t, offset, fault.Offset, "%s: %s", text, fault.Message)
	}
}

func TestParseRounding(t *testing.T) {
	for _, r := range []Rounding{Fine, Household} {
		got, err := ParseRounding(r.String())
		require.NoError(t, err)
		assert.Equal(t, r, got)
	}
	_, err := ParseRounding("rough")
	var fault *units.Fault
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, `"rough" is not a way of rounding`, fault.Message)
	assert.Equal(t, []string{`write "fine" or "household"`}, fault.Hints)
}

func TestUnknownSetPanics(t *testing.T) {
	assert.Panics(t, func() { Nearest(units.Volume{}, "moon", Fine) })
}
