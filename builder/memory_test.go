package builder

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMemory: a second build makes nothing, and every change of what the first one stood on is met.
func TestMemory(t *testing.T) {
	dir := t.TempDir()
	o := Options{
		Content: filepath.Join(dir, "content"), Out: filepath.Join(dir, "public"), Today: today,
		Memory: &Memory{filepath.Join(dir, "memory"), "one"},
	}
	library(t, o.Content, 4)
	remembers := func() bool {
		report, err := Build(o)
		require.NoError(t, err)
		require.Zero(t, report.Faults)
		full, err := Build(Options{Content: o.Content, Out: o.Out, Today: o.Today})
		require.NoError(t, err)
		assert.Zero(t, full.Published.Written, "the site was not what it had to be")
		made := report.Published.Manifest != [32]byte{}
		report.Published = full.Published
		assert.Equal(t, full, report)
		return !made
	}
	require.False(t, remembers(), "the first build")
	require.True(t, remembers())
	note := filepath.Join(o.Content, "topic-01", "note-1.md")
	text, err := os.ReadFile(note)
	require.NoError(t, err)
	for what, change := range map[string]func(){
		"another note":    func() { require.NoError(t, os.WriteFile(note, append(text, "\nMore.\n"...), 0o644)) },
		"another file":    func() { require.NoError(t, os.WriteFile(note+".txt", nil, 0o644)) },
		"another day":     func() { o.Today = o.Today.AddDate(0, 0, 1) },
		"another program": func() { o.Memory.Program = "two" },
		"a file of the site changed by hand": func() {
			require.NoError(t, os.WriteFile(filepath.Join(o.Out, "index.html"), []byte("mine"), 0o644))
		},
		"a file of the site taken away": func() { require.NoError(t, os.Remove(filepath.Join(o.Out, "404.html"))) },
		"the site taken away":           func() { require.NoError(t, os.RemoveAll(o.Out)) },
		"the memory spoilt":             func() { require.NoError(t, os.WriteFile(o.Memory.file(o.Out), []byte("{"), 0o644)) },
		"the memory lost":               func() { require.NoError(t, os.RemoveAll(o.Memory.Dir)) },
	} {
		change()
		assert.False(t, remembers(), what)
		assert.True(t, remembers(), "after "+what)
	}
}

// TestMemoryKeepsNoDoubt: what a build had to say it says again.
func TestMemoryKeepsNoDoubt(t *testing.T) {
	dir := t.TempDir()
	o := Options{
		Content: filepath.Join(dir, "content"), Out: filepath.Join(dir, "public"), Today: today,
		Memory: &Memory{filepath.Join(dir, "memory"), "one"},
	}
	library(t, o.Content, 2)
	name := filepath.Join(o.Content, "doubt.md")
	require.NoError(t, os.WriteFile(name, []byte("# Doubt\n\n#### Deep\n"), 0o644))
	for range 2 {
		report, err := Build(o)
		require.NoError(t, err)
		assert.Len(t, report.Diagnostics, 1)
	}
}
