package builder

import (
	"sync"

	"trug/builder/output"
	"trug/builder/publish"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
)

// A Cache keeps what a build read, computed and wrote for the next build of the same handbook, which then does
// only what a change touches. What it keeps goes by all that it was made from, never by a file's date, so
// that a build with it and one without make the same bytes. The zero value is ready. One build at a time
// uses it, always for the same folders, and whoever made it closes it.
type Cache struct {
	notes  kept[*placing]
	blocks kept[*computed]
	sheets kept[*sheet]
	pages  kept[*printedPage] // of the whole, by address
	worded kept[output.Worded]
	build  int       // counts those without faults
	now    *Handbook // what is built

	negatives negatives // pictures that stand in no published site yet
	spare     publish.Spare
}

// Close removes the site before the last, which lies beside the last one for the next build to start from.
func (c *Cache) Close() error { return c.spare.Drop() }

// keptBuilds is how many builds an entry outlives the last one that used it: a reader who tries one figure
// and goes back to the other waits for neither.
const keptBuilds = 8

func (c *Cache) begin(h *Handbook) {
	if c != nil {
		c.now = h
	}
}

// reporter returns what steps report to whose results may be kept: a block that an earlier build computed may be
// asked by one of today's, and has to speak to the handbook of today.
func (h *Handbook) reporter() func(diag.Diagnostic) {
	c := h.cache
	if c == nil {
		return h.Report
	}
	return func(d diag.Diagnostic) { c.now.Report(d) }
}

// sweep drops what no build needed for a while. A build with faults writes nothing and drops nothing.
func (c *Cache) sweep(faults int) {
	if c == nil || faults > 0 {
		return
	}
	c.notes.sweep(c.build - keptBuilds)
	c.blocks.sweep(c.build - keptBuilds)
	c.sheets.sweep(c.build - keptBuilds)
	c.pages.sweep(c.build - keptBuilds)
	c.worded.sweep(c.build - keptBuilds)
	c.build++
}

// computed is a block's result, with what it read and reported on the way. The trace lives by itself: what a block
// told may hold on to it, and would keep the result with it.
type computed struct {
	*trace
	result block.Result
	brief  brief
	whole  bool // the result is there with its data and its view
}

// kept are things by the sum of what each was made from, or pages by their address. Several goroutines may use it.
type kept[T any] struct {
	guard   sync.Mutex
	entries map[string]*entry[T]
}

type entry[T any] struct {
	value T
	build int // the last that used it
}

func (k *kept[T]) get(key string, build int) (value T, found bool) {
	k.guard.Lock()
	defer k.guard.Unlock()
	e := k.entries[key]
	if e == nil {
		return value, false
	}
	e.build = build
	return e.value, true
}

func (k *kept[T]) put(key string, value T, build int) {
	k.guard.Lock()
	defer k.guard.Unlock()
	if k.entries == nil {
		k.entries = map[string]*entry[T]{}
	}
	k.entries[key] = &entry[T]{value, build}
}

// sweep drops what was not used since a build.
func (k *kept[T]) sweep(since int) {
	k.guard.Lock()
	defer k.guard.Unlock()
	for key, e := range k.entries {
		if e.build < since {
			delete(k.entries, key)
		}
	}
}
