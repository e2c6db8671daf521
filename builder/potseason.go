package builder

import (
	"fmt"
	"html/template"

	"trug/builder/site"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/pothistory"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// planting returns what the newest plan that names a pot gives it.
func (s *rendering) planting(pot string) (facts.Planting, bool) {
	if s.plantings == nil {
		s.plantings = map[string]facts.Planting{}
		for _, p := range told[facts.Planting](s) {
			if p.Season > s.plantings[p.Pot].Season {
				s.plantings[p.Pot] = p
			}
		}
	}
	planted, ok := s.plantings[pot]
	return planted, ok
}

// jobsOf returns the jobs of one pot in order.
func (s *rendering) jobsOf(pot string) []facts.Job {
	if s.potJobs == nil {
		s.potJobs = map[string][]facts.Job{}
		for _, j := range s.jobs() {
			s.potJobs[j.Pot] = append(s.potJobs[j.Pot], j)
		}
	}
	return s.potJobs[pot]
}

// potSeason fills in what the season holds for a pot: its amounts and its jobs.
func (s *rendering) potSeason(pot string, at site.Address, body *layouts.PotPage) error {
	if planted, ok := s.planting(pot); ok {
		body.SeasonName = fmt.Sprint(planted.Season)
		doc := view.Doc{Parts: append([]view.Part{s.planHead(planted, at)}, planted.Parts...)}
		html, err := s.look.Parts(doc, layouts.Context{
			Root: at.Root(), BlockID: planted.Plan + "-" + pot, Heading: 3, Main: string(s.Garden.Handbook.Main), How: at.To(site.How("plan")),
		})
		if err != nil {
			return err
		}
		body.Season = html
	}
	body.Next = potJobs(s.jobsOf(pot))
	return nil
}

// planHead leads from a pot to its plan and its recipe.
func (s *rendering) planHead(p facts.Planting, at site.Address) view.More {
	if plan, ok := s.Block(p.Plan); ok {
		return view.More{Text: plan.Result.Title, Href: at.To(site.Plan(p.Plan))}
	}
	return view.More{}
}

// potHistory shows what the diaries say of a pot.
func (s *rendering) potHistory(pot string, at site.Address) (template.HTML, error) {
	if s.past == nil {
		s.past = pothistory.Of(s.Ref, s.Garden, s.toldInAll())
	}
	parts := s.past.PotParts(pot)
	s.cite(parts, site.Pot(pot))
	return s.look.Parts(view.Doc{Parts: parts}, layouts.Context{
		Root: at.Root(), BlockID: "diary-" + pot, Heading: 3, Main: string(s.Garden.Handbook.Main), How: at.To(site.How("diary")),
	})
}

// cite notes the works that a pot's history rests on, for the page of sources.
func (s *rendering) cite(parts []view.Part, at site.Address) {
	if s.cited == nil {
		s.cited = map[string][]site.Address{}
	}
	for _, part := range parts {
		works, ok := part.(view.Bibliography)
		for _, e := range works.Entries {
			if ok {
				s.cited[e.Key] = append(s.cited[e.Key], at)
			}
		}
	}
}
