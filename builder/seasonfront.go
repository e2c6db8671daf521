package builder

import (
	"slices"
	"strings"
	"time"

	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/rotation"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// A stretch is half a month with the jobs that begin in it: by what is done, the crops that it is done for.
type stretch struct {
	from, to time.Time
	verbs    []string
	crops    map[string][]string
}

// seasonInBrief is the whole season for the front page, a line for each half of a month: the page of dates
// has each job with its own days.
func seasonInBrief(jobs []facts.Job) []layouts.Season {
	var out []layouts.Season
	for _, st := range stretches(jobs) {
		var what []string
		for _, verb := range st.verbs {
			what = append(what, strings.TrimSuffix(verb+": "+strings.Join(st.crops[verb], ", "), ": "))
		}
		out = append(out, layouts.Season{
			When: halfName(st.from), What: view.Capital(strings.Join(what, "; ")),
			From: st.from.Format(time.DateOnly), To: st.to.Format(time.DateOnly),
		})
	}
	return out
}

func stretches(jobs []facts.Job) []*stretch {
	var out []*stretch
	for _, j := range jobs {
		from, to := half(j.From)
		if len(out) == 0 || !out[len(out)-1].from.Equal(from) {
			out = append(out, &stretch{from: from, to: to, crops: map[string][]string{}})
		}
		st := out[len(out)-1]
		if !slices.Contains(st.verbs, j.Job) {
			st.verbs = append(st.verbs, j.Job)
		}
		name := rotation.PlantName(j.Crop)
		if name != "" && !slices.Contains(st.crops[j.Job], name) {
			st.crops[j.Job] = append(st.crops[j.Job], name)
		}
	}
	return out
}

// half returns the half of a month in which a day lies.
func half(day time.Time) (from, to time.Time) {
	first := time.Date(day.Year(), day.Month(), 1, 0, 0, 0, 0, time.UTC)
	if day.Day() <= 15 {
		return first, first.AddDate(0, 0, 14)
	}
	return first.AddDate(0, 0, 15), first.AddDate(0, 1, -1)
}

func halfName(from time.Time) string {
	if from.Day() == 1 {
		return "Early " + from.Format("January 2006")
	}
	return "Late " + from.Format("January 2006")
}
