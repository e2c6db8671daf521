package season

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/units"
)

// mostFaults is how many faults of a file are told one by one: a file with a wrong separator has one a line.
const mostFaults = 20

// Read reads a table of daily minima: lines of date and tmin_c, or tmin_f, under a line that names the
// columns; tmax_c or tmax_f may stand beside them, and other columns are left alone. Lines that start with #
// are remarks; an empty cell is a missing figure. Faults go to report; what could be read is returned, nil
// without a usable head.
func Read(f *diag.File, report func(diag.Diagnostic)) *Record {
	t := &table{file: f, report: report, seen: map[time.Time]diag.Position{}}
	for i, line := range strings.Split(f.Text, "\n") {
		if text := strings.TrimSpace(line); text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		cells := t.cells(i+1, line)
		if t.record == nil {
			if !t.head(cells) {
				return nil
			}
			continue
		}
		t.row(cells)
	}
	if t.record == nil {
		report(diag.Errorf(diag.Whole(f.Name), "no-minima", "this file holds no daily minima").Hint(headHint))
		return nil
	}
	if t.faults > mostFaults {
		report(diag.Errorf(t.last, "more-faults", "%d more lines of this file cannot be read", t.faults-mostFaults).Hint("mend the first ones and look again"))
	}
	slices.SortStableFunc(t.record.Days, func(a, b Day) int { return a.Date.Compare(b.Date) })
	return t.record
}

const headHint = "write \"date,tmin_c\" as the first line and one day on each line below it, such as \"2026-04-20,-1.5\""

// table is a file of minima while it is read.
type table struct {
	file           *diag.File
	report         func(diag.Diagnostic)
	record         *Record
	date, min, max int // columns; max is -1 without one
	width          int
	before         time.Time
	seen           map[time.Time]diag.Position
	faults         int
	last           diag.Position
}

// A cell is one value of a line with its place.
type cell struct {
	text string
	at   diag.Position
}

func (t *table) cells(number int, line string) []cell {
	var out []cell
	column := 1
	for _, part := range strings.Split(line, ",") {
		lead := utf8.RuneCountInString(part) - utf8.RuneCountInString(strings.TrimLeft(part, " \t"))
		text := strings.TrimSpace(part)
		if len(text) > 1 && text[0] == '"' && text[len(text)-1] == '"' {
			text, lead = text[1:len(text)-1], lead+1
		}
		out = append(out, cell{text, diag.Position{File: t.file, Line: number, Column: column + lead}})
		column += utf8.RuneCountInString(part) + 1
	}
	return out
}

// head reads the names of the columns.
func (t *table) head(cells []cell) bool {
	find := func(names ...string) (int, string) {
		i := slices.IndexFunc(cells, func(c cell) bool { return slices.Contains(names, strings.ToLower(c.text)) })
		if i < 0 {
			return -1, ""
		}
		return i, strings.ToLower(cells[i].text)
	}
	var unit string
	t.date, _ = find("date")
	t.min, unit = find("tmin_c", "tmin_f")
	t.max, _ = find(strings.Replace(unit, "tmin", "tmax", 1))
	t.width = len(cells)
	if t.date >= 0 && t.min >= 0 {
		t.record = &Record{Fahrenheit: unit == "tmin_f", file: t.file}
		return true
	}
	t.report(t.badHead(cells))
	return false
}

func (t *table) badHead(cells []cell) diag.Diagnostic {
	missing := "date"
	if t.date >= 0 {
		missing = "tmin_c"
	}
	d := diag.Errorf(cells[0].at, "minima-head", "the first line names no column %q", missing)
	if len(cells) == 1 && strings.ContainsAny(cells[0].text, ";\t") {
		return d.Hint("put commas between the columns: \"date,tmin_c\"")
	}
	for _, c := range cells {
		if near := strings.ToLower(c.text); missing == "tmin_c" && strings.HasPrefix(near, "tmin") {
			d.At = c.at
			return d.Hint("say in which unit: \"tmin_c\" for C, \"tmin_f\" for F")
		}
	}
	return d.Hint(headHint)
}

func columns(n int) string {
	if n == 1 {
		return "1 column"
	}
	return fmt.Sprintf("%d columns", n)
}

func (t *table) row(cells []cell) {
	if len(cells) != t.width {
		hint := "put one comma between the columns, and write a decimal point: \"2026-04-20,-1.5\""
		t.fault(diag.Errorf(cells[0].at, "minima-cells", "this line has %s, the first line names %d", columns(len(cells)), t.width).Hint("%s", hint))
		return
	}
	date, ok := t.readDate(cells[t.date])
	if !ok || !t.inOrder(date, cells[t.date]) {
		return
	}
	day := Day{Date: date, Line: cells[0].at.Line}
	fine := true
	day.Min, day.HasMin, fine = t.degrees(cells[t.min])
	if t.max >= 0 && fine {
		day.Max, day.HasMax, fine = t.degrees(cells[t.max])
	}
	if fine && day.HasMin && day.HasMax && day.Max < day.Min {
		fine = false
		t.fault(diag.Errorf(cells[t.max].at, "minima-swapped", "the highest temperature %q is below the lowest, %q", cells[t.max].text, cells[t.min].text).Hint("swap the two"))
	}
	if fine {
		t.record.Days = append(t.record.Days, day)
	}
}

// Daily temperatures were first written down in the 18th century; a year outside of these is a slip, and days
// so far apart are no record.
const firstYear, lastYear = 1700, 2199

func (t *table) readDate(c cell) (time.Time, bool) {
	date, err := units.ReadDate(c.text)
	if err == nil && date.Year() >= firstYear && date.Year() <= lastYear {
		return date, true
	}
	if err == nil {
		t.fault(diag.Errorf(c.at, "bad-date", "%q is no day of a record of temperatures", c.text).Hint("check the year"))
		return date, false
	}
	d := diag.Errorf(c.at, "bad-date", "%s", err)
	if fault, ok := err.(*units.Fault); ok {
		d.Hints = fault.Hints
	}
	t.fault(d)
	return date, false
}

// inOrder reports a day that stands there twice, or after a later one.
func (t *table) inOrder(date time.Time, c cell) bool {
	if first, twice := t.seen[date]; twice {
		t.fault(diag.Errorf(c.at, "repeated-day", "the day %q stands here again", c.text).Hint("keep one line for each day").Also(first, "the first is here"))
		return false
	}
	t.seen[date] = c.at
	if date.Before(t.before) {
		t.fault(diag.Errorf(c.at, "out-of-order", "the day %q stands after %s", c.text, t.before.Format(time.DateOnly)).Hint("put the days in order, the oldest first"))
	}
	t.before = date
	return true
}

var degreesText = regexp.MustCompile(`^[+-]?\d+(\.\d+)?$`)

// The lowest and the highest air temperatures measured on earth, C, widened to whole tens (WMO: -89.2 and
// 56.7): beyond them a figure is a slip or stands in another unit.
const coldest, hottest = -90, 60

func (t *table) degrees(c cell) (x float64, has, fine bool) {
	if c.text == "" {
		return 0, false, true
	}
	if !degreesText.MatchString(c.text) {
		t.fault(diag.Errorf(c.at, "bad-temperature", "%q is not a temperature", c.text).Hint("write degrees such as \"-1.5\", or leave the cell empty where the figure is missing"))
		return 0, false, false
	}
	x, _ = strconv.ParseFloat(c.text, 64) // what matches is a number
	if x < t.record.Threshold(coldest) || x > t.record.Threshold(hottest) {
		t.fault(diag.Errorf(c.at, "bad-temperature", "%q is no temperature of the air", c.text).Hint("check the unit that the first line names: \"tmin_c\" for C, \"tmin_f\" for F; leave the cell empty where the figure is missing"))
		return 0, false, false
	}
	return x, true, true
}

func (t *table) fault(d diag.Diagnostic) {
	t.faults++
	if t.last = d.At; t.faults <= mostFaults {
		t.report(d)
	}
}
