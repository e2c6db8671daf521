package dates

import (
	"fmt"
	"slices"
	"strings"

	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/view"
)

// working is the arithmetic of the frost dates and of every job.
func (c *computation) working() []view.WorkingStep {
	var out []view.WorkingStep
	for side, f := range []season.Frost{c.f.spring, c.f.autumn} {
		out = append(out, c.frostSteps(season.Side(side), f)...)
	}
	for _, j := range c.jobs {
		what := strings.ReplaceAll(j.Crop, "-", " ") + ", " + j.Job.Job
		if j.Pot != "" {
			what += ", " + j.Pot
		}
		out = append(out, view.WorkingStep{What: what, Sum: j.sum, Sources: c.keysOf(j)})
	}
	return append(out, c.warmthSteps()...)
}

// keysOf are the sources of a job, with those of the frost date that it counts from.
func (c *computation) keysOf(j placed) []string {
	keys := slices.Clone(j.sources)
	if strings.Contains(j.sum, "last frost") || strings.Contains(j.sum, "spring frost") {
		keys = append(keys, c.f.counted[0].keys...)
	}
	if strings.Contains(j.sum, "first frost") || strings.Contains(j.sum, "autumn frost") {
		keys = append(keys, c.f.counted[1].keys...)
	}
	slices.Sort(keys)
	return slices.Compact(keys)
}

func (c *computation) frostSteps(side season.Side, f season.Frost) []view.WorkingStep {
	name := "last frost of spring"
	if side == season.Autumn {
		name = "first frost of autumn"
	}
	from := c.f.counted[side]
	var out []view.WorkingStep
	if c.f.record != nil {
		out = c.estimateSteps(name, f)
	}
	if from.from == "your own date" {
		out = append(out, view.WorkingStep{What: name, Sum: "your own date: " + dayWords(from), Sources: from.keys})
	}
	return out
}

// estimateSteps shows how frost dates came of minima. Days count on a scale of 365.
func (c *computation) estimateSteps(name string, f season.Frost) []view.WorkingStep {
	keys := c.minimaKeys()
	mean, ok := f.Mean()
	if !ok {
		return []view.WorkingStep{{What: name, Sum: fmt.Sprintf("%d years, none with a minimum at or below %s", f.Years, c.thresholdWords()), Sources: keys}}
	}
	steps := []view.WorkingStep{{
		What: name + ", mean", Sources: keys,
		Sum: fmt.Sprintf("%d of %d years have a minimum at or below %s; their mean day is %s = %s", len(f.Days), f.Years, c.thresholdWords(), view.Exact(mean), onDay(nearest(mean))),
	}}
	sd, _ := f.SD()
	for _, p := range []float64{0.9, 0.5, 0.1} {
		day, ok := f.Normal(p)
		rounded, given := f.Date(c.pass.Ref, p)
		if !ok || !given {
			continue
		}
		z := 0.0
		if sd > 0 {
			z = (day - mean) / sd
		}
		steps = append(steps, view.WorkingStep{
			What: fmt.Sprintf("%s, %.0f %%", name, 100*p), Sources: keys,
			Sum: fmt.Sprintf("%s %s x %s = day %s, %s", view.Exact(mean), signed(z), view.Exact(sd), view.Exact(day), onDay(rounded)),
		})
	}
	return steps
}

func signed(z float64) string {
	if z < 0 {
		return "- " + view.Exact(-z)
	}
	return "+ " + view.Exact(z)
}

func (c *computation) thresholdWords() string {
	t := c.pass.Ref.Number("season", "frost", "threshold")
	text := season.Degrees(t)
	if c.offset != 0 {
		text += fmt.Sprintf(", which is %s C at the station", view.Exact(t-c.offset))
	}
	return text
}
