package calcblocks_test

import (
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/reference"
)

// TestListIsTheFolders: every folder with a doc.md is a kind on the list, and the other way round.
func TestListIsTheFolders(t *testing.T) {
	docs, err := filepath.Glob("*/doc.md")
	require.NoError(t, err)
	var folders []string
	for _, doc := range docs {
		folders = append(folders, filepath.Dir(doc))
	}
	names := calcblocks.Names()
	slices.Sort(names)
	assert.Equal(t, folders, names)
	for _, name := range names {
		k, ok := calcblocks.Named(name)
		assert.True(t, ok)
		assert.Equal(t, name, k.Name)
	}
	_, ok := calcblocks.Named("recpie")
	assert.False(t, ok)
}

// tanglewick are the grower's files that the examples of the docs suppose.
var tanglewick = map[string]string{
	"handbook.yaml": "title: Tanglewick Court\n",
	"pots.yaml": "blue-tub: {name: Blue tub, shape: round 38 cm top 30 cm base 34 cm deep, fill: 31 cm}\n" +
		"half-barrel: {name: Half barrel, holds: 100 L, count: 2}\n",
}

// springTubs and plannedSeason are the other blocks that the examples of kinds of a later phase suppose.
const (
	springTubs = "title: Spring renewal\nfor: 60 L\ncrop: pepper\nsizes: [20 L]\namounts:\n  alfalfa-meal: 1/2 cup\n" +
		"  potash, one of:\n    kelp-meal: 1/4 cup\n    langbeinite: 1 tbsp\ntop: {compost: yard-compost, depth: 5 cm}\n"
	plannedSeason = "season: 2028\npots:\n  blue-tub: {recipe: spring-tubs, plants: 1, settled: 4 cm}\n"
)

// example returns an example of a kind with what it supposes.
func example(k block.Kind, body string) blocktest.Input {
	files := maps.Clone(tanglewick)
	if k.Phase > 1 {
		files["recipe spring-tubs.yaml"] = springTubs
	}
	if k.Phase > 2 {
		files["plan example-season.yaml"] = plannedSeason
	}
	return blocktest.Input{ID: "example", Files: files, Body: body}
}

var yamlFence = regexp.MustCompile("(?s)```yaml\n(.*?)```")

// examples returns the YAML blocks of a kind's doc.
func examples(k block.Kind) []string {
	var out []string
	for _, m := range yamlFence.FindAllStringSubmatch(k.Doc, -1) {
		out = append(out, m[1])
	}
	return out
}

// TestDocs: each doc opens with the kind's name, has an example that computes without a fault, and says its
// formulas; a kind that only tells about its note has none.
func TestDocs(t *testing.T) {
	for _, k := range calcblocks.All() {
		t.Run(k.Name, func(t *testing.T) {
			assert.True(t, strings.HasPrefix(k.Doc, "# "+k.Name+"\n"))
			assert.Contains(t, k.Doc, "\n## Example\n")
			if k.Name != "page" {
				assert.Regexp(t, `(?s)\n## Formulas\n.*=|: .* x `, k.Doc)
			}
			bodies := examples(k)
			require.NotEmpty(t, bodies)
			for _, body := range bodies {
				out := blocktest.Compute(k, example(k, body), calcblocks.All()...)
				assert.Empty(t, out.Printed())
				assert.NotEmpty(t, out.Data)
				assert.Empty(t, out.Unsound())
				if k.Name != "page" {
					assert.NotEmpty(t, out.Sources)
					assert.NotEmpty(t, out.Working)
					assert.NotEmpty(t, out.Text())
					assertHead(t, k, out)
				}
			}
		})
	}
}

// assertHead asserts what every kind's data begins and ends with.
func assertHead(t *testing.T, k block.Kind, out blocktest.Output) {
	for _, key := range []string{"id", "title"} {
		assert.NotNil(t, out.Data.Get(key), key)
	}
	assert.Equal(t, data.Text(k.Name), out.Data.Get("kind"))
	assert.NotEqual(t, data.Null{}, out.Data.Get("stamp"), "care.Sealed sets it")
	assert.Len(t, out.Data.Get("sources"), len(out.Sources))
}

// TestDocsNameTheirFields: every key of the example is explained or shown, and a key that the doc explains
// is one that the kind takes.
func TestDocsNameTheirFields(t *testing.T) {
	item := regexp.MustCompile(`(?m)^- ([a-z][a-z ,]*?(?: or [a-z]+)?): `)
	for _, k := range calcblocks.All() {
		before, _, _ := strings.Cut(k.Doc, "## Formulas")
		for _, m := range item.FindAllStringSubmatch(before, -1) {
			for _, key := range regexp.MustCompile(`, | or `).Split(m[1], -1) {
				out := blocktest.Compute(k, blocktest.Input{Files: tanglewick, Body: key + ": x\n"})
				assert.NotContains(t, out.Printed(), "unknown key", "%s: %s", k.Name, key)
			}
		}
	}
}

// TestSameInputSameBytes: computed twice, every example is the same to the byte.
func TestSameInputSameBytes(t *testing.T) {
	for _, k := range calcblocks.All() {
		for _, body := range examples(k) {
			in := example(k, body)
			first, second := blocktest.Compute(k, in, calcblocks.All()...), blocktest.Compute(k, in, calcblocks.All()...)
			assert.Equal(t, string(data.JSON(first.Data)), string(data.JSON(second.Data)), k.Name)
			assert.Equal(t, first.Text()+first.WorkingText(), second.Text()+second.WorkingText(), k.Name)
		}
	}
}

var verdict = regexp.MustCompile(`(?i)\b(?:un)?safe(?:ly|r|st)?\b`) // "safety" stands in names of publishers

// TestNoVerdict: no text of any kind says that something is safe, or unsafe: not with any amendment of the
// reference, not in a small pot or a huge one, not in a doc or a template.
func TestNoVerdict(t *testing.T) {
	for _, k := range calcblocks.All() {
		assert.NotRegexp(t, verdict, k.Doc, k.Name)
		for _, body := range examples(k) {
			assertNoVerdict(t, k, body)
		}
	}
	recipe, _ := calcblocks.Named("recipe")
	topup, _ := calcblocks.Named("topup")
	weight, _ := calcblocks.Named("weight")
	for _, a := range reference.Default().Amendments {
		for _, grams := range []string{"0.01 g", "5 kg"} {
			assertNoVerdict(t, recipe, "title: T\nfor: 20 L\nsizes: [20 L, nursery class 5]\namounts:\n  "+a.ID+": "+grams+"\n")
		}
		if a.Class == "compost" {
			assertNoVerdict(t, recipe, "title: T\nfor: 20 L\nsizes: [20 L]\namounts:\n  gypsum: 1 g\ntop: {compost: "+a.ID+", share: 60 %}\n")
			assertNoVerdict(t, topup, "container: 40 L\ntake: 8 cm\nroots: left\nwith: "+a.ID+"\n")
		}
	}
	for _, container := range []string{"1 L", "trough 60 x 40 x 90 cm", "round 30 cm top"} {
		for _, place := range []string{"balcony", "ground"} {
			assertNoVerdict(t, weight, "container: "+container+"\nplace: "+place+"\n")
		}
	}
}

func assertNoVerdict(t *testing.T, k block.Kind, body string) {
	t.Helper()
	out := blocktest.Compute(k, example(k, body), calcblocks.All()...)
	require.Empty(t, out.Printed(), body)
	assert.NotRegexp(t, verdict, out.Text()+out.WorkingText()+string(data.JSON(out.Data)), body)
}

// TestNoVerdictInTemplates reads the templates, the scripts and the words of the pages.
func TestNoVerdictInTemplates(t *testing.T) {
	seen := 0
	err := filepath.WalkDir("../layouts", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !slices.Contains([]string{".html", ".js", ".xml", ".svg", ".txt", ".tmpl"}, filepath.Ext(name)) {
			return err
		}
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.NotRegexp(t, verdict, string(text), name)
		seen++
		return nil
	})
	require.NoError(t, err)
	assert.Greater(t, seen, 10)
}
