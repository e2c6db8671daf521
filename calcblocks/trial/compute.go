package trial

import (
	"math/big"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/care"
	"trug/calcblocks/kit/view"
)

// The least number of pots a side for figures and for a verdict (season.md, section 5: a choice, derived).
const (
	leastForFigures = 3
	leastForVerdict = 5
)

// computation carries one Compute.
type computation struct {
	*trial
	pass      *block.Pass
	unitText  string
	unitGrams *big.Rat
	cropID    string
	cells     [][]cell
	values    [][]*big.Rat
	sums      []Sample
	pairs     []pair // the first group with each of the others
}

// A pair is the comparison of the first group with another.
type pair struct {
	other       int // index of the other group
	off         Sample
	differences []*big.Rat // of paired trials
	Comparison
	verdict string
}

// The verdicts, as the data has them.
const (
	tooFew    = "too few pots to tell"
	noVerdict = "no verdict below 5 pots a side"
	alike     = "no verdict on values that do not vary"
	notShown  = "not shown"
	onlyJust  = "only just shown"
	shown     = "shown"
)

// Compute compares the first group with each of the others.
func (t *trial) Compute(p *block.Pass) block.Result {
	c := &computation{trial: t, pass: p}
	if !c.gather() || t.broken || t.uneven() {
		return block.Result{Title: c.name()}
	}
	c.values = c.samples()
	for _, values := range c.values {
		c.sums = append(c.sums, Summarise(values))
	}
	for other := 1; other < len(c.sums); other++ {
		c.pairs = append(c.pairs, c.compare(other))
	}
	return c.result()
}

// uneven says whether pairs do not match, which was reported.
func (t *trial) uneven() bool {
	for _, g := range t.groups {
		if t.paired && g.size() != t.groups[0].size() || g.byPots != t.groups[0].byPots {
			return true
		}
	}
	return false
}

func (c *computation) name() string {
	if c.title != "" {
		return c.title
	}
	return "Trial"
}

func (c *computation) compare(other int) pair {
	p := pair{other: other}
	first, second := c.sums[0], c.sums[other]
	if min(first.N, second.N) < leastForFigures {
		p.verdict = tooFew
		return p
	}
	if c.paired {
		for i, x := range c.values[0] {
			p.differences = append(p.differences, new(big.Rat).Sub(x, c.values[other][i]))
		}
		p.off = Summarise(p.differences)
		p.Comparison = Paired(p.off, c.level)
	} else {
		p.Comparison = Welch(first, second, c.level)
	}
	p.verdict = p.judge(min(first.N, second.N))
	return p
}

// judge gives the verdict: a difference is shown when the interval leaves no difference out, and only just
// where its near end comes within a tenth of the difference.
func (p pair) judge(fewest int) string {
	near := p.Low
	if p.Difference < 0 {
		near = -p.High
	}
	switch {
	case fewest < leastForVerdict:
		return noVerdict
	case !p.Known:
		return alike
	case near <= 0:
		return notShown
	case near < max(p.Difference, -p.Difference)/10:
		return onlyJust
	}
	return shown
}

func (c *computation) result() block.Result {
	entries := care.Entries(c.pass.Garden, c.keys())
	tree := care.Sealed(c.tree(), entries)
	return block.Result{
		Title: c.name(), Data: tree, Working: c.working(), Sources: entries,
		View: view.Doc{Parts: c.parts(entries)},
	}
}

func (c *computation) keys() []string { return care.Cited(c.working(), nil, nil) }
