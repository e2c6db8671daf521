package season

import (
	"fmt"
	"time"

	"trug/calcblocks/kit/reference"
)

// hardenOff puts seedlings outside by day in the week before planting out.
func (m *maker) hardenOff() {
	if m.indoors == nil || m.plant == nil {
		return
	}
	f := m.lib.Must("season", "harden_off")
	j := &Job{
		Name: "harden off", Text: "Harden off " + m.name, Gate: fmt.Sprintf("%.0f days or more", f.Low), Sources: f.Source,
		From: m.plant.From.AddDate(0, 0, -rounded(f.Low)), To: m.plant.From.AddDate(0, 0, -1),
	}
	j.Sum = fmt.Sprintf("planting out %s %s = %s, to the day before", m.day(m.plant.From), apart(-f.Low), m.day(j.From))
	m.add(j)
}

// renew dates the renewal of the mix: two to four weeks before the pot is used, longer when what is mixed in
// must wait longer (season.md, section 1.6; the wait is the recipe's own).
func (m *maker) renew() {
	var j *Job
	use, wait := m.use()
	if use != nil {
		j = m.before(use, wait)
	}
	usual := j
	if j = m.own("renew", j, m.first(), m.sow); j == nil {
		return
	}
	if use != nil && j != usual {
		m.inTime(j, use, wait)
	}
	warmth := m.lib.Must("season", "renewal", "warmth")
	j.Name, j.Text, j.InPot = "renew", "Renew the mix for "+m.name, true
	j.Gate = fmt.Sprintf("moist and at %s or more", Degrees(warmth.Typical))
	j.Sources = append(j.Sources, warmth.Source...)
	m.add(j)
}

// before is the usual window of the renewal before the first use of a pot.
func (m *maker) before(use *Job, wait float64) *Job {
	f := m.lib.Must("season", "renewal", "before")
	if wait <= f.Low {
		return m.window("first use", use.From, -7*f.High, -7*f.Low, f.Source)
	}
	j := m.window("first use", use.From, -7*(wait+f.High-f.Low), -7*wait, f.Source)
	j.Sum += fmt.Sprintf(" (what is mixed in waits %s)", weeksOf(wait, wait))
	return j
}

// inTime ends the grower's own renewal before the first use of the pot: by as long as what is mixed in waits, and by a week
// at least (season.yaml, renewal, widest). A date that leaves less is told.
func (m *maker) inTime(j, use *Job, wait float64) {
	widest := m.lib.Must("season", "renewal", "widest")
	weeks := max(wait, widest.Low)
	last := use.From.AddDate(0, 0, -rounded(7*weeks))
	if !j.To.After(last) {
		return
	}
	j.To = later(last, j.From)
	if !j.From.After(last) {
		j.Sum += fmt.Sprintf("; to %s, %s before the first use", m.day(last), weeksOf(weeks, weeks))
		return
	}
	m.out.Late = Note{fmt.Sprintf("The mix for %s is renewed on %s by your own date. That leaves less than %s before the pot is used from %s: renew it by %s, or start the crop later.",
		m.name, m.day(j.From), weeksOf(weeks, weeks), m.day(use.From), m.day(last)), widest.Source}
}

// use is the earliest use of the pot, and the weeks that what is mixed in must wait before it.
func (m *maker) use() (*Job, float64) {
	due := func(j *Job, wait float64) time.Time { return j.From.AddDate(0, 0, -rounded(7*wait)) }
	switch {
	case m.sow == nil:
		return m.plant, m.o.Wait.Plant
	case m.plant == nil || due(m.sow, m.o.Wait.Sow).Before(due(m.plant, m.o.Wait.Plant)):
		return m.sow, m.o.Wait.Sow
	}
	return m.plant, m.o.Wait.Plant
}

// feed dates the first liquid feed. A crop that is harvested before has none (season.md, section 1.6).
func (m *maker) feed() {
	first, again := m.lib.Must("season", "feeding", "first_liquid"), m.lib.Must("season", "feeding", "again_liquid")
	what := "planting out"
	if m.plant == nil {
		first, what = m.lib.Must("season", "feeding", "first_nitrogen"), "sowing"
	}
	j := m.after(what, m.first(), first)
	if ripe, _ := m.ripe(); j != nil && !ripe.IsZero() && !j.From.Before(ripe) {
		j = nil
	}
	if j = m.own("feed", j, m.first(), m.sow); j == nil {
		return
	}
	j.Name, j.Text, j.InPot = "feed", "Feed "+m.name+" for the first time, at half strength", true
	j.Gate = fmt.Sprintf("then every %s, unless a slow feed is in the mix", weeksOf(again.Low, again.High))
	j.Sources = append(j.Sources, again.Source...)
	m.add(j)
}

// topDress dates the first top-dressing. Light feeders have none, and none falls within the last weeks before
// the last harvest (season.md, section 1.6).
func (m *maker) topDress() {
	dry, stop := m.lib.Must("season", "feeding", "again_dry"), m.lib.Must("season", "feeding", "last_nitrogen")
	what := "planting out"
	if m.plant == nil {
		what = "sowing"
	}
	j := m.after(what, m.first(), dry)
	if _, last := m.ripe(); j != nil && !last.IsZero() {
		end := last.AddDate(0, 0, -rounded(7*stop.Typical))
		if end.Before(j.To) {
			j.To = end
			j.Sum += fmt.Sprintf("; not after %s, %.0f weeks before the last harvest", m.day(end), stop.Typical)
		}
	}
	if m.crop.Feeder == "light" || j != nil && !j.From.Before(j.To) {
		j = nil
	}
	if j = m.own("top-dress", j, m.first(), m.sow); j == nil {
		return
	}
	j.Name, j.Text, j.InPot = "top-dress", "Top-dress "+m.name, true
	j.Gate = fmt.Sprintf("again every %s, not in the last %.0f weeks before the last harvest", weeksOf(dry.Low, dry.High), stop.Typical)
	j.Sources = append(j.Sources, stop.Source...)
	m.add(j)
}

// after is a window that opens so many weeks after another opens and shuts so many after it shuts.
func (m *maker) after(what string, base *Job, f reference.Figure) *Job {
	if base == nil {
		return nil
	}
	j := &Job{From: base.From.AddDate(0, 0, rounded(7*f.Low)), To: base.To.AddDate(0, 0, rounded(7*f.High)), Sources: append([]string(nil), f.Source...)}
	j.Sum = fmt.Sprintf("%s %s %s = %s; %s %s = %s", what, m.day(base.From), apart(7*f.Low), m.day(j.From), m.day(base.To), apart(7*f.High), m.day(j.To))
	return j
}

// counted is the window that days to maturity count from, and what it is.
func (m *maker) counted() (*Job, string) {
	switch {
	case m.crop.DaysFrom == "seed" && m.sow != nil:
		return m.sow, "sowing"
	case m.crop.DaysFrom == "seed" && m.indoors != nil:
		return m.indoors, "sowing indoors"
	case m.plant != nil:
		return m.plant, "planting out"
	}
	return m.sow, "sowing"
}

// ripe returns the first day and the last of the first harvest; zero when they are not known.
func (m *maker) ripe() (first, last time.Time) {
	base, _ := m.counted()
	if f := m.crop.DaysToMaturity; f.Known && base != nil {
		return base.From.AddDate(0, 0, rounded(f.Low)), base.To.AddDate(0, 0, rounded(f.High))
	}
	return first, last
}

// harvest dates the first harvest, and the last start that ripens two weeks before the first autumn frost
// (season.md, section 1.2: autumn frost - days to maturity - 14).
func (m *maker) harvest() {
	first, last := m.ripe()
	if first.IsZero() {
		return
	}
	base, what := m.counted()
	f := m.crop.DaysToMaturity
	if !m.Autumn.IsZero() {
		m.lastStart(base, what)
	}
	j := &Job{Name: "harvest", Text: "Harvest " + m.name + ", the first of it", From: first, To: last, Sources: f.Source, InPot: true}
	j.Sum = fmt.Sprintf("%s %s + %.0f days = %s; %s + %.0f days = %s", what, m.day(base.From), f.Low, m.day(first), m.day(base.To), f.High, m.day(last))
	if f.OpenHigh {
		j.Text += ", or later"
	}
	if m.crop.DaysFrom == "" {
		j.Sum += "; the source does not say from when the days count"
	}
	m.add(j)
}

// lastStart dates the last sowing, or the last planting where the days count from it: slow kinds at its
// beginning, quick ones at its end.
func (m *maker) lastStart(base *Job, what string) {
	f, margin := m.crop.DaysToMaturity, m.lib.Must("season", "last_sowing_margin")
	back := func(days float64) time.Time { return m.Autumn.AddDate(0, 0, -rounded(days+margin.Typical)) }
	slow, quick := back(f.High), back(f.Low)
	sum := func(days float64, t time.Time) string {
		return fmt.Sprintf("first frost %s - %.0f - %.0f days = %s", m.day(m.Autumn), days, margin.Typical, m.day(t))
	}
	arithmetic := sum(f.High, slow) + "; " + sum(f.Low, quick)
	if week := quick.AddDate(0, 0, -shortest); slow.After(week) {
		slow, arithmetic = week, sum(f.Low, quick)+", and the week before it, from "+m.day(week)
	}
	keys := append(append([]string(nil), f.Source...), margin.Source...)
	switch {
	case quick.Before(base.From):
		m.out.Short = Note{fmt.Sprintf("Even a quick kind of %s would have to be started by %s to ripen two weeks before the average first frost, and it is started here from %s.", m.name, m.day(quick), m.day(base.From)), keys}
		return
	case slow.Before(base.From):
		m.out.Short = Note{fmt.Sprintf("Choose a quick kind of %s: a slow one would have to be started by %s, and it is started here from %s.", m.name, m.day(slow), m.day(base.From)), keys}
	}
	word := "sowing"
	if what == "planting out" {
		word = "planting"
	}
	j := &Job{
		Name: "last sowing", Text: fmt.Sprintf("Last %s of %s", word, m.name), Gate: "slow kinds first, quick ones by the end", Sources: keys,
		From: later(slow, base.From), To: quick, Sum: arithmetic,
	}
	m.add(j)
}

func later(a, b time.Time) time.Time {
	if a.Before(b) {
		return b
	}
	return a
}
