package season

import (
	"cmp"
	"slices"
	"strconv"

	"trug/calcblocks/kit/facts"
)

// Order returns jobs in the order of their days, each once: a job that two blocks tell alike is one. Jobs of
// one id on different days are told apart by a number behind the id, in the order in which they came.
func Order(jobs []facts.Job) []facts.Job {
	var out []facts.Job
	seen := map[string][]facts.Job{}
	for _, j := range jobs {
		before := seen[j.ID]
		if slices.ContainsFunc(before, func(b facts.Job) bool { return b.From.Equal(j.From) && b.To.Equal(j.To) && b.Text == j.Text }) {
			continue
		}
		seen[j.ID] = append(before, j)
		if len(before) > 0 {
			j.ID += "-" + strconv.Itoa(len(before)+1)
		}
		out = append(out, j)
	}
	slices.SortStableFunc(out, func(a, b facts.Job) int {
		return cmp.Or(a.From.Compare(b.From), a.To.Compare(b.To), cmp.Compare(a.Text, b.Text), cmp.Compare(a.ID, b.ID))
	})
	return out
}
