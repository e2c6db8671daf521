package season

import (
	"time"

	"trug/calcblocks/kit/diag"
)

// A Day is one line of a record: the lowest and the highest temperature in the record's own unit.
type Day struct {
	Date           time.Time
	Min, Max       float64
	HasMin, HasMax bool
	Line           int // in the file
}

// A Record is daily minima of one station, in order of the days.
type Record struct {
	Days       []Day
	Fahrenheit bool
	file       *diag.File
}

// Threshold returns a temperature in C in the unit of the record. It is the threshold that is turned, never
// the data: whole degrees F that are turned into C no longer meet it (36 F is 2.222 C, above 2.2).
func (r *Record) Threshold(celsius float64) float64 {
	if r.Fahrenheit {
		return celsius*9/5 + 32
	}
	return celsius
}

// South says whether the record is of the southern half of the earth: June to August are its coldest months.
func (r *Record) South() bool {
	var sum, count [2]float64
	for _, d := range r.Days {
		if d.HasMin {
			middle := 0
			if d.Date.Month() >= time.June && d.Date.Month() <= time.August {
				middle = 1
			}
			sum[middle], count[middle] = sum[middle]+d.Min, count[middle]+1
		}
	}
	return count[0] > 0 && count[1] > 0 && sum[1]/count[1] < sum[0]/count[0]
}

// A Gap is days that are missing between two lines of a record.
type Gap struct {
	From, To time.Time // both missing
	At       diag.Position
}

// Days returns how many days are missing.
func (g Gap) Days() int { return int(g.To.Unix()-g.From.Unix())/(24*60*60) + 1 }

// Gaps returns the days without a minimum between the first and the last line, whether their line or only
// its figure is missing.
func (r *Record) Gaps() []Gap {
	var out []Gap
	var last time.Time
	for _, d := range r.Days {
		if !d.HasMin {
			continue
		}
		if next := last.AddDate(0, 0, 1); !last.IsZero() && d.Date.After(next) {
			out = append(out, Gap{next, d.Date.AddDate(0, 0, -1), r.at(d)})
		}
		last = d.Date
	}
	return out
}

// Start returns the place of the first day in the file.
func (r *Record) Start() diag.Position { return r.at(r.Days[0]) }

func (r *Record) at(d Day) diag.Position {
	if r.file == nil {
		return diag.Position{}
	}
	return diag.Position{File: r.file, Line: d.Line, Column: 1}
}
