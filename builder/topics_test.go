package builder

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// manyNotes are notes of one topic, of which each other names a second.
func manyNotes(n int) string {
	var b strings.Builder
	for i := range n {
		topics := "[soil]"
		if i%2 == 1 {
			topics = "[water, soil]"
		}
		fmt.Fprintf(&b, "-- n%d.md --\n```page\nsummary: About %d.\ntopics: %s\nwritten: 2026-01-%02d\n```\n\n# Note %d\n", i, i, topics, 1+i%28, i)
	}
	return b.String()
}

// A few notes are listed as they are; of many the front page names the first and leads to all.
func TestFrontPageStaysShort(t *testing.T) {
	front := built(t, manyNotes(mostOfTopic))("index.html")
	assert.NotContains(t, front, "All ")
	page := built(t, manyNotes(30))
	_, topics, _ := strings.Cut(page("index.html"), "Notes by topic")
	assert.Equal(t, 2*fewOfTopic, strings.Count(topics, `<a href="notes/n`))
	assert.Contains(t, topics, `<a href="notes/index.html#topic-soil">All 30 notes</a>`)
	assert.Contains(t, topics, `<a href="notes/index.html#topic-water">All 15 notes</a>`)
}

// A long page of notes leads to its topics, and tells once what a note is about: at the first topic that it names.
func TestNotesPageTellsOnce(t *testing.T) {
	short := built(t, manyNotes(8))("notes/index.html")
	assert.NotContains(t, short, `class="jump"`)
	assert.Equal(t, 2, strings.Count(short, "<p>About 1.</p>"))
	long := built(t, manyNotes(30))("notes/index.html")
	assert.Contains(t, long, `<li><a href="#topic-soil">soil</a></li>`)
	soil, water, _ := strings.Cut(long, `id="topic-water"`)
	assert.NotContains(t, soil, "<p>About 1.</p>")
	assert.Contains(t, soil, "<p>About 2.</p>")
	assert.Contains(t, water, "<p>About 1.</p>")
}

// A note without a date is a note: the front page lists it by its topic and does not ask for a first one.
func TestANoteWithoutADate(t *testing.T) {
	front := built(t, "-- a.md --\n# A\n\nText.\n")("index.html")
	assert.NotContains(t, front, "No notes yet")
	assert.NotContains(t, front, "Newest")
	assert.Contains(t, front, `<a href="notes/a/index.html">A</a>`)
	assert.Contains(t, built(t, "-- handbook.yaml --\ntitle: T\n")("index.html"), "No notes yet")
}
