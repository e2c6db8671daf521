package builder

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"trug/builder/history"
	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/calcblocks"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/pothistory"
	"trug/calcblocks/kit/reference"
)

// A Handbook is a content folder, read and computed.
type Handbook struct {
	diag.List
	Garden  *garden.Garden
	Ref     *reference.Library
	Notes   []*notes.Note
	Blocks  []*Placed       // notes in order, then recipe files, then implied ones
	Facts   []facts.Fact    // what the blocks told, lower phases first
	History history.History // what the numbers were when they were last written down
	files   fs.FS
	folder  string // as messages print it
	today   time.Time
	cache   *Cache
}

// Placed is a block with its place in the handbook.
type Placed struct {
	Kind   block.Kind
	ID     string
	At     diag.Position // the id, or the fence where it has none
	Note   *notes.Note   // nil for a recipe file
	Source string        // the YAML of the block, or the whole recipe file
	Result block.Result
	block  block.Block
	fence  *markdown.Block
	root   *form.Node
	told   []facts.Fact // what the lower phases told it
}

// Read reads a content folder and computes every block. Faults are in the handbook's list; an error
// means that there is no such folder.
func Read(content string, today time.Time) (*Handbook, error) {
	return readWith(Options{Content: content, Today: today})
}

func readWith(o Options) (*Handbook, error) {
	root, err := os.OpenRoot(o.Content)
	if err != nil {
		return nil, fmt.Errorf("cannot read the content folder %q: %w", o.Content, underlying(err))
	}
	root.Close()
	name := filepath.ToSlash(filepath.Clean(o.Content))
	h := &Handbook{Ref: reference.Default(), files: &folder{o.Content, o.Cache}, folder: name, today: o.Today, cache: o.Cache}
	h.cache.begin(h)
	h.readHistory(name)
	ground := h.cache.traced(func() { h.Garden = garden.Open(h.files, name, h.Ref, h.Report) })
	h.Notes = notes.Find(h.files, name, calcblocks.Names(), h.Report)
	for _, n := range h.Notes {
		h.place(n)
	}
	h.placeRecipes()
	h.checkIDs()
	h.placeImplied()
	h.compute(h.ground(ground))
	pothistory.Check(h.Facts, h.Report)
	return h, nil
}

// Report adds a diagnostic to the handbook's list.
func (h *Handbook) Report(d diag.Diagnostic) {
	if h.cache != nil {
		h.cache.report(d)
		return
	}
	h.List.Report(d)
}

func underlying(err error) error {
	if pe, ok := err.(*fs.PathError); ok {
		return pe.Err
	}
	return err
}

// place parses the blocks of a note.
func (h *Handbook) place(n *notes.Note) {
	for i, fence := range n.Document.Blocks {
		kind, ok := calcblocks.Named(fence.Kind)
		if !ok {
			continue // reported where the fence was found
		}
		if kind.Name == "page" && i > 0 {
			h.Report(diag.Errorf(fence.At, "page-not-first", "a page block stands here after another block").Hint("put the page block first in the note, and only once"))
			continue
		}
		p := &Placed{Kind: kind, ID: fence.ID, At: fence.At, Note: n, Source: fence.Body, fence: fence}
		if fence.ID != "" {
			p.At = fence.IDAt
		}
		text, at := fence.Body, fence.Position
		if kind.Bare && strings.TrimSpace(text) == "" {
			text, at = "{}", func(int, int) diag.Position { return p.At } // there is no text to point at
		}
		p.root = form.Read(form.Source{Text: text, At: at, Report: h.Report, Values: h.Garden.Values()})
		h.add(p)
	}
}

// add parses a block and keeps it; one that cannot be read is left out, since that was reported.
func (h *Handbook) add(p *Placed) {
	if p.Kind.NeedsID && p.ID == "" {
		h.Report(diag.Errorf(p.At, "no-id", "a %s needs an id", p.Kind.Name).Hint("write it behind the kind, such as \"%s spring-tubs\"", p.Kind.Name))
	}
	if p.root == nil {
		if strings.TrimSpace(p.Source) == "" {
			h.Report(diag.Errorf(p.At, "empty-block", "this block is empty").Hint("see: trug show --help %s", p.Kind.Name))
		}
		return
	}
	p.block = p.Kind.Parse(p.root)
	h.Blocks = append(h.Blocks, p)
}

func (h *Handbook) placeRecipes() {
	kind, _ := calcblocks.Named("recipe")
	for _, f := range h.Garden.Recipes {
		h.add(&Placed{Kind: kind, ID: f.ID, At: f.At, Source: f.Text, root: f.Node})
	}
}

// checkIDs reports an id that two blocks share.
func (h *Handbook) checkIDs() {
	first := map[string]*Placed{}
	for _, p := range h.Blocks {
		if p.ID == "" {
			continue
		}
		if before := first[p.ID]; before != nil {
			d := diag.Errorf(p.At, "repeated-id", "the id %q is taken", p.ID)
			h.Report(d.Hint("ids are unique in the handbook: choose another").Also(before.At, "the first %q is here", p.ID))
			continue
		}
		first[p.ID] = p
	}
}

// compute computes all blocks, lower phases first: a block reads the facts of the phases below its own.
// What an earlier build computed from the same stands.
func (h *Handbook) compute(ground string) {
	order := slices.Clone(h.Blocks)
	slices.SortStableFunc(order, func(a, b *Placed) int { return a.Kind.Phase - b.Kind.Phase })
	below, told := 0, "" // how many facts the lower phases told, and what they were computed from
	var sums []string
	for i, p := range order {
		if i > 0 && p.Kind.Phase > order[i-1].Kind.Phase {
			below, told = len(h.Facts), sumOf(sums...)
		}
		p.told = h.Facts[:below:below]
		result, sum := h.cache.compute(p.key(ground, told), h.files, func() block.Result { return p.block.Compute(h.pass(p)) })
		p.Result, sums = result, append(sums, sum)
		h.Facts = append(h.Facts, p.Result.Facts...)
		for _, f := range p.Result.Facts {
			if page, ok := f.(facts.Page); ok {
				p.Note.Page = page
			}
		}
	}
	h.Notes = slices.DeleteFunc(h.Notes, func(n *notes.Note) bool { return n.Page.Hidden })
}

func (h *Handbook) pass(p *Placed) *block.Pass {
	return &block.Pass{ID: p.ID, At: p.At, Ref: h.Ref, Garden: h.Garden, Today: h.today, Facts: p.told, Report: h.Report}
}

// Block returns the block with an id.
func (h *Handbook) Block(id string) (*Placed, bool) {
	i := slices.IndexFunc(h.Blocks, func(p *Placed) bool { return p.ID == id })
	if i < 0 {
		return nil, false
	}
	return h.Blocks[i], true
}

// IDs returns the ids of all blocks, for hints.
func (h *Handbook) IDs() []string {
	var out []string
	for _, p := range h.Blocks {
		if p.ID != "" {
			out = append(out, p.ID)
		}
	}
	return out
}

// Ask computes a block again for one container and with picks; what is wrong with them is returned.
func (h *Handbook) Ask(p *Placed, container string, with []string) (block.Result, []diag.Diagnostic) {
	var asked diag.List
	pass := h.pass(p)
	pass.For, pass.With, pass.Report = container, with, asked.Report
	result := p.block.Compute(pass)
	if len(with) > 0 && p.Kind.Name != "recipe" {
		asked.Report(diag.Errorf(diag.Position{}, "no-choices", "a %s offers no choices to pick from", p.Kind.Name).Hint("leave \"--with\" out"))
	}
	return result, asked.Sorted()
}

// visible says whether a block's note is published.
func (p *Placed) visible() bool { return p.Note == nil || !p.Note.Page.Hidden }

// Concerning returns the faults that stand in the way of a block: those in its own source and in the
// grower's files. A fault in another note does not.
func (h *Handbook) Concerning(p *Placed) []diag.Diagnostic {
	var out []diag.Diagnostic
	for _, d := range h.Sorted() {
		elsewhere := strings.HasSuffix(d.At.Name(), ".md") && d.At.Name() != p.At.Name()
		if d.Severity == diag.Fault && !elsewhere {
			out = append(out, d)
		}
	}
	return out
}
