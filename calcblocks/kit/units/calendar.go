package units

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// A When is a date, or a time relative to an event of the season.
type When struct {
	Date  time.Time // set when the author wrote a date
	Event string    // "spring frost", "autumn frost", "planting", "sowing"; "" for a date
	Days  int       // after the event; negative = before
}

var (
	afterEvent  = regexp.MustCompile(`^(spring frost|autumn frost|planting|sowing)(?: *([+-]) *(\d{1,3}) +(day|week)s?)?$`)
	beforeEvent = regexp.MustCompile(`^(\d{1,3}) +(day|week)s? +(before|after) +(spring frost|autumn frost|planting|sowing)$`)
)

// ReadWhen reads "2027-04-12", "spring frost + 2 weeks" or "2 weeks before planting".
func ReadWhen(text string) (When, error) {
	t := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	if m := afterEvent.FindStringSubmatch(t); m != nil {
		return When{Event: m[1], Days: days(m[3], m[4], m[2] == "-")}, nil
	}
	if m := beforeEvent.FindStringSubmatch(t); m != nil {
		return When{Event: m[4], Days: days(m[1], m[2], m[3] == "before")}, nil
	}
	date, err := ReadDate(text)
	if fault, ok := err.(*Fault); ok && !dateText.MatchString(text) {
		fault.Hints = append(fault.Hints, "or a time of the season, such as \"spring frost + 2 weeks\" or \"2 weeks before planting\"")
	}
	return When{Date: date}, err
}

func days(count, unit string, before bool) int {
	n, _ := strconv.Atoi(count) // digits only; "" is 0
	if unit == "week" {
		n *= 7
	}
	if before {
		return -n
	}
	return n
}

var (
	dateText     = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}$`)
	monthDayText = regexp.MustCompile(`^\d{2}-\d{2}$`)
)

// ReadDate reads an ISO date (ISO 8601), such as "2027-04-12".
func ReadDate(text string) (time.Time, error) {
	date, err := time.Parse(time.DateOnly, text)
	if err != nil && dateText.MatchString(text) {
		return date, Faultf(0, "bad-date", "check the month and the day", "there is no day %s", quoted(text))
	}
	if err != nil {
		return date, Faultf(0, "bad-date", dateHint(text), "%s is not a date", quoted(text))
	}
	return date, nil
}

var (
	shortDate = regexp.MustCompile(`^(\d{4})[-./](\d{1,2})[-./](\d{1,2})$`)
	dayFirst  = regexp.MustCompile(`^(\d{1,2})[-./](\d{1,2})[-./](\d{4})$`)
)

// dateHint says how a date is written, with the author's own where it can be only one day: the first number of
// "05-16-2027" must be the month, but "05-06-2027" may be of May or of June.
func dateHint(text string) string {
	var tries []string
	if m := shortDate.FindStringSubmatch(text); m != nil {
		tries = []string{isoDate(m[1], m[2], m[3])}
	} else if m := dayFirst.FindStringSubmatch(text); m != nil {
		tries = []string{isoDate(m[3], m[1], m[2]), isoDate(m[3], m[2], m[1])}
	}
	var days []string
	for _, try := range tries {
		if _, err := time.Parse(time.DateOnly, try); err == nil && !slices.Contains(days, try) {
			days = append(days, try)
		}
	}
	if len(days) == 1 {
		return "write year, month and day: " + quoted(days[0])
	}
	return "write year, month and day, such as \"2027-04-12\""
}

func isoDate(year, month, day string) string {
	return fmt.Sprintf("%s-%02s-%02s", year, month, day)
}

// A MonthDay is a day of any year.
type MonthDay struct {
	Month time.Month
	Day   int
}

// ReadMonthDay reads "04-20". The 29th of February is taken.
func ReadMonthDay(text string) (MonthDay, error) {
	date, err := time.Parse(time.DateOnly, "2000-"+text)
	if err != nil && monthDayText.MatchString(text) {
		return MonthDay{}, Faultf(0, "bad-month-day", "check the month and the day; the month stands first", "there is no day %s", quoted(text))
	}
	if err != nil || len(text) != 5 {
		return MonthDay{}, Faultf(0, "bad-month-day", "write month and day in quotes, such as \"04-20\"", "%s is not a month and a day", quoted(text))
	}
	return MonthDay{date.Month(), date.Day()}, nil
}

// Money is added up in whole minor units, which 12 digits keep within 64 bits.
var moneyText = regexp.MustCompile(`^\d{1,12}(?:\.\d{1,2})?$`)

// ReadMoney reads "4.50" into minor units (hundredths) of the handbook's currency.
func ReadMoney(text string) (Money, error) {
	t := strings.TrimSpace(text)
	if moneyText.MatchString(t) {
		return Exactly[money](new(big.Rat).Mul(rat(t), rat("100"))), nil
	}
	hint := "write a plain amount such as \"4.50\", in the handbook's currency"
	if strings.Contains(t, ",") {
		hint = "write a decimal point and no thousands separator, such as \"4.50\""
	}
	if bare := strings.Trim(t, currencySigns); bare != t && moneyText.MatchString(bare) {
		hint = "write " + quoted(bare) + " alone; the currency stands in handbook.yaml"
	}
	return Money{}, Faultf(0, "bad-money", hint, "%s is not an amount of money", quoted(t))
}

// currencySigns are what growers write round a price: a sign, a code of three letters, a blank.
const currencySigns = "$£€¥ ABCDEFGHIJKLMNOPQRSTUVWXYZ"
