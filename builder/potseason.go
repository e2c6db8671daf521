package builder

import (
	"html/template"

	"trug/builder/site"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// planting returns what the newest plan that names a pot gives it.
func (s *rendering) planting(pot string) (facts.Planting, bool) {
	planted, ok := s.plantings()[pot]
	return planted, ok
}

func (s *rendering) findPlantings() map[string]facts.Planting {
	out := map[string]facts.Planting{}
	for _, p := range told[facts.Planting](s) {
		if p.Season > out[p.Pot].Season {
			out[p.Pot] = p
		}
	}
	return out
}

func (s *rendering) findPotJobs() map[string][]facts.Job {
	out := map[string][]facts.Job{}
	for _, j := range s.jobs() {
		out[j.Pot] = append(out[j.Pot], j)
	}
	return out
}

// potSeason fills in what the season holds for a pot: its amounts and its jobs.
func (s *rendering) potSeason(pot string, at site.Address, body *layouts.PotPage) error {
	if planted, ok := s.planting(pot); ok {
		body.SeasonName = s.Garden.Handbook.Year().Name(planted.Season)
		doc := view.Doc{Parts: append([]view.Part{s.planHead(planted, at)}, planted.Parts...)}
		html, err := s.look.Parts(doc, layouts.Context{
			Root: at.Root(), BlockID: planted.Plan + "-" + pot, Heading: 3, Main: string(s.Garden.Handbook.Main), How: at.To(site.How("plan")),
		})
		if err != nil {
			return err
		}
		body.Season = html
	}
	body.Next = potJobs(s.potJobs()[pot])
	return nil
}

// planHead leads from a pot to its plan and its recipe.
func (s *rendering) planHead(p facts.Planting, at site.Address) view.More {
	if plan, ok := s.Block(p.Plan); ok {
		return view.More{Text: "The whole plan: " + plan.Result.Title, Href: at.To(site.Plan(p.Plan))}
	}
	return view.More{}
}

// potHistory shows what the diaries say of a pot.
func (s *rendering) potHistory(pot string, at site.Address) (template.HTML, error) {
	parts := s.past().PotParts(pot)
	s.cite(parts, site.Pot(pot))
	return s.look.Parts(view.Doc{Parts: parts}, layouts.Context{
		Root: at.Root(), BlockID: "diary-" + pot, Heading: 3, Main: string(s.Garden.Handbook.Main), How: at.To(site.How("diary")),
	})
}

// cite notes the works that a pot's history rests on, for the page of sources. Only the pages of pots call it, one
// after another.
func (s *rendering) cite(parts []view.Part, at site.Address) {
	for _, part := range parts {
		works, ok := part.(view.Bibliography)
		for _, e := range works.Entries {
			if ok {
				s.cited[e.Key] = append(s.cited[e.Key], at)
			}
		}
	}
}
