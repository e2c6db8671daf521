package solve

import (
	"math"
	"slices"
)

// hold finds for every missed row what stands in its way.
func (p Problem) hold(a *Answer) error {
	for i := range a.Rows {
		if a.Rows[i].Missed() == 0 {
			continue
		}
		h := holder{p: p.holdingOthers(*a, i), row: i}
		var err error
		if a.Rows[i].HeldBy, err = h.holds(); err != nil {
			return err
		}
	}
	return nil
}

// holdingOthers returns the problem in which the other rows of the rank and below are held to what they
// reached, and this one alone may miss.
func (p Problem) holdingOthers(a Answer, row int) Problem {
	q := p.noWorseThan(a)
	for i := range q.Rows {
		q.Rows[i].Weight = 1
		if p.Rows[i].Rank > p.Rows[row].Rank {
			q.Rows[i].Low, q.Rows[i].High = math.Inf(-1), math.Inf(1)
		}
	}
	q.Rows[row].Low, q.Rows[row].High, q.Rows[row].Rank = p.Rows[row].Low, p.Rows[row].High, 1
	return q
}

// A holder looks for what holds one row.
type holder struct {
	p    Problem
	row  int
	miss float64
}

// holds returns the ends that let the row come nearer when they are widened, each by itself. The ends that
// have a price in the dual are the candidates: at a corner where several limits meet, some of those help
// nobody. Where none helps by itself, it returns a set of ends that help together and not without any of
// them; none when nothing helps.
func (h *holder) holds() ([]Hold, error) {
	f := newFrame(h.p)
	s, err := h.least(f)
	if err != nil {
		return nil, err
	}
	h.miss = h.missed(f, s)
	var out []Hold
	for _, candidate := range f.priced(s.y, h.row) {
		if helps, err := h.helps([]Hold{candidate}); err != nil || helps {
			out = append(out, candidate)
		}
	}
	if len(out) > 0 {
		return out, nil
	}
	return h.together()
}

// together starts with every end and leaves out what is not needed.
func (h *holder) together() ([]Hold, error) {
	set := h.p.ends(h.row)
	if helps, err := h.helps(set); err != nil || !helps {
		return nil, err
	}
	for i := len(set) - 1; i >= 0; i-- {
		without := slices.Delete(slices.Clone(set), i, i+1)
		helps, err := h.helps(without)
		if err != nil {
			return nil, err
		}
		if helps {
			set = without
		}
	}
	return set, nil
}

// ends lists every limit but those of one row.
func (p Problem) ends(row int) []Hold {
	var out []Hold
	for j, c := range p.Columns {
		if c.Most > 0 {
			out = append(out, Hold{Column: j, Row: -1})
		}
	}
	for i, r := range p.Rows {
		if i != row && !math.IsInf(r.Low, 0) {
			out = append(out, Hold{Column: -1, Row: i})
		}
		if i != row && !math.IsInf(r.High, 0) {
			out = append(out, Hold{Column: -1, Row: i, High: true})
		}
	}
	return out
}

// wider is by which part of its size an end is widened to see whether that helps, and least by which part
// of its own size the row must then come nearer.
const wider, nearer = 1e-2, 1e-6

// helps says whether the row comes nearer when some ends are wider.
func (h *holder) helps(ends []Hold) (bool, error) {
	q := Problem{slices.Clone(h.p.Columns), slices.Clone(h.p.Rows)}
	for _, e := range ends {
		switch {
		case e.Column >= 0:
			q.Columns[e.Column].Most *= 1 + wider
		case e.High:
			q.Rows[e.Row].High += wider * h.p.size(e.Row)
		default:
			q.Rows[e.Row].Low -= wider * h.p.size(e.Row)
		}
	}
	f := newFrame(q)
	s, err := h.least(f)
	return err == nil && h.missed(f, s) < h.miss-nearer*h.p.size(h.row), err
}

// size is the largest of a row's terms and ends.
func (p Problem) size(row int) float64 {
	size := 0.0
	for j, of := range p.Rows[row].Of {
		size = max(size, math.Abs(of)*p.Columns[j].Most)
	}
	for _, end := range []float64{p.Rows[row].Low, p.Rows[row].High} {
		if !math.IsInf(end, 0) && size == 0 {
			size = math.Abs(end)
		}
	}
	return size
}

// least makes the miss of the row least while the others are met.
func (h *holder) least(f *frame) (stage, error) {
	outside := make([]bool, f.width())
	for i, s := range f.sides {
		outside[f.miss(i)] = s.row != h.row
	}
	return f.within(f.missing(h.p, func(s side) bool { return s.row == h.row }), outside)
}

func (h *holder) missed(f *frame, s stage) float64 {
	sum := 0.0
	for i, side := range f.sides {
		if side.row == h.row {
			sum += s.x[f.miss(i)] * side.scale
		}
	}
	return sum
}

// priced names the ends with a price, but for those of one row.
func (f *frame) priced(y []float64, row int) []Hold {
	var out []Hold
	for k, j := range f.cols {
		if math.Abs(y[k]) > off {
			out = append(out, Hold{Column: j, Row: -1})
		}
	}
	for i, s := range f.sides {
		if s.row != row && math.Abs(y[len(f.cols)+i]) > off {
			out = append(out, Hold{Column: -1, Row: s.row, High: s.high})
		}
	}
	return out
}
