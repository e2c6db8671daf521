// Package diary computes the kind "diary": what was done and seen, pot by pot, and what it adds up to over the
// years. What concerns several diaries is in kit/pothistory.
package diary

import (
	_ "embed"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/units"
)

//go:embed doc.md
var doc string

// Kind is the kind "diary".
var Kind = block.Kind{Name: "diary", Doc: doc, Phase: 1, Parse: parse}

// diary is the block as the author wrote it.
type diary struct{ entries []*entry }

// An entry is one line. What only the pots, the cupboard and the recipes can show is resolved in Compute.
type entry struct {
	node     *form.Node
	on       time.Time
	pots     []*form.Node
	did      string
	crop     *form.Node
	plants   int
	with     []*form.Node // a recipe and its picks, or one amendment
	amount   *units.Amount
	amountAt *form.Node
	share    *units.Share
	depth    *units.Length
	depthAt  *form.Node
	oldMixTo *form.Node
	yield    units.Mass
	note     string
	disease  *form.Node
}

var fields = []string{"on", "pot", "did", "crop", "plants", "with", "amount", "share", "depth", "old mix to", "yield", "note", "disease"}

// did are the words for what was done, with those of their fields that not every line may have.
var did = map[string][]string{
	"renewed":   {"with", "amount", "share", "depth", "old mix to"},
	"planted":   {"plants", "with", "amount"},
	"sown":      {"plants", "with", "amount"},
	"fed":       {"with", "amount"},
	"harvested": {"yield"},
	"noted":     {},
}

func parse(n *form.Node) block.Block {
	d := &diary{}
	if n.IsMapping() {
		n.Fault("not-list", "begin each line of a diary with \"- \", such as \"- {on: 2027-05-12, pot: blue-tub, did: planted, crop: pepper}\"", "a diary is a list of lines")
		return d
	}
	for _, item := range n.Items() {
		if e := parseEntry(item); e != nil {
			d.entries = append(d.entries, e)
		}
	}
	return d
}

// dayAlone reports a line that has its day for a key, as in "- 2027-05-17: fed", which lacks everything else.
func dayAlone(n *form.Node) bool {
	if !n.IsMapping() {
		return false
	}
	entries := n.Mapping().Entries
	if len(entries) != 1 {
		return false
	}
	if _, err := units.ReadDate(entries[0].Name); err != nil {
		return false
	}
	hint := fmt.Sprintf("write day, pot and deed: \"- {on: %s, pot: blue-tub, did: noted}\"", entries[0].Name)
	n.Fault("day-alone", hint, "a line of a diary has more than a day and a text")
	return true
}

// parseEntry reads a line; it is nil when its day or its deed cannot be told, which was reported.
func parseEntry(n *form.Node) *entry {
	if dayAlone(n) {
		return nil
	}
	m := n.Fields(fields...)
	if !n.IsMapping() {
		return nil
	}
	e := &entry{node: n, crop: m.Get("crop"), oldMixTo: m.Get("old mix to"), disease: m.Get("disease")}
	dated, known := false, false
	if on := m.Need("on", "write the day, such as \"on: 2027-05-12\""); on != nil {
		e.on, dated = form.Value(on, units.ReadDate)
	}
	e.pots = listed(m.Need("pot", "write the pot's id, such as \"pot: blue-tub\", or several: \"pot: [blue-tub, stair-tub-1]\""))
	if word := m.Need("did", "write one of "+deeds); word != nil {
		e.did, known = form.Value(word, readDid)
	}
	e.with = listed(m.Get("with"))
	e.parseAmounts(m)
	if v := m.Get("note"); v != nil {
		e.note, _ = v.Text()
	}
	if known {
		e.fits(m)
	}
	if !dated || !known {
		return nil
	}
	return e
}

const deeds = "renewed, planted, sown, fed, harvested or noted"

func readDid(text string) (string, error) {
	if _, ok := did[text]; ok {
		return text, nil
	}
	hint := "write one of " + deeds
	if near := diag.Closest(text, slices.Sorted(maps.Keys(did))); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	return "", units.Faultf(0, "unknown-deed", hint, "%s is nothing that a diary knows", strconv.Quote(text))
}

// listed returns the members of a list, or the one value.
func listed(n *form.Node) []*form.Node {
	switch {
	case n == nil:
		return nil
	case !n.IsList():
		return []*form.Node{n}
	case len(n.Items()) == 0:
		n.Fault("empty-list", "write at least one id in the brackets", "nothing stands in the brackets")
	}
	return n.Items()
}

func (e *entry) parseAmounts(m form.Mapping) {
	if v := m.Get("plants"); v != nil {
		e.plants, _ = form.Value(v, readPlants)
	}
	if e.amountAt = m.Get("amount"); e.amountAt != nil {
		if a, ok := form.Value(e.amountAt, e.amountAt.Values().Amount); ok {
			e.amount = &a
		}
	}
	if v := m.Get("share"); v != nil {
		if s, ok := form.Value(v, v.Values().Share); ok {
			e.share = &s
		}
	}
	if e.depthAt = m.Get("depth"); e.depthAt != nil {
		if l, ok := form.Value(e.depthAt, e.depthAt.Values().Length); ok {
			e.depth = &l
		}
	}
	if v := m.Get("yield"); v != nil {
		e.yield, _ = form.Value(v, v.Values().Mass)
	}
}

func readPlants(text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 1000 || strings.HasPrefix(text, "+") {
		return 0, units.Faultf(0, "bad-count", "write a whole number of plants, such as 2", "%q is not a number of plants", text)
	}
	return n, nil
}
