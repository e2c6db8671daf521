package blocktest

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
)

// expected are the files of a case that hold what is expected; the others are the grower's.
var expected = []string{"json", "text", "csv", "working", "cautions", "faults"}

// Run runs every case of testdata/*.txtar. A case holds the block in in.yaml, the grower's files, and any
// of json (a part of the result), text, csv, working, cautions (ids of guards) and faults, which are exact.
// The comment before the first file may hold lines "id: x", "for: 20 L" and "with: a, b". A case without
// the file "faults" must have none. With TRUG_WRITE=1 the exact files are written anew.
//
// A case may hold other blocks of the handbook, of the kinds given here: files such as
// "recipe spring-tubs.yaml" (kind and id) or "diary.yaml", and recipe files. As in a handbook, lower phases
// compute first and a block reads the facts of the phases below its own. The faults of all count.
func Run(t *testing.T, k block.Kind, others ...block.Kind) {
	names, err := filepath.Glob("testdata/*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, names, "no cases in testdata")
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) { runCase(t, k, others, name) })
	}
}

func runCase(t *testing.T, k block.Kind, others []block.Kind, name string) {
	a, err := txtar.ParseFile(name)
	require.NoError(t, err)
	out := Compute(k, Parse(a), others...)
	wrong, fresh := Check(a, out)
	if os.Getenv("TRUG_WRITE") != "" && len(fresh) > 0 {
		require.NoError(t, os.WriteFile(name, txtar.Format(rewritten(a, fresh)), 0o644))
		t.Log("written anew: read what changed before you keep it")
		return
	}
	for _, w := range wrong {
		assert.Fail(t, w)
	}
}

// Parse returns the input of a case.
func Parse(a *txtar.Archive) Input {
	in := Input{Files: map[string]string{}}
	for _, line := range strings.Split(string(a.Comment), "\n") {
		switch key, value, _ := strings.Cut(line, ": "); key {
		case "id":
			in.ID = value
		case "for":
			in.For = value
		case "with":
			in.With = strings.Split(value, ", ")
		}
	}
	for _, f := range a.Files {
		switch {
		case f.Name == "in.yaml":
			in.Body = string(f.Data)
		case !slices.Contains(expected, f.Name):
			in.Files[f.Name] = string(f.Data)
		}
	}
	return in
}

// Check compares a result with what a case expects. It returns the differences with what is Unsound in any case, and
// the exact files that differ as they would have to read.
func Check(a *txtar.Archive, out Output) (wrong []string, fresh map[string]string) {
	fresh = map[string]string{}
	exact := out.exact()
	wrong = out.Unsound()
	looked := false
	for _, f := range a.Files {
		switch got, isExact := exact[f.Name]; {
		case f.Name == "json":
			wrong = append(wrong, checkJSON(f.Data, out)...)
		case isExact && got != string(f.Data):
			fresh[f.Name] = got
			wrong = append(wrong, fmt.Sprintf("%s differs\n--- want\n%s--- got\n%s", f.Name, f.Data, got))
		case !isExact:
			continue
		}
		looked = true
	}
	if !looked {
		wrong = append(wrong, "the case expects nothing")
	}
	if got := out.Printed(); got != "" && !has(a, "faults") {
		wrong = append(wrong, "unexpected faults:\n"+got)
	}
	return wrong, fresh
}

func checkJSON(text []byte, out Output) []string {
	var want any
	if err := json.Unmarshal(text, &want); err != nil {
		return []string{"json: " + err.Error()}
	}
	return Subset(want, out.Decoded())
}

func (o Output) exact() map[string]string {
	return map[string]string{
		"text": o.Text(), "csv": string(data.CSV(o.Data)), "working": o.WorkingText(),
		"cautions": o.guards(), "faults": o.Printed(),
	}
}

func has(a *txtar.Archive, name string) bool {
	return slices.ContainsFunc(a.Files, func(f txtar.File) bool { return f.Name == name })
}

func rewritten(a *txtar.Archive, fresh map[string]string) *txtar.Archive {
	out := &txtar.Archive{Comment: a.Comment, Files: slices.Clone(a.Files)}
	for i, f := range out.Files {
		if text, ok := fresh[f.Name]; ok {
			out.Files[i].Data = []byte(text)
		}
	}
	return out
}
