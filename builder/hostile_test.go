package builder

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"image"
	"image/color"
	"image/png"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"trug/calcblocks/kit/diag"
)

// evil closes whatever it may stand in, and then runs something wherever a page would let it.
const evil = `</script><script>window.ran = 1</script></title></style></textarea>--><!-- ]]> " ' onerror="window.ran = 1" ` +
	`<img src=x onerror="window.ran = 1"><svg onload="window.ran = 1">{{.}} ${1} \u003cscript\u003e` + "\u2028 ` \\"

// starts are texts that a spreadsheet would run, and one that would begin a line of a calendar.
var starts = []string{"=1+1", "+1+1", "-1+1", "@SUM(A1)", "a;=1+1", "END:VEVENT\\nBEGIN:VEVENT"}

// hostileHandbook holds such texts in every field that takes a text of the grower's own.
func hostileHandbook(at string) *txtar.Archive {
	inQuotes := func(s string) string {
		text, err := json.Marshal(s)
		if err != nil {
			panic(err) // a text can be written
		}
		return string(text)
	}
	e := inQuotes(evil)
	files := map[string]string{
		"handbook.yaml": "title: " + e + "\nauthor: " + e + "\naddress: " + at + "\nsizes: [20 L, tub-1]\nfrost: {spring: \"04-20\", autumn: \"10-15\"}\n",
		"pots.yaml":     "tub-1: {name: " + e + ", holds: 30 L, place: " + e + "}\ntub-2: {name: " + inQuotes(starts[0]) + ", holds: 10 L, place: " + inQuotes(starts[4]) + "}\n",
		"cupboard.yaml": "blend:\n  name: " + e + "\n  label: {n: 4, p2o5: 3, k2o: 3}\n  cup weighs: 140 g\n  packs: [{holds: 2 kg, price: 12.00}]\n" +
			"mixed:\n  name: " + inQuotes(starts[1]) + "\n  label: {n: 4}\n  cup weighs: 140 g\n",
		"tubs.md": "# " + markdownOf(evil) + "\n\n" + fenced("page", "summary: "+e+"\nwritten: 2026-02-01\ntopics: ["+e+", "+inQuotes(starts[2])+"]\n") +
			"## " + markdownOf(evil) + "\n\n" + evil + "\n\n| " + markdownOf(evil) + " |\n|-|\n| [a](figure:tub/title " + e + ") |\n\n" +
			"[![" + markdownOf(evil) + "](dot.png \"' onerror=x\")](https://bench.example/?%22%3E%3Cscript%3E)\n\n" +
			fenced("recipe tub", "title: "+e+"\nfor: 20 L\ncrop: pepper\nplants: 2\namounts:\n  blend: 1/2 cup\n  "+inQuotes(evil+", one of")+":\n    kelp-meal: 1 cup\n    mixed: 1 cup\nsteps: ["+e+", "+inQuotes(starts[3])+"]\n") +
			fenced("plan year", "title: "+e+"\nseason: 2026\npots:\n  tub-1: {recipe: tub, crop: tomato}\n  tub-2: {recipe: tub}\n") +
			fenced("diary", "- {on: 2026-02-02, pot: tub-1, did: noted, crop: pepper, note: "+e+"}\n- {on: 2026-02-03, pot: tub-2, did: noted, note: "+inQuotes(starts[5])+"}\n"),
		"extra.recipe.yaml": "recipe: extra\ntitle: " + e + "\nfor: 20 L\namounts: {blend: 1 cup}\n",
	}
	a := &txtar.Archive{}
	for name, text := range files {
		a.Files = append(a.Files, txtar.File{Name: name, Data: []byte(text)})
	}
	return a
}

func fenced(info, body string) string { return "```" + info + "\n" + body + "```\n\n" }

// markdownOf is a text in the place of one line of a note.
func markdownOf(s string) string {
	return strings.NewReplacer("`", "'", "\\", "", "\u2028", "").Replace(s)
}

// hostileSite builds that handbook and returns its files.
func hostileSite(t *testing.T, at string) map[string][]byte {
	t.Helper()
	handbookIn(t, hostileHandbook(at))
	var dot bytes.Buffer
	require.NoError(t, png.Encode(&dot, image.NewPaletted(image.Rect(0, 0, 4, 4), color.Palette{color.Black})))
	require.NoError(t, os.WriteFile("content/dot.png", dot.Bytes(), 0o644))
	report, err := Build(Options{Content: "content", Out: "public", Today: today})
	require.NoError(t, err)
	faults := slices.DeleteFunc(report.Diagnostics, func(d diag.Diagnostic) bool { return d.Severity != diag.Fault })
	require.Zero(t, report.Faults, printed(faults))
	return filesOf(t, "public")
}

func filesOf(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	require.NoError(t, filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Type()&fs.ModeSymlink != 0 {
			return err
		}
		body, err := os.ReadFile(name)
		inside, _ := filepath.Rel(dir, name)
		out[filepath.ToSlash(inside)] = body
		return err
	}))
	return out
}

// Whatever stands in the fields of a handbook, each file of the site is what its kind of file is, and holds it as
// text.
func TestHostileTextStaysText(t *testing.T) {
	files := hostileSite(t, "https://bench.example/")
	complaints, _ := checkSite(files, "/")
	assert.Empty(t, complaints)
	seen := map[string]int{}
	for name, body := range files {
		ending := filepath.Ext(name)
		seen[ending]++
		switch ending {
		case ".html":
			assertNothingRuns(t, name, body)
		case ".json":
			assert.True(t, json.Valid(body), name)
		case ".js":
			assert.NotContains(t, strings.ToLower(string(body)), "</script", name)
		case ".csv":
			assertNoFormula(t, name, body)
		case ".atom", ".xml":
			assertXML(t, name, body)
		case ".ics":
			assertCalendar(t, name, body)
		}
	}
	for _, ending := range []string{".html", ".json", ".js", ".csv", ".atom", ".xml", ".ics"} {
		assert.Positive(t, seen[ending], ending)
	}
}

// assertNothingRuns reads a page as a browser does. The title proves that the text came through whole.
func assertNothingRuns(t *testing.T, name string, body []byte) {
	root, err := html.Parse(bytes.NewReader(body))
	require.NoError(t, err)
	for n := range root.Descendants() {
		if n.Type == html.CommentNode {
			assert.NotContains(t, n.Data, "window.ran", name)
		}
		if n.Type != html.ElementNode {
			continue
		}
		if n.Data == "title" && n.Parent.Data == "head" {
			assert.Contains(t, textOf(n), "<script>window.ran = 1</script>", name)
		}
		src, _ := attribute(n, "src")
		assert.NotEqual(t, "x", src, name)
		assert.False(t, n.Data == "script" && value(n, "type") == "" && !strings.HasSuffix(src, ".js"), name)
	}
}

func assertNoFormula(t *testing.T, name string, body []byte) {
	rows, err := csv.NewReader(bytes.NewReader(body)).ReadAll()
	require.NoError(t, err, name)
	for _, row := range rows {
		for _, cell := range row {
			if _, isNumber := json.Number(cell).Float64(); isNumber == nil {
				continue
			}
			for _, part := range strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune(";\t\r\n", r) }) {
				assert.NotContains(t, "=+-@", part[:1], "%s: %q", name, cell)
			}
		}
	}
}

func assertXML(t *testing.T, name string, body []byte) {
	d := xml.NewDecoder(bytes.NewReader(body))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return
		}
		require.NoError(t, err, name)
		if start, ok := token.(xml.StartElement); ok {
			assert.NotContains(t, []string{"script", "img", "svg"}, start.Name.Local, name)
		}
	}
}

// assertCalendar finds one end for each begin, and no more events than have a name of their own.
func assertCalendar(t *testing.T, name string, body []byte) {
	lines := strings.Split(strings.ReplaceAll(string(body), "\r\n ", ""), "\r\n")
	count := map[string]int{}
	for _, line := range lines {
		key, _, _ := strings.Cut(line, ":")
		key, _, _ = strings.Cut(key, ";")
		count[key]++
		assert.False(t, line != "" && strings.Trim(key, "ABCDEFGHIJKLMNOPQRSTUVWXYZ-") != "", "%s: %q is no line of a calendar", name, line)
	}
	assert.Equal(t, count["BEGIN"], count["END"])
	assert.Equal(t, count["UID"], count["BEGIN"]-1, "one event for each id")
}

// The check above finds what it is for.
func TestHostileTextWouldBeFound(t *testing.T) {
	files := hostileSite(t, "https://bench.example/")
	front := string(files["index.html"])
	for _, planted := range []string{"<script>window.ran = 1</script>", "<img src=\"x\" alt=\"\" onerror=\"window.ran = 1\">"} {
		files["index.html"] = []byte(strings.Replace(front, "</main>", planted+"</main>", 1))
		complaints, _ := checkSite(files, "/")
		assert.NotEmpty(t, complaints, planted)
	}
}
