// Package trial computes the kind "trial": treatments compared over pots, with the doubt that few pots leave.
// It says what is shown and what is not shown, and never that there is no effect.
package trial

import (
	_ "embed"
	"math/big"
	"regexp"
	"slices"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

//go:embed doc.md
var doc string

// Kind is the kind "trial". It reads the diary's events.
var Kind = block.Kind{Name: "trial", Doc: doc, NeedsID: true, Phase: 2, Parse: parse}

// trial is the block as the author wrote it.
type trial struct {
	at      *form.Node
	title   string
	unit    *form.Node
	measure string // yield, or yield per litre
	season  int    // year of the harvests, 0 = every year
	crop    *form.Node
	paired  bool
	level   float64 // of the intervals: 0.95
	groups  []group
	broken  bool // a group could not be read whole, which was reported
}

// A group is one treatment: values written in place, or pots whose harvests the diary tells.
type group struct {
	name   string
	key    *form.Node
	values []*big.Rat
	pots   []*form.Node
	byPots bool
}

var fields = []string{"title", "unit", "measure", "season", "crop", "paired", "interval", "groups"}

// measures lists what may be compared of pots; the first is meant where nothing is said.
var measures = []string{"yield", "yield per litre"}

func parse(n *form.Node) block.Block {
	m := n.Fields(fields...)
	t := &trial{at: n, unit: m.Get("unit"), measure: measures[0], crop: m.Get("crop"), level: 0.95}
	t.title, _ = m.Get("title").Text()
	if v := m.Get("measure"); v != nil {
		t.measure, _ = form.Value(v, oneOf("measure", measures...))
	}
	if v := m.Get("season"); v != nil {
		t.season, _ = form.Value(v, readYear)
	}
	if v := m.Get("paired"); v != nil {
		word, _ := form.Value(v, oneOf("answer", "yes", "no"))
		t.paired = word == "yes"
	}
	if v := m.Get("interval"); v != nil {
		if level, ok := form.Value(v, func(s string) (float64, error) { return readLevel(v.Values(), s) }); ok {
			t.level = level
		}
	}
	t.readGroups(m.Need("groups", "write one treatment a line below \"groups:\", such as \"kelp: [410, 380, 455]\""))
	return t
}

// oneOf reads one of some words.
func oneOf(what string, words ...string) func(string) (string, error) {
	return func(text string) (string, error) {
		if slices.Contains(words, text) {
			return text, nil
		}
		hint := "write "
		for i, w := range words {
			if i > 0 {
				hint += " or "
			}
			hint += "\"" + w + "\""
		}
		return "", units.Faultf(0, "unknown-word", hint, "unknown %s %q", what, text)
	}
}

var yearText = regexp.MustCompile(`^[12]\d{3}$`)

func readYear(text string) (int, error) {
	if !yearText.MatchString(text) {
		return 0, units.Faultf(0, "bad-season", "write the year of the harvests, such as 2027", "%q is not a season", text)
	}
	r, _ := new(big.Rat).SetString(text)
	return int(r.Num().Int64()), nil
}

// readLevel reads the share of an interval. Half of the times is the least that says anything, all of them
// would need an interval without an end.
func readLevel(values units.Parser, text string) (float64, error) {
	share, err := values.Share(text)
	if err != nil {
		return 0, err
	}
	level := share.Float()
	if level < 0.5 || level > 0.999 {
		return 0, units.Faultf(0, "bad-interval", "write a share from 50 to 99.9 %, such as \"95 %\"", "%q is no usual interval", text)
	}
	return level, nil
}

func (t *trial) readGroups(n *form.Node) {
	if n == nil {
		return
	}
	for _, e := range n.Mapping().Entries {
		g, whole := readGroup(e)
		t.broken = t.broken || !whole
		if g.size() > 0 {
			t.groups = append(t.groups, g)
		}
	}
	if !n.IsMapping() {
		return
	}
	if len(n.Mapping().Entries) < 2 {
		n.Fault("one-group", "write the treatment and what it is compared with, one a line", "a trial needs two groups or more")
	}
	t.checkGroups()
}

// checkGroups reports groups that do not go together: values beside pots, a pot in two groups, pairs that
// do not match.
func (t *trial) checkGroups() {
	before := map[string]*form.Node{}
	for _, g := range t.groups {
		first := t.groups[0]
		if g.byPots != first.byPots {
			d := diag.Errorf(g.key.At(), "values-and-pots", "some groups hold values and others pots")
			g.key.Report(d.Hint("write values in all groups, or pots in all").Also(first.key.At(), "the first group is here"))
		}
		if t.paired && !t.broken && g.size() != first.size() {
			d := diag.Errorf(g.key.At(), "uneven-pairs", "pairs need as many members on each side, and %q has %d, %q has %d", g.name, g.size(), first.name, first.size())
			g.key.Report(d.Hint("write the members of a pair at the same place of each list, or leave \"paired\" out").Also(first.key.At(), "the first group is here"))
		}
		for _, pot := range g.pots {
			if earlier := before[pot.Raw()]; earlier != nil {
				d := diag.Errorf(pot.At(), "repeated-pot", "the pot %q stands here twice", pot.Raw())
				pot.Report(d.Hint("a pot has one treatment: keep one of the two").Also(earlier.At(), "the first is here"))
				continue
			}
			before[pot.Raw()] = pot
		}
	}
}

func (g group) size() int { return len(g.values) + len(g.pots) }

func readGroup(e form.Entry) (group, bool) {
	g := group{name: e.Name, key: e.Key}
	if e.Value.IsMapping() {
		g.byPots = true
		pots := e.Value.Fields("pots").Need("pots", "write the ids of the pots, such as \"pots: [tub-1, tub-2]\"")
		for _, pot := range pots.Items() {
			if _, ok := pot.Text(); ok {
				g.pots = append(g.pots, pot)
			}
		}
		return g, pots.IsList() && len(g.pots) == len(pots.Items())
	}
	if !e.Value.IsList() {
		e.Value.Fault("not-list", "write the values as \"[410, 380, 455]\", or \"{pots: [tub-1, tub-2]}\"", "a list of values is needed here")
		return g, false
	}
	whole := len(e.Value.Items()) > 0
	if !whole {
		e.Value.Fault("no-values", "write the values as \"[410, 380, 455]\"", "the group %q is empty", g.name)
	}
	for _, item := range e.Value.Items() {
		x, ok := form.Value(item, readValue)
		whole = whole && ok
		if ok {
			g.values = append(g.values, x)
		}
	}
	return g, whole
}

var (
	valueText   = regexp.MustCompile(`^-?\d+(?:\.\d+)?$`)
	withComma   = regexp.MustCompile(`^-?\d+,\d+$`)
	withUnitEnd = regexp.MustCompile(`^-?\d+(?:\.\d+)? *[^\d.,\s].*$`)
)

// readValue reads a plain decimal number; it may be zero or less.
func readValue(text string) (*big.Rat, error) {
	hint := "write a plain number, such as 410 or 12.5"
	switch {
	case valueText.MatchString(text) && len(text) <= 30:
		r, _ := new(big.Rat).SetString(text)
		return r, nil
	case withComma.MatchString(text):
		hint = "write a decimal point and no thousands separator"
	case withUnitEnd.MatchString(text):
		hint = "write the number alone, and its unit once as \"unit: g\""
	}
	return nil, units.Faultf(0, "bad-number", hint, "%q is not a number", text)
}
