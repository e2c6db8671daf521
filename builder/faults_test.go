package builder

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
)

// today is the day of all tests below: nothing may depend on it.
var today = time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)

// handbookIn writes an archive's files into a new folder called content, from which the test then runs.
func handbookIn(t *testing.T, a *txtar.Archive) {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.Mkdir("content", 0o755))
	for _, f := range a.Files {
		if f.Name == "want" {
			continue
		}
		name := filepath.Join("content", f.Name)
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
		require.NoError(t, os.WriteFile(name, unescape(f.Data), 0o644))
	}
}

// unescape lets a case write bytes that an editor would not keep: a tab, a byte-order mark, a carriage
// return, a NUL.
func unescape(text []byte) []byte {
	return []byte(strings.NewReplacer("<TAB>", "\t", "<BOM>", "\ufeff", "<CR>", "\r", "<BAD>", "\xff", "<NUL>", "\x00").Replace(string(text)))
}

func printed(all []diag.Diagnostic) string {
	var b strings.Builder
	diag.Print(&b, all, diag.Style{})
	return b.String()
}

// TestFaults holds every message of the handbook's faults to the letter, with file, line and column.
// With TRUG_WRITE=1 it writes the cases anew; read what changed before you keep it.
func TestFaults(t *testing.T) {
	files, err := filepath.Glob("testdata/faults/*.txtar")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 80)
	for _, file := range files {
		full, err := filepath.Abs(file)
		require.NoError(t, err)
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(full)
			require.NoError(t, err)
			handbookIn(t, a)
			report, err := Proof(Options{Content: "content", Today: today})
			require.NoError(t, err)
			got := printed(report.Diagnostics)
			if os.Getenv("TRUG_WRITE") != "" {
				write(t, full, a, got)
				return
			}
			assert.Equal(t, wanted(a), got)
			assert.NotEmpty(t, got, "a case without a fault proves nothing")
			assertNothingPublished(t)
		})
	}
}

func wanted(a *txtar.Archive) string {
	for _, f := range a.Files {
		if f.Name == "want" {
			return string(f.Data)
		}
	}
	return ""
}

func write(t *testing.T, file string, a *txtar.Archive, got string) {
	t.Helper()
	kept := a.Files[:0]
	for _, f := range a.Files {
		if f.Name != "want" {
			kept = append(kept, f)
		}
	}
	a.Files = append(kept, txtar.File{Name: "want", Data: []byte(got)})
	require.NoError(t, os.WriteFile(file, txtar.Format(a), 0o644))
}

// assertNothingPublished builds over a site that is there already and finds it as it was.
func assertNothingPublished(t *testing.T) {
	t.Helper()
	require.NoError(t, os.Mkdir("public", 0o755))
	report, err := Build(Options{Content: "content", Out: "public", Today: today})
	require.NoError(t, err)
	left, err := os.ReadDir(".")
	require.NoError(t, err)
	assert.Len(t, left, 2, "a staging folder was left")
	inside, err := os.ReadDir("public")
	require.NoError(t, err)
	if report.Faults > 0 {
		assert.Empty(t, inside)
	}
}
