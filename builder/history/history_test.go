package history

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/diag"
)

func day(d int) time.Time { return time.Date(2026, 4, d, 0, 0, 0, 0, time.UTC) }

func sample() History {
	return History{
		{On: day(1), Block: "tub", Title: `A "tub", renewed`, Stamp: "aaaa-bbbb", Numbers: []Entry{{"10 L, Kelp meal", "1/4 cup, 36 g"}}, Basis: []Entry{{"kelp-meal", `cup 144 g \ own`}}},
		{On: day(3), Block: "box", Title: "Box", Stamp: "cccc"},
		{On: day(9), Block: "tub", Title: "A tub", Stamp: "dddd-eeee", Numbers: []Entry{{"10 L, Kelp meal", "1/3 cup, 48 g"}, {"10 L, cost", "0.40 USD"}}},
	}
}

func read(t require.TestingT, text []byte) History {
	var list diag.List
	h := Read(diag.NewFile("history.yaml", string(text)), list.Report)
	require.Empty(t, list.Sorted())
	return h
}

func TestWriteThenRead(t *testing.T) {
	assert.Equal(t, sample(), read(t, sample().Write()))
}

// Whatever stands in a title or a text comes back from the file.
func TestAnyTextComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[!-~é½][ -~é½]{0,30}[!-~é½]`).Draw(t, "text")
		h := History{{On: day(2), Block: "x", Title: text, Stamp: "a1", Numbers: []Entry{{text, text}}}}
		assert.Equal(t, h, read(t, h.Write()))
	})
}

func TestLastAndOf(t *testing.T) {
	last, ok := sample().Last("tub")
	require.True(t, ok)
	assert.Equal(t, "dddd-eeee", last.Stamp)
	assert.Len(t, sample().Of("tub"), 2)
	_, ok = sample().Last("pot")
	assert.False(t, ok)
}

func TestCompareSaysWhatChanged(t *testing.T) {
	h := sample()
	var words []string
	for _, d := range Compare(h[0].Numbers, h[2].Numbers) {
		words = append(words, d.String())
	}
	assert.Equal(t, []string{"10 L, Kelp meal: 1/4 cup, 36 g became 1/3 cup, 48 g", "10 L, cost: new, 0.40 USD"}, words)
	assert.Equal(t, "10 L, cost: gone, was 0.40 USD", Compare(h[2].Numbers, h[2].Numbers[:1])[0].String())
	assert.Empty(t, Compare(h[2].Numbers, h[2].Numbers))
}

func TestDue(t *testing.T) {
	now := []Record{{Block: "tub", Stamp: "dddd-eeee"}, {Block: "box", Stamp: "ffff"}, {Block: "new", Stamp: "g"}}
	assert.Equal(t, now[1:], sample().Due(now))
}

// A file that someone edited is refused with its place.
func TestBadFile(t *testing.T) {
	for text, want := range map[string]string{
		"- on: 2026-13-01\n  block: tub\n  title: T\n  stamp: a\n":       `there is no day "2026-13-01"`,
		"- block: tub\n  title: T\n  stamp: a\n":                         `the key "on" is missing`,
		"- on: 2026-04-01\n  block: tub\n  title: T\n  stamp: \"a b\"\n": `"a b" is not a stamp`,
		"on: 2026-04-01\n": "a list is needed here",
	} {
		var list diag.List
		Read(diag.NewFile("history.yaml", text), list.Report)
		require.NotEmpty(t, list.Sorted(), text)
		assert.Contains(t, list.Sorted()[0].Message, want)
	}
}

// TestParts: of two lists of figures, what changed remains; a row whose empty cells were written down is the same.
func TestParts(t *testing.T) {
	d := Difference{Name: "kelp", Was: "N 3 %, K2O 2 %, 5.73 a kilogram", Is: "N 5 %, K2O 2 %, Ca 1 %, 5.73 a kilogram"}
	assert.Equal(t, "kelp: N 3 % became N 5 %, Ca 1 %", d.Parts().String())
	row := Difference{Name: "Gypsum", Was: "92.4 g, not told, 92.4 g", Is: "138 g, not told, 138 g"}
	assert.Equal(t, "Gypsum: 92.4 g, 92.4 g became 138 g, 138 g", row.String())
	cell := Difference{Name: "Tub, crop", Was: "Tomato, indeterminate", Is: "Tomato, dwarf or patio"}
	assert.Equal(t, "Tub, crop: Tomato, indeterminate became Tomato, dwarf or patio", cell.String())
	was, is := []Entry{{Name: "tub", Text: "Pepper, , , 38,"}}, []Entry{{Name: "tub", Text: "Pepper, 38"}}
	assert.Empty(t, Compare(was, is))
}

// TestRows: a cell that changed is told by its row and its column, also where the row was once written down as a whole.
func TestRows(t *testing.T) {
	row := func(cells ...string) (out []Entry) {
		for i, column := range []string{"crop", "plants", "recipe", "litres", "costs"} {
			if cells[i] != "" {
				out = append(out, Entry{CellName("Big tub", column), cells[i]})
			}
		}
		return append(out, Entry{"Total", "9.10"})
	}
	is := row("Tomato, indeterminate", "1", "Spring renewal for a tub", "45.5", "4.04 to 4.41")
	whole := func(text string) []Entry { return []Entry{{"Big tub", text}, {"Total", "9.10"}} }
	for _, c := range []struct {
		was  []Entry
		want []string
	}{
		{row("Tomato, indeterminate", "1", "Spring renewal for a tub", "45.5", "3.51 to 3.78"), []string{"Big tub, costs: 3.51 to 3.78 became 4.04 to 4.41"}},
		{whole("Tomato, indeterminate, 1, Spring renewal for a tub, 45.5, 3.51 to 3.78"), []string{"Big tub, costs: 3.51 to 3.78 became 4.04 to 4.41"}},
		{whole("Pepper, 1, Spring renewal for a tub, 45.5, 4.04 to 4.41"), []string{"Big tub, crop: Pepper became Tomato, indeterminate"}},
		{whole("Tomato, indeterminate, 1, Spring renewal for a tub, 40, 3.51"), []string{"Big tub, litres: 40 became 45.5", "Big tub, costs: 3.51 became 4.04 to 4.41"}},
		{whole("Tomato, indeterminate, 1, Spring renewal for a tub, 45.5"), []string{"Big tub, costs: new, 4.04 to 4.41"}},
		{whole("Tomato, indeterminate, 1, Spring renewal for a tub, 45.5, 4.04 to 4.41, old"), []string{"Big tub: Tomato, indeterminate, 1, Spring renewal for a tub, 45.5, 4.04 to 4.41, old became Tomato, indeterminate, 1, Spring renewal for a tub, 45.5, 4.04 to 4.41"}},
		{whole("Tomato, indeterminate, 1, , Spring renewal for a tub, 45.5, 4.04 to 4.41,"), nil},
		{whole("A, B, C"), []string{"Big tub: A, B, C became Tomato, indeterminate, 1, Spring renewal for a tub, 45.5, 4.04 to 4.41"}},
	} {
		var got []string
		for _, d := range Compare(c.was, is) {
			got = append(got, d.String())
		}
		assert.Equal(t, c.want, got)
	}
	assert.Equal(t, "Big tub", CellName("Big tub", ""))
	before := []Entry{{"Tub", "Pepper, 18"}, {"Tub, north", "Tomato, 40"}}
	now := []Entry{{"Tub, crop", "Pepper"}, {"Tub, litres", "20"}, {"Tub, north, crop", "Tomato"}, {"Tub, north, litres", "40"}}
	assert.Equal(t, []Difference{{"Tub, litres", "18", "20"}}, Compare(before, now), "a name that begins with another's")
}

// Whatever a row held, comparing it with itself in either form tells nothing, and with another does not fail.
func TestAnyRowComparesWithItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringMatching(`[a-c1-3]([a-c1-3, ]{0,6}[a-c1-3])?`)
		var cells, others []Entry
		var texts []string
		for i, text := range rapid.SliceOfN(cell, 1, 5).Draw(t, "cells") {
			text = full(text)
			cells, texts = append(cells, Entry{CellName("row", string(rune('a'+i))), text}), append(texts, text)
			others = append(others, Entry{CellName("row", string(rune('a'+i))), cell.Draw(t, "other")})
		}
		assert.Empty(t, Compare(cells, cells))
		old := []Entry{{"row", strings.Join(texts, ", ")}}
		assert.Empty(t, Compare(old, cells))
		Compare(old, others)
	})
}
