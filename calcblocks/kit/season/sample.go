package season

import (
	"math"
	"slices"
)

// A Side is the end of the frost-free season that a frost date bounds.
type Side int

const (
	// Spring is the last frost: a probability is that of a frost after the date, so 10 % is the late,
	// cautious date and 90 % the early one (NOAA, freeze data).
	Spring Side = iota
	// Autumn is the first frost: a probability is that of a frost before the date, so 10 % is the early one.
	Autumn
)

// String returns "spring" or "autumn".
func (s Side) String() string { return []string{"spring", "autumn"}[s] }

// A Sample is the frost days of some years on one side, numbered on the scale of 365 days. Years counts those
// without any frost too; days may lie beyond 1 to 365 where the frost season crosses the new year.
type Sample struct {
	Side  Side
	Days  []float64
	Years int
}

// Share returns the share of years with a frost at all; not known without years.
func (s Sample) Share() (float64, bool) {
	if s.Years == 0 {
		return 0, false
	}
	return float64(len(s.Days)) / float64(s.Years), true
}

// Mean returns the mean frost day of the years with frost.
func (s Sample) Mean() (float64, bool) {
	if len(s.Days) == 0 {
		return 0, false
	}
	sum := 0.0
	for _, d := range s.Days {
		sum += d
	}
	return sum / float64(len(s.Days)), true
}

// SD returns the standard deviation of the frost days, with n - 1.
func (s Sample) SD() (float64, bool) {
	mean, ok := s.Mean()
	if !ok || len(s.Days) < 2 {
		return 0, false
	}
	sum := 0.0
	for _, d := range s.Days {
		sum += (d - mean) * (d - mean)
	}
	return math.Sqrt(sum / float64(len(s.Days)-1)), true
}

// order returns which share of the frost dates lies before the date of probability p: with q the share of
// years with frost, 1 - p/q in spring and p/q in autumn (NOAA, freeze data: two parts, whether and when).
// There is no date when p is not below q.
func (s Sample) order(p float64) (float64, bool) {
	q, ok := s.Share()
	if !ok || p <= 0 || p >= q {
		return 0, false
	}
	if s.Side == Spring {
		return 1 - p/q, true
	}
	return p / q, true
}

// Normal returns the frost day of probability p (0 to 1) when frost dates are normally distributed: mean +
// z x SD (Thom and Shaw 1958).
func (s Sample) Normal(p float64) (float64, bool) {
	f, ok := s.order(p)
	mean, _ := s.Mean()
	sd, enough := s.SD()
	if !ok || !enough {
		return 0, false
	}
	return mean + z(f)*sd, true
}

// Empirical returns the frost day of probability p from the sorted dates themselves: the i-th of n stands at
// i/(n+1), with straight lines between (Weibull positions). There is none beyond the outermost dates.
func (s Sample) Empirical(p float64) (float64, bool) {
	f, ok := s.order(p)
	if !ok {
		return 0, false
	}
	days := slices.Sorted(slices.Values(s.Days))
	at := f*float64(len(days)+1) - 1
	if at < -1e-9 || at > float64(len(days)-1)+1e-9 {
		return 0, false
	}
	at = min(max(at, 0), float64(len(days)-1))
	low := int(at)
	high := min(low+1, len(days)-1)
	return days[low] + (at-float64(low))*(days[high]-days[low]), true
}

// z returns the quantile of the standard normal distribution.
func z(f float64) float64 { return math.Sqrt2 * math.Erfinv(2*f-1) }
