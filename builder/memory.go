package builder

import (
	"encoding/hex"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"trug/builder/publish"
)

// A Memory lets a build end at once when the site holds already what it would make. It is a folder outside the
// handbook, for what depends on the program and the day has no place in the site. Losing it costs a full build and
// nothing else.
type Memory struct {
	Dir     string
	Program string // stands for the program itself: another one may make another site
}

// remembered is what one build made of what. A build that had something to say is not remembered, so that it says
// it again.
type remembered struct {
	From, Site            string // sums of what was read, and of the manifest
	Notes, Recipes, Files int
	Address               string
	Advice                []string
}

// from is the sum of everything that a build reads, "" when it cannot be read.
func (m *Memory) from(o Options) string {
	parts := []string{m.Program, filepath.ToSlash(filepath.Clean(o.Content)), o.Today.Format(time.DateOnly)}
	files := folder(o.Content)
	err := fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(files, name)
		parts = append(parts, name, sumOfFile(text, err))
		return nil
	})
	if err != nil {
		return ""
	}
	return hex.EncodeToString([]byte(sumOf(parts...)))
}

// recall returns the report of the build that made what stands in the site's folder from the same, if every file
// there is as it was written.
func (m *Memory) recall(o Options, from string, stage *publish.Stage) (Report, bool) {
	var was remembered
	text, err := os.ReadFile(m.file(o.Out))
	if from == "" || err != nil || json.Unmarshal(text, &was) != nil || was.From != from {
		return Report{}, false
	}
	if site, whole := stage.Stands(); !whole || hex.EncodeToString(site[:]) != was.Site {
		return Report{}, false
	}
	out := Report{Notes: was.Notes, Recipes: was.Recipes, Files: was.Files, Address: was.Address, Advice: was.Advice}
	out.Published.Unchanged = was.Files
	return out, true
}

// keep remembers a build, unless what it read changed meanwhile. It is no fault when it cannot be kept.
func (m *Memory) keep(o Options, from string, r Report) {
	if len(r.Diagnostics) > 0 || from == "" || m.from(o) != from {
		return
	}
	text, err := json.Marshal(remembered{from, hex.EncodeToString(r.Published.Manifest[:]), r.Notes, r.Recipes, r.Files, r.Address, r.Advice})
	if err != nil || os.MkdirAll(m.Dir, 0o700) != nil {
		return
	}
	part, err := os.CreateTemp(m.Dir, "part-")
	if err != nil {
		return
	}
	_, err = part.Write(text)
	if part.Close() != nil || err != nil || os.Rename(part.Name(), m.file(o.Out)) != nil {
		_ = os.Remove(part.Name())
	}
}

// file is named after the site's folder.
func (m *Memory) file(out string) string {
	full, err := filepath.Abs(out)
	if err != nil {
		full = out
	}
	return filepath.Join(m.Dir, hex.EncodeToString([]byte(sumOf(full)))[:32]+".json")
}
