package units

import (
	"math/big"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// values is every form of value that is taken, with the exact result in base units: mL, g, cm, 1, g/L,
// mL/L, minor units. The results were computed from the definitions (inch 2.54 cm, US gallon 231 cubic
// inches, bushel 2150.42 cubic inches, pound 453.59237 g, UK gallon 4546.09 mL) apart from this package.
var values = []struct {
	set           Set
	reader        string
	text, results string
}{
	{US, "amount", "1 cup", "473176473/2000000"},
	{US, "amount", "2 tbsp", "473176473/16000000"},
	{US, "amount", "1 1/2 tsp", "473176473/64000000"},
	{US, "amount", "a handful", "473176473/8000000"},
	{US, "amount", "3 fl oz", "1419529419/16000000"},
	{Metric, "amount", "1 cup", "250"},
	{Metric, "amount", "1/010 cup", "25"},
	{Metric, "amount", "1 09/10 cup", "475"},
	{Metric, "amount", "2 tbsp", "30"},
	{Metric, "amount", "1 1/2 tsp", "15/2"},
	{Metric, "amount", "a handful", "125/2"},
	{UK, "amount", "1 cup", "250"},
	{UK, "amount", "2 tbsp", "30"},
	{UK, "amount", "1 1/2 tsp", "15/2"},
	{UK, "amount", "a handful", "125/2"},
	{UK, "amount", "3 fl oz", "1363827/16000"},
	{Australian, "amount", "1 cup", "250"},
	{Australian, "amount", "2 tbsp", "40"},
	{Australian, "amount", "1 1/2 tsp", "15/2"},
	{Australian, "amount", "a handful", "125/2"},
	{Label, "amount", "1 cup", "240"},
	{Label, "amount", "2 tbsp", "30"},
	{Label, "amount", "1 1/2 tsp", "15/2"},
	{Label, "amount", "a handful", "60"},
	{Label, "amount", "3 fl oz", "90"},
	{Metric, "amount", "1 us cup", "473176473/2000000"},
	{Metric, "amount", "2 US tbsp", "473176473/16000000"},
	{Metric, "amount", "1/8 us tsp", "157725491/256000000"},
	{Metric, "amount", "a us handful", "473176473/8000000"},
	{US, "amount", "1 metric cup", "250"},
	{US, "amount", "2 METRIC tbsp", "30"},
	{US, "amount", "1/8 metric tsp", "5/8"},
	{US, "amount", "a metric handful", "125/2"},
	{US, "amount", "1 uk cup", "250"},
	{US, "amount", "2 UK tbsp", "30"},
	{US, "amount", "1/8 uk tsp", "5/8"},
	{US, "amount", "a uk handful", "125/2"},
	{US, "amount", "1 australian cup", "250"},
	{US, "amount", "2 AUSTRALIAN tbsp", "40"},
	{US, "amount", "1/8 australian tsp", "5/8"},
	{US, "amount", "a australian handful", "125/2"},
	{Metric, "amount", "1 us fl oz", "473176473/16000000"},
	{US, "amount", "1 uk fl oz", "454609/16000"},
	{Metric, "amount", "2 uk fluid ounces", "454609/8000"},
	{Metric, "volume", "20 L", "20000"},
	{Metric, "volume", "20 l", "20000"},
	{Metric, "volume", "20L", "20000"},
	{Metric, "volume", "0.5 litres", "500"},
	{Metric, "volume", "750 mL", "750"},
	{Metric, "volume", "750 ml", "750"},
	{Metric, "volume", "750 millilitres", "750"},
	{Metric, "volume", "2 dL", "200"},
	{Metric, "volume", "50 cl", "500"},
	{Metric, "volume", "100 cm3", "100"},
	{Metric, "volume", "1 m3", "1000000"},
	{Metric, "volume", "5 gal", "473176473/25000"},
	{Metric, "volume", "1 US gallon", "473176473/125000"},
	{Metric, "volume", "2 gallons", "473176473/62500"},
	{Metric, "volume", "1 uk gal", "454609/100"},
	{Metric, "volume", "2 UK gallons", "454609/50"},
	{Metric, "volume", "1 uk quart", "454609/400"},
	{Metric, "volume", "1 uk pint", "454609/800"},
	{Metric, "volume", "1.5 cu ft", "663676092/15625"},
	{Metric, "volume", "2 ft3", "884901456/15625"},
	{Metric, "volume", "1 cubic foot", "442450728/15625"},
	{Metric, "volume", "1 cu yd", "11946169656/15625"},
	{Metric, "volume", "3 cubic yards", "35838508968/15625"},
	{Metric, "volume", "10 cu in", "2048383/12500"},
	{Metric, "volume", "16 dry qt", "220244188543/12500000"},
	{Metric, "volume", "1 dry quart", "220244188543/200000000"},
	{Metric, "volume", "1 liquid qt", "473176473/500000"},
	{Metric, "volume", "2 liquid pints", "473176473/500000"},
	{Metric, "volume", "1 dry pt", "220244188543/400000000"},
	{Metric, "volume", "1 dry gal", "220244188543/50000000"},
	{Metric, "volume", "1 bushel", "220244188543/6250000"},
	{Metric, "volume", "1 peck", "220244188543/25000000"},
	{US, "volume", "½ cup", "473176473/4000000"},
	{US, "volume", "¼ cup", "473176473/8000000"},
	{US, "volume", "¾ cup", "1419529419/8000000"},
	{US, "volume", "⅓ cup", "157725491/2000000"},
	{US, "volume", "⅔ cup", "157725491/1000000"},
	{US, "volume", "⅛ cup", "473176473/16000000"},
	{US, "volume", "⅜ cup", "1419529419/16000000"},
	{US, "volume", "⅝ cup", "473176473/3200000"},
	{US, "volume", "⅞ cup", "3312235311/16000000"},
	{US, "volume", "1/2 cup", "473176473/4000000"},
	{US, "volume", "1 1/2 cup", "1419529419/4000000"},
	{US, "volume", "1 ½ cup", "1419529419/4000000"},
	{US, "volume", "1½ cups", "1419529419/4000000"},
	{US, "volume", "0.25 cup", "473176473/8000000"},
	{US, "volume", "1  1/2   Cups", "1419529419/4000000"},
	{US, "volume", "1\u00a01/2\u00a0cup", "1419529419/4000000"},
	{US, "volume", "A Cup", "473176473/2000000"},
	{US, "volume", "2 CUPS", "473176473/1000000"},
	{US, "volume", "  2 cups ", "473176473/1000000"},
	{US, "volume", "3/2 cup", "1419529419/4000000"},
	{US, "volume", "10 1/4 cup", "19400235393/8000000"},
	{US, "volume", "an us cup", "473176473/2000000"},
	{US, "volume", "2 tablespoons", "473176473/16000000"},
	{US, "volume", "1 teaspoon", "157725491/32000000"},
	{US, "volume", "2 handfuls", "473176473/4000000"},
	{US, "mass", "35 g", "35"},
	{US, "mass", "35g", "35"},
	{US, "mass", "1.2 kg", "1200"},
	{US, "mass", "500 mg", "1/2"},
	{US, "mass", "4 oz", "45359237/400000"},
	{US, "mass", "1 ounce", "45359237/1600000"},
	{US, "mass", "2 lb", "45359237/50000"},
	{US, "mass", "3 lbs", "136077711/100000"},
	{US, "mass", "1/2 pound", "45359237/200000"},
	{US, "mass", "1 short ton", "45359237/50"},
	{US, "mass", "1 tonne", "1000000"},
	{US, "mass", "2 Kilos", "2000"},
	{US, "mass", "1.500 kg", "1500"},
	{US, "length", "5 cm", "5"},
	{US, "length", "2 in", "127/25"},
	{US, "length", "12 inch", "762/25"},
	{US, "length", "1 1/2 inches", "381/100"},
	{US, "length", "1 ft", "762/25"},
	{US, "length", "2 yards", "4572/25"},
	{US, "length", "45 mm", "9/2"},
	{US, "length", "1.2 m", "120"},
	{US, "share", "25 %", "1/4"},
	{US, "share", "25%", "1/4"},
	{US, "share", "100 %", "1"},
	{US, "share", "33 1/3 %", "1/3"},
	{US, "share", "12.5 percent", "1/8"},
	{US, "mass dose", "3 g/L", "3"},
	{US, "mass dose", "3 g / L", "3"},
	{US, "mass dose", "3 g per litre", "3"},
	{US, "mass dose", "5 lb/cu yd", "141747615625/47784678624"},
	{US, "mass dose", "1 oz/gal", "368175625/49161192"},
	{US, "mass dose", "2 kg/m3", "2"},
	{US, "mass dose", "1/2 oz per cubic foot", "28349523125/56633693184"},
	{US, "volume dose", "2 tbsp/gal", "125/16"},
	{US, "volume dose", "10 mL/L", "10"},
	{US, "volume dose", "1 cup/cu ft", "9625/1152"},
	{US, "volume dose", "a handful/gal", "125/8"},
	{US, "money", "4.50", "450"},
	{US, "money", "4", "400"},
	{US, "money", "4.5", "450"},
	{US, "money", "0.99", "99"},
	{US, "money", "1200", "120000"},
}

// exactly reads a text in the way that the reader's name says and returns the exact result.
func exactly(p Parser, reader, text string) (*big.Rat, error) {
	switch reader {
	case "amount":
		a, err := p.Amount(text)
		return a.Low.Volume.Rat(), err
	case "volume":
		v, err := p.Volume(text)
		return v.Rat(), err
	case "mass":
		m, err := p.Mass(text)
		return m.Rat(), err
	case "length":
		l, err := p.Length(text)
		return l.Rat(), err
	case "share":
		s, err := p.Share(text)
		return s.Rat(), err
	case "mass dose":
		r, err := p.Rate(text)
		return r.Mass.Rat(), err
	case "volume dose":
		r, err := p.Rate(text)
		return r.Volume.Rat(), err
	case "money":
		m, err := ReadMoney(text)
		return m.Rat(), err
	}
	panic("no reader " + reader)
}

func TestValues(t *testing.T) {
	require.Greater(t, len(values), 100)
	for _, c := range values {
		got, err := exactly(Parser{c.set}, c.reader, c.text)
		require.NoError(t, err, "%s %s %q", c.set, c.reader, c.text)
		assert.Equal(t, c.results, got.RatString(), "%s %s %q", c.set, c.reader, c.text)
	}
}

var ranges = []struct {
	set             Set
	text, low, high string
}{
	{US, "1/2 to 1 cup", "473176473/4000000", "473176473/2000000"},
	{US, "2 tbsp to 1/4 cup", "473176473/16000000", "473176473/8000000"},
	{US, "1 to 2 tbsp", "473176473/32000000", "473176473/16000000"},
	{US, "½ TO 1 ½ Cups", "473176473/4000000", "1419529419/4000000"},
	{Metric, "2 tbsp to 1/4 cup", "30", "125/2"},
	{US, "10 to 20 g", "10", "20"},
	{US, "500 g to 1.2 kg", "500", "1200"},
	{US, "a handful to 2 cups", "473176473/8000000", "473176473/1000000"},
	{US, "3/4 to 1 metric cup", "375/2", "250"},
	{US, "1 us tbsp to 1 australian tbsp", "473176473/32000000", "20"},
}

func TestRanges(t *testing.T) {
	for _, c := range ranges {
		a, err := Parser{c.set}.Amount(c.text)
		require.NoError(t, err, c.text)
		assert.True(t, a.Range, c.text)
		assert.Equal(t, c.text, a.Text)
		assert.Equal(t, a.Low.Weighed, a.High.Weighed, c.text)
		low, high := a.Low.Volume, a.High.Volume
		if a.Low.Weighed {
			assert.Equal(t, c.low, a.Low.Mass.Rat().RatString(), c.text)
			assert.Equal(t, c.high, a.High.Mass.Rat().RatString(), c.text)
			continue
		}
		assert.Equal(t, c.low, low.Rat().RatString(), c.text)
		assert.Equal(t, c.high, high.Rat().RatString(), c.text)
	}
}

func TestSingleAmountIsNoRange(t *testing.T) {
	a, err := Parser{US}.Amount(" 35 g ")
	require.NoError(t, err)
	assert.False(t, a.Range)
	assert.True(t, a.Low.Weighed)
	assert.Equal(t, "35", a.Low.Mass.Rat().RatString())
	assert.Equal(t, a.Low, a.High)
	assert.Equal(t, "35 g", a.Text)
}

func TestWhen(t *testing.T) {
	april := time.Date(2027, 4, 12, 0, 0, 0, 0, time.UTC)
	for text, want := range map[string]When{
		"2027-04-12":                 {Date: april},
		"spring frost":               {Event: "spring frost"},
		"spring frost + 2 weeks":     {Event: "spring frost", Days: 14},
		"Spring  Frost +2 Weeks":     {Event: "spring frost", Days: 14},
		"spring frost - 10 days":     {Event: "spring frost", Days: -10},
		"autumn frost - 1 week":      {Event: "autumn frost", Days: -7},
		"2 weeks before planting":    {Event: "planting", Days: -14},
		"1 day after sowing":         {Event: "sowing", Days: 1},
		"3 weeks after spring frost": {Event: "spring frost", Days: 21},
	} {
		got, err := ReadWhen(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

func TestMonthDays(t *testing.T) {
	for text, want := range map[string]MonthDay{"04-20": {time.April, 20}, "02-29": {time.February, 29}, "12-31": {time.December, 31}} {
		got, err := ReadMonthDay(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

// Every word of the tables names a unit above zero, in any case; no word stands in two tables.
func TestEveryUnitWord(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range rows {
		for _, w := range r.words {
			assert.False(t, seen[w], "%q stands twice", w)
			seen[w] = true
			u, ok := Lookup(w, Metric)
			assert.True(t, ok, w)
			assert.Positive(t, u.Factor.Sign(), w)
		}
	}
	for _, w := range spoonWords {
		assert.False(t, seen[w], "%q stands in both tables", w)
		_, ok := Lookup(w, US)
		assert.True(t, ok, w)
	}
}
