package data

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// TestPlainCells: what is said to be plain reads as the careful way writes it, and what is not goes that way.
func TestPlainCells(t *testing.T) {
	signs := rapid.StringOf(rapid.RuneFrom([]rune("ab9 /_.-=+@;,\"'\\\t\r\n＝é\u00a0\x00\x7f")))
	rapid.Check(t, func(t *rapid.T) {
		s := signs.Draw(t, "text")
		want := string(appendCell(nil, guardFormula(s)))
		assert.Equal(t, want, string(appendText(nil, s)))
		assert.Equal(t, want, string(appendText(nil, []byte(s))))
	})
	for s, plain := range map[string]bool{
		"": true, "sizes/20-l/label": true, "20 L (about)": true, "a=1": true, " a": false, "-1": false, "a;b": false, "a,b": false, `\.`: false, "é": false,
	} {
		assert.Equal(t, plain, isPlain(s), "%q", s)
	}
}

// TestAppend: what stands there already stays.
func TestAppend(t *testing.T) {
	before := []byte("before ")
	assert.Equal(t, "before "+string(JSON(tree)), string(AppendJSON(before, tree)))
	assert.Equal(t, "before "+string(CSV(tree)), string(AppendCSV(before, tree)))
}
