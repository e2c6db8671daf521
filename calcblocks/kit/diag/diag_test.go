package diag

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var tubs = NewFile("content/tubs.md", "# Tubs\n\n```topup\n   raet: 2 g/L\n\tpot: x\n  größe: 3 L\n```\n")

func at(line, column int) Position { return Position{tubs, line, column} }

func printed(all ...Diagnostic) string {
	var b strings.Builder
	Print(&b, all, Style{})
	return b.String()
}

func TestPrint(t *testing.T) {
	assert.Equal(t, `content/tubs.md:4:4: unknown key "raet"
   raet: 2 g/L
   ^
  hint: did you mean "rate"?
`, printed(Errorf(at(4, 4), "unknown-key", "unknown key %q", "raet").Hint("did you mean %q?", "rate")))
}

func TestPrintPlaces(t *testing.T) {
	for want, d := range map[string]Diagnostic{
		"content/tubs.md:5:2: bad\n   pot: x\n   ^\n":             Errorf(at(5, 2), "c", "bad"), // a tab counts as one character
		"content/tubs.md:6:10: bad\n   größe: 3 L\n          ^\n": Errorf(at(6, 10), "c", "bad"),
		"content/tubs.md:2:1: bad\n":                              Errorf(at(2, 1), "c", "bad"), // nothing to show
		"content/tubs.md:99:1: bad\n":                             Errorf(at(99, 1), "c", "bad"),
		"content/pots.yaml: bad\n":                                Errorf(Whole("content/pots.yaml"), "c", "bad"),
		"bad\n":                                                   Errorf(Position{}, "c", "bad"),
		"content/tubs.md:1:1: remark: odd\n":                      {At: at(1, 1), Severity: Remark, Message: "odd"}, // no line
		"content/tubs.md:1:1: doubt: odd\n   # Tubs\n   ^\n":      {At: at(1, 1), Severity: Doubt, Message: "odd"},
	} {
		assert.Equal(t, want, printed(d))
	}
}

func TestPrintRelatedAndHints(t *testing.T) {
	d := Errorf(at(4, 4), "c", "twice").Hint("one").Hint("").Hint("two").Also(at(1, 1), "the first is here").Also(Whole("pots.yaml"), "and here")
	assert.Equal(t, `content/tubs.md:4:4: twice
   raet: 2 g/L
   ^
  hint: one
  hint: two
  content/tubs.md:1:1: the first is here
  pots.yaml: and here
`, printed(d))
}

func TestPrintInColours(t *testing.T) {
	var b strings.Builder
	mark := func(s string) string { return "<" + s + ">" }
	Print(&b, []Diagnostic{Errorf(Position{}, "c", "bad").Hint("good")}, Style{Fault: mark, Hint: mark})
	assert.Equal(t, "<bad>\n  <hint: good>\n", b.String())
}

// Hint and Also leave the diagnostic that they start from as it was.
func TestDiagnosticsDoNotShareHints(t *testing.T) {
	base := Errorf(at(1, 1), "c", "bad").Hint("a").Also(at(1, 1), "x")
	first, second := base.Hint("b").Also(at(2, 1), "y"), base.Hint("c").Also(at(3, 1), "z")
	assert.Equal(t, []string{"a", "b"}, first.Hints)
	assert.Equal(t, []string{"a", "c"}, second.Hints)
	assert.Equal(t, "y", first.Related[1].Message)
	assert.Equal(t, "z", second.Related[1].Message)
}

func TestPrintJSON(t *testing.T) {
	var b strings.Builder
	require.NoError(t, PrintJSON(&b, []Diagnostic{
		Errorf(at(4, 4), "unknown-key", "unknown key %q", "<raet>").Hint("say & do").Also(at(1, 1), "here"),
		{At: Whole("pots.yaml"), Severity: Doubt, Code: "d", Message: "odd"},
	}))
	assert.Equal(t, `[
 {
  "file": "content/tubs.md",
  "line": 4,
  "column": 4,
  "message": "unknown key \"<raet>\"",
  "severity": "fault",
  "code": "unknown-key",
  "hints": [
   "say & do"
  ],
  "related": [
   {
    "file": "content/tubs.md",
    "line": 1,
    "column": 1,
    "message": "here"
   }
  ]
 },
 {
  "file": "pots.yaml",
  "line": 0,
  "column": 0,
  "message": "odd",
  "severity": "doubt",
  "code": "d",
  "hints": [],
  "related": []
 }
]
`, b.String())
	b.Reset()
	require.NoError(t, PrintJSON(&b, nil))
	assert.Equal(t, "[]\n", b.String())
	assert.True(t, json.Valid([]byte(b.String())))
}

func TestListSortsAndCounts(t *testing.T) {
	var l List
	other := NewFile("a.md", "x")
	for _, d := range []Diagnostic{
		Errorf(at(4, 4), "c", "z"), Errorf(at(4, 4), "c", "a"), Errorf(at(4, 2), "c", "b"), Errorf(at(1, 9), "c", "c"),
		Errorf(Position{other, 9, 1}, "c", "d"), Errorf(Whole("a.md"), "c", "e"),
		{At: at(2, 1), Severity: Doubt, Message: "f"},
	} {
		l.Report(d)
	}
	var order []string
	for _, d := range l.Sorted() {
		order = append(order, d.Message)
	}
	assert.Equal(t, []string{"e", "d", "c", "f", "b", "a", "z"}, order)
	assert.Equal(t, 6, l.Faults())
}

func TestListTakesTheSameOnce(t *testing.T) {
	var l List
	l.Report(Errorf(Whole("a.md"), "c", "same"))
	l.Report(Errorf(Whole("a.md"), "c", "same"))
	l.Report(Errorf(Whole("a.md"), "d", "same"))
	l.Report(Errorf(Whole("b.md"), "c", "same"))
	assert.Equal(t, 3, l.Faults())
}

func TestFile(t *testing.T) {
	f := NewFile("a.md", "\ufeffone\r\ntwo ü x\r\n")
	assert.Equal(t, "one\ntwo ü x\n", f.Text)
	assert.Equal(t, "two ü x", f.Line(2))
	for _, n := range []int{-1, 0, 3, 4} {
		assert.Empty(t, f.Line(n))
	}
	assert.Empty(t, (*File)(nil).Line(1))
	p := f.At(strings.Index(f.Text, "x"))
	assert.Equal(t, Position{f, 2, 7}, p, "columns count characters")
	assert.Equal(t, Position{f, 2, 9}, p.Shift(2))
	assert.Equal(t, Position{f, 1, 1}, f.At(-5))
	assert.Equal(t, Position{f, 3, 1}, f.At(999))
	assert.Equal(t, "a.md", p.Name())
	assert.Empty(t, Position{}.Name())
}

func TestClosest(t *testing.T) {
	keys := []string{"n", "amounts", "crop", "for", "plants", "sizes", "steps", "title", "top"}
	for word, want := range map[string]string{
		"amuonts": "amounts", // neighbours swapped
		"amount":  "amounts",
		"amoutsn": "amounts",
		"titel":   "title",
		"fro":     "for",
		"tip":     "top",
		"corp":    "crop",
		"size":    "sizes",
		"plant":   "plants",
		"zzzzzz":  "",
		"xy":      "",
		"x":       "", // every letter is one slip from it
		"for":     "", // the word itself is no slip of itself
		"größen":  "",
	} {
		assert.Equal(t, want, Closest(word, keys), word)
	}
	assert.Empty(t, Closest("x", nil))
	assert.Equal(t, "für", Closest("fur", []string{"für"}), "letters count, not bytes")
}

func TestMeant(t *testing.T) {
	ids := []string{"calcitic-lime", "dolomitic-lime", "sulfur-powder"}
	for id, want := range map[string]string{
		"sulfur": `"sulfur-powder"`, "lime": `"calcitic-lime" or "dolomitic-lime"`, "sulfur-powdr": `"sulfur-powder"`, "sulf": "", "": "",
	} {
		assert.Equal(t, want, Meant(id, ids), id)
	}
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"", "abc", 3}, {"abc", "abc", 0}, {"abc", "acb", 1}, {"abc", "ab", 1}, {"kelp", "help", 1}, {"ca", "abc", 3}} {
		assert.Equal(t, c.want, distance([]rune(c.a), []rune(c.b)), "%s %s", c.a, c.b)
		assert.Equal(t, c.want, distance([]rune(c.b), []rune(c.a)), "%s %s", c.b, c.a)
	}
}

// A place in a long line, or far down in a long text, is the one that counting from the start gives.
func TestPlacesInLongTexts(t *testing.T) {
	text := strings.Repeat("é", 1500) + "\n" + strings.Repeat("a\n", 700) + strings.Repeat("xü", 800)
	f := NewFile("note.md", text)
	for offset := range text {
		before := text[:offset]
		want := utf8.RuneCountInString(before[strings.LastIndex(before, "\n")+1:]) + 1
		at := f.At(offset)
		require.Equal(t, strings.Count(before, "\n")+1, at.Line, "offset %d", offset)
		require.Equal(t, want, at.Column, "offset %d", offset)
		require.Equal(t, offset, f.Offset(at.Line, at.Column))
	}
	assert.Equal(t, strings.Repeat("xü", 800), f.Line(702))
	assert.Empty(t, f.Line(703))
	assert.Equal(t, len(text), f.Offset(702, 9999))
	assert.Equal(t, len(text), f.Offset(703, 1))
}

// Of a long line the print is what stands round the place, with the caret below it.
func TestLongLinesArePrintedInPart(t *testing.T) {
	f := NewFile("note.md", strings.Repeat("a", 5000)+"B"+strings.Repeat("c", 5000))
	var b strings.Builder
	Print(&b, []Diagnostic{Errorf(f.At(5000), "code", "no")}, Style{})
	lines := strings.Split(b.String(), "\n")
	assert.Less(t, len(b.String()), 500)
	assert.Equal(t, 'B', []rune(lines[1])[strings.Index(lines[2], "^")])
}
