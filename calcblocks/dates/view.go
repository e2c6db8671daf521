package dates

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

// tasks are what the jobs have the grower do.
var tasks = []string{"opening-mix", "feeding", "harvesting"}

func (c *computation) parts(entries []sources.Entry) []view.Part {
	parts := []view.Part{c.figures()} // first: every job counts from the frost
	if guards := care.GuardViews(c.guards()); len(guards) > 0 {
		parts = append(parts, view.Cautions{Items: guards})
	}
	for _, text := range c.notes() {
		parts = append(parts, view.Paragraph{Text: text})
	}
	if len(c.jobs) > 0 {
		parts = append(parts, c.table())
	}
	if t, ok := c.warmthView(); ok {
		parts = append(parts, t)
	}
	return append(parts,
		view.Working{Title: "Working", Steps: c.working()},
		view.Cautions{Title: "Take care", Items: care.Views(care.Concerning(c.pass.Ref, nil, tasks))},
		view.Bibliography{Title: "Sources", Entries: entries},
	)
}

// table lists the jobs by their days; those alike share a line that names their pots.
func (c *computation) table() view.Table {
	type line struct {
		placed
		pots []string
	}
	var lines []*line
	for _, j := range c.jobs {
		i := slices.IndexFunc(lines, func(l *line) bool { return l.Text == j.Text && l.From.Equal(j.From) && l.To.Equal(j.To) })
		if i < 0 {
			lines, i = append(lines, &line{placed: j}), len(lines)
		}
		if pot, ok := c.pass.Garden.Pot(j.Pot); ok {
			lines[i].pots = append(lines[i].pots, pot.Name)
		}
	}
	t := view.Table{Caption: "What to do when", Columns: []view.Column{{Head: "When"}, {Head: "Job"}, {Head: "Pots"}, {Head: "And"}}}
	for _, l := range lines {
		t.Rows = append(t.Rows, []string{season.Words(l.From, l.To, c.year > 0), l.Text, strings.Join(l.pots, ", "), l.Gate})
	}
	if !slices.ContainsFunc(lines, func(l *line) bool { return len(l.pots) > 0 }) {
		t.Columns = slices.Delete(t.Columns, 2, 3)
		for i := range t.Rows {
			t.Rows[i] = slices.Delete(t.Rows[i], 2, 3)
		}
	}
	if slices.ContainsFunc(c.grown, func(g grown) bool { return g.plan.Job("sow") != nil && g.plan.Job("plant") != nil }) {
		t.Notes = append(t.Notes, "Where a crop can be planted out or sown where it grows, choose one of the two.")
	}
	t.Notes = append(t.Notes, "Each line is a window of days: the weather decides within it. Mix in a pot warms sooner than the ground, and roots in it freeze sooner too.")
	return t
}

func (c *computation) figures() view.Figures {
	out := view.Figures{Title: "Frost"}
	for side, f := range []season.Frost{c.f.spring, c.f.autumn} {
		out.Rows = append(out.Rows, c.sideRows(season.Side(side), f)...)
	}
	return out
}

func (c *computation) sideRows(side season.Side, f season.Frost) []view.Figure {
	name, when := "Last frost of spring", "after"
	if side == season.Autumn {
		name, when = "First frost of autumn", "before"
	}
	from := c.f.counted[side]
	if c.f.record == nil {
		value, note := "not known", "write it under \"frost\" in handbook.yaml, or name a file of daily minima"
		if from.day.Month > 0 {
			value, note = dayWords(from), "your own average date: about half of all years have a frost "+when+" it"
		}
		return []view.Figure{{Label: name, Value: value, Note: note}}
	}
	rows := []view.Figure{c.yearsRow(name, f)}
	for _, d := range []struct {
		p     float64
		label string
		often string
	}{{0.1, "cautious", "one year in ten has"}, {0.5, "average", "half of all years have"}, {0.9, "bold", "nine years in ten have"}} {
		rows = append(rows, c.dateRow(name+", "+d.label, f, d.p, fmt.Sprintf("%s a frost %s it", d.often, when)))
	}
	if strings.HasPrefix(from.from, "your") {
		rows = append(rows, view.Figure{Label: name + ", counted from", Value: dayWords(from), Note: from.from + " goes before the minima"})
	}
	return rows
}

func (c *computation) yearsRow(name string, f season.Frost) view.Figure {
	var notes []string
	if f.Years > 0 {
		notes = append(notes, fmt.Sprintf("%d to %d", f.First, f.Last))
	}
	if n := len(f.Dropped); n > 0 {
		notes = append(notes, fmt.Sprintf("%d left out for missing days", n))
	}
	if n := f.Years - len(f.Days); n > 0 {
		notes = append(notes, fmt.Sprintf("%d without frost", n))
	}
	if sd, ok := f.SD(); ok {
		notes = append(notes, fmt.Sprintf("standard deviation %s days", view.Number(sd)))
	}
	return view.Figure{Label: name + ", years", Value: fmt.Sprint(f.Years), Note: strings.Join(notes, "; ")}
}

// dateRow is the date of one probability. Where the years are too few, or frost too rare, it says so.
func (c *computation) dateRow(label string, f season.Frost, p float64, means string) view.Figure {
	row := view.Figure{Label: label, Value: "not known", Note: means}
	day, ok := f.Date(c.pass.Ref, p)
	share, _ := f.Share()
	switch {
	case ok:
		row.Value = onDay(day)
		if other, ok := f.Empirical(p); ok && nearest(other) != day {
			row.Note += "; by the order of the years " + onDay(nearest(other))
		}
	case !f.Enough(c.pass.Ref, p):
		need := "years_for_10"
		if p == 0.5 {
			need = "years_for_50"
		}
		row.Note = fmt.Sprintf("%d years are too few: it takes %.0f", f.Years, c.pass.Ref.Number("season", "frost", need))
	case p >= share:
		row.Note = fmt.Sprintf("only %d of %d years have a frost at all", len(f.Days), f.Years)
	default:
		row.Note = "the years with frost are too few"
	}
	return row
}

func nearest(day float64) int { return int(math.Round(day)) }

func onDay(day int) string {
	d := season.MonthDayOf(day)
	return fmt.Sprintf("%d %s", d.Day, d.Month)
}

func dayWords(c counted) string { return fmt.Sprintf("%d %s", c.day.Day, c.day.Month) }

// notes are what a reader of the dates should know besides.
func (c *computation) notes() []string {
	var out []string
	if c.f.counted[0].day.Month == 0 {
		out = append(out, "No average last frost is known, so that only dates of your own stand here.")
	} else if _, ok := c.f.spring.Date(c.pass.Ref, 0.1); !ok {
		out = append(out, fmt.Sprintf("The dates count from an average. The last frost of a year can come %.0f weeks before or after it, or more.", c.pass.Ref.Number("season", "frost", "spread")))
	}
	if len(c.idle) > 0 && !c.s.Spring.IsZero() {
		out = append(out, fmt.Sprintf("When to start %s is not known here: write it beside the crop, such as \"plant: 2027-04-12\".", view.And(c.idle)))
	}
	if c.year == 0 && len(c.jobs) > 0 {
		out = append(out, "These are the days of any year. With \"season\" and a year they join the calendar.")
	}
	if c.f.record != nil && c.offset != 0 {
		out = append(out, fmt.Sprintf("The pots are taken to be %s C %s than the station.", view.Number(math.Abs(c.offset)), warmer(c.offset)))
	} else if c.f.record != nil {
		out = append(out, "The minima are those of the station; a wall keeps pots warmer, a hollow colder. Write the difference as \"offset\".")
	}
	return out
}

func warmer(offset float64) string {
	if offset < 0 {
		return "colder"
	}
	return "warmer"
}
