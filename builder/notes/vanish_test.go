package notes

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
)

// TestNoteVanishes: a note that goes between the listing and the reading is a fault of its own, by name.
func TestNoteVanishes(t *testing.T) {
	content := fstest.MapFS{"tubs/spring.md": {Data: []byte("# Spring")}, "pots.md": {Data: []byte("# Pots")}}
	var said []diag.Diagnostic
	report := func(d diag.Diagnostic) { said = append(said, d) }
	require.Equal(t, []string{"pots.md", "tubs/spring.md"}, Find(content, "content", report))
	delete(content, "tubs/spring.md")

	require.NotNil(t, Text(content, "content", "pots.md", report))
	assert.Empty(t, said)
	assert.Nil(t, Text(content, "content", "tubs/spring.md", report))
	require.Len(t, said, 1)
	assert.Equal(t, "cannot-read", said[0].Code)
	assert.Equal(t, "content/tubs/spring.md", said[0].At.Name())
	assert.Equal(t, "cannot read this note: file does not exist", said[0].Message)
}
