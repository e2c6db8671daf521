package builder

import (
	"slices"
	"time"

	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/season"
)

// findJobs returns the jobs of all blocks in order, each once: what a block tells of a crop in general is left out where
// a plan tells it of a pot.
func (s *rendering) findJobs() []facts.Job {
	type job struct{ job, crop, pot, text, from, to string }
	seen := map[job]bool{}
	var out []facts.Job
	for _, p := range s.Blocks {
		if !p.visible() {
			continue
		}
		for _, j := range jobsOf(p) {
			same := job{j.Job, j.Crop, j.Pot, j.Text, day(j.From), day(j.To)}
			if seen[same] || s.repeated()[p].jobs[j.ID] {
				continue
			}
			seen[same] = true
			out = append(out, j)
		}
	}
	return season.Order(out)
}

// jobsOf returns the jobs that a block told.
func jobsOf(p *Placed) []facts.Job {
	var out []facts.Job
	for _, f := range p.Result.Facts {
		if j, ok := f.(facts.Job); ok {
			out = append(out, j)
		}
	}
	return out
}

// A repetition is what of a block that dates crops in no pot a plan tells of pots.
type repetition struct {
	jobs   map[string]bool // ids of those that are told once, of the pots
	wholly bool            // all are on the plan's days, so that the block shows nothing of its own
}

// findRepeated returns the repetition of each block of dates that names no pot.
func (s *rendering) findRepeated() map[*Placed]repetition {
	var planned []facts.Job
	general := map[*Placed][]facts.Job{}
	for _, p := range s.of("dates") {
		if !p.visible() {
			continue
		}
		jobs := jobsOf(p)
		if slices.ContainsFunc(jobs, func(j facts.Job) bool { return j.Pot != "" }) {
			planned = append(planned, jobs...)
		} else {
			general[p] = jobs
		}
	}
	out := map[*Placed]repetition{}
	for p, jobs := range general {
		out[p] = repetitionOf(planned, jobs)
	}
	return out
}

// oneSeason is how many days may lie between a job of a crop in general and the same job of that season in a plan: the
// two may count from other frost dates (judgement, no source).
const oneSeason = 120

// renewal is the job whose days depend on more than the crop: the plan knows how long its recipe has to wait.
const renewal = "renew"

// repetitionOf compares jobs with those of plans. A crop that the author dated, and what hangs on that date, is told
// once on the same days alone; other jobs are, whatever becomes of their days, so that a calendar holds on to them.
func repetitionOf(planned, jobs []facts.Job) repetition {
	dated := map[string]bool{}
	for _, j := range jobs {
		dated[j.Crop] = dated[j.Crop] || j.Own
	}
	out := repetition{jobs: map[string]bool{}, wholly: len(jobs) > 0}
	for _, j := range jobs {
		same, near := onDays(planned, j)
		out.jobs[j.ID] = same || near && !dated[j.Crop]
		out.wholly = out.wholly && (same || near && j.Job == renewal && !dated[j.Crop])
	}
	return out
}

// onDays says whether a plan has a job of a crop on the same days, or on near ones.
func onDays(planned []facts.Job, j facts.Job) (same, near bool) {
	for _, p := range planned {
		if p.Job == j.Job && p.Crop == j.Crop {
			same = same || p.From.Equal(j.From) && p.To.Equal(j.To)
			near = near || p.From.Sub(j.From).Abs() < oneSeason*24*time.Hour
		}
	}
	return same, near
}
