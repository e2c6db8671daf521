package builder

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/units"
)

var (
	months      = `(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\b\.?`
	dayPair     = regexp.MustCompile(`(?i)\b(\d{1,2})\s*(?:to|–|—|-|and)\s*(\d{1,2})\s+` + months)
	isoDay      = regexp.MustCompile(`\b(\d{4})-(\d\d)-(\d\d)\b`)
	dayAndMonth = regexp.MustCompile(`(?i)\b(\d{1,2})(?:st|nd|rd|th)?(?: of)? ` + months + `(?:,? (\d{4}))?|\b` + months + ` (\d{1,2})(?:st|nd|rd|th)?\b(?:,? (\d{4}))?`)
)

// daysOf returns the days of a date or a window of days.
func daysOf(v data.Value) (from, to time.Time, ok bool) {
	switch v := v.(type) {
	case data.Text:
		if day, err := units.ReadDate(string(v)); err == nil {
			return day, day, true
		}
		if d, err := units.ReadMonthDay(string(v)); err == nil {
			day := time.Date(anyYear, d.Month, d.Day, 0, 0, 0, 0, time.UTC)
			return day, day, true
		}
	case data.Object:
		return windowOf(v)
	}
	return from, to, false
}

// anyYear stands for no year. It has a 29th of February.
const anyYear = 2000

// agreesWithDays holds the written days against a day or a window: one must lie in it, two must be its ends. A year
// alone must be theirs.
func agreesWithDays(written string, from, to time.Time) bool {
	days := daysIn(written, from)
	switch len(days) {
	case 0:
		rest := strings.NewReplacer(from.Format("2006"), "", to.Format("2006"), "").Replace(written)
		return !strings.ContainsAny(rest, "0123456789")
	case 2:
		return days[0].Equal(from) && days[1].Equal(to)
	}
	return !slices.ContainsFunc(days, func(d time.Time) bool { return d.Before(from) || d.After(to) })
}

// daysIn reads the days of a text; one without a year is of the year of like.
func daysIn(written string, like time.Time) []time.Time {
	written = dayPair.ReplaceAllString(written, "$1 $3 to $2 $3")
	var out []time.Time
	for _, m := range isoDay.FindAllStringSubmatch(written, -1) {
		out = append(out, dayFrom(m[3], time.Month(ratio(m[2])), m[1], like))
	}
	for _, m := range dayAndMonth.FindAllStringSubmatch(written, -1) {
		out = append(out, dayFrom(m[1]+m[5], monthNamed(m[2]+m[4]), m[3]+m[6], like))
	}
	return out
}

func dayFrom(day string, month time.Month, year string, like time.Time) time.Time {
	y := like.Year()
	if year != "" && y != anyYear {
		y = int(ratio(year))
	}
	return time.Date(y, month, int(ratio(day)), 0, 0, 0, 0, time.UTC)
}

func monthNamed(name string) time.Month {
	for m := time.January; m <= time.December; m++ {
		if strings.EqualFold(m.String()[:3], name[:3]) {
			return m
		}
	}
	return 0
}
