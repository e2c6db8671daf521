package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/builder"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

var today = time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)

// start writes a new handbook and returns its content folder.
func start(t *testing.T, measures string) string {
	t.Helper()
	t.Chdir(t.TempDir())
	verb := startVerb{Dir: "bench", Measures: measures}
	require.NoError(t, verb.Run(t.Context(), Console{Out: &strings.Builder{}, Now: func() time.Time { return today }}))
	return filepath.Join("bench", "content")
}

// TestStarterBuilds: a new handbook has no faults and no doubts, in either measures, and its recipe trips no
// guard: what stands on its page is the shape that a bare volume is drawn with, and the usual cautions.
func TestStarterBuilds(t *testing.T) {
	for _, measures := range []string{"us", "metric"} {
		t.Run(measures, func(t *testing.T) {
			content := start(t, measures)
			report, err := builder.Build(builder.Options{Content: content, Out: "public", Today: today})
			require.NoError(t, err)
			assert.Empty(t, report.Diagnostics)
			assert.Equal(t, 1, report.Notes)
			assert.Equal(t, 1, report.Recipes)
			assert.FileExists(t, "public/recipes/spring-tubs/index.html")

			h, err := builder.Read(content, today)
			require.NoError(t, err)
			assert.Equal(t, units.Set(measures), h.Garden.Handbook.Main)
			assert.Len(t, h.Garden.Pots, 4)
			recipe, ok := h.Block("spring-tubs")
			require.True(t, ok)
			sizes := recipe.Result.Data.Get("sizes").(data.List)
			require.Len(t, sizes, 4)
			for _, size := range sizes {
				for _, caution := range size.(data.Object).Get("cautions").(data.List) {
					id := string(caution.(data.Object).Get("id").(data.Text))
					general := slices.ContainsFunc(h.Ref.Cautions, func(c *reference.Caution) bool { return c.ID == id })
					assert.True(t, general || id == "assumed-shape", "%s: %s", size.(data.Object).Get("label"), id)
				}
			}
		})
	}
}

// TestStarterIsWrittenInItsMeasures: nothing that the author is to change is in the other measures, and no
// line of the templates is left.
func TestStarterIsWrittenInItsMeasures(t *testing.T) {
	foreign := map[string]string{"us": `\d (?:cm|L|mL|kg)\b`, "metric": `\d (?:in|gal|lb|cu ft)\b`}
	for measures, units := range foreign {
		content := start(t, measures)
		files, err := os.ReadDir(content)
		require.NoError(t, err)
		require.Len(t, files, 4)
		for _, f := range files {
			text, err := os.ReadFile(filepath.Join(content, f.Name()))
			require.NoError(t, err)
			assert.NotRegexp(t, units, string(text), f.Name())
			assert.NotContains(t, string(text), "{{", f.Name())
			assert.True(t, strings.HasSuffix(string(text), "\n"), f.Name())
		}
	}
}

// TestStartLeavesNothing: when the folder cannot be written, what was made on the way is gone again.
func TestStartLeavesNothing(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.Mkdir("bench", 0o755))
	verb := startVerb{Dir: "bench", Measures: "us"}
	require.Error(t, verb.write([]starterFile{{"a.md", nil}, {"no/such/folder.md", nil}}))
	left, err := os.ReadDir("bench")
	require.NoError(t, err)
	assert.Empty(t, left)

	verb = startVerb{Dir: filepath.Join("new", "deep", "bench"), Measures: "us"}
	require.Error(t, verb.write([]starterFile{{"no/such/folder.md", nil}}))
	assert.NoDirExists(t, "new")
}

// TestNextCommands are what a shell takes.
func TestNextCommands(t *testing.T) {
	for dir, want := range map[string]string{"bench": "cd bench", "my bench": "cd 'my bench'", "it's": `cd 'it'\''s'`, ".": "trug build"} {
		assert.Equal(t, want, (&startVerb{Dir: dir}).next("trug", true)[0])
	}
	assert.Equal(t, []string{"cd bench", "/opt/trug build"}, (&startVerb{Dir: "bench"}).next("/opt/trug", true))
	assert.Equal(t, []string{
		"go run ./cmd/trug build --in '../my bench/content' --out '../my bench/public'",
		"go run ./cmd/trug watch --in '../my bench/content' --out '../my bench/public'",
	}, (&startVerb{Dir: "../my bench"}).next("go run ./cmd/trug", false), "what go run made has no name and no place")
}

// TestCalled: by its name where the shell finds it, else by its file, and as it was where "go run" made it.
func TestCalled(t *testing.T) {
	bin := t.TempDir()
	other := filepath.Join(t.TempDir(), "trug")
	for _, name := range []string{filepath.Join(bin, "trug"), other} {
		require.NoError(t, os.WriteFile(name, nil, 0o700))
	}
	t.Setenv("PATH", bin)
	t.Chdir(t.TempDir())
	for self, want := range map[string]string{
		filepath.Join(bin, "trug"):          "trug true",
		other:                               inShell(other) + " true",
		"/home/ann/my tools/trug":           "'/home/ann/my tools/trug' true",
		"/tmp/go-build12/b001/exe/trug":     "go run . false",
		"/home/ann/.cache/go-build/c9/trug": "go run . false",
	} {
		words, moves := callOf(self, os.Stat)
		assert.Equal(t, want, fmt.Sprint(words, " ", moves), self)
	}
	require.NoError(t, os.MkdirAll("cmd/trug", 0o755))
	require.NoError(t, os.WriteFile("cmd/trug/main.go", nil, 0o600))
	words, _ := callOf("/tmp/go-build12/b001/exe/trug", os.Stat)
	assert.Equal(t, "go run ./cmd/trug", words)
}
