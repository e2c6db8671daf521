package form

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/units"
)

// told returns what was reported, one a line: place, code, message and hints.
func told(l *diag.List) string {
	var lines []string
	for _, d := range l.Sorted() {
		lines = append(lines, strings.Join(append([]string{d.Code, d.Message}, d.Hints...), " | "))
	}
	return strings.Join(lines, "\n")
}

func TestFields(t *testing.T) {
	n, l := read("rate: 1\nraet: 2\nzzz: 3\n")
	m := n.Fields("rate", "for")
	assert.Equal(t, "1", m.Get("rate").Raw())
	assert.Nil(t, m.Get("for"))
	assert.Nil(t, m.Need("for", "write its volume"))
	assert.Equal(t, `missing-key | the key "for" is missing | write its volume
unknown-key | unknown key "raet" | did you mean "rate"?
unknown-key | unknown key "zzz" | the keys here are rate, for`, told(l))
	assert.Equal(t, 1, m.At().Line)
	assert.Equal(t, 2, m.Entries[1].Key.Line())
}

func TestWrongShape(t *testing.T) {
	n, l := read("a: text\n")
	a := n.Mapping().Get("a")
	assert.Empty(t, a.Fields("b").Entries)
	assert.Empty(t, a.Items())
	assert.Nil(t, a.Mapping().Need("b", ""), "one fault is enough")
	assert.Equal(t, `not-list | a list is needed here | write "[text]", or the entries below each other, each after "- "
not-mapping | keys with values are needed here | write "key: value", one below the other | the keys here are b`, told(l))
}

// Where keys are needed, what lacks only a colon or a blank is shown as it should be.
func TestNotMapping(t *testing.T) {
	for text, hint := range map[string]string{
		"a:\n  kelp-meal 1 cup\n":                  `write a colon behind the key: "kelp-meal: 1 cup"`,
		"a:\n  kelp-meal:1 cup\n":                  `leave a blank behind the colon: "kelp-meal: 1 cup"`,
		"a:\n  kelp-meal:1 cup\n  gypsum:2 tbsp\n": `leave a blank behind the colon: "kelp-meal: 1 cup"`,
		"a: round 30 cm top\n":                     `write "key: value", one below the other`,
		"a:\n  pail\n":                             `write "key: value", one below the other`,
		"a:\n  - b: 1\n":                           `write "key: value", one below the other, without the "- "`,
		"a: [b]\n":                                 `write "key: value", one below the other`,
	} {
		n, l := read(text)
		n.Mapping().Get("a").Mapping()
		assert.Equal(t, "not-mapping | keys with values are needed here | "+hint, told(l), text)
	}
}

// A text in the place of a list is shown as one, where it can be.
func TestNotList(t *testing.T) {
	for text, hint := range map[string]string{
		"a: big-tub, pail\n": `write "[big-tub, pail]", or the entries below each other, each after "- "`,
		"a: \"x, 'y'\"\n":    `write the entries below each other, each after "- "`,
		"a: {b: 1}\n":        `write the entries below each other, each after "- "`,
	} {
		n, l := read(text)
		n.Mapping().Get("a").Items()
		assert.Equal(t, "not-list | a list is needed here | "+hint, told(l), text)
	}
}

// An absent value says nothing and has nothing.
func TestAbsentNode(t *testing.T) {
	var n *Node
	n.Fault("code", "", "no")
	n.Report(diag.Diagnostic{})
	_, ok := n.Text()
	assert.False(t, ok)
	assert.Nil(t, n.Items())
	assert.Nil(t, n.Texts())
	assert.Empty(t, n.Mapping().Entries)
	assert.Empty(t, n.Fields("a").Entries)
	assert.False(t, n.IsText() || n.IsList() || n.IsMapping() || n.IsNull())
	assert.Empty(t, n.Raw())
	assert.Zero(t, n.Line())
	assert.Equal(t, units.US, n.Values().Set)
	_, ok = Value(n, n.Values().Amount)
	assert.False(t, ok)
}

func TestTexts(t *testing.T) {
	n, l := read("one: a\nmore: [a, ' b ']\nnone: ''\n")
	m := n.Mapping()
	assert.Equal(t, []string{"a"}, m.Get("one").Texts())
	assert.Equal(t, []string{"a", "b"}, m.Get("more").Texts())
	assert.Empty(t, told(l))
	assert.Nil(t, m.Get("none").Texts())
	assert.Equal(t, "empty-value | this value is empty | write a value, or leave the key out", told(l))
}

func TestNulls(t *testing.T) {
	n, _ := read("a: null\nb: ~\nc:\nd: 'null'\ne: nil\n")
	for key, want := range map[string]bool{"a": true, "b": true, "c": true, "d": false, "e": false} {
		assert.Equal(t, want, n.Mapping().Get(key).IsNull(), key)
	}
}

// A reader's error that has no place of its own is reported at the value.
func TestValueWithAPlainError(t *testing.T) {
	n, l := read("a: x\n")
	_, ok := Value(n.Mapping().Get("a"), func(string) (int, error) { return 0, errors.New("no such thing") })
	assert.False(t, ok)
	assert.Equal(t, "bad-value | no such thing", told(l))
	assert.Equal(t, 4, l.Sorted()[0].At.Column)
}

// In a text that spans lines the place of a fault is the text's own.
func TestPlaceInALongText(t *testing.T) {
	n, l := read("a: |\n  1 cup\n  and more\n")
	_, ok := Value(n.Mapping().Get("a"), n.Values().Amount)
	assert.False(t, ok)
	assert.Equal(t, 1, l.Sorted()[0].At.Line)
	assert.Equal(t, 4, l.Sorted()[0].At.Column)
}

func TestLongTextsAreClippedInMessages(t *testing.T) {
	long := strings.Repeat("compost ", 10)
	_, l := read("a: " + long + ": x\n")
	assert.Contains(t, told(l), "compost compost…")
	assert.NotContains(t, told(l), strings.TrimSpace(long))
}

func TestMeasureSetsTheSpoons(t *testing.T) {
	n, _ := read("amount: 1 cup\n")
	a := n.Mapping().Get("amount")
	us, ok := Value(a, a.Values().Volume)
	require.True(t, ok)
	n.Measure(units.Metric)
	metric, ok := Value(a, a.Values().Volume)
	require.True(t, ok)
	assert.Equal(t, "250", metric.Rat().RatString())
	assert.NotZero(t, us.Cmp(metric))
}

func TestWithoutAndSpread(t *testing.T) {
	n, l := read("recipe: a\ntitle: b\nsmall: {c: 1, d: two}\n")
	rest := n.Without("recipe")
	assert.Nil(t, rest.Mapping().Get("recipe"))
	assert.Equal(t, "b", rest.Mapping().Get("title").Raw())
	assert.NotNil(t, n.Mapping().Get("recipe"), "the whole is left as it was")
	small := n.Mapping().Get("small")
	assert.True(t, small.IsFlow())
	assert.False(t, n.IsFlow())
	assert.Equal(t, "c: 1\nd: two\n", small.Spread())
	assert.Empty(t, told(l))
}

// Whatever the author writes, reading ends, and every fault has a place in the text, a code and a hint.
func TestReadingAnything(t *testing.T) {
	words := []string{
		"a", "b: ", ": ", "- ", "\n", "\n  ", "\n ", "\t", "{", "}", "[", "]", ",", "\"", "'", "#", " #", "&x ", "*x", "!t ", "|", ">",
		"%", "@", "`", "---", "...", "\n---\n", "<<: ", "1,5", "ü", "\u00a0", "\\", "? ", "\x01", "~", "kelp: 1 cup\n",
	}
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(words), 0, 14).Draw(t, "words"), "")
		n, l := read(text)
		dump(n, "")
		lines := strings.Split(diag.NewFile("", text).Text, "\n")
		for _, d := range l.Sorted() {
			require.NotEmpty(t, d.Code)
			require.NotEmpty(t, d.Hints, d.Message)
			require.GreaterOrEqual(t, d.At.Line, 1, d.Message)
			require.LessOrEqual(t, d.At.Line, len(lines), d.Message)
			require.LessOrEqual(t, d.At.Column, len([]rune(lines[d.At.Line-1]))+1, "%s", d.Message)
		}
		if n == nil && strings.Contains(text, "a") && !strings.Contains(text, "#") {
			require.NotEmpty(t, l.Sorted(), "a text that gives nothing and says nothing")
		}
	})
}
