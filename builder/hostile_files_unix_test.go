//go:build unix

package builder

import (
	"bytes"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The files of a content folder that are not what they seem, and what is said of each. None is read.
func TestFilesThatAreNone(t *testing.T) {
	for _, c := range []struct {
		name  string
		make  func(at string) error
		about string // the file that the message is about
		says  string
	}{
		{"a note of 50 MB", sized("note.md", 50<<20), "note.md", "cannot read this note: it has 52428800 bytes, more than 1048576\n  hint: make several files of it, of at most 1048576 bytes each\n"},
		{"a huge cupboard", sized("cupboard.yaml", 2<<20), "cupboard.yaml", "cannot read this file: it has 2097152 bytes, more than 1048576\n  hint: make several files of it, of at most 1048576 bytes each\n"},
		{"a huge recipe file", sized("a.recipe.yaml", 2<<20), "a.recipe.yaml", "cannot read this file: it has 2097152 bytes, more than 1048576\n  hint: make several files of it, of at most 1048576 bytes each\n"},
		{"a pipe", func(at string) error { return syscall.Mkfifo(filepath.Join(at, "pipe.md"), 0o644) }, "pipe.md", "cannot read this note: it is neither a file nor a folder\n"},
		{"a link out", link("../secret.md", "out.md"), "out.md", "cannot read this note: path escapes from parent\n"},
		{"an absolute link", link("/etc/hostname", "out.md"), "out.md", "cannot read this note: path escapes from parent\n"},
		{"a device", link("/dev/zero", "pots.yaml"), "pots.yaml", "cannot read this file: path escapes from parent\n"},
		{"a link to itself", link("loop.md", "loop.md"), "loop.md", "cannot read this note: too many levels of symbolic links\n"},
		{"a link to nothing", link("gone.md", "dead.md"), "dead.md", "cannot read this note: no such file or directory\n"},
		{"a folder by a note's name", func(at string) error { return os.Mkdir(filepath.Join(at, "a.md"), 0o755) }, "", ""},
		{"a linked folder", link("tubs", "more"), "more", "this link to a folder is not followed\n  hint: move the folder itself here\n"},
		{"a folder in itself", link(".", "again"), "again", "this link to a folder is not followed\n  hint: move the folder itself here\n"},
		{"a linked folder outside", link("..", "up"), "up", "cannot read what this link leads to: path escapes from parent\n"},
		{"a dress from outside", link("../..", "dress"), "dress", "cannot read what this link leads to: path escapes from parent\n"},
		{"a style sheet from outside", dressed(link("../../secret.md", "dress.css")), "dress/dress.css", "cannot read this file: path escapes from parent\n"},
		{"a style sheet that is a pipe", dressed(func(at string) error { return syscall.Mkfifo(filepath.Join(at, "dress.css"), 0o644) }), "dress/dress.css", "cannot read this file: it is neither a file nor a folder\n"},
		{"a huge style sheet", dressed(sized("dress.css", 3<<20)), "dress/dress.css", "cannot read this file: it has 3145728 bytes, more than 1048576\n"},
		{"UTF-16", written("a.md", "\xff\xfe#\x00 \x00A\x00\n\x00"), "a.md:1:1", "this note is not UTF-8 text\n"},
		{"UTF-16 without a mark", written("a.md", "#\x00 \x00A\x00\n\x00"), "a.md:1:2", "this note holds a control character\n"},
		{"Latin-1", written("a.md", "# Kr\xe4uter\n"), "a.md:1:5", "this note is not UTF-8 text\n"},
		{"two encodings", written("a.md", "# Kräuter\n\nGr\xfcn\n"), "a.md:3:3", "this note is not UTF-8 text\n"},
		{"a pot file in UTF-16", written("pots.yaml", "\xff\xfea\x00:\x00"), "pots.yaml:1:1", "this text is not UTF-8\n"},
		{"a note for a device", written("aux.md", "# A\n"), "aux.md", "\"aux\" is a name that some computers keep for themselves\n  hint: give the note or its folder another name\n"},
		{"a folder for a device", written("Con/a.md", "# A\n"), "Con/a.md", "\"con\" is a name that some computers keep for themselves\n  hint: give the note or its folder another name\n"},
		{"a pot for a device", written("pots.yaml", "nul: {holds: 20 L}\n"), "pots.yaml:1:1", "\"nul\" is a name that some computers keep for themselves\n"},
		{"names that differ by case", written("Tubs/a.md", "# A\n"), "tubs/a.md", "this note would stand at the same address as \"Tubs/a.md\"\n"},
		{"a name that ends in a blank", written("tubs/a .md", "# A\n"), "tubs/a.md", "this note would stand at the same address as \"tubs/a .md\"\n"},
		{"a name that acts on a terminal", written("\x1b[31ma.md", "no\x00text"), "\ufffd[31ma.md:1:3", "this note holds a control character\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			handbookIn(t, &txtar.Archive{Files: []txtar.File{{Name: "tubs/a.md", Data: []byte("# Tubs\n")}}})
			require.NoError(t, os.WriteFile("secret.md", []byte("# Secret\n"), 0o644))
			require.NoError(t, c.make("content"))
			report, err := Build(Options{Content: "content", Out: "public", Today: today})
			require.NoError(t, err)
			if c.about == "" {
				assert.Empty(t, printed(report.Diagnostics))
				return
			}
			assert.Contains(t, printed(report.Diagnostics), "content/"+c.about)
			assert.Contains(t, withoutExcerpts(printed(report.Diagnostics)), c.says)
			assert.NotContains(t, printed(report.Diagnostics), "\x1b")
		})
	}
}

// withoutExcerpts leaves the source lines out of what is printed.
func withoutExcerpts(text string) string {
	var out []string
	for _, line := range strings.SplitAfter(text, "\n") {
		if !strings.HasPrefix(line, "   ") {
			out = append(out, line)
		}
	}
	return strings.Join(out, "")
}

func sized(name string, size int64) func(string) error {
	return func(at string) error {
		if err := os.WriteFile(filepath.Join(at, name), nil, 0o644); err != nil {
			return err
		}
		return os.Truncate(filepath.Join(at, name), size)
	}
}

func dressed(make func(string) error) func(string) error {
	return func(at string) error {
		if err := os.Mkdir(filepath.Join(at, "dress"), 0o755); err != nil {
			return err
		}
		return make(filepath.Join(at, "dress"))
	}
}

func link(to, name string) func(string) error {
	return func(at string) error { return os.Symlink(filepath.FromSlash(to), filepath.Join(at, name)) }
}

func written(name, text string) func(string) error {
	return func(at string) error {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(at, name)), 0o755); err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(at, name), []byte(text), 0o644)
	}
}

// bomb is the head of a PNG of so many pixels and nothing else.
func bomb(width, height uint32) []byte {
	var b bytes.Buffer
	_ = png.Encode(&b, image.NewGray(image.Rect(0, 0, 1, 1))) // a buffer never fails
	out := b.Bytes()
	for i := range 4 {
		out[16+i], out[20+i] = byte(width>>(24-8*i)), byte(height>>(24-8*i))
	}
	return sealed(out)
}

// sealed mends the check sum of a PNG's head (RFC 2083, section 3.4).
func sealed(out []byte) []byte {
	sum := crc32.ChecksumIEEE(out[12:29])
	for i := range 4 {
		out[29+i] = byte(sum >> (24 - 8*i))
	}
	return out
}

// Nothing outside of the content folder comes into the site, and nothing outside of the site's folder is written,
// by whatever way a handbook asks for it.
func TestNothingLeavesTheFolders(t *testing.T) {
	handbookIn(t, &txtar.Archive{Files: []txtar.File{
		{Name: "handbook.yaml", Data: []byte("title: T\nfrost: {minima: ../secret.csv}\n")},
		{Name: "dates.md", Data: []byte("# D\n\n" + fenced("dates", "crops: [pepper]\n"))},
		{Name: "a.md", Data: []byte("# A\n\n![x](../secret.png)\n\n![x](linked.png)\n\n![x](%2e%2e/secret.png)\n\n![x](/etc/hostname.png)\n\n" +
			"[x](../secret.md) [x](../../etc/passwd) [x](/../secret.md) [x](..%2fsecret.md) [x](file:///etc/passwd)\n")},
		{Name: "tubs/b.md", Data: []byte(fenced("page", "picture: ../../secret.png\n") + "# B\n")},
	}})
	var dot bytes.Buffer
	require.NoError(t, png.Encode(&dot, image.NewGray(image.Rect(0, 0, 2, 2))))
	require.NoError(t, os.WriteFile("secret.png", dot.Bytes(), 0o644))
	require.NoError(t, os.WriteFile("secret.csv", []byte("date,tmin_c\n2026-01-01,7.77\n"), 0o644))
	require.NoError(t, os.WriteFile("secret.md", []byte("# Not for readers\n"), 0o644))
	require.NoError(t, os.Symlink("../secret.png", "content/linked.png"))
	require.NoError(t, os.Symlink("../secret.md", "content/linked.md"))
	before := filesOf(t, ".")
	report, err := Build(Options{Content: "content", Out: "public", Today: today})
	require.NoError(t, err)
	told := printed(report.Diagnostics)
	for _, name := range []string{"../secret.png", "linked.png", "%2e%2e/secret.png", "/etc/hostname.png", "../secret.csv", "../secret.md", "file:///etc/passwd", "linked.md"} {
		assert.Contains(t, told, name)
	}
	assert.NotContains(t, told, "Not for readers")
	assert.Equal(t, before, filesOf(t, "."), "with faults nothing is written at all")
}

// A site's folder that is a link, or holds one, is not written through.
func TestNothingIsWrittenThroughALink(t *testing.T) {
	handbookIn(t, &txtar.Archive{Files: []txtar.File{{Name: "a.md", Data: []byte("# A\n")}}})
	o := Options{Content: "content", Out: "public", Today: today}
	_, err := Build(o)
	require.NoError(t, err)
	require.NoError(t, os.Mkdir("elsewhere", 0o755))
	require.NoError(t, os.WriteFile("elsewhere/index.html", []byte("kept"), 0o644))
	require.NoError(t, os.RemoveAll("public/notes"))
	require.NoError(t, os.Symlink("../elsewhere", "public/notes"))
	_, err = Build(o)
	assert.ErrorContains(t, err, `holds files that trug did not write: "notes"`)
	assert.Equal(t, map[string][]byte{"index.html": []byte("kept")}, filesOf(t, "elsewhere"))
}

// Pictures that would run something or fill the memory are refused.
func TestHostilePictures(t *testing.T) {
	for name, c := range map[string]struct {
		body []byte
		says string
	}{
		"drawing.svg": {[]byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>window.ran = 1</script></svg>`), `"drawing.svg" is not a picture that can be shown`},
		"drawing.png": {[]byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="window.ran = 1"></svg>`), `the picture "drawing.png" cannot be read as a JPEG, PNG, GIF or WebP picture`},
		"page.jpg":    {[]byte("<!doctype html><script>window.ran = 1</script>"), `the picture "page.jpg" cannot be read as a JPEG, PNG, GIF or WebP picture`},
		"bomb.png":    {bomb(50_000, 50_000), `the picture "bomb.png" has more than 120 million pixels`},
		"wide.png":    {bomb(1<<31-1, 1<<31-1), `the picture "wide.png"`},
	} {
		t.Run(name, func(t *testing.T) {
			handbookIn(t, &txtar.Archive{Files: []txtar.File{{Name: "a.md", Data: []byte("# A\n\n![x](" + name + ")\n")}}})
			require.NoError(t, os.WriteFile("content/"+name, c.body, 0o644))
			report, err := Build(Options{Content: "content", Out: "public", Today: today})
			require.NoError(t, err)
			assert.Equal(t, 1, report.Faults)
			assert.Contains(t, printed(report.Diagnostics), "content/a.md:3:6: "+c.says)
		})
	}
}

// Handbooks of one block each that would keep the build for hours, or fill the memory, are refused in so many
// words.
func TestHostileNumbers(t *testing.T) {
	recipe := "title: T\nfor: 20 L\namounts:\n  kelp-meal: 1 cup\n"
	sizes := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "%d L, ", i+1)
		}
		return "sizes: [" + b.String() + "]\n"
	}
	for says, c := range map[string]struct{ file, text string }{
		"70 sizes stand here, more than 60":                                           {"a.md", fenced("recipe t", recipe+sizes(70))},
		"500000 entries stand here, more than 10000":                                  {"handbook.yaml", "sizes: [" + strings.Repeat("a,", 500_000) + "]\n"},
		"\"1000000000\" is not a count":                                               {"pots.yaml", "a: {holds: 20 L, count: 1000000000}\n"},
		"with these there are more than 1000 pots":                                    {"pots.yaml", "a: {holds: 20 L, count: 500}\nb: {holds: 20 L, count: 500}\nc: {holds: 20 L}\nd: {holds: 20 L, count: 500}\n"},
		"\"999999999999 L\" is more than any container holds":                         {"pots.yaml", "a: {holds: 999999999999 L}\n"},
		"\"0.000001 mL\" is less than any container holds":                            {"a.md", fenced("recipe t", strings.Replace(recipe, "20 L", "0.000001 mL", 1))},
		"\"9000000 cups\" of kelp-meal is more than the mix that it is for, \"20 L\"": {"a.md", fenced("recipe t", strings.Replace(recipe, "1 cup", "9000000 cups", 1))},
		"\"99999999999999999999…\" has more than 20 digits in a row":                  {"a.md", fenced("recipe t", strings.Replace(recipe, "20", strings.Repeat("9", 150), 1))},
		"this value has 100002 characters":                                            {"a.md", fenced("recipe t", strings.Replace(recipe, "20", strings.Repeat("9", 100_000), 1))},
		"\"999999999\" is not a year":                                                 {"a.md", fenced("plan p", "season: 999999999\npots: {}\n")},
		"\"999999999\" is not a number of plants":                                     {"a.md", fenced("recipe t", recipe+"crop: pepper\nplants: 999999999\n")},
		"more than 20 lists and mappings stand in each other here":                    {"a.md", fenced("recipe t", "steps: "+strings.Repeat("[", 500)+"a"+strings.Repeat("]", 500)+"\n")},
		"far too many lists and mappings stand in each other here":                    {"a.md", fenced("recipe t", "steps: "+strings.Repeat("[", 20_000)+"\n")},
		"\"&a\" is an anchor":                                                         {"a.md", fenced("recipe t", "a: &a [x, x]\nb: [*a, *a]\n")},
		"\"1000000000-01-01\" is not a date":                                          {"frost.csv", "date,tmin_c\n1000000000-01-01,1\n"},
		"\"9999-01-01\" is no day of a record of temperatures":                        {"frost.csv", "date,tmin_c\n9999-01-01,1\n"},
		"this table has 2000 columns, more than 100":                                  {"a.md", "# A\n\n" + strings.Repeat("|a", 2000) + "|\n" + strings.Repeat("|-", 2000) + "|\n"},
		"more than 20 quotes, lists or footnotes stand in each other here":            {"a.md", "# A\n\n" + strings.Repeat(">", 500_000) + "\n"},
		"more than 1000 square brackets stand in one piece of text":                   {"a.md", "# A\n\n" + strings.Repeat("[a](<b", 100_000) + "\n"},
	} {
		t.Run(says, func(t *testing.T) {
			handbookIn(t, &txtar.Archive{Files: []txtar.File{
				{Name: "handbook.yaml", Data: []byte("frost: {minima: frost.csv}\n")},
				{Name: "frost.csv", Data: []byte("date,tmin_c\n2026-01-01,1\n")},
				{Name: "dates.md", Data: []byte("# D\n\n" + fenced("dates", "crops: [pepper]\n"))},
				{Name: c.file, Data: []byte(c.text)},
			}})
			report, err := Build(Options{Content: "content", Out: "public", Today: today})
			require.NoError(t, err)
			assert.Positive(t, report.Faults)
			assert.Contains(t, printed(report.Diagnostics), says)
			assert.NoDirExists(t, "public")
		})
	}
}
