package builder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"trug/builder/history"
	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/calcblocks"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
)

// A Handbook is a content folder, read and computed.
type Handbook struct {
	diag.List
	Garden   *garden.Garden
	Ref      *reference.Library
	Notes    []*notes.Note
	Blocks   []*Placed       // notes in order, then recipe files, then implied ones
	Facts    []facts.Fact    // what the blocks told, lower phases first
	History  history.History // what the numbers were when they were last written down
	files    fs.FS
	folder   string // as messages print it
	today    time.Time
	workers  int             // goroutines that compute and write; 0 = one a core
	ground   string          // sum of all that every block stands on
	recorded string          // sum of the history's text
	lost     map[string]bool // ids of blocks that could not be read, which was reported
	stop     <-chan struct{}
	cache    *Cache
	works    works
	index
}

// Placed is a block with its place in the handbook.
type Placed struct {
	Kind    block.Kind
	ID      string
	At      diag.Position // the id, or the fence where it has none
	Note    *notes.Note   // nil for a recipe file
	Source  string        // the YAML of the block, or the whole recipe file
	Result  block.Result
	block   block.Block
	fence   *markdown.Block
	place   int // among the handbook's blocks
	root    *form.Node
	voice   *voice
	told    []facts.Fact // what the lower phases told it
	from    string       // sum of all that it is computed from, before it is computed
	sum     string       // the same with the files that it read
	brief   brief        // of its result, for those who do not need the whole
	misread bool         // a value of it could not be read
	faulty  bool         // it could not be computed whole
}

// Read reads a content folder and computes every block. Faults are in the handbook's list; an error
// means that there is no such folder.
func Read(content string, today time.Time) (*Handbook, error) {
	h, err := open(Options{Content: content, Today: today})
	if err == nil {
		err = h.compute(h.inFull)
	}
	return h, err
}

// open reads a content folder up to its blocks, which are not computed yet.
func open(o Options) (*Handbook, error) {
	root, err := os.OpenRoot(o.Content)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("cannot read the content folder %q: %w", o.Content, ErrNoContent)
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read the content folder %q: %w", o.Content, underlying(err))
	}
	root.Close()
	name := filepath.ToSlash(filepath.Clean(o.Content))
	h := &Handbook{Ref: reference.Default(), files: folder(o.Content), folder: name, today: o.Today, workers: o.Workers, stop: o.Stop, cache: o.Cache, lost: map[string]bool{}}
	h.cache.begin(h)
	h.readHistory(name)
	var own trace
	h.Garden = garden.Open(own.of(h.files), name, h.Ref, h.Report)
	h.ground = h.groundOf(&own)
	if err := h.placeNotes(); err != nil {
		return nil, err
	}
	h.placeRecipes()
	h.checkIDs()
	h.placeImplied()
	h.index = newIndex(h)
	return h, nil
}

// ErrNoContent says that there is no content folder where it was looked for.
var ErrNoContent = errors.New("no such file or directory")

func underlying(err error) error {
	if pe, ok := err.(*fs.PathError); ok {
		return pe.Err
	}
	return err
}

// A placing is a note with its blocks, as they were parsed and before they were computed.
type placing struct {
	trace
	note   *notes.Note
	blocks []*Placed
	lost   []string // ids of blocks that could not be read
}

// placeNotes reads the notes and parses their blocks.
func (h *Handbook) placeNotes() error {
	files := notes.Find(h.files, h.folder, h.Report)
	placed := make([]*placing, len(files))
	err := h.each(len(files), func(i int) error {
		placed[i] = h.placing(files[i])
		if p := placed[i]; p != nil && h.cache == nil && len(files) > mostOnWhole {
			p.note.Document.Fold() // reading it twice costs less than holding thousands
		}
		return nil
	})
	blocks := map[*notes.Note][]*Placed{}
	for _, p := range placed {
		if p != nil {
			note := *p.note
			for _, id := range p.lost {
				h.lost[id] = true
			}
			h.Notes = append(h.Notes, &note)
			blocks[&note] = p.blocks
		}
	}
	h.Notes = notes.Apart(h.Notes, h.Report)
	for _, n := range h.Notes {
		for _, b := range blocks[n] {
			fresh := *b
			fresh.Note = n
			h.Blocks = append(h.Blocks, &fresh)
		}
	}
	return err
}

// placing reads one note, nil when it cannot be read. What an earlier build read from the same text stands.
func (h *Handbook) placing(file string) *placing {
	text := notes.Text(h.files, h.folder, file, h.Report)
	if text == nil {
		return nil
	}
	if h.cache == nil {
		return h.parsed(file, text)
	}
	key := sumOf(file, text.Name, text.Text, string(h.Garden.Values().Set))
	if was, found := h.cache.notes.get(key, h.cache.build); found {
		for _, d := range was.said {
			h.Report(d)
		}
		return was
	}
	fresh := h.parsed(file, text)
	h.cache.notes.put(key, fresh, h.cache.build)
	return fresh
}

func (h *Handbook) parsed(file string, text *diag.File) *placing {
	p := &placing{}
	report := p.report(h.reporter())
	p.note = notes.Parse(file, text, calcblocks.Names(), report)
	for i, fence := range p.note.Document.Blocks {
		if b := h.blockOf(p.note, i, fence, report); b != nil {
			p.blocks = append(p.blocks, b)
		} else if fence.ID != "" {
			p.lost = append(p.lost, fence.ID)
		}
	}
	return p
}

// blockOf parses one fence of a note, the i-th; nil when it is no block or cannot be read, which is reported.
func (h *Handbook) blockOf(n *notes.Note, i int, fence *markdown.Block, report func(diag.Diagnostic)) *Placed {
	kind, ok := calcblocks.Named(fence.Kind)
	if !ok {
		return nil // reported where the fence was found
	}
	if kind.Name == "page" && i > 0 {
		report(diag.Errorf(fence.At, "page-not-first", "a page block stands here after another block").Hint("put the page block first in the note, and only once"))
		return nil
	}
	p := &Placed{Kind: kind, ID: fence.ID, At: fence.At, Note: n, Source: fence.Body, fence: fence, voice: &voice{report}}
	if fence.ID != "" {
		p.At = fence.IDAt
	}
	text, at := fence.Body, fence.Position
	if kind.Bare && strings.TrimSpace(text) == "" {
		text, at = "{}", func(int, int) diag.Position { return p.At } // there is no text to point at
	}
	parsing := trace{}
	p.voice.to = parsing.report(report)
	p.root = form.Read(form.Source{Text: text, At: at, Report: p.voice.say, Values: h.Garden.Values()})
	parsed := p.parse(report)
	p.misread = parsing.faulty()
	return parsed
}

// parse parses a block and returns it; one that cannot be read is nil, since that was reported.
func (p *Placed) parse(report func(diag.Diagnostic)) *Placed {
	if p.Kind.NeedsID && p.ID == "" {
		report(diag.Errorf(p.At, "no-id", "a %s needs an id", p.Kind.Name).Hint("write it behind the kind, such as \"%s spring-tubs\"", p.Kind.Name))
	}
	if p.root == nil {
		if strings.TrimSpace(p.Source) == "" {
			report(diag.Errorf(p.At, "empty-block", "this block is empty").Hint("see: trug show --help %s", p.Kind.Name))
		}
		return nil
	}
	p.block = p.Kind.Parse(p.root)
	return p
}

// A voice is how the values of a block report what is wrong with them: while it is parsed, and later while it is
// computed, whichever build does that.
type voice struct{ to func(diag.Diagnostic) }

func (v *voice) say(d diag.Diagnostic) { v.to(d) }

// speak gives a block's values another ear. Those of recipe files report to the handbook always.
func (p *Placed) speak(to func(diag.Diagnostic)) {
	if p.voice != nil {
		p.voice.to = to
	}
}

// add parses a block and keeps it.
func (h *Handbook) add(p *Placed) {
	if p = p.parse(h.Report); p != nil {
		h.Blocks = append(h.Blocks, p)
	}
}

func (h *Handbook) placeRecipes() {
	kind, _ := calcblocks.Named("recipe")
	for _, f := range h.Garden.Recipes {
		h.add(&Placed{Kind: kind, ID: f.ID, At: f.At, Source: f.Text, root: f.Node})
	}
}

// checkName reports an id that no folder can have everywhere: its page stands in one.
func (h *Handbook) checkName(id string, at diag.Position) {
	if data.Reserved(id) {
		h.Report(diag.Errorf(at, "reserved-name", "%q is a name that some computers keep for themselves", id).Hint("choose another id, such as %q", id+"-tub"))
	}
}

// checkIDs reports an id that two blocks share.
func (h *Handbook) checkIDs() {
	for _, pot := range h.Garden.Pots {
		h.checkName(pot.ID, pot.At)
	}
	first := map[string]*Placed{}
	for _, p := range h.Blocks {
		if p.ID == "" {
			continue
		}
		h.checkName(p.ID, p.At)
		if before := first[p.ID]; before != nil {
			d := diag.Errorf(p.At, "repeated-id", "the id %q is taken", p.ID)
			h.Report(d.Hint("ids are unique in the handbook: choose another").Also(before.At, "the first %q is here", p.ID))
			continue
		}
		first[p.ID] = p
	}
}

// Ask computes a block again for one container and with picks; what is wrong with them is returned.
func (h *Handbook) Ask(p *Placed, container string, with []string) (block.Result, []diag.Diagnostic) {
	var asked diag.List
	pass := h.pass(p, h.files, nil)
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
