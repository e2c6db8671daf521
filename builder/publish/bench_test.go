package publish

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// manyFiles is a site of small pages, two in each folder, all of whose bodies hold the text.
func manyFiles(n int, text string) []File {
	out := make([]File, n)
	for i := range out {
		body := make([]byte, 8<<10)
		copy(body, fmt.Sprint(i, text))
		out[i] = File{fmt.Sprintf("notes/patch-%d/page-%d/%d.html", i%20, i/2, i), body}
	}
	return out
}

// BenchmarkPublish puts a site of 4,000 pages of 8 KB into its folder: all new, nothing changed, one page
// changed, all changed. The floor writes the same files without more ado.
func BenchmarkPublish(b *testing.B) {
	const n = 4000
	old, other := manyFiles(n, "old"), manyFiles(n, "other")
	run := func(name string, between func(i int, dir string) []File) {
		b.Run(name, func(b *testing.B) {
			dir := filepath.Join(b.TempDir(), "public")
			for i := 0; b.Loop(); i++ {
				b.StopTimer()
				site := between(i, dir)
				b.StartTimer()
				publishBench(b, dir, site)
			}
		})
	}
	b.Run("floor", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			b.StopTimer()
			dir := b.TempDir()
			b.StartTimer()
			floor(b, dir, old)
		}
	})
	run("new", func(_ int, dir string) []File { require.NoError(b, os.RemoveAll(dir)); return old })
	run("unchanged", func(i int, dir string) []File {
		if i == 0 {
			publishBench(b, dir, old)
		}
		return old
	})
	run("one page", func(i int, dir string) []File {
		if i == 0 {
			publishBench(b, dir, old)
		}
		next := append([]File{}, old...)
		next[7].Body = []byte(fmt.Sprint(i))
		return next
	})
	run("all changed", func(i int, dir string) []File {
		if i == 0 {
			publishBench(b, dir, other)
		}
		return [][]File{old, other}[i%2]
	})
}

func publishBench(b *testing.B, dir string, files []File) {
	b.Helper()
	s, err := Begin(dir)
	require.NoError(b, err)
	require.NoError(b, each(files, func(f File) error { return s.Add(f.Path, f.Body) }))
	_, err = s.Publish()
	require.NoError(b, err)
}

func floor(b *testing.B, dir string, files []File) {
	b.Helper()
	require.NoError(b, each(files, func(f File) error {
		name := filepath.Join(dir, filepath.FromSlash(f.Path))
		if err := os.MkdirAll(filepath.Dir(name), folderMode); err != nil {
			return err
		}
		return os.WriteFile(name, f.Body, fileMode)
	}))
}

// each adds files as a build does, on all cores.
func each(files []File, do func(File) error) error {
	byPath, paths := map[string]File{}, []string{}
	for _, f := range files {
		byPath[f.Path] = f
		paths = append(paths, f.Path)
	}
	return inParallel(paths, func(path string) error { return do(byPath[path]) })
}
