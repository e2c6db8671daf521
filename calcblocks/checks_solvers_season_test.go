package calcblocks_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/units"
)

var seasonSolvers = []solver{
	{"frost-and-degree-days", "base max min", "degree_days", warmDay},
	{"frost-and-degree-days", "base max min upper_cap", "degree_days", func(q question) answers {
		most := q.plain("upper_cap")
		w := season.Warmth{Base: q.plain("base"), Cap: &most, Reading: season.EachClamped}
		return answers{"degree_days": number(w.Day(q.plain("min"), q.plain("max")))}
	}},
	{"frost-and-degree-days", "base mean", "degree_days", func(q question) answers {
		w := season.Warmth{Base: q.plain("base")}
		return answers{"degree_days": number(w.Day(q.plain("mean"), q.plain("mean")))}
	}},
	{"frost-and-degree-days", "last_frost", "order", frostOrder},
	{"frost-and-degree-days", "last_frost", "mean p10 p50 p90 sd years", func(q question) answers {
		s := lastFrosts(q)
		return answers{
			"mean": known(q, s.Mean), "sd": known(q, s.SD), "years": number(float64(s.Years)),
			"p10": dateOf(q, s.Normal, 0.1), "p50": dateOf(q, s.Normal, 0.5), "p90": dateOf(q, s.Normal, 0.9),
		}
	}},
	{"frost-and-degree-days", "last_frost offset", "date", func(q question) answers {
		sign, weeks := "+", q.raw("offset")
		if before, negative := strings.CutPrefix(weeks, "-"); negative {
			sign, weeks = "-", before
		}
		when := sure(units.ReadWhen(fmt.Sprintf("spring frost %s %s weeks", sign, weeks)))
		day, ok := season.Season{Spring: sure(units.ReadDate(q.text("last_frost")))}.Resolve(when)
		require.True(q.t, ok)
		return answers{"date": ofText(day.Format(time.DateOnly))}
	}},
	{"common-practice", "crop", "root_disturbance sow_in transplant", func(q question) answers {
		crop, ok := reference.Default().Crop(q.text("crop"))
		require.True(q.t, ok)
		whole := season.Whole(reference.Default(), crop)
		require.True(q.t, whole, "its roots are left alone")
		ways := strings.Split(season.Nursery, " or ")
		slices.Sort(ways)
		return answers{"sow_in": ofText(ways[q.i]), "transplant": ofText("whole"), "root_disturbance": ofText("avoid")}
	}},
}

// warmDay asks both readings of the formula: the checks hold for either.
func warmDay(q question) answers {
	low, high := q.plain("min"), q.plain("max")
	first := season.Warmth{Base: q.plain("base")}.Day(low, high)
	second := season.Warmth{Base: q.plain("base"), Reading: season.EachClamped}.Day(low, high)
	assert.Equal(q.t, first, second, "the two readings")
	return answers{"degree_days": number(first)}
}

func lastFrosts(q question) season.Sample {
	days := q.list("last_frost")
	return season.Sample{Side: season.Spring, Days: days, Years: len(days)}
}

// frostOrder puts the three dates in calendar order.
func frostOrder(q question) answers {
	s := lastFrosts(q)
	chances := []float64{0.1, 0.5, 0.9}
	slices.SortFunc(chances, func(a, b float64) int {
		early, _ := s.Normal(a)
		late, _ := s.Normal(b)
		return int(math.Copysign(1, early-late))
	})
	return answers{"order": ofText(fmt.Sprintf("%g %%", 100*chances[q.i]))}
}

func known(q question, figure func() (float64, bool)) answer {
	x, ok := figure()
	require.True(q.t, ok)
	return number(x)
}

func dateOf(q question, date func(float64) (float64, bool), p float64) answer {
	x, ok := date(p)
	require.True(q.t, ok, "the date of %g %%", 100*p)
	return number(x)
}

// stationSolvers answer the checks on records of weather stations, which lie in the folder of TRUG_CHECKS
// alone: without it nobody asks.
func stationSolvers() []solver {
	if _, err := os.Stat(filepath.Join(os.Getenv("TRUG_CHECKS"), "open-data.yaml")); err != nil || os.Getenv("TRUG_CHECKS") == "" {
		return nil
	}
	return []solver{
		{"open-data", "column file threshold years", "last_frost last_frost_day", frostDays(season.Spring, "last_frost")},
		{"open-data", "column file threshold years", "first_frost first_frost_day", frostDays(season.Autumn, "first_frost")},
		{
			"open-data", "column file first_year last_year side threshold",
			"mean normal_p10 normal_p50 normal_p90 sd weibull_p10 weibull_p50 weibull_p90 years", frostDates,
		},
		{
			"open-data", "column file first_year last_year",
			"mean_at_2_2_degC_rounded_to_tenths mean_at_2_2_degC_unrounded mean_at_36_degF", thresholds,
		},
		{"open-data", "column file threshold", "date_given mean sd years", func(q question) answers {
			f := frostOf(q, season.Spring, 0, 0)
			_, given := f.Date(reference.Default(), 0.5)
			return answers{"years": number(float64(f.Years)), "mean": known(q, f.Mean), "sd": known(q, f.SD), "date_given": ofFlag(given)}
		}},
		{"open-data", "base file from to", "days degree_days", func(q question) answers {
			w := season.Warmth{Base: q.plain("base")}
			sum, days := w.Sum(station(q), sure(units.ReadDate(q.text("from"))), sure(units.ReadDate(q.text("to"))))
			return answers{"days": number(float64(days)), "degree_days": number(sum)}
		}},
	}
}

// station reads a record without a fault.
func station(q question) *season.Record {
	name := filepath.Join(os.Getenv("TRUG_CHECKS"), q.text("file"))
	text, err := os.ReadFile(name)
	require.NoError(q.t, err)
	var found diag.List
	r := season.Read(diag.NewFile(name, string(text)), found.Report)
	require.Empty(q.t, found.Sorted())
	return r
}

func frostOf(q question, side season.Side, first, last int) season.Frost {
	r := station(q)
	rules := season.RulesOf(reference.Default(), r, 0)
	rules.Threshold, rules.First, rules.Last = q.plain("threshold"), first, last
	require.Equal(q.t, q.text("column") == "tmin_f", r.Fahrenheit, "the threshold is in the unit of the data")
	return r.Frost(side, rules)
}

func frostDays(side season.Side, output string) func(question) answers {
	return func(q question) answers {
		years := q.c.given["years"].values
		f := frostOf(q, side, sure(strconv.Atoi(years[0])), sure(strconv.Atoi(years[len(years)-1])))
		require.Len(q.t, f.Dates, len(years))
		return answers{output: ofText(f.Dates[q.i].Format(time.DateOnly)), output + "_day": numbers(f.Days)}
	}
}

func frostDates(q question) answers {
	side := season.Spring
	if q.text("side") == "autumn" {
		side = season.Autumn
	}
	f := frostOf(q, side, int(q.plain("first_year")), int(q.plain("last_year")))
	out := answers{"years": number(float64(f.Years)), "mean": known(q, f.Mean), "sd": known(q, f.SD)}
	for name, p := range map[string]float64{"p10": 0.1, "p50": 0.5, "p90": 0.9} {
		out["normal_"+name], out["weibull_"+name] = dateOf(q, f.Normal, p), dateOf(q, f.Empirical, p)
	}
	return out
}

// thresholds compares a threshold in the unit of the data with data turned into the unit of the threshold.
func thresholds(q question) answers {
	mean := func(r *season.Record, threshold float64) answer {
		rules := season.RulesOf(reference.Default(), r, 0)
		rules.Threshold, rules.First, rules.Last = threshold, int(q.plain("first_year")), int(q.plain("last_year"))
		return known(q, r.Frost(season.Spring, rules).Mean)
	}
	r := station(q)
	celsius := func(round func(float64) float64) *season.Record {
		out := &season.Record{Days: slices.Clone(r.Days)}
		for i := range out.Days {
			out.Days[i].Min = round((out.Days[i].Min - 32) * 5 / 9)
		}
		return out
	}
	return answers{
		"mean_at_36_degF":                    mean(r, 36),
		"mean_at_2_2_degC_unrounded":         mean(celsius(func(x float64) float64 { return x }), 2.2),
		"mean_at_2_2_degC_rounded_to_tenths": mean(celsius(func(x float64) float64 { return math.Round(10*x) / 10 }), 2.2),
	}
}
