package dates

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
)

// frosts is what is known of the frost dates: from minima, from the grower, and which of the two counts.
type frosts struct {
	record         *season.Record
	broken         bool // there is a file of minima, and it cannot be used
	spring, autumn season.Frost
	own            frostDates // the grower's average dates
	counted        [2]counted // spring and autumn: what the jobs count from
	entries        []sources.Entry
}

// counted is the average frost date that jobs count from.
type counted struct {
	day  units.MonthDay
	from string // "your own date", "30 years of minima"; "" when no date is known
	keys []string
}

// readFrosts gathers the frost dates: the block's own dates beat its minima, which beat the handbook's dates,
// which beat the handbook's minima.
func (c *computation) readFrosts() {
	hb := c.pass.Garden.Handbook
	if c.minima != nil {
		if name, ok := c.minima.Text(); ok {
			c.readMinima(name, c.minima.At())
		}
	} else if hb.Minima != "" {
		c.readMinima(hb.Minima, c.inHandbook("minima", hb.Minima))
	}
	c.f.own = c.frost
	c.pick(0, c.frost.spring, c.frost.springAt, hb.Spring, c.f.spring)
	c.pick(1, c.frost.autumn, c.frost.autumnAt, hb.Autumn, c.f.autumn)
}

// pick settles one side.
func (c *computation) pick(side int, block units.MonthDay, at diag.Position, handbook units.MonthDay, estimate season.Frost) {
	name := season.Side(side).String()
	day, estimated := estimate.Date(c.pass.Ref, 0.5)
	switch {
	case block.Month > 0:
		c.f.counted[side] = c.ownDate(block, at, name)
	case handbook.Month > 0 && (c.minima == nil || !estimated):
		c.f.counted[side] = c.ownDate(handbook, c.inHandbook(name, fmt.Sprintf("%02d-%02d", handbook.Month, handbook.Day)), name)
	case estimated:
		years := fmt.Sprintf("%d years of minima", estimate.Years)
		c.f.counted[side] = counted{season.MonthDayOf(day), years, c.minimaKeys()}
	}
}

// ownDate is a date that the grower wrote.
func (c *computation) ownDate(day units.MonthDay, at diag.Position, side string) counted {
	e := care.Own(c.pass.Garden, at, "Average "+map[string]string{"spring": "last", "autumn": "first"}[side]+" frost, from the grower")
	e.Key += "-" + side
	c.f.entries = append(c.f.entries, e)
	return counted{day, "your own date", []string{e.Key}}
}

// inHandbook finds the place of a value in the handbook file, which does not keep it.
func (c *computation) inHandbook(key, value string) diag.Position {
	f, err := c.pass.Garden.File("handbook.yaml")
	if err != nil {
		return c.pass.At
	}
	at := strings.Index(f.Text, key+":")
	if at < 0 {
		return f.At(0)
	}
	if i := strings.Index(f.Text[at:], value); i >= 0 {
		at += i
	}
	return f.At(at)
}

func (c *computation) readMinima(name string, at diag.Position) {
	f, err := c.pass.Garden.File(name)
	c.f.broken = true
	if err != nil && !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, fs.ErrInvalid) {
		c.pass.Report(diag.Unread(at, fmt.Sprintf("%q", name), err))
		return
	}
	if err != nil {
		hint := "write its path from the content folder, such as \"frost.csv\""
		if errors.Is(err, fs.ErrInvalid) {
			hint = "the file must lie in the content folder: write its path from there, such as \"frost.csv\""
		}
		c.pass.Report(diag.Errorf(at, "no-minima-file", "there is no file %q", name).Hint("%s", hint))
		return
	}
	faults := 0
	r := season.Read(f, func(d diag.Diagnostic) {
		faults++
		c.pass.Report(d)
	})
	if r == nil || faults > 0 || len(r.Days) == 0 {
		if r != nil && faults == 0 {
			c.pass.Report(diag.Errorf(diag.Whole(f.Name), "no-minima", "this file names its columns and holds no day").Hint("write one day on each line, such as \"2026-04-20,-1.5\""))
		}
		return
	}
	// A place that is warmer by the offset freezes when the station is that much below the threshold.
	threshold := c.pass.Ref.Number("season", "frost", "threshold") - c.offset
	rules := season.RulesOf(c.pass.Ref, r, threshold)
	c.f.broken = false
	c.f.record, c.f.spring, c.f.autumn = r, r.Frost(season.Spring, rules), r.Frost(season.Autumn, rules)
	c.f.entries = append(c.f.entries, c.minimaEntry(r))
	c.doubtGaps(r)
}

func (c *computation) minimaEntry(r *season.Record) sources.Entry {
	e := care.Own(c.pass.Garden, r.Start(), fmt.Sprintf("Daily minima of one station, %d to %d", r.Days[0].Date.Year(), r.Days[len(r.Days)-1].Date.Year()))
	e.Key = "own-minima"
	return e
}

// minimaKeys are the sources of an estimate.
func (c *computation) minimaKeys() []string {
	lib := c.pass.Ref
	return care.Keys([]string{"own-minima", "noaa-freeze-data", "thom-shaw-1958"},
		lib.Must("season", "frost", "threshold").Source, lib.Must("season", "frost", "window").Source, lib.Must("season", "frost", "years_for_50").Source)
}

// seasonal is the length from which a gap is a part of the year that the file leaves out on purpose: it is
// told only where it costs a year.
const seasonal = 60

// toldGaps is how many gaps of a file are told one by one.
const toldGaps = 3

// doubtGaps names the missing days, and the years that they cost.
func (c *computation) doubtGaps(r *season.Record) {
	gaps := slices.DeleteFunc(r.Gaps(), func(g season.Gap) bool { return g.Days() >= seasonal })
	hint := fmt.Sprintf("a year counts unless more than %.0f of the %.0f days around the average frost are missing",
		c.pass.Ref.Number("season", "frost", "missing"), c.pass.Ref.Number("season", "frost", "window"))
	for i, g := range gaps {
		if i == toldGaps {
			rest := 0
			for _, g := range gaps[i:] {
				rest += g.Days()
			}
			c.doubt(g.At, "minima-gap", fmt.Sprintf("from here on %s missing in %s more", areDays(rest), places(len(gaps)-i)), "%s", hint)
			break
		}
		said := fmt.Sprintf("%s missing before this one, %s", areDays(g.Days()), g.From.Format(time.DateOnly))
		if g.Days() > 1 {
			said += " to " + g.To.Format(time.DateOnly)
		}
		c.doubt(g.At, "minima-gap", said, "%s", hint)
	}
	for _, f := range []season.Frost{c.f.spring, c.f.autumn} {
		for _, d := range f.Dropped {
			said := fmt.Sprintf("%s %d is left out: %d of the %.0f days around the average frost are missing", f.Side, d.Year, d.Missing, c.pass.Ref.Number("season", "frost", "window"))
			c.doubt(d.At, "minima-year", said, "fill in the days, or leave it: the other years count")
		}
	}
}

func areDays(n int) string {
	if n == 1 {
		return "1 day is"
	}
	return fmt.Sprintf("%d days are", n)
}

func places(n int) string {
	if n == 1 {
		return "1 place"
	}
	return fmt.Sprintf("%d places", n)
}

func (c *computation) doubt(at diag.Position, code, message, hint string, args ...any) {
	c.pass.Report(diag.Diagnostic{At: at, Severity: diag.Doubt, Code: code, Message: message}.Hint(hint, args...))
}

// seasonOf is the season whose jobs are dated.
func (c *computation) seasonOf(year int) season.Season {
	told := year > 0
	if !told {
		year = 2001 // any year of 365 days: only month and day are shown
	}
	return season.Of(year, c.f.counted[0].day, c.f.counted[1].day, told)
}

// late is the date after which one year in ten still has a frost, in the season's year; zero when not known.
func (c *computation) late() time.Time {
	day, ok := c.f.spring.Date(c.pass.Ref, 0.1)
	if !ok || c.s.Spring.IsZero() {
		return time.Time{}
	}
	return season.In(c.s.Spring.Year(), season.MonthDayOf(day))
}
