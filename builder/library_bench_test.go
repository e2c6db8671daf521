package builder

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"trug/builder/markdown"
	"trug/builder/notes"
	"trug/calcblocks"
	"trug/calcblocks/kit/diag"
)

// BenchmarkLibrary builds large handbooks and compares with the floor, in the same run: reading the notes, parsing
// and printing their Markdown with the same grammar, and writing files of the same names and sizes, by as many
// workers. It reports build/floor; "again" is a build with nothing changed and "edit" a rebuild of a watch after one
// edit, each over a full build.
//
//	go test ./builder -run '^$' -bench Library -benchtime 1x -timeout 1h
func BenchmarkLibrary(b *testing.B) {
	for _, count := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprint(count), func(b *testing.B) {
			if testing.Short() && count > 1000 {
				b.Skip("10,000 notes take minutes and gigabytes")
			}
			l := newLoad(b, count)
			var full, floor, again, edit time.Duration
			for b.Loop() {
				full += l.full()
				floor += l.floor()
				again += l.again()
				edit += l.edited()
			}
			b.ReportMetric(float64(full)/float64(floor), "build/floor")
			b.ReportMetric(float64(again)/float64(full), "again/full")
			b.ReportMetric(float64(edit)/float64(full), "edit/full")
		})
	}
}

// load is a large handbook on disk with its site.
type load struct {
	tb           testing.TB
	content, out string
}

func newLoad(tb testing.TB, count int) *load {
	dir := tb.TempDir()
	l := &load{tb: tb, content: filepath.Join(dir, "content"), out: filepath.Join(dir, "public")}
	library(tb, l.content, count)
	return l
}

func (l *load) timed(step func()) time.Duration {
	runtime.GC()
	start := time.Now()
	step()
	return time.Since(start)
}

func (l *load) build(o Options) Report {
	o.Content, o.Out, o.Today = l.content, l.out, today
	if o.Cache == nil {
		o.Memory = &Memory{Dir: filepath.Join(filepath.Dir(l.out), "memory")}
	}
	report, err := Build(o)
	require.NoError(l.tb, err)
	require.Zero(l.tb, report.Faults, printed(report.Diagnostics))
	return report
}

// full builds where no site is yet.
func (l *load) full() time.Duration {
	require.NoError(l.tb, os.RemoveAll(l.out))
	return l.timed(func() { l.build(Options{}) })
}

// again builds over the same site.
func (l *load) again() time.Duration {
	return l.timed(func() { require.Zero(l.tb, l.build(Options{}).Published.Written) })
}

// edited rebuilds as a watch does, after one amount changed: the middle of five. The first edit of a watch lays the site
// out anew, to have a spare one, and the second comes to know that; it is the later ones that are measured.
func (l *load) edited() time.Duration {
	var cache Cache
	defer cache.Close()
	l.build(Options{Cache: &cache})
	name := filepath.Join(l.content, "topic-01", "note-1.md")
	text, err := os.ReadFile(name)
	require.NoError(l.tb, err)
	var took []time.Duration
	for n := range 7 {
		changed := strings.Replace(string(text), "alfalfa-meal: ", fmt.Sprintf("alfalfa-meal: %d", n+1), 1)
		require.NoError(l.tb, os.WriteFile(name, []byte(changed), 0o644))
		took = append(took, l.timed(func() {
			written := l.build(Options{Cache: &cache}).Published.Written
			require.Positive(l.tb, written)
			require.Less(l.tb, written, 60)
		}))
	}
	require.NoError(l.tb, os.WriteFile(name, text, 0o644))
	took = took[2:]
	slices.Sort(took)
	return took[len(took)/2]
}

// floor reads, parses and prints the notes, and writes what the site holds into another folder.
func (l *load) floor() time.Duration {
	sizes := l.sizes()
	out := filepath.Join(filepath.Dir(l.out), "floor")
	bytes := make([]byte, slices.MaxFunc(sizes, func(a, b made) int { return a.size - b.size }).size)
	took := l.timed(func() {
		l.markdown()
		require.NoError(l.tb, each(0, len(sizes), func(i int) error {
			full := filepath.Join(out, sizes[i].path)
			if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
				return err
			}
			return os.WriteFile(full, bytes[:sizes[i].size], 0o644)
		}))
	})
	require.NoError(l.tb, os.RemoveAll(out))
	return took
}

func (l *load) markdown() {
	files := notes.Find(os.DirFS(l.content), "content", func(diag.Diagnostic) {})
	require.NoError(l.tb, each(0, len(files), func(i int) error {
		text, err := os.ReadFile(filepath.Join(l.content, files[i]))
		doc := markdown.Parse(diag.NewFile(files[i], string(text)), markdown.Options{Kinds: calcblocks.Names()}, nil)
		doc.HTML(markdown.Hooks{Block: func(*markdown.Block) string { return "" }})
		return err
	}))
}

// sizes lists the files of the site.
func (l *load) sizes() []made {
	var out []made
	require.NoError(l.tb, filepath.WalkDir(l.out, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		out = append(out, made{path: strings.TrimPrefix(name, l.out), size: int(info.Size())})
		return err
	}))
	return out
}
