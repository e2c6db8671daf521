package units

import (
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

// FuzzValue reads any text in every way that a value is read. A refusal is a fault with a code, words and a
// place inside the text; what is taken is above zero, finite, and the same when it is printed and read again.
func FuzzValue(f *testing.F) {
	for _, v := range values {
		f.Add(v.text)
	}
	for _, r := range refusals {
		f.Add(r.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if !utf8.ValidString(text) {
			return // refused where the file is read
		}
		for name, read := range readers {
			assertFault(t, name, text, read(text))
		}
		for _, set := range Sets {
			assertAmount(t, Parser{set}, text)
		}
		assertMoney(t, text)
		assertDays(t, text)
	})
}

func assertFault(t *testing.T, reader, text string, err error) {
	if err == nil {
		return
	}
	fault, ok := err.(*Fault)
	require.True(t, ok, "%s: %q: %v is no fault", reader, text, err)
	require.NotEmpty(t, fault.Code)
	require.NotEmpty(t, fault.Message)
	require.NotEmpty(t, fault.Hints, fault.Message)
	require.GreaterOrEqual(t, fault.Offset, 0, "%s: %q: %s", reader, text, fault.Message)
	require.LessOrEqual(t, fault.Offset, utf8.RuneCountInString(text), "%s: %q: %s", reader, text, fault.Message)
}

func assertAmount(t *testing.T, p Parser, text string) {
	a, err := p.Amount(text)
	if err != nil {
		return
	}
	require.Equal(t, a.Low.Weighed, a.High.Weighed)
	low, high := inBase(a.Low), inBase(a.High)
	order := low.Rat().Cmp(high.Rat())
	require.Equal(t, a.Range, order < 0, "%q", text)
	require.LessOrEqual(t, order, 0, "%q", text)
	require.Positive(t, low.Float(), "%q", text)
	require.False(t, math.IsInf(high.Float(), 0), "%q", text)
	assertPrinted(t, p, a)
	padded, err := p.Amount("  " + a.Text + "\u00a0")
	require.NoError(t, err)
	require.Zero(t, padded.High.Volume.Cmp(a.High.Volume), "%q", text)
}

// inBase returns a quantity as a plain number of millilitres or of grams.
func inBase(q Quantity) Volume {
	if q.Weighed {
		return Exactly[volume](q.Mass.Rat())
	}
	return q.Volume
}

// assertPrinted prints an amount in base units, exactly, and reads it again.
func assertPrinted(t *testing.T, p Parser, a Amount) {
	unit := " mL"
	if a.Low.Weighed {
		unit = " g"
	}
	low, high := inBase(a.Low).Rat().RatString(), inBase(a.High).Rat().RatString()
	if len(low) > mostDigits || len(high) > mostDigits {
		return // more digits than an author may write
	}
	printed := high + unit
	if a.Range {
		printed = low + unit + " to " + printed
	}
	again, err := p.Amount(printed)
	require.NoError(t, err, printed)
	require.Zero(t, inBase(again.Low).Cmp(inBase(a.Low)), printed)
	require.Zero(t, inBase(again.High).Cmp(inBase(a.High)), printed)
	require.Equal(t, a.Range, again.Range, printed)
}

func assertMoney(t *testing.T, text string) {
	money, err := ReadMoney(text)
	if err != nil {
		return
	}
	minor := money.Rat()
	require.True(t, minor.IsInt(), "%q is no whole number of the smallest coin", text)
	again, err := ReadMoney(Exactly[struct{}](product(minor, rat("1/100"))).Rat().FloatString(2))
	require.NoError(t, err)
	require.Zero(t, again.Cmp(money), "%q", text)
}

func assertDays(t *testing.T, text string) {
	if date, err := ReadDate(text); err == nil {
		require.Equal(t, text, date.Format("2006-01-02"))
	}
	if when, err := ReadWhen(text); err == nil && when.Event != "" {
		require.True(t, slices.Contains([]string{"spring frost", "autumn frost", "planting", "sowing"}, when.Event))
		again, err := ReadWhen(strings.ToUpper(text))
		require.NoError(t, err)
		require.Equal(t, when, again, "%q", text)
	}
}
