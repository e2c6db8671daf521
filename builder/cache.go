package builder

import (
	"html/template"
	"io/fs"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
)

// A Cache keeps what a build computed and printed for the next build of the same handbook, which then does
// only what a change touches. What it keeps goes by all that it was made from, never by a file's date, so
// that a build with it and one without make the same bytes. The zero value is ready. One build at a time
// uses it.
type Cache struct {
	reading *Handbook // what is built now: old blocks report to it as well
	blocks  map[string]*computed
	prints  map[string]*printedParts
	watched *trace // what the step that runs now reads and reports; nil = nobody asks
	build   int    // counts those without faults
}

// keptBuilds is how many builds an entry outlives the last one that used it: a reader who tries one figure
// and goes back to the other waits for neither.
const keptBuilds = 8

// A trace is what one step read of the content folder, and what it reported.
type trace struct {
	reads []reading
	said  []diag.Diagnostic
}

// A reading is a file that was read and the sum of what was found: its text, or why there was none.
type reading struct{ name, sum string }

// sum stands for everything that was read, in order.
func (t trace) sum() string {
	var parts []string
	for _, r := range t.reads {
		parts = append(parts, r.name, r.sum)
	}
	return sumOf(parts...)
}

// computed is a block's result, with what it read and reported on the way.
type computed struct {
	trace
	result block.Result
	build  int
}

type printedParts struct {
	html  template.HTML
	build int
}

// begin hands the cache to the reading of a handbook.
func (c *Cache) begin(h *Handbook) {
	if c == nil {
		return
	}
	c.reading = h
	if c.blocks == nil {
		c.blocks, c.prints = map[string]*computed{}, map[string]*printedParts{}
	}
}

// traced runs a step and returns what it read and reported, nothing without a cache.
func (c *Cache) traced(step func()) trace {
	if c == nil {
		step()
		return trace{}
	}
	var t trace
	c.watched = &t
	step()
	c.watched = nil
	return t
}

// compute returns what a block with a key computes, and the sum of the key and the files that it read.
func (c *Cache) compute(key string, files fs.FS, compute func() block.Result) (block.Result, string) {
	if c == nil {
		return compute(), ""
	}
	if was := c.blocks[key]; was != nil && was.holds(files) {
		was.build = c.build
		for _, d := range was.said {
			c.report(d)
		}
		return was.result, sumOf(key, was.sum())
	}
	fresh := &computed{build: c.build}
	fresh.trace = c.traced(func() { fresh.result = compute() })
	c.blocks[key] = fresh
	return fresh.result, sumOf(key, fresh.sum())
}

// holds says whether every file that a block read is as it was.
func (b *computed) holds(files fs.FS) bool {
	for _, r := range b.reads {
		if text, err := fs.ReadFile(files, r.name); sumOfFile(text, err) != r.sum {
			return false
		}
	}
	return true
}

// print returns the markup of parts with a key.
func (c *Cache) print(key func() string, print func() (template.HTML, error)) (template.HTML, error) {
	if c == nil {
		return print()
	}
	name := key()
	if was := c.prints[name]; was != nil {
		was.build = c.build
		return was.html, nil
	}
	html, err := print()
	if err == nil {
		c.prints[name] = &printedParts{html, c.build}
	}
	return html, err
}

// took notes that a file was read.
func (c *Cache) took(name string, text []byte, err error) {
	if c != nil && c.watched != nil {
		c.watched.reads = append(c.watched.reads, reading{name, sumOfFile(text, err)})
	}
}

// report hands a diagnostic to the handbook that is being read now. A block that an earlier build computed
// may be asked by one of today's.
func (c *Cache) report(d diag.Diagnostic) {
	if c.watched != nil {
		c.watched.said = append(c.watched.said, d)
	}
	c.reading.List.Report(d)
}

// sweep drops what no build needed for a while. A build with faults prints nothing and drops nothing.
func (c *Cache) sweep(faults int) {
	if c == nil || faults > 0 {
		return
	}
	for key, b := range c.blocks {
		if b.build < c.build-keptBuilds {
			delete(c.blocks, key)
		}
	}
	for key, p := range c.prints {
		if p.build < c.build-keptBuilds {
			delete(c.prints, key)
		}
	}
	c.build++
}
