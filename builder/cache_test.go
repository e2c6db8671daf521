package builder

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A bench is a handbook on disk that a test edits.
type bench struct {
	t      *testing.T
	dir    string
	files  map[string]string
	first  map[string]string // as they were at the start
	chance *rand.Rand
}

func newBench(t *testing.T) *bench {
	t.Helper()
	archive, err := txtar.ParseFile("testdata/cache/handbook.txtar")
	require.NoError(t, err)
	b := &bench{t: t, dir: filepath.Join(t.TempDir(), "content"), files: map[string]string{}, chance: rand.New(rand.NewPCG(8, 13))}
	for _, f := range archive.Files {
		b.write(f.Name, string(f.Data))
	}
	b.first = maps.Clone(b.files)
	return b
}

func (b *bench) write(name, text string) {
	b.files[name] = text
	full := filepath.Join(b.dir, filepath.FromSlash(name))
	require.NoError(b.t, os.MkdirAll(filepath.Dir(full), 0o755))
	require.NoError(b.t, os.WriteFile(full, []byte(text), 0o644))
}

func (b *bench) remove(name string) {
	delete(b.files, name)
	require.NoError(b.t, os.Remove(filepath.Join(b.dir, filepath.FromSlash(name))))
}

// any picks a file whose name ends so, "" when there is none.
func (b *bench) any(ending string) string {
	names := slices.DeleteFunc(slices.Sorted(maps.Keys(b.files)), func(n string) bool { return !strings.HasSuffix(n, ending) })
	if len(names) == 0 {
		return ""
	}
	return names[b.chance.IntN(len(names))]
}

var number = regexp.MustCompile(`[0-9]+`)

// renumber writes another number in the place of one.
func (b *bench) renumber(name string) string {
	places := number.FindAllStringIndex(b.files[name], -1)
	if len(places) == 0 {
		return "nothing"
	}
	at := places[b.chance.IntN(len(places))]
	text := b.files[name]
	other := fmt.Sprint(1 + b.chance.IntN(30))
	b.write(name, text[:at[0]]+other+text[at[1]:])
	return fmt.Sprintf("%s: %q becomes %q", name, text[at[0]:at[1]], other)
}

// edit changes one thing by chance and says what.
func (b *bench) edit(n int) string {
	note := b.any(".md")
	switch pick := b.chance.IntN(16); {
	case pick < 2 && note != "":
		b.write(note, b.files[note]+fmt.Sprintf("\nSome more, %d.\n", n))
		return note + ": text added below"
	case pick == 2 && note != "":
		b.write(note, b.files[note]+"\n> one\n")
		return note + ": quote added"
	case pick == 3 && strings.HasPrefix(b.files[note], "# "):
		b.write(note, strings.Replace(b.files[note], "\n", "\n\nA line in between.\n", 1))
		return note + ": lines moved down"
	case pick == 4:
		name := fmt.Sprintf("more/note-%d.md", n)
		b.write(name, fmt.Sprintf("# Note %d\n\n```recipe r-%d\ntitle: R\nfor: 10 L\namounts: {leaf-blend: %d tbsp}\n```\n", n, n, 1+b.chance.IntN(6)))
		return name + ": added"
	case pick == 5 && strings.HasPrefix(note, "more/"):
		b.remove(note)
		return note + ": removed"
	case pick == 6 && strings.HasPrefix(note, "more/"):
		text := b.files[note]
		b.remove(note)
		b.write(strings.Replace(note, "note", "renamed", 1), text)
		return note + ": renamed"
	case pick == 7:
		if _, worn := b.files["dress/dress.css"]; worn {
			b.remove("dress/dress.css")
			return "dress off"
		}
		b.write("dress/dress.css", "main { color: black }\n")
		return "dress on"
	case pick > 13:
		return b.mend()
	}
	return b.renumber(b.any(""))
}

// mend brings back everything that was there at the start.
func (b *bench) mend() string {
	for name, text := range b.first {
		if b.files[name] != text {
			b.write(name, text)
		}
	}
	return "all as it was"
}

// build builds the handbook into a folder and returns what was said.
func (b *bench) build(out string, cache *Cache) Report {
	b.t.Helper()
	report, err := Build(Options{Content: b.dir, Out: filepath.Join(filepath.Dir(b.dir), out), Today: today, Cache: cache})
	require.NoError(b.t, err)
	return report
}

func (b *bench) site(out string) map[string]string {
	b.t.Helper()
	root := filepath.Join(filepath.Dir(b.dir), out)
	files := map[string]string{}
	require.NoError(b.t, filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(name)
		files[strings.TrimPrefix(name, root)] = string(text)
		return err
	}))
	return files
}

// requireSame compares two sites file by file.
func requireSame(t *testing.T, before, after map[string]string, log ...string) {
	t.Helper()
	require.Equal(t, slices.Sorted(maps.Keys(before)), slices.Sorted(maps.Keys(after)), log)
	for name, text := range before {
		require.Equal(t, text, after[name], "%s after %q", name, log)
	}
}

// TestCacheMakesTheSameBytes edits a handbook by chance, builds it with the cache after each edit and, after every
// fourth, without and elsewhere: the same files, the same messages.
func TestCacheMakesTheSameBytes(t *testing.T) {
	edits := 300
	if testing.Short() {
		edits = 40
	}
	b, cache := newBench(t), newCache(t)
	var log []string
	sound := 0
	for n := range edits + 1 {
		if n > 0 {
			log = append(log, b.edit(n))
		}
		kept := b.build("kept", cache)
		if kept.Faults == 0 {
			sound++
		}
		if n%4 > 0 {
			continue
		}
		full := b.build("full", nil)
		require.Equal(t, printed(full.Diagnostics), printed(kept.Diagnostics), log)
		if full.Faults > 0 {
			continue
		}
		requireSame(t, b.site("full"), b.site("kept"), log...)
	}
	assert.Greater(t, sound, edits/4, "most builds had faults: the test says little")
	t.Logf("%d of %d builds without faults", sound, edits)
}

// TestCacheKeepsWhatAChangeDoesNotTouch counts what is computed and written anew.
func TestCacheKeepsWhatAChangeDoesNotTouch(t *testing.T) {
	b, cache := newBench(t), newCache(t)
	fresh := func() (blocks, sheets int) {
		blocks, sheets = len(cache.blocks.entries), len(cache.sheets.entries)
		report := b.build("site", cache)
		require.Zero(t, report.Faults, printed(report.Diagnostics))
		return len(cache.blocks.entries) - blocks, len(cache.sheets.entries) - sheets
	}
	all, written := fresh()
	require.Equal(t, 10, all, "7 blocks of notes, a recipe file, and what the plan implies: its shopping list and dates")
	require.Positive(t, written)
	blocks, sheets := fresh()
	assert.Zero(t, blocks)
	assert.Zero(t, sheets)
	b.write("weight.md", b.files["weight.md"]+"\nMore.\n")
	blocks, sheets = fresh()
	assert.Zero(t, blocks, "prose below a block")
	assert.Equal(t, 1, sheets, "the note alone")
	b.write("weight.md", strings.Replace(b.files["weight.md"], "barrel", "20 L", 1))
	blocks, _ = fresh()
	assert.Positive(t, blocks)
	assert.LessOrEqual(t, blocks, all-4, "the page, the recipes and the topup hear nothing of it")
	b.write("minima.csv", b.files["minima.csv"]+"2026-04-25,-1\n")
	blocks, _ = fresh()
	assert.Zero(t, blocks, "the block that reads the table takes its old place")
}

// TestCachePrintsPagesOfTheWholeOnce prints of the pages that all notes share those alone that an edit changes.
func TestCachePrintsPagesOfTheWholeOnce(t *testing.T) {
	b, cache := newBench(t), newCache(t)
	printed := map[string]*printedPage{}
	fresh := func() (out []string) {
		require.Zero(t, b.build("site", cache).Faults)
		for at, e := range cache.pages.entries {
			if printed[at] != e.value {
				out = append(out, "/"+at)
			}
			printed[at] = e.value
		}
		slices.Sort(out)
		return out
	}
	require.Subset(t, fresh(), []string{"/", "/cupboard/", "/how/recipe/", "/notes/", "/recipes/", "/search/", "/sources/"})
	assert.Empty(t, fresh())
	b.write("weight.md", b.files["weight.md"]+"\nMore.\n")
	assert.Equal(t, []string{"/whole/"}, fresh(), "prose is on no list")
	b.write("weight.md", strings.Replace(b.files["weight.md"], "# ", "# Now: ", 1))
	changed := fresh()
	assert.Subset(t, changed, []string{"/notes/", "/search/", "/whole/"}, "the note's title is on these")
	assert.NotContains(t, changed, "/cupboard/")
	require.NoError(t, os.Remove(filepath.Join(filepath.Dir(b.dir), "site", "recipes", "index.html")))
	assert.Equal(t, []string{"/recipes/"}, fresh(), "a page that somebody took away")
	list := filepath.Join(filepath.Dir(b.dir), "site", "recipes", "index.html")
	text, err := os.ReadFile(list)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(list, bytes.ToUpper(text), 0o644))
	assert.Equal(t, []string{"/recipes/"}, fresh(), "a page that somebody changed, of the same size")
}

// TestCacheForgets lets entries go that no build needs any more.
func TestCacheForgets(t *testing.T) {
	b, cache := newBench(t), newCache(t)
	var most [5]int
	count := func() [5]int {
		return [5]int{
			len(cache.notes.entries), len(cache.blocks.entries), len(cache.sheets.entries), len(cache.pages.entries), len(cache.worded.entries),
		}
	}
	for n := range 4 * keptBuilds {
		b.write("tubs/spring.md", strings.Replace(b.first["tubs/spring.md"], "for: 20 L", fmt.Sprintf("for: %d L", 20+n), 1))
		require.Zero(t, b.build("site", cache).Faults)
		if n == 2*keptBuilds {
			most = count()
		}
	}
	assert.Equal(t, most, count())
}

// TestWorkersMakeTheSameBytes builds with one worker and with many.
func TestWorkersMakeTheSameBytes(t *testing.T) {
	dir := t.TempDir()
	library(t, filepath.Join(dir, "content"), 12)
	var sites []map[string]string
	for _, workers := range []int{1, 7} {
		b := &bench{t: t, dir: filepath.Join(dir, "content")}
		out := fmt.Sprint(workers)
		report, err := Build(Options{Content: b.dir, Out: filepath.Join(dir, out), Today: today, Workers: workers})
		require.NoError(t, err)
		require.Zero(t, report.Faults, printed(report.Diagnostics))
		sites = append(sites, b.site(out))
	}
	require.Greater(t, len(sites[0]), 100)
	requireSame(t, sites[0], sites[1])
}

// TestFoldedNotesMakeTheSameBytes: a handbook so large that its notes are folded, and its recipes read anew for the plan,
// is the same site as one that a cache keeps unfolded.
func TestFoldedNotesMakeTheSameBytes(t *testing.T) {
	b := &bench{t: t, dir: filepath.Join(t.TempDir(), "content")}
	library(t, b.dir, mostOnWhole+4)
	for out, cache := range map[string]*Cache{"folded": nil, "kept": newCache(t)} {
		report := b.build(out, cache)
		require.Zero(t, report.Faults, printed(report.Diagnostics))
	}
	requireSame(t, b.site("kept"), b.site("folded"))
}

// newCache is a cache that is closed at the end of the test.
func newCache(t *testing.T) *Cache {
	c := &Cache{}
	t.Cleanup(func() { assert.NoError(t, c.Close()) })
	return c
}
