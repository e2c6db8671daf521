package builder

import (
	"slices"
	"time"

	"trug/builder/output"
	"trug/builder/site"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/view"
	"trug/layouts"
)

// told returns the facts of one type that published blocks told.
func told[T facts.Fact](s *rendering) []T {
	var out []T
	for _, p := range s.Blocks {
		if !p.visible() {
			continue
		}
		for _, f := range p.Result.Facts {
			if one, ok := f.(T); ok {
				out = append(out, one)
			}
		}
	}
	return out
}

// toldInAll returns every fact that published blocks told.
func (s *rendering) toldInAll() []facts.Fact { return told[facts.Fact](s) }

// potJobs lists the jobs of one pot.
func potJobs(jobs []facts.Job) []layouts.Season {
	var out []layouts.Season
	for _, j := range jobs {
		what := j.Text
		if j.Gate != "" {
			what += ", " + j.Gate
		}
		out = append(out, layouts.Season{
			When: season.Words(j.From, j.To, true), What: what,
			From: j.From.Format(time.DateOnly), To: j.To.Format(time.DateOnly),
		})
	}
	return out
}

func (s *rendering) datesPage() error {
	const at, file = site.Address("dates/"), site.Address("dates.ics")
	body := layouts.BlockPage{
		Title: "Dates", Summary: "What to do when, as windows of days. The weather decides within them.",
		Empty: "No dates yet: write a dates block with your crops, or a plan, and give the frost dates in handbook.yaml.",
	}
	if jobs := s.jobs(); len(jobs) > 0 {
		hb := s.Garden.Handbook
		s.add(file, output.Calendar(jobs, hb.Title, hb.Address, s.calendarDay(jobs[0].From)))
		body.Files = []layouts.File{{Type: "text/calendar", Href: at.To(file), Name: "Calendar file"}}
	}
	return s.kindPage(at, "dates", body)
}

func (s *rendering) shoppingPage() error {
	return s.kindPage("shopping/", "shopping", layouts.BlockPage{
		Title: "Shopping", Summary: "What to buy for the season's plan, after what is in the shed.",
		Empty: "Nothing to buy yet: write a plan that gives each pot its recipe.",
	})
}

// kindPage shows every published block of a kind, one below the other; of those in notes it says where. Dates that stand
// in those of a plan as well are read in their note.
func (s *rendering) kindPage(at site.Address, kind string, body layouts.BlockPage) error {
	var doc view.Doc
	for _, p := range s.of(kind) {
		if !p.visible() || len(p.Result.View.Parts) == 0 {
			continue
		}
		if s.repeated()[p].wholly {
			body.SameIn = withLink(body.SameIn, layouts.Link{Name: p.Note.Title(), Href: at.To(p.Note.Address)})
			continue
		}
		head := view.More{Title: p.Result.Title}
		if p.fence != nil {
			head.Text, head.Href = "It stands in the note "+p.Note.Title(), at.To(p.Note.Address)
		}
		doc.Parts = append(append(doc.Parts, head), p.Result.View.Parts...)
		for _, link := range s.whereFrom(p, at) {
			body.UsedIn = withLink(body.UsedIn, link)
		}
		if len(body.Files) < 2 { // the first block's numbers as files; the others' stand on their notes
			body.Files = append(body.Files, s.dataFiles(p, at)...)
		}
	}
	parts, err := s.parts(doc, at, kind)
	if err != nil {
		return err
	}
	body.Parts = parts
	body.SameIn = slices.DeleteFunc(body.SameIn, func(l layouts.Link) bool { return slices.Contains(body.UsedIn, l) })
	return s.page(at, layouts.Page{Title: body.Title, Description: body.Summary, Current: body.Title, Body: body})
}

// withLink adds a link that is not there yet.
func withLink(links []layouts.Link, link layouts.Link) []layouts.Link {
	if slices.Contains(links, link) {
		return links
	}
	return append(links, link)
}

// whereFrom links to the plan of an implied block.
func (s *rendering) whereFrom(p *Placed, at site.Address) []layouts.Link {
	if p.fence != nil || p.Note == nil {
		return nil
	}
	return []layouts.Link{{Name: p.Note.Title(), Href: at.To(p.Note.Address)}}
}

// ownAddress returns the address of a block that has a page of its own.
func ownAddress(p *Placed) (site.Address, bool) {
	switch p.Kind.Name {
	case "recipe":
		return site.Recipe(p.ID), p.ID != ""
	case "plan":
		return site.Plan(p.ID), p.ID != ""
	case "trial":
		return site.Trial(p.ID), p.ID != ""
	}
	return "", false
}

// ownPage writes the page that a block has to itself. That of a recipe holds more than others.
func (s *rendering) ownPage(p *Placed, at site.Address) error {
	if !p.brief.computed {
		return nil // its faults stop the build
	}
	if p.Kind.Name == "recipe" {
		return s.recipePage(p)
	}
	parts, err := s.partsOf(p, at)
	if err != nil {
		return err
	}
	body := layouts.BlockPage{Title: p.Result.Title, Parts: parts, Files: s.dataFiles(p, at), UsedIn: s.links(at, s.usedIn[p.ID])}
	return s.page(at, layouts.Page{
		Title: p.Result.Title, Description: view.Capital(p.Kind.Name) + ": " + p.Result.Title, Body: body, Alternates: body.Files,
		Trail: []layouts.Link{{Name: p.Note.Title(), Href: at.To(p.Note.Address)}},
	})
}

// calendarDay is the day that the calendar file says it was made on: the newest that a note names, else that of
// its first job.
func (s *rendering) calendarDay(first time.Time) time.Time {
	if day := s.newestDay(); !day.IsZero() {
		return day
	}
	return first
}

// newestDay is the latest day that a note names: what stands for "now" in files that need a time.
func (s *rendering) newestDay() time.Time {
	var out time.Time
	for _, n := range s.Notes {
		if day := newest(n); day.After(out) {
			out = day
		}
	}
	return out
}
