package dates

import (
	"slices"
	"strconv"
	"strings"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/season"
	"trug/calcblocks/kit/units"
)

// computation carries one Compute.
type computation struct {
	*dates
	pass  *block.Pass
	f     frosts
	year  int // 0 = any year
	s     season.Season
	grown []grown
	jobs  []placed // in the order of their days
	idle  []string // crops that nothing dates, in words
}

// grown is a crop in a pot, or a crop alone, with its jobs.
type grown struct {
	crop *reference.Crop
	pot  string
	at   diag.Position
	wait facts.Wait
	plan season.Plan
}

// placed is a job with the crop that it is for.
type placed struct {
	facts.Job
	sum     string
	sources []string
}

// Compute dates the jobs.
func (d *dates) Compute(p *block.Pass) block.Result {
	c := &computation{dates: d, pass: p}
	c.readFrosts()
	plantings, ok := c.plantings()
	if !ok {
		return block.Result{Title: "Dates"}
	}
	c.year = c.findYear(plantings)
	c.s = c.seasonOf(c.year)
	c.gather(plantings)
	for i := range c.grown {
		c.date(&c.grown[i])
	}
	c.order()
	if len(c.grown) == 0 && c.plan == nil {
		return block.Result{Title: c.title()} // no crop could be read
	}
	if c.s.Spring.IsZero() && len(c.grown) > 0 && !c.f.broken {
		c.doubtFrost()
	}
	return c.result()
}

// plantings returns what the block's plan puts into pots. An unknown plan is a fault.
func (c *computation) plantings() ([]facts.Planting, bool) {
	if c.plan == nil {
		return nil, true
	}
	id, ok := c.plan.Text()
	if !ok {
		return nil, false
	}
	var out []facts.Planting
	var others []string
	for _, f := range c.pass.Facts {
		switch p, is := f.(facts.Planting); {
		case is && p.Plan == id:
			out = append(out, p)
		case is && !slices.Contains(others, p.Plan):
			others = append(others, p.Plan)
		}
	}
	if len(out) == 0 && !c.implied() {
		c.unknownPlan(id, others)
		return nil, false
	}
	return out, true
}

// implied says whether the block stands in no note but was made for a plan: then the plan is there, and when
// it plants nothing its own faults say why.
func (c *computation) implied() bool { return c.at.At().File != c.pass.At.File }

func (c *computation) unknownPlan(id string, others []string) {
	d := diag.Errorf(c.plan.At(), "unknown-plan", "there is no plan %q with a crop in a pot", id)
	switch near := diag.Closest(id, others); {
	case near != "":
		d = d.Hint("did you mean %q?", near)
	case len(others) > 0:
		d = d.Hint("the plans are %s", strings.Join(others, ", "))
	default:
		d = d.Hint("write a plan block first, or list \"crops\"")
	}
	c.pass.Report(d)
}

// findYear returns the year of the season: the block's, its plan's, else that of the newest plan of the
// handbook; 0 when nothing tells it.
func (c *computation) findYear(plantings []facts.Planting) int {
	if c.dates.year != 0 {
		return c.dates.year
	}
	newest := 0
	for _, p := range plantings {
		newest = max(newest, p.Season)
	}
	if newest != 0 {
		return newest
	}
	for _, f := range c.pass.Facts {
		if p, ok := f.(facts.Planting); ok {
			newest = max(newest, p.Season)
		}
	}
	return newest
}

// gather lists the crops of the plan by pot, then those of the block that the plan does not grow.
func (c *computation) gather(plantings []facts.Planting) {
	var planned []string
	for _, p := range plantings {
		crop, ok := c.pass.Ref.Crop(p.Crop)
		if !ok {
			continue // a pot without a crop; one that the reference does not know is the plan's own fault
		}
		planned = append(planned, p.Crop)
		c.grown = append(c.grown, grown{crop: crop, pot: p.Pot, at: p.At, wait: p.Content.Wait})
	}
	for _, own := range c.crops {
		if crop, ok := c.pass.Crop(own.id, own.at.At()); ok && !slices.Contains(planned, own.id) {
			c.grown = append(c.grown, grown{crop: crop, at: own.at.At()})
		}
	}
}

// date makes the jobs of one crop.
func (c *computation) date(g *grown) {
	told := c.ownOf(g.crop.ID)
	whens := map[string]units.When{}
	for name, o := range told {
		whens[name] = o.when
	}
	g.plan = c.s.Jobs(c.pass.Ref, g.crop, season.Options{Wait: g.wait, Own: whens})
	for _, name := range g.plan.Unknown {
		o := told[name]
		d := diag.Errorf(o.at.At(), "no-such-day", "%q counts from a day that is not known for %s", o.at.Raw(), g.crop.ID)
		c.pass.Report(d.Hint("write a date such as \"2027-04-12\", or give what it counts from: frost dates in handbook.yaml, or \"plant\" and \"sow\" of the crop"))
	}
	if words := season.CropWords(g.crop); g.plan.Idle && !slices.Contains(c.idle, words) {
		c.idle = append(c.idle, words)
	}
	for _, j := range g.plan.Jobs {
		pot := ""
		if j.InPot {
			pot = g.pot
		}
		_, dated := told[j.Name]
		c.jobs = append(c.jobs, placed{facts.Job{
			At: g.at, ID: c.jobID(pot, g.crop.ID, j.Name), Job: j.Name, Crop: g.crop.ID, Pot: pot,
			From: j.From, To: j.To, Own: dated, Text: j.Text, Gate: j.Gate,
		}, j.Sum, j.Sources})
	}
}

func (c *computation) ownOf(id string) map[string]own {
	i := slices.IndexFunc(c.crops, func(have crop) bool { return have.id == id })
	if i < 0 {
		return nil
	}
	return c.crops[i].own
}

// jobID names a job so that the name outlives a change of its date: the plan, or the block and the season,
// then pot, crop and job.
func (c *computation) jobID(pot, crop, job string) string {
	parts := []string{"dates"}
	if c.pass.ID != "" {
		parts[0] = c.pass.ID
	}
	if id, ok := c.planID(); ok {
		parts[0] = id
	} else if c.year != 0 {
		parts = append(parts, strconv.Itoa(c.year))
	}
	for _, part := range []string{pot, crop, job} {
		if part != "" {
			parts = append(parts, data.Slug(part))
		}
	}
	return strings.Join(parts, "/")
}

func (c *computation) planID() (string, bool) {
	if c.plan == nil {
		return "", false
	}
	return c.plan.Raw(), true
}

// order sorts the jobs by their days, each once: what several pots of a crop share is one job.
func (c *computation) order() {
	var all []facts.Job
	for _, j := range c.jobs {
		all = append(all, j.Job)
	}
	var out []placed
	for _, j := range season.Order(all) {
		i := slices.IndexFunc(c.jobs, func(p placed) bool {
			p.ID = j.ID // several of one name are numbered
			return p.Job == j
		})
		out = append(out, placed{j, c.jobs[i].sum, c.jobs[i].sources})
	}
	c.jobs = out
}

// doubtFrost says that nothing can be counted from a frost.
func (c *computation) doubtFrost() {
	message := "no average last frost is known, so that only your own dates stand here"
	if n := c.f.spring.Years; c.f.record != nil && n > 0 {
		few := "1 year of minima is"
		if n > 1 {
			few = strconv.Itoa(n) + " years of minima are"
		}
		message = few + " too few for an average last frost, so that only your own dates stand here"
	}
	c.doubt(c.pass.At, "no-frost-date", message, "write frost: {spring: \"04-20\", autumn: \"10-15\"} in handbook.yaml or in this block")
}

func (c *computation) title() string {
	name := "Dates"
	if c.year != 0 {
		name += " " + c.pass.Garden.Handbook.Year().Name(c.year)
	}
	return name
}
