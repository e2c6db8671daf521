package season

import "time"

// A Reading is one of the two readings of the formula of degree days (McMaster and Wilhelm 1997).
type Reading int

const (
	// MeanClamped sets a mean below the base to the base.
	MeanClamped Reading = iota
	// EachClamped sets the highest and the lowest temperature below the base to the base, each by itself.
	EachClamped
)

// Warmth says how degree days are counted. Temperatures are in one unit, C or F, and so are the degree days.
type Warmth struct {
	Base    float64
	Cap     *float64 // a higher temperature counts as this; nil = none
	Reading Reading
}

// Day returns the degree days of one day: (highest + lowest) / 2 - base, never below zero (MRCC; capped form:
// Iowa State, Agronomy 541).
func (w Warmth) Day(lowest, highest float64) float64 {
	if w.Cap != nil {
		lowest, highest = min(lowest, *w.Cap), min(highest, *w.Cap)
	}
	if w.Reading == EachClamped {
		lowest, highest = max(lowest, w.Base), max(highest, w.Base)
	}
	return max((lowest+highest)/2-w.Base, 0)
}

// Sum returns the degree days of a record from one day to another, both counted, and the days that it holds
// both temperatures of.
func (w Warmth) Sum(r *Record, from, to time.Time) (degreeDays float64, days int) {
	for _, d := range r.Days {
		if d.HasMin && d.HasMax && !d.Date.Before(from) && !d.Date.After(to) {
			degreeDays += w.Day(d.Min, d.Max)
			days++
		}
	}
	return degreeDays, days
}
