package dates

import (
	"fmt"
	"slices"
	"time"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

func (c *computation) result() block.Result {
	entries := c.entries()
	tree := care.Sealed(c.tree(), entries)
	r := block.Result{Title: c.title(), Data: tree, Working: c.working(), Sources: entries}
	if c.year > 0 {
		for _, j := range c.jobs {
			r.Facts = append(r.Facts, j.Job)
		}
	}
	r.View = view.Doc{Parts: c.parts(entries)}
	return r
}

func field(key string, v data.Value) data.Field { return data.Field{Key: key, Value: v} }

func (c *computation) tree() data.Object {
	jobs := data.List{}
	for _, j := range c.jobs {
		jobs = append(jobs, c.jobTree(j.Job))
	}
	planID, _ := c.planID()
	return data.Object{
		field("id", data.TextOrNull(c.pass.ID)),
		field("kind", data.Text("dates")),
		field("title", data.Text(c.title())),
		field("stamp", data.Null{}),
		field("season", numberOrNull(float64(c.year), c.year > 0)),
		field("plan", data.TextOrNull(planID)),
		field("jobs", jobs),
		field("frost", c.frostTree(c.f.spring, c.f.counted[0])),
		field("autumn_frost", c.frostTree(c.f.autumn, c.f.counted[1])),
		field("offset_c", data.Number(c.offset)),
		field("degree_days", c.warmthTree()),
		field("not_dated", data.Texts(c.idle)),
		field("cautions", care.Tree(c.guards(), care.Concerning(c.pass.Ref, nil, tasks))),
		field("sources", data.Null{}),
	}
}

func (c *computation) jobTree(j facts.Job) data.Object {
	return data.Object{
		field("job", data.Text(j.Job)), field("crop", data.Text(j.Crop)), field("pot", data.TextOrNull(j.Pot)),
		field("from", data.Text(c.iso(j.From))), field("to", data.Text(c.iso(j.To))),
		field("text", data.Text(j.Text)), field("gate", data.TextOrNull(j.Gate)),
	}
}

// iso is a date, or month and day where the season's year is not told.
func (c *computation) iso(t time.Time) string {
	if c.year == 0 {
		return t.Format("01-02")
	}
	return t.Format(time.DateOnly)
}

// frostTree is one side: what the minima tell, and the date that the jobs count from.
func (c *computation) frostTree(f season.Frost, from counted) data.Object {
	mean, hasMean := f.Mean()
	sd, hasSD := f.SD()
	date := func(p float64) data.Value {
		if day, ok := f.Date(c.pass.Ref, p); ok {
			return monthDay(season.MonthDayOf(day))
		}
		return data.Null{}
	}
	middle := date(0.5)
	if c.f.record == nil {
		middle = monthDay(from.day)
	}
	return data.Object{
		field("years", numberOrNull(float64(f.Years), c.f.record != nil)),
		field("years_with_frost", numberOrNull(float64(len(f.Days)), c.f.record != nil)),
		field("mean_day", numberOrNull(mean, hasMean)),
		field("sd_days", numberOrNull(sd, hasSD)),
		field("p90", date(0.9)), field("p50", middle), field("p10", date(0.1)),
		field("by_order", c.empiricalTree(f)),
		field("counted_from", monthDay(from.day)),
	}
}

// empiricalTree is the dates as the sorted years themselves give them.
func (c *computation) empiricalTree(f season.Frost) data.Object {
	date := func(p float64) data.Value {
		if day, ok := f.Empirical(p); ok && f.Enough(c.pass.Ref, p) {
			return monthDay(season.MonthDayOf(nearest(day)))
		}
		return data.Null{}
	}
	return data.Object{field("p90", date(0.9)), field("p50", date(0.5)), field("p10", date(0.1))}
}

func monthDay(d units.MonthDay) data.Value {
	if d.Month == 0 {
		return data.Null{}
	}
	return data.Text(fmt.Sprintf("%02d-%02d", d.Month, d.Day))
}

func numberOrNull(x float64, known bool) data.Value {
	if !known {
		return data.Null{}
	}
	return data.Number(x)
}

// entries is the bibliography: what the figures and cautions rest on, and the grower's own dates.
func (c *computation) entries() []sources.Entry {
	var keys []string
	for _, step := range c.working() {
		keys = append(keys, step.Sources...)
	}
	for _, g := range c.guards() {
		keys = append(keys, g.Sources...)
	}
	for _, caution := range care.Concerning(c.pass.Ref, nil, tasks) {
		keys = append(keys, caution.Source...)
	}
	keys = append(keys, c.pass.Ref.Must("season", "frost", "spread").Source...)
	var set sources.Set
	set.Add(care.Entries(c.pass.Garden, keys)...)
	for _, e := range c.f.entries {
		if slices.Contains(keys, e.Key) {
			set.Add(e)
		}
	}
	return set.Sorted()
}
