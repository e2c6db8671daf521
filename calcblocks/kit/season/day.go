// Package season holds what a year's dates rest on: frost dates from daily minima, degree days, and the
// windows of days in which the jobs of a crop fall. A job always has a window, never one day.
package season

import (
	"math"
	"time"

	"trug/calcblocks/kit/units"
)

const yearDays = 365

// DayOf numbers a day of the year on a scale of 365 days: 1 January is 1, and 29 February counts as the 28th,
// so that it shifts nothing: 1 March is 60 in every year (season.md, section 1.4).
func DayOf(t time.Time) int {
	if t.Month() == time.February && t.Day() == 29 {
		return 59
	}
	return time.Date(2001, t.Month(), t.Day(), 0, 0, 0, 0, time.UTC).YearDay()
}

// onScale returns the day of a number on that scale: 0 is the last day of the year before, 366 the first of
// the year after.
func onScale(year, day int) time.Time {
	years := int(math.Floor(float64(day-1) / yearDays))
	plain := time.Date(2001, time.January, day-years*yearDays, 0, 0, 0, 0, time.UTC)
	return time.Date(year+years, plain.Month(), plain.Day(), 0, 0, 0, 0, time.UTC)
}

// MonthDayOf returns the month and the day of a number on the scale of 365 days.
func MonthDayOf(day int) units.MonthDay {
	t := onScale(2001, day)
	return units.MonthDay{Month: t.Month(), Day: t.Day()}
}

// In returns a month and a day in a year; 29 February is the 28th where the year has none.
func In(year int, d units.MonthDay) time.Time {
	t := time.Date(year, d.Month, d.Day, 0, 0, 0, 0, time.UTC)
	if t.Month() != d.Month {
		return time.Date(year, d.Month, d.Day-1, 0, 0, 0, 0, time.UTC)
	}
	return t
}

// Words prints a window of days for people: "12 to 26 April", with the year where years is true.
func Words(from, to time.Time, years bool) string {
	month, whole := "2 January", "2 January 2006"
	if !years {
		whole = month
	}
	switch {
	case from.Equal(to):
		return from.Format(whole)
	case from.Year() != to.Year():
		return from.Format(whole) + " to " + to.Format(whole)
	case from.Month() != to.Month():
		return from.Format(month) + " to " + to.Format(whole)
	}
	return from.Format("2") + " to " + to.Format(whole)
}
