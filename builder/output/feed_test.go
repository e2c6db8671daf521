package output

import (
	"encoding/xml"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func on(month time.Month, day int) time.Time {
	return time.Date(2027, month, day, 0, 0, 0, 0, time.UTC)
}

func sampleFeed() Feed {
	return Feed{
		Title: "Bench & <court>", Subtitle: "News", Author: "The growers", Language: "en", ID: "https://bench.example/", Self: "https://bench.example/feed.atom",
		Entries: []FeedEntry{
			{ID: "https://bench.example/notes/a/", Title: "A", Address: "https://bench.example/notes/a/", Text: "One \x01 two", Topics: []string{"tubs", "heap"}, Published: on(3, 1), Updated: on(3, 1)},
			{ID: "https://bench.example/notes/undated/", Title: "Undated", Address: "https://bench.example/notes/undated/"},
			{ID: "https://bench.example/notes/b/", Title: "B", Address: "https://bench.example/notes/b/", Published: on(2, 1), Updated: on(4, 2)},
			{ID: "https://bench.example/#tub-changed-2027-03-01", Title: "Tub: changed numbers", Address: "https://bench.example/recipes/tub/", Text: "Cost", Updated: on(3, 1)},
		},
	}
}

func TestAtom(t *testing.T) {
	text, ok := sampleFeed().Atom()
	require.True(t, ok)
	var got atomFeed
	require.NoError(t, xml.Unmarshal(text, &got))
	assert.Equal(t, "2027-04-02T00:00:00Z", got.Updated, "the newest entry dates the feed")
	assert.Equal(t, "Bench & <court>", got.Title)
	var ids []string
	for _, e := range got.Entries {
		ids = append(ids, strings.TrimPrefix(e.ID, "https://bench.example/"))
	}
	assert.Equal(t, []string{"notes/b/", "#tub-changed-2027-03-01", "notes/a/"}, ids, "the newest first, then by id; the undated is left out")
	assert.Equal(t, "One \ufffd two", got.Entries[2].Summary)
	assert.Equal(t, []atomCategory{{"tubs"}, {"heap"}}, got.Entries[2].Categories)
	assert.Contains(t, string(text), `xml:lang="en"`)
	again, _ := sampleFeed().Atom()
	assert.Equal(t, string(text), string(again))
}

func TestAtomNeedsADate(t *testing.T) {
	f := sampleFeed()
	f.Entries = f.Entries[1:2]
	_, ok := f.Atom()
	assert.False(t, ok)
}

func TestAtomIsNamed(t *testing.T) {
	f := sampleFeed()
	f.Author = ""
	text, _ := f.Atom()
	assert.Contains(t, string(text), "<name>Bench &amp; &lt;court&gt;</name>", "a feed must name an author: the handbook itself")
}

func TestAtomKeepsTheNewest(t *testing.T) {
	f := sampleFeed()
	f.Entries = nil
	for i := range 60 {
		f.Entries = append(f.Entries, FeedEntry{ID: fmt.Sprintf("urn:n:%02d", i), Title: "N", Address: "https://bench.example/", Updated: on(1, 1).AddDate(0, 0, i)})
	}
	text, ok := f.Atom()
	require.True(t, ok)
	assert.Equal(t, 50, strings.Count(string(text), "<entry>"))
	assert.Contains(t, string(text), "urn:n:59")
	assert.NotContains(t, string(text), "urn:n:09")
}

// TestFormatsAreValid asks jing, with schemas written after RFC 4287 and the site map protocol.
func TestFormatsAreValid(t *testing.T) {
	if _, err := exec.LookPath("jing"); err != nil {
		t.Skip("jing is not installed")
	}
	feed, _ := sampleFeed().Atom()
	pages := []MapPage{{"https://bench.example/?a&b", on(3, 1)}, {Address: "https://bench.example/c/"}}
	assert.Empty(t, judged(t, "atom.rnc", feed))
	assert.Empty(t, judged(t, "sitemap.rnc", SiteMap("https://bench.example/", pages)[0].Body))
	assert.NotEmpty(t, judged(t, "atom.rnc", []byte(strings.Replace(string(feed), "<updated>2027-04-02T00:00:00Z</updated>", "", 1))), "the schema sees a feed without a date")
	assert.NotEmpty(t, judged(t, "sitemap.rnc", []byte(`<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9"><url><loc>/a</loc></url></urlset>`)), "and an address that is not whole")
}

// judged returns what jing says of a file.
func judged(t *testing.T, schema string, body []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "file.xml")
	require.NoError(t, os.WriteFile(file, body, 0o600))
	out, _ := exec.Command("jing", "-c", filepath.Join("../../.ci", schema), file).CombinedOutput() // it fails when it complains
	var lines []string
	for line := range strings.Lines(string(out)) {
		if !strings.HasPrefix(line, "[warning]") { // of its own installation
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "")
}
