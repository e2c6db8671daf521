package plan

import (
	"fmt"
	"math"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/renewal"
	"trug/calcblocks/kit/rotation"
)

// rounding is what the arithmetic may be off by: cm, litres, or a part of a number.
const rounding = 1e-9

// mix is what happens to the mix of one pot, in litres firmed. Known says that the fall of the level or the
// depth to take out was told; else only the compost is known, and nothing is followed.
//
// Left - Out + compost that fits + what comes in + what must be bought = Fill.
type mix struct {
	known   bool
	level   renewal.Level
	balance renewal.Balance // Compost is what fits; NewMix is what is wanted besides
	compost float64         // of the recipe
	noRoom  float64         // of the compost, for which there is no room
	in      float64         // old mix that comes from other pots
	short   float64         // new mix still wanted
	over    float64         // of what comes in, more than fits
	to      string          // where the old mix goes, "" when nobody told
}

// measure finds the heights of the mix and what they mean; false when the pot has no such height, which was
// reported then.
func (c *computation) measure(r *row) bool {
	m := &r.mix
	m.compost = (r.content.Firmed[0] + r.content.Firmed[1]) / 2
	m.known = r.settled != nil || r.take != nil
	ok := c.levels(r) && c.destination(r)
	if !ok || !m.known {
		return ok
	}
	litres := func(cm float64) float64 { return r.pot.Vessel.VolumeAt(cm) / 1000 }
	if r.take == nil {
		m.renewed(litres(m.level.Refill), litres(m.level.Before))
		return true
	}
	b := m.level.ByDepth(litres)
	room := b.Room()
	if room < -rounding {
		r.take.at.Fault("no-room", "take more out, or leave less headspace", "the old mix of %q still reaches above the line to fill to", r.pot.Pot)
		return false
	}
	room = max(room, 0)
	b.Compost = min(m.compost, room)
	m.noRoom = m.compost - b.Compost
	b.NewMix = room - b.Compost
	m.balance = b
	return true
}

// renewed balances a pot of which only the fall was told: old mix comes out where the compost needs the room
// (volumes.md, section 5).
func (m *mix) renewed(fill, left float64) {
	m.balance = renewal.Renew(fill, 1-left/fill, m.compost/fill)
	if more := m.balance.Out - left; more > 0 { // more compost than the pot holds
		m.balance.Out, m.balance.Compost, m.noRoom = left, m.compost-more, more
	}
}

// levels finds the heights in cm above the base: where the mix stands, where it stands once some is out, and
// the line to fill to. Without the fall of the level the mix stands at its line.
func (c *computation) levels(r *row) bool {
	v := r.pot.Vessel
	line := v.FillHeight()
	level := renewal.Level{Before: line, Refill: line}
	if r.leave != nil {
		if v.Measured[1] > 0 {
			r.leave.at.Fault("leave-without-rim", "leave \"leave\" out: the pot is filled to its own line; or give the pot a shape", "headspace counts from the rim, and the rim of %q is not known", r.pot.Pot)
			return false
		}
		if level.Refill = v.Depth - r.leave.cm; level.Refill <= 0 {
			return r.leave.refuse("leave-too-deep", "the pot is %.4g cm deep", v.Depth)
		}
	}
	if r.settled != nil {
		if level.Before = line - r.settled.cm; level.Before < 0 {
			return r.settled.refuse("settled-too-far", "the fill line stands %.4g cm above the base", line)
		}
	}
	level.After = level.Before
	if r.take != nil && r.take.all {
		level.After = 0
	} else if r.take != nil {
		if level.After = level.Before - r.take.cm; level.After < -rounding {
			return r.take.refuse("take-too-much", "the old mix stands %.4g cm deep", level.Before)
		}
	}
	r.mix.level = level
	return true
}

func (l *length) refuse(code, hint string, args ...any) bool {
	l.at.Fault(code, fmt.Sprintf(hint, args...), "%q is more than there is", l.at.Raw())
	return false
}

const (
	heap    = "heap"
	discard = "discard"
)

// destination checks where the old mix goes; whether that is a pot of this plan shows later.
func (c *computation) destination(r *row) bool {
	if r.oldMixTo == nil {
		return true
	}
	to, ok := r.oldMixTo.Text()
	if !ok {
		return false
	}
	pot, isPot := c.pots[to]
	switch {
	case !isPot && to != heap && to != discard:
		c.unknownDestination(r, to)
		return false
	case isPot && !c.stands(pot, r.oldMixTo, `name another pot, or write "heap" or "discard"`):
		return false
	case to == r.pot.Pot:
		r.oldMixTo.Fault("same-pot", "name another pot, or write \"heap\" or \"discard\"", "the old mix of %q cannot go to itself", to)
		return false
	case !r.mix.known && r.told:
		return false // its fault was reported
	case !r.mix.known:
		r.oldMixTo.Fault("old-mix-unmeasured", "write how far the level fell, such as \"settled: 4 cm\", or how much comes out, such as \"take: 8 cm\" or \"take: all\"", "how much old mix comes out of %q is not told", r.pot.Pot)
		return false
	}
	r.mix.to = to
	return true
}

func (c *computation) unknownDestination(r *row, to string) {
	d := diag.Errorf(r.oldMixTo.At(), "unknown-pot", "unknown pot %q", to)
	if near := diag.Closest(to, append(sortedKeys(c.pots), heap, discard)); near != "" {
		d = d.Hint("did you mean %q?", near)
	} else {
		d = d.Hint("write the id of a pot, \"heap\" or \"discard\"")
	}
	c.pass.Report(d)
}

// followMix carries old mix from pot to pot, then says what is still short and what is too much.
func (c *computation) followMix() {
	course := rotation.Follow(c.pass.Ref, c.year(), c.before(), nil, c.moved...)
	for _, r := range c.rows {
		out := r.mix.balance.Out
		if r.mix.to == "" || out <= rounding {
			continue
		}
		if !c.refuseUnfit(r, course) {
			c.moves = append(c.moves, facts.Move{At: r.oldMixTo.At(), Plan: c.pass.ID, From: r.pot.Pot, To: r.mix.to, Litres: out})
		}
		if to := c.byPot[r.mix.to]; to != nil {
			to.mix.in += out
		}
	}
	for _, r := range c.rows {
		if m := &r.mix; m.known {
			if short := m.balance.NewMix - m.in; math.Abs(short) > rounding {
				m.short, m.over = max(short, 0), max(-short, 0)
			}
		}
	}
}

// before returns what the diary tells of the years before the season: old mix moves before its planting.
func (c *computation) before() []facts.Event {
	var out []facts.Event
	for _, e := range c.events {
		if c.year().Of(e.On) < c.season {
			out = append(out, e)
		}
	}
	return out
}

// refuseUnfit refuses to send mix to another pot or the heap in which something was found that lasts
// (families.yaml, discard; volumes.md, section 6: bagged to the bin, not garden or compost).
func (c *computation) refuseUnfit(r *row, course *rotation.Course) bool {
	if r.mix.to == discard {
		return false
	}
	var worst rotation.Resting
	for _, rest := range course.Resting(r.pot.Pot) {
		if rest.Finding.Unfit && rest.Year >= worst.Year {
			worst = rest
		}
	}
	if worst.Year == 0 {
		return false
	}
	d := diag.Errorf(r.oldMixTo.At(), "unfit-mix", "the old mix of %q cannot go to %q: %s was found in it in %d", r.pot.Pot, r.mix.to, worst.Finding.Name, worst.Year)
	c.pass.Report(d.Hint("write \"old mix to: discard\": bag it and keep it off compost and beds").Also(worst.At, "what was found is here"))
	return true
}

// renewedWhole says that nothing of the old mix stays and none comes in: the pot begins anew.
func (r *row) renewedWhole() bool {
	m := r.mix
	return m.known && m.in == 0 && m.balance.Left-m.balance.Out < rounding
}

// totals are the litres of a whole plan. Of the old mix that comes out:
// Out = Used + Over + Heap + Discard + Elsewhere + Untold, and into the pots: Wanted = Used + Short.
type totals struct {
	out, used, over, heap, discard, elsewhere, untold float64
	wanted, short                                     float64
	followed                                          int // pots
}

func (c *computation) totals() totals {
	var t totals
	for _, r := range c.rows {
		m := r.mix
		if !m.known {
			continue
		}
		t.followed++
		t.out += m.balance.Out
		t.wanted += m.balance.NewMix
		t.short += m.short
		t.over += m.over
		t.used += m.in - m.over
		c.place(&t, m)
	}
	return t
}

// place adds old mix that reaches no pot whose measures are told.
func (c *computation) place(t *totals, m mix) {
	switch to := c.byPot[m.to]; {
	case m.to == heap:
		t.heap += m.balance.Out
	case m.to == discard:
		t.discard += m.balance.Out
	case m.to == "":
		t.untold += m.balance.Out
	case to == nil || !to.mix.known:
		t.elsewhere += m.balance.Out
	}
}
