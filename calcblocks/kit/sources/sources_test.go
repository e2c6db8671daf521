package sources_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"trug/calcblocks/kit/sources"
)

// TestSet: the zero set is ready, a key stands once with its last entry, and the order is that of the keys.
func TestSet(t *testing.T) {
	var s sources.Set
	assert.Empty(t, s.Sorted())
	assert.NotNil(t, s.Sorted(), "an empty list, not none: it is printed as one")
	s.Add(sources.Entry{Key: "b", Title: "first"}, sources.Entry{Key: "a"})
	s.Add(sources.Entry{Key: "c"}, sources.Entry{Key: "b", Title: "second"})
	assert.Equal(t, []sources.Entry{{Key: "a"}, {Key: "b", Title: "second"}, {Key: "c"}}, s.Sorted())
}
