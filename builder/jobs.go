package builder

import (
	"slices"

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
			if seen[same] || s.repeated()[p][j.ID] {
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

// findRepeated returns, of each block that dates crops in no pot, the ids of the jobs that a plan's dates tell too.
func (s *rendering) findRepeated() map[*Placed]map[string]bool {
	planned := cropJobs{}
	general := map[*Placed][]facts.Job{}
	for _, p := range s.of("dates") {
		if !p.visible() {
			continue
		}
		jobs := jobsOf(p)
		if !slices.ContainsFunc(jobs, func(j facts.Job) bool { return j.Pot != "" }) {
			general[p] = jobs
			continue
		}
		for _, j := range jobs {
			planned[j.Crop] = append(planned[j.Crop], j)
		}
	}
	out := map[*Placed]map[string]bool{}
	for p, jobs := range general {
		out[p] = planned.repeated(jobs)
	}
	return out
}

// cropJobs are the jobs of a plan by crop.
type cropJobs map[string][]facts.Job

// renewal is the job whose days depend on more than the crop: the plan knows how long its recipe has to wait.
const renewal = "renew"

// repeated returns the ids of those jobs that the plan has on the same days. A renewal that the author did not date may
// have other days there, where all else of its crop is the plan's.
func (planned cropJobs) repeated(jobs []facts.Job) map[string]bool {
	out := map[string]bool{}
	same, other := map[string]bool{}, map[string]bool{} // crops with a job on days of the plan's, and on others
	for _, j := range jobs {
		switch told := planned.has(j, true); {
		case told:
			out[j.ID], same[j.Crop] = true, true
		case j.Job != renewal:
			other[j.Crop] = true
		}
	}
	for _, j := range jobs {
		if j.Job == renewal && !j.Own && same[j.Crop] && !other[j.Crop] && planned.has(j, false) {
			out[j.ID] = true
		}
	}
	return out
}

// has says whether the plan has a job of a crop, on the same days or on any.
func (planned cropJobs) has(j facts.Job, sameDays bool) bool {
	return slices.ContainsFunc(planned[j.Crop], func(p facts.Job) bool {
		return p.Job == j.Job && (!sameDays || p.From.Equal(j.From) && p.To.Equal(j.To))
	})
}

// wholly says whether all that a block of dates tells stands in the dates of a plan.
func (s *rendering) wholly(p *Placed) bool {
	jobs := jobsOf(p)
	return len(jobs) > 0 && !slices.ContainsFunc(jobs, func(j facts.Job) bool { return !s.repeated()[p][j.ID] })
}
