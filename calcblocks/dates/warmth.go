package dates

import (
	"fmt"
	"time"

	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/view"
)

// A warmth is the degree days of the frost-free season, year by year, for one group of crops.
type warmth struct {
	what, how         string
	base              float64 // F
	least, mean, most float64 // C days
	years             int
	sources           []string
}

// warmths sums the degree days between the average frosts in each year that is whole. They need the highest
// temperatures beside the lowest.
func (c *computation) warmths() []warmth {
	spring, ok := c.f.spring.Date(c.pass.Ref, 0.5)
	autumn, also := c.f.autumn.Date(c.pass.Ref, 0.5)
	if !ok || !also {
		return nil
	}
	at := func(name string) float64 { return c.pass.Ref.Number("season", "degree_days", name) }
	most := at("warm_cap")
	var out []warmth
	for _, w := range []struct {
		warmth
		count season.Warmth
	}{
		{warmth{what: "Cool crops", how: "the mean of a day is clamped to the base", base: at("cool_base"), sources: []string{"mrcc-gdd", "mcmaster-wilhelm-1997", "planning-values"}}, season.Warmth{Base: at("cool_base")}},
		{warmth{what: "Warm crops", how: fmt.Sprintf("highest and lowest are each clamped to the base and to %s", degreesF(most)), base: at("warm_base"), sources: []string{"iowa-state-agron541", "mcmaster-wilhelm-1997"}}, season.Warmth{Base: at("warm_base"), Cap: &most, Reading: season.EachClamped}},
	} {
		if c.sums(&w.warmth, w.count, spring, autumn); w.years > 0 {
			out = append(out, w.warmth)
		}
	}
	return out
}

func (c *computation) sums(w *warmth, count season.Warmth, spring, autumn int) {
	turn := 5.0 / 9 // F days to C days
	if !c.f.record.Fahrenheit {
		celsius := func(f float64) float64 { return (f - 32) * 5 / 9 }
		count.Base, turn = celsius(count.Base), 1
		if count.Cap != nil {
			most := celsius(*count.Cap)
			count.Cap = &most
		}
	}
	lack := int(c.pass.Ref.Number("season", "frost", "missing"))
	for year := c.f.spring.First; year <= c.f.spring.Last; year++ {
		s := season.Of(year, season.MonthDayOf(spring), season.MonthDayOf(autumn), true)
		sum, days := count.Sum(c.f.record, s.Spring, s.Autumn)
		if whole := int(s.Autumn.Sub(s.Spring)/(24*time.Hour)) + 1; days < whole-lack {
			continue
		}
		sum *= turn
		if w.years == 0 || sum < w.least {
			w.least = sum
		}
		w.most = max(w.most, sum)
		w.mean = (w.mean*float64(w.years) + sum) / float64(w.years+1)
		w.years++
	}
}

func degreesF(f float64) string { return season.Degrees((f - 32) * 5 / 9) }

func (c *computation) warmthTree() data.List {
	out := data.List{}
	for _, w := range c.warmths() {
		out = append(out, data.Object{
			field("for", data.Text(w.what)), field("base_f", data.Number(w.base)), field("years", data.Number(w.years)),
			field("least_c_days", data.Number(w.least)), field("mean_c_days", data.Number(w.mean)), field("most_c_days", data.Number(w.most)),
		})
	}
	return out
}

func (c *computation) warmthView() (view.Table, bool) {
	t := view.Table{Caption: "Warmth of a season, degree days between the average frosts", Columns: []view.Column{
		{Head: "For"}, {Head: "Base"}, {Head: "C days", Numeric: true}, {Head: "F days", Numeric: true}, {Head: "Years", Numeric: true},
	}}
	for _, w := range c.warmths() {
		t.Rows = append(t.Rows, []string{
			w.what, degreesF(w.base), fmt.Sprintf("%.0f (%.0f to %.0f)", w.mean, w.least, w.most),
			fmt.Sprintf("%.0f (%.0f to %.0f)", w.mean*9/5, w.least*9/5, w.most*9/5), fmt.Sprint(w.years),
		})
		t.Notes = append(t.Notes, w.what+": "+w.how+".")
	}
	return t, len(t.Rows) > 0
}

func (c *computation) warmthSteps() []view.WorkingStep {
	var out []view.WorkingStep
	for _, w := range c.warmths() {
		out = append(out, view.WorkingStep{
			What:    "degree days, " + view.Small(w.what),
			Sum:     fmt.Sprintf("sum of (highest + lowest) / 2 - %s over each season, where it is above zero (%s); the mean of %d years is %.0f C days", degreesF(w.base), w.how, w.years, w.mean),
			Sources: w.sources,
		})
	}
	return out
}
