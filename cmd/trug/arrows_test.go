package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks"
)

// rooms is the table of import arrows: what each package of the project may import of it. A name that
// ends in /... stands for the folder and all below it.
var rooms = []struct {
	room string
	may  []string
}{
	{"cmd/trug", []string{"builder", "builder/history", "calcblocks", "calcblocks/kit/..."}},
	{"builder", []string{"builder/...", "layouts", "calcblocks", "calcblocks/kit/..."}},
	{"builder/notes", []string{"builder/markdown", "builder/site", "calcblocks/kit/..."}},
	{"builder/markdown", []string{"calcblocks/kit/diag", "calcblocks/kit/data"}},
	{"builder/history", []string{"calcblocks/kit/..."}},
	{"builder/site", []string{"calcblocks/kit/data"}},
	{"builder/output", []string{"calcblocks/kit/..."}},
	{"builder/pictures", nil},
	{"builder/publish", []string{"calcblocks/kit/diag"}},
	{"layouts", []string{"calcblocks/kit/view", "calcblocks/kit/sources", "calcblocks/kit/data"}},
	{"calcblocks", append(kinds(), "calcblocks/kit/...")},
	{"calcblocks/kit/block", kits("data", "diag", "facts", "form", "garden", "reference", "sources", "units", "view")},
	{"calcblocks/kit/blocktest", []string{"calcblocks/kit/..."}}, // for tests alone
	{"calcblocks/kit/care", kits("data", "diag", "garden", "reference", "sources", "view")},
	{"calcblocks/kit/dose", kits("garden", "reference", "supply", "units")},
	{"calcblocks/kit/supply", kits("garden", "reference", "units")},
	{"calcblocks/kit/garden", kits("diag", "form", "measure", "reference", "sources", "units", "vessel")},
	{"calcblocks/kit/reference", kits("data", "diag", "form", "sources", "units", "view")},
	{"calcblocks/kit/form", kits("diag", "units")},
	{"calcblocks/kit/measure", kits("units")},
	{"calcblocks/kit/vessel", kits("diag", "units")},
	{"calcblocks/kit/view", kits("sources")},
	{"calcblocks/kit/units", kits("diag")},
	{"calcblocks/kit/need", kits("reference", "units")},
	{"calcblocks/kit/ph", kits("reference")},
	{"calcblocks/kit/packs", nil},
	{"calcblocks/kit/purchase", kits("care", "data", "dose", "facts", "garden", "packs", "units", "view")},
	{"calcblocks/kit/renewal", nil},
	{"calcblocks/kit/scoop", kits("data", "garden", "measure", "units", "view")},
	{"calcblocks/kit/solve", nil},
	{"calcblocks/kit/substitute", kits("care", "dose", "garden", "reference", "supply", "units")},
	{"calcblocks/kit/schema", kits("data", "diag", "form", "units")},
	{"calcblocks/kit/season", kits("diag", "facts", "reference", "units", "view")},
	{"calcblocks/kit/rotation", kits("diag", "facts", "reference", "units", "view")},
	{"calcblocks/kit/pothistory", kits("care", "data", "diag", "dose", "facts", "garden", "reference", "renewal", "rotation", "units", "view")},
	{"calcblocks/kit/extract", kits("reference", "units")},
	{"calcblocks/kit/heap", kits("units")},
	{"calcblocks/kit/liming", nil},
	{"calcblocks/kit/solution", nil},
	{"calcblocks/kit/elements", nil},
	{"calcblocks/kit/data", nil},
	{"calcblocks/kit/diag", nil},
	{"calcblocks/kit/facts", kits("data", "diag", "dose", "garden", "reference", "units", "view")},
	{"calcblocks/kit/sources", nil},
}

// kinds returns the packages of the kinds.
func kinds() []string {
	var out []string
	for _, name := range calcblocks.Names() {
		out = append(out, "calcblocks/"+name)
	}
	return out
}

func kits(names ...string) []string {
	for i, n := range names {
		names[i] = "calcblocks/kit/" + n
	}
	return names
}

// libraries says which package alone uses a library.
var libraries = map[string]string{
	"github.com/yuin/goldmark":         "builder/markdown",
	"github.com/alecthomas/chroma":     "builder/markdown",
	"gopkg.in/yaml.v3":                 "calcblocks/kit/form",
	"github.com/alecthomas/kong":       "cmd/trug",
	"github.com/kovidgoyal/imaging":    "builder/pictures",
	"golang.org/x/sys":                 "builder/publish",
	"golang.org/x/term":                "cmd/trug",
	"github.com/fsnotify/fsnotify":     "cmd/trug",
	"golang.org/x/text/unicode/norm":   "calcblocks/kit/data",
	"gonum.org/v1/gonum/optimize":      "calcblocks/kit/solve",
	"gonum.org/v1/gonum/mat":           "calcblocks/kit/solve",
	"gonum.org/v1/gonum/floats":        "calcblocks/kit/solve",
	"gonum.org/v1/gonum/stat/distuv":   "calcblocks/trial",
	"github.com/arran4/golang-ical":    "builder/output",
	"github.com/piglig/go-qr":          "builder/output",
	"golang.org/x/net/html":            "", // tests only
	"github.com/stretchr/testify":      "calcblocks/kit/blocktest",
	"pgregory.net/rapid":               "",
	"github.com/rogpeppe/go-internal/": "calcblocks/kit/blocktest",
}

// clocks are what makes the same input give other bytes; only cmd may use them.
var clocks = []string{"math/rand", "math/rand/v2", "net", "net/http", "crypto/rand"}

type listed struct {
	ImportPath string
	Imports    []string
}

func packages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "trug/...")
	text, err := cmd.Output()
	require.NoError(t, err)
	var out []listed
	dec := json.NewDecoder(strings.NewReader(string(text)))
	for {
		var p listed
		err := dec.Decode(&p)
		if errors.Is(err, io.EOF) {
			return out
		}
		require.NoError(t, err)
		out = append(out, p)
	}
}

// mayImport returns what a package may import. Every kind may import every kit, and no other kind.
func mayImport(name string) ([]string, bool) {
	for _, r := range rooms {
		if r.room == name {
			return r.may, true
		}
	}
	return []string{"calcblocks/kit/..."}, slices.Contains(kinds(), name)
}

func TestImportArrows(t *testing.T) {
	all := packages(t)
	require.Greater(t, len(all), 10)
	for _, p := range all {
		name := strings.TrimPrefix(p.ImportPath, "trug/")
		may, ok := mayImport(name)
		if !assert.True(t, ok, "the package %s is not in the table of arrows", name) {
			continue
		}
		for _, imported := range p.Imports {
			if own, ok := strings.CutPrefix(imported, "trug/"); ok {
				assert.True(t, allowed(own, may), "%s must not import %s", name, own)
				continue
			}
			assert.Empty(t, misplaced(name, imported), "%s imports %s", name, imported)
		}
	}
}

func allowed(own string, may []string) bool {
	return slices.ContainsFunc(may, func(m string) bool {
		folder, below := strings.CutSuffix(m, "/...")
		return own == m || below && (own == folder || strings.HasPrefix(own, folder+"/"))
	})
}

// misplaced says what is wrong with a package's import of something outside the project, "" for nothing.
func misplaced(name, imported string) string {
	for library, owner := range libraries {
		if strings.HasPrefix(imported, library) && name != owner {
			return "only " + owner + " may use it"
		}
	}
	if name != "cmd/trug" && slices.Contains(clocks, imported) {
		return "no network and no chance below cmd"
	}
	if strings.Contains(strings.Split(imported, "/")[0], ".") && !known(imported) {
		return "this library is not in the table"
	}
	return ""
}

func known(imported string) bool {
	for library := range libraries {
		if strings.HasPrefix(imported, library) {
			return true
		}
	}
	return false
}

// The table's own rules are tried on arrows that are known to be wrong.
func TestArrowsAreRefused(t *testing.T) {
	assert.False(t, allowed("builder", []string{"calcblocks/kit/..."}))
	assert.False(t, allowed("calcblocks/kitchen", []string{"calcblocks/kit/..."}))
	assert.True(t, allowed("calcblocks/kit/units", []string{"calcblocks/kit/..."}))
	assert.NotEmpty(t, misplaced("builder", "gopkg.in/yaml.v3"))
	assert.NotEmpty(t, misplaced("layouts", "github.com/yuin/goldmark/ast"))
	assert.NotEmpty(t, misplaced("builder", "net/http"))
	assert.NotEmpty(t, misplaced("builder", "example.org/other"))
	assert.Empty(t, misplaced("cmd/trug", "github.com/alecthomas/kong"))
}

func TestNoPackageIsALumberRoom(t *testing.T) {
	for _, p := range packages(t) {
		last := p.ImportPath[strings.LastIndexByte(p.ImportPath, '/')+1:]
		assert.NotContains(t, []string{"util", "utils", "common", "helpers", "misc", "lib"}, last)
	}
}
