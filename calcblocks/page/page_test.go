package page_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/page"
)

func TestCases(t *testing.T) { blocktest.Run(t, page.Kind) }

func compute(body string) blocktest.Output {
	return blocktest.Compute(page.Kind, blocktest.Input{Body: body})
}

// TestFact: what the page block says reaches the site as it was written.
func TestFact(t *testing.T) {
	out := compute("summary: What to do with last year's mix\nwritten: 2026-03-02\nrevised: 2026-04-11\ntopics: [renewal, tubs]\npublish: no\npicture: tub.jpg\npicture shows: A tub\n")
	require.Empty(t, out.Printed())
	day := func(month time.Month, day int) time.Time { return time.Date(2026, month, day, 0, 0, 0, 0, time.UTC) }
	assert.Equal(t, []facts.Fact{facts.Page{
		Summary: "What to do with last year's mix", Written: day(time.March, 2), Revised: day(time.April, 11),
		Topics: []string{"renewal", "tubs"}, Hidden: true, Picture: "tub.jpg", PictureShows: "A tub",
	}}, out.Facts)
	assert.Empty(t, out.View.Parts, "it shows nothing of its own")
}

// TestNothingIsNeeded: a note stands under no topic and is published unless it says otherwise.
func TestNothingIsNeeded(t *testing.T) {
	out := compute("topics: renewal\n")
	require.Empty(t, out.Printed())
	fact := out.Facts[0].(facts.Page)
	assert.False(t, fact.Hidden)
	assert.True(t, fact.Written.IsZero())
	assert.Equal(t, []string{"renewal"}, fact.Topics, "one topic needs no list")
	assert.Equal(t, false, compute("publish: yes\n").Facts[0].(facts.Page).Hidden)
}
