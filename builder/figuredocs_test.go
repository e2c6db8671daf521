package builder

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks"
	"trug/calcblocks/kit/diag"
)

var (
	docExample = regexp.MustCompile("(?s)```yaml\n(.*?)```")
	docFigures = regexp.MustCompile(`(?s)\n## Figures\n(.*?)(?:\n## |$)`)
	docPath    = regexp.MustCompile("`([^`]+)`")
)

// TestDocumentedFigures: every path that the doc of a kind names can stand in a note about the doc's own example.
func TestDocumentedFigures(t *testing.T) {
	h := examples(t)
	for _, k := range calcblocks.All() {
		if k.Name == "page" {
			continue // it computes nothing
		}
		m := docFigures.FindStringSubmatch(k.Doc)
		require.NotNil(t, m, "the doc of %s has no figures", k.Name)
		paths := 0
		for _, line := range strings.Split(m[1], "\n") {
			names, says, ok := strings.Cut(strings.TrimPrefix(line, "- "), ": ")
			if !ok || !strings.HasPrefix(line, "- ") {
				continue
			}
			assert.NotEmpty(t, says)
			for _, path := range docPath.FindAllStringSubmatch(names, -1) {
				f, wrong := h.resolve(figureScheme+exampleID(k.Name)+"/"+path[1], diag.Position{})
				if assert.Nil(t, wrong, "%s: %v", k.Name, wrong) {
					t.Logf("%s %s = %s: %s", k.Name, path[1], f.Path, f.text)
				}
				paths++
			}
		}
		assert.GreaterOrEqual(t, paths, 1, k.Name)
	}
}

// exampleID is the id of a kind's example; shopping's names that of the plan.
func exampleID(kind string) string {
	if kind == "plan" {
		return "example-season"
	}
	return "example-" + kind
}

// examples is a handbook of the docs' examples, with the files of the demo and the recipe that a plan asks for.
func examples(t *testing.T) *Handbook {
	t.Helper()
	content := filepath.Join(t.TempDir(), "content")
	require.NoError(t, os.Mkdir(content, 0o755))
	for _, file := range []string{"handbook.yaml", "cupboard.yaml", "pots.yaml", "tubs/spring-renewal.md"} {
		text, err := os.ReadFile(filepath.Join("../content", file))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(content, filepath.Base(file)), text, 0o644))
	}
	note := "# Examples\n"
	for _, k := range calcblocks.All() {
		if k.Name != "page" {
			note += fmt.Sprintf("\n```%s %s\n%s```\n", k.Name, exampleID(k.Name), docExample.FindStringSubmatch(k.Doc)[1])
		}
	}
	require.NoError(t, os.WriteFile(filepath.Join(content, "examples.md"), []byte(note), 0o644))
	h, err := Read(content, today)
	require.NoError(t, err)
	for _, d := range h.Sorted() {
		require.NotEqual(t, diag.Fault, d.Severity, printed([]diag.Diagnostic{d}))
	}
	return h
}
