package season_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/units"
)

func day(text string) time.Time {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return t
}

// made writes a file of minima: a year's wave, coldest in mid January (July in the south), that crosses 0 C
// on no day by itself, and a frost on the named days.
func made(first, last int, south bool, frosts ...string) string {
	var b strings.Builder
	b.WriteString("# made for a test\ndate,tmin_c\n")
	cold := map[string]bool{}
	for _, f := range frosts {
		cold[f] = true
	}
	for d := day(fmt.Sprintf("%d-01-01", first)); d.Year() <= last; d = d.AddDate(0, 0, 1) {
		turn := 15.0
		if south {
			turn += 182
		}
		low := 10 - 8*math.Cos(2*math.Pi*(float64(d.YearDay())-turn)/365.25)
		if text := d.Format(time.DateOnly); cold[text] {
			low = -0.5
		}
		fmt.Fprintf(&b, "%s,%.1f\n", d.Format(time.DateOnly), low)
	}
	return b.String()
}

func read(t require.TestingT, text string) *season.Record {
	var found diag.List
	r := season.Read(diag.NewFile("frost.csv", text), found.Report)
	require.Empty(t, found.Sorted())
	return r
}

func frost(r *season.Record, side season.Side) season.Frost {
	return r.Frost(side, season.RulesOf(reference.Default(), r, 0))
}

// TestFrostsThatArePutIn: the dates that were written into the file come out, north and south.
func TestFrostsThatArePutIn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		south := rapid.Bool().Draw(t, "south")
		springs, autumns := []string{}, []string{}
		for y := 2000; y < 2012; y++ {
			spring, autumn := day(fmt.Sprintf("%d-04-20", y)), day(fmt.Sprintf("%d-10-20", y))
			if south {
				spring, autumn = day(fmt.Sprintf("%d-09-20", y)), day(fmt.Sprintf("%d-05-10", y))
			}
			jitter := func(label string) int { return rapid.IntRange(-15, 15).Draw(t, label) }
			springs = append(springs, spring.AddDate(0, 0, jitter("spring")).Format(time.DateOnly))
			autumns = append(autumns, autumn.AddDate(0, 0, jitter("autumn")).Format(time.DateOnly))
		}
		r := read(t, made(2000, 2011, south, append(springs, autumns...)...))
		require.Equal(t, south, r.South())
		for side, want := range map[season.Side][]string{season.Spring: springs, season.Autumn: autumns} {
			f := frost(r, side)
			var got []string
			for _, d := range f.Dates {
				got = append(got, d.Format(time.DateOnly))
			}
			require.Equal(t, want, got, side.String())
			require.Equal(t, 12, f.Years)
			require.Empty(t, f.Dropped)
		}
	})
}

// TestYearsWithoutFrostCount: a whole year without a minimum at or below 0 C counts, and brings no date.
func TestYearsWithoutFrostCount(t *testing.T) {
	r := read(t, made(2000, 2003, false, "2000-03-10", "2001-03-12", "2003-03-14", "2000-11-20"))
	f := frost(r, season.Spring)
	assert.Equal(t, 4, f.Years)
	assert.Equal(t, []float64{69, 71, 73}, f.Days)
}

// TestLeapDays: 29 February shifts nothing: 1 March is 60 in every year.
func TestLeapDays(t *testing.T) {
	for year := 1999; year < 2009; year++ {
		assert.Equal(t, 60, season.DayOf(day(fmt.Sprintf("%d-03-01", year))))
		assert.Equal(t, 365, season.DayOf(day(fmt.Sprintf("%d-12-31", year))))
	}
	assert.Equal(t, 59, season.DayOf(day("2004-02-29")))
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 365).Draw(t, "day")
		back := season.MonthDayOf(n)
		require.Equal(t, n, season.DayOf(season.In(2004, back)))
		require.Equal(t, back, season.MonthDayOf(n-365), "a day of the year before is the same day")
		require.Equal(t, back, season.MonthDayOf(n+365))
	})
	assert.Equal(t, day("2027-02-28"), season.In(2027, units.MonthDay{Month: 2, Day: 29}))
}

// TestGapsDropYears: a year with more than 5 of the 40 days around the mean missing is left out; with 5 it
// stays. Days far from the frost date cost nothing.
func TestGapsDropYears(t *testing.T) {
	whole := made(2000, 2005, false, "2000-04-18", "2001-04-20", "2002-04-22", "2003-04-19", "2004-04-21", "2005-04-20")
	without := func(from, to string) season.Frost {
		var kept []string
		for _, line := range strings.Split(whole, "\n") {
			if date, _, _ := strings.Cut(line, ","); len(date) != 10 || date < from || date > to {
				kept = append(kept, line)
			}
		}
		return frost(read(t, strings.Join(kept, "\n")), season.Spring)
	}
	assert.Equal(t, 6, without("2002-04-23", "2002-04-27").Years, "five days")
	six := without("2002-04-23", "2002-04-28")
	assert.Equal(t, 5, six.Years, "six days")
	require.Len(t, six.Dropped, 1)
	assert.Equal(t, []int{2002, 6}, []int{six.Dropped[0].Year, six.Dropped[0].Missing})
	assert.Equal(t, 6, without("2002-06-01", "2002-08-20").Years, "days in summer")
	assert.Equal(t, 5, without("2002-04-01", "2002-12-31").Years, "a year that stops in winter")
	r := read(t, strings.Replace(whole, "2003-05-02,", "2003-05-02,\n#", 1))
	require.Len(t, r.Gaps(), 1)
	assert.Equal(t, 1, r.Gaps()[0].Days())
	assert.Equal(t, day("2003-05-02"), r.Gaps()[0].From)
}

// TestMildWinters: a last frost in December counts to the year that follows.
func TestMildWinters(t *testing.T) {
	r := read(t, made(2000, 2004, false, "2000-12-28", "2002-01-05", "2002-12-30", "2004-01-02"))
	f := frost(r, season.Spring)
	assert.Equal(t, []float64{-3, 5, -1, 2}, f.Days)
	a := frost(r, season.Autumn)
	assert.Equal(t, []float64{362, 370, 364, 367}, a.Days)
}

// TestFahrenheit: the threshold is turned, not the data.
func TestFahrenheit(t *testing.T) {
	r := read(t, "date,tmin_f\n2026-04-01,36\n2026-04-02,37\n")
	assert.InDelta(t, 36, r.Threshold(20.0/9), 1e-12)
	assert.InDelta(t, 32, r.Threshold(0), 1e-12)
	assert.True(t, r.Fahrenheit)
}

// TestBothReadings: they agree while no temperature lies below the base, and differ when the night does: 70
// and 40 on a base of 50 are 5 by the mean and 10 with the night clamped (McMaster and Wilhelm 1997).
func TestBothReadings(t *testing.T) {
	each := season.Warmth{Base: 50, Reading: season.EachClamped}
	assert.Equal(t, 5.0, season.Warmth{Base: 50}.Day(40, 70))
	assert.Equal(t, 10.0, each.Day(40, 70))
	most := 86.0
	capped := season.Warmth{Base: 50, Cap: &most, Reading: season.EachClamped}
	assert.Equal(t, 36.0, capped.Day(90, 110), "a day is worth 36 at most")
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-20, 100).Draw(t, "low")
		high := low + rapid.Float64Range(0, 40).Draw(t, "more")
		mean, both := season.Warmth{Base: 50}.Day(low, high), each.Day(low, high)
		require.GreaterOrEqual(t, both, mean-1e-9)
		require.GreaterOrEqual(t, mean, 0.0)
		require.LessOrEqual(t, capped.Day(low, high), 36.0)
		if low >= 50 {
			require.InDelta(t, mean, both, 1e-9)
		}
		celsius := season.Warmth{Base: 10}.Day((low-32)*5/9, (high-32)*5/9)
		require.InDelta(t, mean, celsius*9/5, 1e-9, "C days are F days x 5/9")
	})
}

// TestWarmthNeedsBothTemperatures: a day without its highest does not count.
func TestWarmthNeedsBothTemperatures(t *testing.T) {
	r := read(t, "date,tmin_c,tmax_c\n2026-05-01,10,20\n2026-05-02,10,\n2026-05-03,12,22\n2026-05-04,12,22\n")
	sum, days := season.Warmth{Base: 10}.Sum(r, day("2026-05-01"), day("2026-05-03"))
	assert.Equal(t, 2, days)
	assert.InDelta(t, 5+7, sum, 1e-9)
}
