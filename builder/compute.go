package builder

import (
	"io/fs"
	"slices"

	"trug/builder/notes"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/pothistory"
)

// A unit is the blocks of one phase that one goroutine computes in order: those of a note, or that of a recipe
// file.
type unit struct {
	note   *notes.Note // nil for a recipe file
	phase  int
	blocks []*Placed
}

// compute computes all blocks, lower phases first: a block reads the facts of the phases below its own. Units of
// one phase are computed at once, and do is what is done with each.
func (h *Handbook) compute(do func(*unit) error) error {
	order := slices.Clone(h.Blocks)
	slices.SortStableFunc(order, func(a, b *Placed) int { return a.Kind.Phase - b.Kind.Phase })
	told := "" // what the facts of lower phases were computed from
	for len(order) > 0 {
		phase := order[0].Kind.Phase
		same := slices.IndexFunc(order, func(p *Placed) bool { return p.Kind.Phase != phase })
		if same < 0 {
			same = len(order)
		}
		units := h.units(phase, order[:same])
		err := h.each(same, func(i int) error {
			order[i].told = h.Facts[:len(h.Facts):len(h.Facts)]
			order[i].from = order[i].keyOn(h.ground, told)
			return nil
		})
		if err != nil {
			return err
		}
		if err := h.each(len(units), func(i int) error { return do(units[i]) }); err != nil {
			return err
		}
		told = sumOf(told, h.gather(order[:same]))
		order = order[same:]
	}
	pothistory.Check(h.Facts, h.Report)
	return nil
}

// units puts together the blocks of one phase that stand in one note.
func (h *Handbook) units(phase int, blocks []*Placed) []*unit {
	var out []*unit
	for _, p := range blocks {
		if n := len(out); n > 0 && p.Note != nil && out[n-1].note == p.Note {
			out[n-1].blocks = append(out[n-1].blocks, p)
			continue
		}
		out = append(out, &unit{p.Note, phase, []*Placed{p}})
	}
	return out
}

// gather takes in what the blocks of a phase told, and returns the sum of what they were computed from.
func (h *Handbook) gather(blocks []*Placed) string {
	var sums []string
	for _, p := range blocks {
		sums = append(sums, p.sum)
		h.Facts = append(h.Facts, p.Result.Facts...)
		for _, f := range p.Result.Facts {
			if page, ok := f.(facts.Page); ok {
				p.Note.Page = page
			}
		}
	}
	h.Notes = slices.DeleteFunc(h.Notes, func(n *notes.Note) bool { return n.Page.Hidden })
	return sumOf(sums...)
}

// inFull computes the blocks of a unit. What an earlier build computed from the same stands.
func (h *Handbook) inFull(u *unit) error {
	for _, p := range u.blocks {
		if was, found := h.known(p); found && was.whole {
			h.take(p, was)
			continue
		}
		h.take(p, h.computed(p))
	}
	return nil
}

// computed computes a block and keeps what came of it.
func (h *Handbook) computed(p *Placed) *computed {
	c := &computed{trace: &trace{}, whole: true}
	report := c.report(h.reporter())
	p.speak(report)
	c.result = p.block.Compute(h.pass(p, c.of(h.files), report))
	p.speak(h.reporter())
	c.brief = briefly(c.result)
	if h.cache != nil {
		h.cache.blocks.put(p.from, c, h.cache.build)
	}
	return c
}

// known returns what an earlier build computed from the same.
func (h *Handbook) known(p *Placed) (*computed, bool) {
	if h.cache == nil {
		return nil, false
	}
	was, found := h.cache.blocks.get(p.from, h.cache.build)
	if !found || !was.holds(h.files) {
		return nil, false
	}
	for _, d := range was.said {
		h.Report(d)
	}
	return was, true
}

func (h *Handbook) take(p *Placed, c *computed) {
	p.Result, p.brief, p.faulty, p.sum = c.result, c.brief, c.faulty(), sumOf(p.from, c.sum())
}

// pass is what a block may read. It reports nothing where report is nil.
func (h *Handbook) pass(p *Placed, files fs.FS, report func(diag.Diagnostic)) *block.Pass {
	return &block.Pass{ID: p.ID, At: p.At, Ref: h.Ref, Garden: h.Garden.From(files), Today: h.today, Facts: p.told, Report: report}
}
