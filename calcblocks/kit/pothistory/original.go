package pothistory

import (
	"time"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/renewal"
	"trug/calcblocks/kit/units"
)

// A Renewal is one renewal of a pot's mix.
type Renewal struct {
	At    diag.Position
	On    time.Time
	Fresh units.SomeShare // of the refilled mix; zero = not told
	// Left is the share of the pot's first mix that is left; not known from the first renewal on whose share
	// was not told, until the mix is replaced whole.
	Left  units.SomeShare
	Known bool
}

// Renewals returns the renewals of a pot by date. Each leaves 1 - fresh of what was there, mixed through
// (renewal.OriginalLeft); one that replaces all of the mix begins anew, with a first mix of its own.
func (h *History) Renewals(pot string) []Renewal {
	var out []Renewal
	left, known := units.SomeShare{Low: 1, Typical: 1, High: 1}, true
	for _, e := range h.pots[pot] {
		if e.Did != "renewed" {
			continue
		}
		r := Renewal{At: e.At, On: e.On, Fresh: e.Fresh}
		switch {
		case e.Fresh.High == 0:
			known = false
		case whole(e.Fresh):
			left, known = units.SomeShare{Low: 1, Typical: 1, High: 1}, true
		default:
			left = after(left, e.Fresh)
		}
		r.Left, r.Known = left, known
		out = append(out, r)
	}
	return out
}

func whole(fresh units.SomeShare) bool { return fresh.Low > 1-1e-9 }

// after returns what is left of a share once a renewal replaced a part of the mix.
func after(left, fresh units.SomeShare) units.SomeShare {
	return units.SomeShare{
		Low:     left.Low * renewal.OriginalLeft(fresh.High, 1),
		Typical: left.Typical * renewal.OriginalLeft(fresh.Typical, 1),
		High:    left.High * renewal.OriginalLeft(fresh.Low, 1),
	}
}
