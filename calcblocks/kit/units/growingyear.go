package units

import (
	"fmt"
	"time"
)

// A GrowingYear is how a garden's years run: from 1 January, or South of the equator from 1 July, in the middle of
// winter, so that a summer is not cut in two. A year is named by the one in which it begins.
type GrowingYear struct{ South bool }

// Of returns the growing year of a day.
func (g GrowingYear) Of(day time.Time) int {
	if g.South && day.Month() < time.July {
		return day.Year() - 1
	}
	return day.Year()
}

// Begin returns the first day of a growing year.
func (g GrowingYear) Begin(year int) time.Time {
	month := time.January
	if g.South {
		month = time.July
	}
	return time.Date(year, month, 1, 0, 0, 0, 0, time.UTC)
}

// End returns its last day.
func (g GrowingYear) End(year int) time.Time { return g.Begin(year+1).AddDate(0, 0, -1) }

// Name prints a growing year: "2026", or "2026/27" for one that ends in the next.
func (g GrowingYear) Name(year int) string {
	if g.South {
		return fmt.Sprintf("%d/%02d", year, (year+1)%100)
	}
	return fmt.Sprint(year)
}
