// Package history keeps what the numbers were: content/history.yaml holds, for each block, the records of its
// numbers at the times when they were written down. A printed card, the feed and "trug changes" compare with
// it.
package history

import (
	"slices"
	"strings"
	"time"
)

// File is the name of the history in the content folder.
const File = "history.yaml"

// A Record is what a block's numbers were on a day. Numbers are texts as the page shows them; Basis is what
// they rested on.
type Record struct {
	On           time.Time
	Block, Title string
	Stamp        string
	Numbers      []Entry
	Basis        []Entry
}

// An Entry is a name and a text.
type Entry struct{ Name, Text string }

// A Difference is an entry that reads otherwise than before. Was or Is is "" for one that was added or is
// gone.
type Difference struct{ Name, Was, Is string }

// History is all records, oldest first.
type History []Record

// Last returns the newest record of a block.
func (h History) Last(block string) (Record, bool) {
	for _, r := range slices.Backward(h) {
		if r.Block == block {
			return r, true
		}
	}
	return Record{}, false
}

// Of returns the records of a block, oldest first.
func (h History) Of(block string) History {
	return slices.DeleteFunc(slices.Clone(h), func(r Record) bool { return r.Block != block })
}

// Compare lists what differs between two lists of entries, in the order of the newer, then what is gone.
func Compare(was, is []Entry) []Difference {
	was, is = alike(was, is)
	before, now := texts(was), texts(is)
	var out []Difference
	for _, e := range is {
		if old, fresh := before[e.Name], now[e.Name]; old != fresh {
			out = append(out, Difference{e.Name, old, fresh})
		}
	}
	for _, e := range was {
		if _, kept := now[e.Name]; !kept {
			out = append(out, Difference{e.Name, before[e.Name], ""})
		}
	}
	return out
}

const cellEnd = ", "

func texts(entries []Entry) map[string]string {
	out := make(map[string]string, len(entries))
	for _, e := range entries {
		out[e.Name] = full(e.Text)
	}
	return out
}

// full is a text without the empty parts that a file of old may have, the last blank of which may be lost.
func full(text string) string {
	parts := strings.Split(strings.TrimSuffix(text, ","), cellEnd)
	return strings.Join(slices.DeleteFunc(parts, func(part string) bool { return strings.TrimSpace(part) == "" }), cellEnd)
}

// Parts leaves out of both texts the parts that stand in both: of a list of figures, those that changed remain.
func (d Difference) Parts() Difference {
	was, is := strings.Split(d.Was, cellEnd), strings.Split(d.Is, cellEnd)
	gone := slices.DeleteFunc(slices.Clone(was), func(part string) bool { return slices.Contains(is, part) })
	come := slices.DeleteFunc(slices.Clone(is), func(part string) bool { return slices.Contains(was, part) })
	return Difference{d.Name, strings.Join(gone, cellEnd), strings.Join(come, cellEnd)}
}

// aRow is how many parts a text has at least that is taken for a row: a cell may hold a comma too, as a crop's name does.
const aRow = 3

// changed leaves, of two rows of as many parts, those that differ.
func (d Difference) changed() Difference {
	was, is := strings.Split(d.Was, cellEnd), strings.Split(d.Is, cellEnd)
	if len(was) != len(is) || len(was) < aRow {
		return d
	}
	var gone, come []string
	for i := range was {
		if was[i] != is[i] {
			gone, come = append(gone, was[i]), append(come, is[i])
		}
	}
	return Difference{d.Name, strings.Join(gone, cellEnd), strings.Join(come, cellEnd)}
}

// String says a difference in words. Of two rows that were written down as a whole it says what changed in them.
func (d Difference) String() string {
	d = d.changed()
	switch {
	case d.Was == "":
		return d.Name + ": new, " + d.Is
	case d.Is == "":
		return d.Name + ": gone, was " + d.Was
	}
	return d.Name + ": " + d.Was + " became " + d.Is
}

// Due returns the records that differ from the last ones by their stamp: what has to be written down.
func (h History) Due(now []Record) []Record {
	var out []Record
	for _, r := range now {
		if last, ok := h.Last(r.Block); !ok || last.Stamp != r.Stamp {
			out = append(out, r)
		}
	}
	return out
}
