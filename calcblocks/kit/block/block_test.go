package block_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/diag"
)

// TestAsked: a reader may ask for a volume, a shape or a pot; what cannot be resolved is reported with its
// hint, once.
func TestAsked(t *testing.T) {
	g := blocktest.Open(map[string]string{"pots.yaml": "blue-tub: {name: Blue tub, holds: 28 L}\n"}, &diag.List{})
	ask := func(container string) (string, bool, bool, []diag.Diagnostic) {
		var list diag.List
		p := block.Pass{Garden: g, For: container, Report: list.Report}
		c, asked, ok := p.Asked()
		return c.Label, asked, ok, list.Sorted()
	}
	_, asked, ok, faults := ask("")
	assert.False(t, asked || ok)
	assert.Empty(t, faults)
	for text, want := range map[string]string{"20 L": "20 L", "blue-tub": "Blue tub", "round 30 cm top 24 cm base 28 cm deep": "round 30 cm top 24 cm base 28 cm deep"} {
		label, asked, ok, faults := ask(text)
		assert.Equal(t, want, label)
		assert.True(t, asked && ok, text)
		assert.Empty(t, faults)
	}
	for text, hint := range map[string]string{"blue-tup": `did you mean "blue-tub"?`, "20 kg": ""} {
		_, asked, ok, faults := ask(text)
		assert.True(t, asked)
		assert.False(t, ok, text)
		require.Len(t, faults, 1, text)
		assert.Equal(t, "bad-container", faults[0].Code)
		if hint != "" {
			assert.Equal(t, []string{hint}, faults[0].Hints)
		} else {
			assert.NotEmpty(t, faults[0].Hints)
		}
	}
}
