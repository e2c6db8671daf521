package season

import (
	"maps"
	"math"
	"slices"
	"time"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/reference"
)

// A Frost is what a record tells of the frost dates of one side.
type Frost struct {
	Sample
	First, Last int         // years that count
	Dates       []time.Time // the frost dates of the years with frost, in order
	Dropped     []Dropped
}

// A Dropped year has too few days around the average frost date to count.
type Dropped struct {
	Year    int
	Missing int           // days of the window
	At      diag.Position // the line behind its first missing days
}

// Rules are the figures by which frost dates are made of minima.
type Rules struct {
	Threshold    float64 // in the unit of the record: a frost is a minimum at or below it
	Window, Lack int     // a year is left out with more than Lack days missing of the Window around the mean
	First, Last  int     // years to look at, 0 = all
}

// RulesOf returns the rules of the reference for a record, with a threshold in C.
func RulesOf(lib *reference.Library, r *Record, celsius float64) Rules {
	return Rules{
		Threshold: r.Threshold(celsius),
		Window:    int(lib.Number("season", "frost", "window")), Lack: int(lib.Number("season", "frost", "missing")),
	}
}

// winter is the frost days of one year on one side, and which days are there at all.
type winter struct {
	there map[int]bool
	date  time.Time
	day   int // of the last frost in spring, of the first in autumn
	frost bool
}

// Frost finds the frost date of each year: the last day in spring, or the first in autumn, with a minimum at
// or below the threshold. A year's frosts are sought in the twelve months around its winter, so that a mild
// place may have its last frost before the new year. Years are left out in rounds until the mean of those
// that stay no longer moves (season.md, section 1.4); the median opens, since a year that stops in winter
// must not pull the window away.
func (r *Record) Frost(side Side, rules Rules) Frost {
	all := r.winters(side, rules)
	years := slices.Sorted(maps.Keys(all))
	kept := years
	centre, known := middle(all, years)
	for range years {
		still := slices.DeleteFunc(slices.Clone(years), func(y int) bool {
			return known && missing(all[y], centre, rules.Window) > rules.Lack
		})
		if slices.Equal(still, kept) {
			break
		}
		kept = still
		if mean, ok := sampleOf(side, all, kept).Mean(); ok {
			centre = int(math.Round(mean))
		}
	}
	f := Frost{Sample: sampleOf(side, all, kept)}
	for _, y := range kept {
		if all[y].frost {
			f.Dates = append(f.Dates, all[y].date)
		}
	}
	if len(kept) > 0 {
		f.First, f.Last = kept[0], kept[len(kept)-1]
	}
	for _, y := range years {
		// A year of which the file has none of these days is not in it: its first or last winter.
		if n := missing(all[y], centre, rules.Window); known && n > rules.Lack && n < rules.Window {
			f.Dropped = append(f.Dropped, Dropped{y, n, r.behind(side, y, firstMissing(all[y], centre, rules.Window))})
		}
	}
	return f
}

func (r *Record) winters(side Side, rules Rules) map[int]*winter {
	out := map[int]*winter{}
	south := r.South()
	for _, d := range r.Days {
		year, day := place(d.Date, side, south)
		if !d.HasMin || rules.First > 0 && year < rules.First || rules.Last > 0 && year > rules.Last {
			continue
		}
		w := out[year]
		if w == nil {
			w = &winter{there: map[int]bool{}}
			out[year] = w
		}
		w.there[day] = true
		if d.Min <= rules.Threshold+1e-9 && (side == Spring || !w.frost) {
			w.frost, w.date, w.day = true, d.Date, day
		}
	}
	return out
}

// place returns the year that a day counts to and its number there. The year of a spring runs from 1 August
// of the year before to 31 July, that of an autumn from 1 August; south of the equator both run from 1
// February. A day of a neighbouring calendar year is numbered below 1 or above 365.
func place(t time.Time, side Side, south bool) (year, day int) {
	year, day = t.Year(), DayOf(t)
	switch {
	case south && t.Month() < time.February:
		return year - 1, day + yearDays
	case south:
		return year, day
	case side == Spring && t.Month() >= time.August:
		return year + 1, day - yearDays
	case side == Autumn && t.Month() < time.August:
		return year - 1, day + yearDays
	}
	return year, day
}

// missing counts the days of a window around a day that a year does not have.
func missing(w *winter, centre, window int) int {
	n := 0
	for day := centre - window/2; day < centre-window/2+window; day++ {
		if !w.there[day] {
			n++
		}
	}
	return n
}

// firstMissing returns the first day of the window that a year does not have.
func firstMissing(w *winter, centre, window int) int {
	day := centre - window/2
	for w.there[day] {
		day++
	}
	return day
}

// behind returns the place of a year's first line from a day on, else of its last line.
func (r *Record) behind(side Side, year, day int) diag.Position {
	south := r.South()
	var at diag.Position
	for _, d := range r.Days {
		y, n := place(d.Date, side, south)
		if y != year || !d.HasMin {
			continue
		}
		if at = r.at(d); n >= day {
			return at
		}
	}
	return at
}

func sampleOf(side Side, all map[int]*winter, years []int) Sample {
	s := Sample{Side: side, Years: len(years)}
	for _, y := range years {
		if all[y].frost {
			s.Days = append(s.Days, float64(all[y].day))
		}
	}
	return s
}

// middle returns the median frost day; false when no year has frost.
func middle(all map[int]*winter, years []int) (int, bool) {
	days := slices.Sorted(slices.Values(sampleOf(Spring, all, years).Days))
	if len(days) == 0 {
		return 0, false
	}
	return int(days[len(days)/2]), true
}

// Enough says whether there are years enough for a date of probability p: ten for the middle, twenty for the
// others.
func (f Frost) Enough(lib *reference.Library, p float64) bool {
	if p == 0.5 {
		return f.Years >= int(lib.Number("season", "frost", "years_for_50"))
	}
	return f.Years >= int(lib.Number("season", "frost", "years_for_10"))
}

// Date returns the frost date of probability p by the normal method as a whole day, when there are years
// enough: the late spring and the early autumn date are rounded to the cautious side.
func (f Frost) Date(lib *reference.Library, p float64) (int, bool) {
	day, ok := f.Normal(p)
	if !ok || !f.Enough(lib, p) {
		return 0, false
	}
	switch {
	case p < 0.5 && f.Side == Spring:
		return int(math.Ceil(day - 1e-9)), true
	case p < 0.5:
		return int(math.Floor(day + 1e-9)), true
	}
	return int(math.Round(day)), true
}
