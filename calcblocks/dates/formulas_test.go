package dates_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/dates"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
)

// station is a file of 21 years like that of minima, with frosts up to spread x 10 days to either side of 20 April and 15
// October, and each line as change leaves it.
func station(spread int, change func(day time.Time, line string) string) map[string]string {
	var b strings.Builder
	b.WriteString("date,tmin_c,tmax_c\n")
	for i := range 21 {
		year, off := 2001+i, spread*(i-10)
		spring, autumn := time.Date(year, 4, 20+off, 0, 0, 0, 0, time.UTC), time.Date(year, 10, 15-off, 0, 0, 0, 0, time.UTC)
		for d := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC); d.Year() == year; d = d.AddDate(0, 0, 1) {
			low := 5.0
			switch {
			case d.Equal(spring), d.Equal(autumn):
				low = 0
			case d.Month() >= 6 && d.Month() <= 8:
				low = 8
			}
			b.WriteString(change(d, fmt.Sprintf("%s,%g,15\n", d.Format(time.DateOnly), low)))
		}
	}
	return map[string]string{"frost.csv": b.String()}
}

func same(_ time.Time, line string) string { return line }

const beans = "season: 2027\nminima: frost.csv\ncrops: [bush-bean]\n"

// TestFahrenheitIsTheSame: a file in F gives the same degree days, and the page shows them in both.
func TestFahrenheitIsTheSame(t *testing.T) {
	celsius := compute(station(1, same), beans)
	files := station(1, func(_ time.Time, line string) string {
		var date string
		var low, high float64
		_, err := fmt.Sscanf(strings.ReplaceAll(line, ",", " "), "%s %g %g", &date, &low, &high)
		require.NoError(t, err)
		return fmt.Sprintf("%s,%g,%g\n", date, low*9/5+32, high*9/5+32)
	})
	files["frost.csv"] = strings.Replace(files["frost.csv"], "tmin_c,tmax_c", "tmin_f,tmax_f", 1)
	fahrenheit := compute(files, beans)
	require.Empty(t, fahrenheit.Printed())
	for _, group := range []string{"1", "2"} {
		at := "degree_days/" + group + "/"
		for _, key := range []string{"least_c_days", "mean_c_days", "most_c_days"} {
			assert.InEpsilon(t, celsius.Number(at+key), fahrenheit.Number(at+key), 1e-9, key)
		}
		c := func(key string) float64 { return celsius.Number(at + key) }
		for scale, name := range map[float64]string{1: "C", 1.8: "F"} {
			days := fmt.Sprintf("%.0f (%.0f to %.0f)", scale*c("mean_c_days"), scale*c("least_c_days"), scale*c("most_c_days"))
			assert.Contains(t, strings.Join(strings.Fields(celsius.Text()), " "), days, name)
		}
	}
	assert.Contains(t, celsius.Text(), "4.4 C (40 F)", "the base of cool crops (season.yaml, degree_days)")
	assert.Contains(t, celsius.Text(), "10 C (50 F)")
}

// TestTheYearsOfWarmth: a July of 31 days whose nights are 2 C colder than the others brings 31 C days less. Whichever year
// that is, it is the least; one with 2 C warmer nights is the most. A season may lack 5 days (season.yaml, frost), not 6.
func TestTheYearsOfWarmth(t *testing.T) {
	july := func(year int, low string) map[string]string {
		return station(0, func(d time.Time, line string) string {
			if d.Year() == year && d.Month() == 7 {
				return strings.Replace(line, ",8,", ","+low+",", 1)
			}
			return line
		})
	}
	plain := compute(station(0, same), beans)
	usual := plain.Number("degree_days/1/mean_c_days")
	assert.InDelta(t, usual, plain.Number("degree_days/1/least_c_days"), 1e-9)
	for _, year := range []int{2001, 2002, 2010, 2021} {
		cold, warm := compute(july(year, "6"), beans), compute(july(year, "10"), beans)
		assert.InDelta(t, usual-31, cold.Number("degree_days/1/least_c_days"), 1e-6, "%d", year)
		assert.InDelta(t, usual, cold.Number("degree_days/1/most_c_days"), 1e-6, "%d", year)
		assert.InDelta(t, usual+31, warm.Number("degree_days/1/most_c_days"), 1e-6, "%d", year)
		assert.InDelta(t, usual, warm.Number("degree_days/1/least_c_days"), 1e-6, "%d", year)
		assert.InDelta(t, usual-31.0/21, cold.Number("degree_days/1/mean_c_days"), 1e-6, "%d", year)
	}
	for missing, years := range map[int]float64{5: 21, 6: 20} {
		out := compute(station(0, func(d time.Time, line string) string {
			if d.Year() == 2010 && d.Month() == 7 && d.Day() <= missing {
				return ""
			}
			return line
		}), beans)
		assert.Equal(t, years, out.Number("degree_days/1/years"), "%d days", missing)
	}
	single := compute(station(0, func(d time.Time, line string) string {
		if d.Year() != 2005 {
			return line[:strings.LastIndex(line, ",")] + ",\n"
		}
		return line
	}), beans)
	assert.Equal(t, 1.0, single.Number("degree_days/1/years"), "one year with both temperatures is one")
	assert.InDelta(t, usual, single.Number("degree_days/1/mean_c_days"), 1e-6)
	nights := station(0, func(_ time.Time, line string) string { return line[:strings.LastIndex(line, ",")] + ",\n" })
	assert.Equal(t, data.List{}, compute(nights, beans).Find("degree_days"), "nights alone tell no degree days")
}

// TestLongGapsAreSeasons: from 60 days on a gap is a part of the year that the file leaves out, and is not told.
func TestLongGapsAreSeasons(t *testing.T) {
	for days, told := range map[int]bool{59: true, 60: false, 63: false} {
		out := compute(station(0, func(d time.Time, line string) string {
			if from := time.Date(2010, 6, 20, 0, 0, 0, 0, time.UTC); !d.Before(from) && d.Before(from.AddDate(0, 0, days)) {
				return ""
			}
			return line
		}), beans)
		assert.Equal(t, told, strings.Contains(out.Printed(), fmt.Sprintf("%d days are missing", days)), "%d", days)
	}
}

// TestYearsOfTheFile: from the first day to the last.
func TestYearsOfTheFile(t *testing.T) {
	files := station(0, same)
	files["frost.csv"] = strings.Replace(files["frost.csv"], "2001-01-01,", "2000-12-31,5,15\n2001-01-01,", 1) + "2022-01-01,5,15\n"
	assert.Contains(t, compute(files, beans).Text(), "Daily minima of one station, 2000 to 2022")
}

// TestOneYearInTen: up to 30 days to either side the standard deviation is 3 x 6.2048 = 18.614 days, and 1.28155 of them
// after day 110 are day 134, 14 May. The date carries its year where there is one.
func TestOneYearInTen(t *testing.T) {
	assert.Contains(t, compute(station(3, same), beans).Text(), "One year in ten has a frost after 14 May 2027. Until then")
	anyYear := compute(station(3, same), "minima: frost.csv\ncrops: [bush-bean]\n")
	assert.Contains(t, anyYear.Text(), "One year in ten has a frost after 14 May. Until then")
}

// TestWhoMindsALateFrost: tender crops that go out before 28 April, one year in ten; not hardy ones, not seedlings indoors,
// and not what waits.
func TestWhoMindsALateFrost(t *testing.T) {
	for crops, named := range map[string]string{
		"[bush-bean, radish, kale]":                         "at hand for bush (snap) bean, or wait",
		"{tomato: {plant: 2027-04-21}}":                     "at hand for tomato",
		"{bush-bean: {sow: 2027-04-27, plant: 2027-05-20}}": "at hand for bush (snap) bean, or wait",
		"{cucumber: {sow: 2027-04-21}}":                     "at hand for cucumber",
		"{tomato: {plant: 2027-05-30}}":                     "",
		"{bush-bean: {sow: 2027-04-28, plant: 2027-05-20}}": "",
		"[radish, kale]":                                    "",
	} {
		text := strings.Join(strings.Fields(compute(station(1, same), "season: 2027\nminima: frost.csv\ncrops: "+crops+"\n").Text()), " ")
		if named == "" {
			assert.NotContains(t, text, "One year in ten", crops)
			continue
		}
		assert.Contains(t, text, named, crops)
	}
}

// TestFrostInJanuary: where winters are short the first month counts like another; minima of the handbook count where it
// tells no date.
func TestFrostInJanuary(t *testing.T) {
	block := compute(nil, "season: 2027\nfrost: {spring: \"01-20\"}\ncrops: [radish]\n")
	assert.Equal(t, data.Text("01-20"), block.Find("frost/counted_from"))
	handbook := compute(map[string]string{"handbook.yaml": "frost: {spring: \"01-20\"}\n"}, "season: 2027\ncrops: [radish]\n")
	assert.Equal(t, data.Text("01-20"), handbook.Find("frost/counted_from"))
	files := station(1, same)
	files["handbook.yaml"] = "frost: {minima: frost.csv}\n"
	assert.Equal(t, data.Text("04-20"), compute(files, "season: 2027\ncrops: [radish]\n").Find("frost/counted_from"))
}

// TestWhereTheHandbookSaysIt: an own date cites its line, that of the value and not of its key.
func TestWhereTheHandbookSaysIt(t *testing.T) {
	for handbook, place := range map[string]string{
		"title: Court\nfrost:\n  spring: \"04-20\"\n":       "handbook.yaml:3",
		"title: Court\nfrost:\n  spring:\n    \"04-20\"\n":  "handbook.yaml:4",
		"title: Court, 04-20\nfrost: {spring: \"04-20\"}\n": "handbook.yaml:2",
	} {
		out := compute(map[string]string{"handbook.yaml": handbook}, "season: 2027\ncrops: [radish]\n")
		require.Empty(t, out.Printed())
		assert.Contains(t, out.Text(), place, handbook)
	}
}

// TestFilesThatTellNothing: a head alone, and one bad line, which is told once.
func TestFilesThatTellNothing(t *testing.T) {
	head := compute(map[string]string{"frost.csv": "date,tmin_c\n"}, beans)
	require.Len(t, head.Faults, 1)
	assert.Equal(t, "no-minima", head.Faults[0].Code)
	files := station(0, func(d time.Time, line string) string {
		if d.Year() == 2010 && d.YearDay() == 9 {
			return "2010-01-09,cold,15\n"
		}
		return line
	})
	bad := compute(files, beans)
	require.Len(t, bad.Faults, 1)
	assert.Equal(t, "bad-temperature", bad.Faults[0].Code)
	assert.Equal(t, data.Null{}, bad.Find("frost/p50"))
}

// TestTooFewYears: of one or two years nothing is averaged and their number is told; without minima there is none to tell.
func TestTooFewYears(t *testing.T) {
	for years, says := range map[int]string{2: "2 years of minima are too few", 1: "1 year of minima is too few"} {
		assert.Contains(t, compute(map[string]string{"frost.csv": minima(years, "a", "")}, beans).Printed(), "doubt: "+says)
	}
	autumn := map[string]string{"frost.csv": "date,tmin_c\n2026-10-01,3\n2026-10-02,-1\n"}
	assert.Contains(t, compute(autumn, beans).Printed(), "doubt: no average last frost is known", "autumn alone is no year of spring")
	assert.Contains(t, compute(nil, "season: 2027\ncrops: [bush-bean]\n").Printed(), "doubt: no average last frost is known")
}

// TestPlansByName: the season is that of the named plan, though another is newer; a name that is none gets those that are.
func TestPlansByName(t *testing.T) {
	plans := map[string]string{"plan old-2026.yaml": "tub-1: {crop: pepper}\n", "plan new-2028.yaml": "tub-1: {crop: pepper}\ntub-2: {crop: kale}\n"}
	const frost = "frost: {spring: \"04-20\", autumn: \"10-15\"}\n"
	assert.Equal(t, data.Text("Dates 2026"), compute(plans, "plan: old-2026\n"+frost).Find("title"))
	assert.Equal(t, data.Text("Dates 2028"), compute(plans, frost+"crops: [radish]\n").Find("title"), "without a name the newest")
	wrong := compute(plans, "plan: marble\n"+frost)
	require.Len(t, wrong.Faults, 1)
	assert.ElementsMatch(t, []string{"the plans are new-2028, old-2026"}, wrong.Faults[0].Hints)
	one := compute(map[string]string{"plan old-2026.yaml": "tub-1: {crop: pepper}\n"}, "plan: marble\n"+frost)
	assert.Equal(t, []string{"the plans are old-2026"}, one.Faults[0].Hints)
	empty := compute(map[string]string{"plan old-2026.yaml": "tub-1: {crop: marble}\n"}, "plan: old-2026\n")
	assert.NotContains(t, empty.Printed(), "average last frost", "nothing counts from a frost where nothing grows")
	none := compute(nil, "plan: marble\n"+frost)
	assert.Equal(t, []string{"write a plan block first, or list \"crops\""}, none.Faults[0].Hints)
	assert.Nil(t, compute(nil, "season: 2027\ncrops: [marble]\n"+frost).Data, "no crop that is known")
	assert.Nil(t, blocktest.Compute(dates.Kind, blocktest.Input{Body: "season: 2027\ncrops: [marble]\n"}).Data)
}

// TestAnyYearHas365Days: without a year the jobs have the days that they have in 2027, those before the end of February too.
func TestAnyYearHas365Days(t *testing.T) {
	const body = "frost: {spring: \"04-20\", autumn: \"10-15\"}\ncrops: [kale, pepper]\n"
	told, untold := compute(nil, "season: 2027\n"+body).Find("jobs").(data.List), compute(nil, body).Find("jobs").(data.List)
	require.Len(t, untold, len(told))
	for i, job := range told {
		for _, key := range []string{"from", "to"} {
			day := job.(data.Object).Get(key).(data.Text)
			assert.Equal(t, day[len("2027-"):], untold[i].(data.Object).Get(key), "%v", job)
		}
	}
}
