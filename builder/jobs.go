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
			if seen[same] || slices.Contains(s.repeated()[p], j.Crop) {
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

// findRepeated returns, of each block that dates crops in no pot, the crops that a plan's dates tell the same of.
func (s *rendering) findRepeated() map[*Placed][]string {
	planned := map[string][]facts.Job{}
	general := map[*Placed]map[string][]facts.Job{}
	for _, p := range s.of("dates") {
		if !p.visible() {
			continue
		}
		jobs, into := jobsOf(p), planned
		if !slices.ContainsFunc(jobs, func(j facts.Job) bool { return j.Pot != "" }) {
			into = map[string][]facts.Job{}
			general[p] = into
		}
		for _, j := range jobs {
			into[j.Crop] = append(into[j.Crop], j)
		}
	}
	out := map[*Placed][]string{}
	for p, crops := range general {
		for crop, jobs := range crops {
			if toldIn(planned[crop], jobs) {
				out[p] = append(out[p], crop)
			}
		}
	}
	return out
}

// renewal is the job whose days depend on more than the crop: the plan knows how long its recipe has to wait.
const renewal = "renew"

// toldIn says whether jobs of a crop are all among those of a plan, on the same days. A renewal may have others there,
// unless the author dated it.
func toldIn(planned, jobs []facts.Job) bool {
	told := func(j facts.Job) bool {
		return slices.ContainsFunc(planned, func(p facts.Job) bool {
			return p.Job == j.Job && (p.From.Equal(j.From) && p.To.Equal(j.To) || j.Job == renewal && !j.Own)
		})
	}
	onDays := slices.ContainsFunc(jobs, func(j facts.Job) bool { return j.Job != renewal })
	return onDays && !slices.ContainsFunc(jobs, func(j facts.Job) bool { return !told(j) })
}

// wholly says whether all that a block of dates tells stands in the dates of a plan.
func (s *rendering) wholly(p *Placed) bool {
	crops := s.repeated()[p]
	return len(crops) > 0 && !slices.ContainsFunc(jobsOf(p), func(j facts.Job) bool { return !slices.Contains(crops, j.Crop) })
}
