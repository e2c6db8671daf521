package form

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/diag"
)

// TestNoTrapInPlainLines: whatever a trap catches is not taken for plain.
func TestNoTrapInPlainLines(t *testing.T) {
	pieces := []string{
		" ", "  ", "- ", "-", "?", "? ", "key", "a", "2", ": ", ":", " #", "#", "\t", "\"", "'", "''", "{", "}", "[", "]", ",", ", ",
		"%", "@", "`", "!", "&", "*", "|", ">", "\\", "½", "\u00a0", "note: ", "- key: ", "\"x\"", "{a: 1}", "[a, b]",
	}
	caught := 0
	rapid.Check(t, func(t *rapid.T) {
		line := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 9).Draw(t, "pieces"), "")
		s := Source{At: func(line, column int) diag.Position { return diag.Position{Line: line, Column: column} }}
		if _, bad := s.scanLine(1, line); bad {
			caught++
			assert.False(t, isPlain(line), "%q", line)
		}
	})
	assert.NotZero(t, caught)
}

// TestMostLinesArePlain: what authors usually write is told at a glance.
func TestMostLinesArePlain(t *testing.T) {
	for _, line := range []string{
		"title: Spring renewal", "  kelp-meal: 1/2 to 1 cup", "amounts:", "- on: 2026-04-20", "  - {pot: pot-1, did: planted}",
		"sizes: [10 L, 20 L]", "cup weighs: \"72 g\"", "n: -4.5", "# a remark", "",
	} {
		assert.True(t, isPlain(line), line)
	}
}

// TestOpenings counts as what is left of a line without its quotes and comments does.
func TestOpenings(t *testing.T) {
	pieces := []string{" ", "a", "{", "}", "[", "]", "\"", "'", "\\", "#", " #", "\t", ", ", ": ", "½"}
	rapid.Check(t, func(t *rapid.T) {
		line := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 14).Draw(t, "pieces"), "")
		bare := notFlow.ReplaceAllString(line, "")
		count := func(s string) int { return strings.Count(bare, s) }
		assert.Equal(t, count("{")+count("[")-count("}")-count("]"), openings(line), "%q", line)
	})
}
