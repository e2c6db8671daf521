package solve

import (
	"math"
	"slices"
)

// Fewest solves a problem with as few amounts above 0 as miss no more than the best answer does; among those
// the cheapest, and among equal ones that of the earlier columns. It looks at every set of columns that its
// bounds do not rule out, so the answer is exact.
func Fewest(p Problem) (Answer, error) {
	best, err := Minimise(p)
	if err != nil {
		return Answer{}, err
	}
	s := search{p: p.noWorseThan(best)}
	s.prepare()
	for s.size = range used(best.Amounts) {
		if err := s.extend(nil, 0); err != nil {
			return Answer{}, err
		}
		if s.found != nil {
			return s.answer(p, best)
		}
	}
	return best, nil // the cheapest of all has as few as any
}

func used(amounts []float64) int {
	n := 0
	for _, x := range amounts {
		if x > 0 {
			n++
		}
	}
	return n
}

// noWorseThan returns the problem with the ends of its rows where an answer misses them.
func (p Problem) noWorseThan(a Answer) Problem {
	q := Problem{Columns: p.Columns, Rows: slices.Clone(p.Rows)}
	for i := range q.Rows {
		q.Rows[i].Low -= a.Rows[i].Short
		q.Rows[i].High += a.Rows[i].Over
		q.Rows[i].Rank = 0
	}
	return q
}

// A search goes through the sets of columns of one size.
type search struct {
	p     Problem
	size  int
	most  [][]float64 // by side: what each column can bring toward the end, at least 0
	needs []float64   // by side: what all together must bring
	found []int
	cost  float64
}

// prepare lists what each end needs: sum >= Low, and -sum >= -High.
func (s *search) prepare() {
	for _, r := range s.p.Rows {
		for _, end := range [][2]float64{{1, r.Low}, {-1, -r.High}} {
			if math.IsInf(end[1], 0) {
				continue
			}
			most, size := make([]float64, len(r.Of)), math.Abs(end[1])
			for j, of := range r.Of {
				most[j] = max(end[0]*of*s.p.Columns[j].Most, 0)
				size = max(size, math.Abs(of)*s.p.Columns[j].Most)
			}
			s.most, s.needs = append(s.most, most), append(s.needs, end[1]-near*size)
		}
	}
}

// extend tries every set that begins with the chosen columns and goes on with columns from next on.
func (s *search) extend(chosen []int, next int) error {
	left := s.size - len(chosen)
	if left == 0 {
		return s.try(chosen)
	}
	if !s.possible(chosen, next, left) {
		return nil
	}
	for j := next; j <= len(s.p.Columns)-left; j++ {
		if s.p.Columns[j].Most > 0 {
			if err := s.extend(append(slices.Clip(chosen), j), j+1); err != nil {
				return err
			}
		}
	}
	return nil
}

// many is how many sets are worth a linear program that may rule them all out.
const many = 60

// possible says whether the chosen columns and some more from next on could reach every end: each end by
// itself with the columns that bring it most, and all ends together when fractions of columns are allowed.
func (s *search) possible(chosen []int, next, left int) bool {
	for i, most := range s.most {
		sum := 0.0
		for _, j := range chosen {
			sum += most[j]
		}
		rest := slices.Clone(most[next:])
		slices.Sort(rest)
		for k := range min(left, len(rest)) {
			sum += rest[len(rest)-1-k]
		}
		if sum < s.needs[i] {
			return false
		}
	}
	if left < 2 || binomial(len(s.p.Columns)-next, left) < many {
		return true
	}
	return s.relaxed(chosen, next, left)
}

// relaxed counts every further column by the part of its most that is used.
func (s *search) relaxed(chosen []int, next, left int) bool {
	columns := slices.Clone(chosen)
	for j := next; j < len(s.p.Columns); j++ {
		columns = append(columns, j)
	}
	q := s.p.only(columns)
	count := Row{Of: make([]float64, len(columns)), Low: math.Inf(-1), High: float64(left)}
	for k := len(chosen); k < len(columns); k++ {
		if most := q.Columns[k].Most; most > 0 {
			count.Of[k] = 1 / most
		}
	}
	q.Rows = append(q.Rows, count)
	cost, ok, err := q.least()
	return err != nil || ok && s.betters(cost)
}

// least returns the least cost at which every row is met, false when some cannot be.
func (p Problem) least() (float64, bool, error) {
	f := newFrame(p)
	misses := f.missing(p, func(side) bool { return true })
	s, err := f.solve(misses)
	if err != nil || !p.answer(f.amounts(s.x)).Met(p, 0) {
		return 0, false, err
	}
	outside := make([]bool, f.width())
	for i, miss := range misses {
		outside[i] = miss > 0
	}
	if s, err = f.within(f.cost(p), outside); err != nil {
		return 0, false, err
	}
	return p.answer(f.amounts(s.x)).Cost, true, nil
}

// betters says whether a cost is less than that of the set kept so far, by more than rounding.
func (s *search) betters(cost float64) bool { return s.found == nil || cost < s.cost*(1-near)-near }

// try keeps a set when it reaches every end and costs less than the one kept so far.
func (s *search) try(chosen []int) error {
	cost, ok, err := s.p.only(chosen).least()
	if err == nil && ok && s.betters(cost) {
		s.found, s.cost = append([]int{}, chosen...), cost
	}
	return err
}

// only returns the problem with some of its columns.
func (p Problem) only(columns []int) Problem {
	var q Problem
	for _, j := range columns {
		q.Columns = append(q.Columns, p.Columns[j])
	}
	for _, r := range p.Rows {
		of := make([]float64, len(columns))
		for k, j := range columns {
			of[k] = r.Of[j]
		}
		r.Of = of
		q.Rows = append(q.Rows, r)
	}
	return q
}

// answer solves the problem with the columns found; what holds a missed row is told by the best answer,
// since leaving a column out is the search's own doing.
func (s *search) answer(p Problem, best Answer) (Answer, error) {
	q := p
	q.Columns = slices.Clone(p.Columns)
	for j := range q.Columns {
		if !slices.Contains(s.found, j) {
			q.Columns[j].Most = 0
		}
	}
	a, err := Minimise(q)
	for i := range a.Rows {
		if a.Rows[i].Missed() > 0 {
			a.Rows[i].HeldBy = best.Rows[i].HeldBy
		}
	}
	return a, err
}

func binomial(n, k int) int {
	out := 1
	for i := range k {
		out = out * (n - i) / (i + 1)
		if out > 1<<30 {
			break
		}
	}
	return out
}
