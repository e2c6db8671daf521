package builder

import (
	"cmp"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"trug/builder/notes"
	"trug/builder/output"
	"trug/builder/site"
)

const feedAt = site.Address("feed.atom")

// A Change is one entry of the history: what became different in a block's numbers, and when that was
// written down.
type Change struct {
	Date        time.Time
	BlockID     string
	Title, Text string
	Short       string // Text with the first few of many differences
}

// absolute is the whole address of a page or file, "" without a handbook address.
func (s *rendering) absolute(at site.Address) string {
	if s.Garden.Handbook.Address == "" {
		return ""
	}
	return s.Garden.Handbook.Address + (&url.URL{Path: string(at)}).EscapedPath()
}

// hasFeed says whether there is a feed: it needs the handbook's address, and something with a date.
func (s *rendering) hasFeed() bool {
	dated := func(n *notes.Note) bool { return !newest(n).IsZero() }
	return s.Garden.Handbook.Address != "" && (len(s.changes) > 0 || slices.ContainsFunc(s.Notes, dated))
}

// feed is the news of the handbook: its dated notes, and the changes of the history.
func (s *rendering) feed() ([]byte, bool) {
	hb := s.Garden.Handbook
	if !s.hasFeed() {
		return nil, false
	}
	f := output.Feed{
		Title: hb.Title, Subtitle: "New and revised notes, and numbers that changed", Author: hb.Author, Language: hb.Language,
		ID: s.absolute(""), Self: s.absolute(feedAt),
	}
	for _, n := range s.Notes {
		at := s.absolute(n.Address)
		f.Entries = append(f.Entries, output.FeedEntry{
			ID: at, Title: n.Title(), Address: at, Text: n.Page.Summary, Topics: n.Page.Topics, Published: n.Page.Written, Updated: newest(n),
		})
	}
	f.Entries = append(f.Entries, s.changeEntries()...)
	return f.Atom()
}

// changeEntries leads to the page of each block that changed. Its id names the block and the day, and counts the records of
// one day.
func (s *rendering) changeEntries() []output.FeedEntry {
	var out []output.FeedEntry
	times := map[string]int{}
	for _, c := range s.changes {
		id := s.absolute("") + "#" + c.BlockID + "-changed-" + c.Date.Format(time.DateOnly)
		if times[id]++; times[id] > 1 {
			id += "-" + strconv.Itoa(times[id])
		}
		out = append(out, output.FeedEntry{ID: id, Title: c.name(), Address: s.absolute(s.whereNow(c)), Text: c.Text, Published: c.Date, Updated: c.Date})
	}
	return out
}

func (c Change) name() string { return cmp.Or(c.Title, c.BlockID) + ": changed numbers" }

// whereNow is where the block of a change stands; the front page where it is gone.
func (s *rendering) whereNow(c Change) site.Address {
	p, ok := s.Block(c.BlockID)
	if !ok || !p.visible() {
		return ""
	}
	if own, has := ownAddress(p); has {
		return own
	}
	return p.Note.Address
}

// feedPages writes the feed and the site map, which need the handbook's address.
func (s *rendering) feedPages() error {
	if news, ok := s.feed(); ok {
		s.add(feedAt, news)
	}
	if s.Garden.Handbook.Address == "" {
		return nil
	}
	var pages []output.MapPage
	written := s.pagesSoFar()
	slices.SortFunc(written, func(a, b sitePage) int { return strings.Compare(string(a.at), string(b.at)) })
	for _, p := range written {
		if p.at != notFound && p.at != searchAt && p.at != wholeAt { // nothing there, nothing of its own
			pages = append(pages, output.MapPage{Address: s.absolute(p.at), Changed: s.changed(p.at)})
		}
	}
	for _, f := range output.SiteMap(s.absolute(""), pages) {
		s.add(site.Address(f.Name), f.Body)
	}
	return nil
}

// changed is the day on which a page changed last, as far as the notes and the history tell: a note by its
// own dates, a block's page by those of its note and its changes, the front page and the list of notes by the newest.
func (s *rendering) changed(at site.Address) time.Time {
	var out time.Time
	later := func(t time.Time) {
		if t.After(out) {
			out = t
		}
	}
	if at == "" || at == "notes/" {
		return s.newestDay()
	}
	if n := s.byAddress[at]; n != nil {
		return newest(n)
	}
	p := s.byOwn[site.Address(strings.TrimSuffix(string(at), "card/"))]
	if p == nil {
		return out
	}
	if p.Note != nil {
		later(newest(p.Note))
	}
	for _, c := range s.changes {
		if c.BlockID == p.ID {
			later(c.Date)
		}
	}
	return out
}
