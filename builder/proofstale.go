package builder

import (
	"time"

	"trug/builder/history"
	"trug/builder/notes"
)

// prices doubts a price whose day is more than a year ago, or still to come.
func (p *proofreader) prices() {
	for _, m := range p.Garden.Cupboard() {
		for _, pack := range m.Packs {
			on := pack.Priced.Format(time.DateOnly)
			switch {
			case pack.Priced.IsZero():
			case pack.Priced.AddDate(1, 0, 0).Before(p.today):
				p.doubt(pack.At, "price-old", "see what it costs now, and write the day beside it", "the price of %q was seen on %s, more than a year ago", m.ID, on)
			case pack.Priced.After(p.today.AddDate(0, 0, 1)): // the day may have begun elsewhere
				p.doubt(pack.At, "price-to-come", "check the year", "the price of %q is of %s, a day to come", m.ID, on)
			}
		}
	}
}

// leaving doubts a pot that is to leave on a day to come: the site has it gone already, with no label.
func (p *proofreader) leaving() {
	for _, pot := range p.Garden.Pots {
		if pot.Gone.After(p.today.AddDate(0, 0, 1)) { // the day may have begun elsewhere
			p.doubt(pot.At, "gone-to-come", "write \"gone\" when it has left", "the pot %q leaves on %s, a day to come", pot.ID, pot.Gone.Format(time.DateOnly))
		}
	}
}

// unrevised doubts a note that holds a block whose numbers changed after the note's own dates.
func (p *proofreader) unrevised() {
	for _, n := range p.Notes {
		if newest(n).IsZero() {
			continue
		}
		for _, b := range p.inNote[n.Path] {
			if b.ID == "" {
				continue
			}
			if on := lastChange(p.History.Of(b.ID)); on.After(newest(n)) {
				p.tellUnrevised(n, b, on)
			}
		}
	}
}

func (p *proofreader) tellUnrevised(n *notes.Note, b *Placed, on time.Time) {
	key := "revised"
	if n.Page.Revised.IsZero() {
		key = "written"
	}
	p.doubt(p.placeOf(n, key), "not-revised", "see whether the text still fits its numbers, then write \"revised:\" with the day",
		"the numbers of %q changed on %s, and this note was not revised since", b.ID, on.Format(time.DateOnly))
}

// lastChange is the day of the newest record whose numbers a reader sees differ from those before, zero where
// there is none: a block's first record is no change.
func lastChange(records history.History) time.Time {
	for i := len(records) - 1; i > 0; i-- {
		if len(history.Compare(records[i-1].Numbers, records[i].Numbers)) > 0 {
			return records[i].On
		}
	}
	return time.Time{}
}
