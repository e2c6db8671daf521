package units

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// TestGrowingYears: each day is of one year, from its first day to its last, on both halves of the earth.
func TestGrowingYears(t *testing.T) {
	for _, g := range []GrowingYear{{}, {South: true}} {
		for year := 1999; year < 2030; year++ {
			assert.Equal(t, year, g.Of(g.Begin(year)))
			assert.Equal(t, year, g.Of(g.End(year)))
			assert.Equal(t, year-1, g.Of(g.Begin(year).AddDate(0, 0, -1)))
			assert.Equal(t, g.Begin(year+1), g.End(year).AddDate(0, 0, 1))
		}
	}
	summer := time.Date(2026, time.February, 10, 0, 0, 0, 0, time.UTC)
	assert.Equal(t, 2026, GrowingYear{}.Of(summer))
	assert.Equal(t, 2025, GrowingYear{South: true}.Of(summer))
	assert.Equal(t, "2025", GrowingYear{}.Name(2025))
	assert.Equal(t, "2025/26", GrowingYear{South: true}.Name(2025))
	assert.Equal(t, "1999/00", GrowingYear{South: true}.Name(1999))
}
