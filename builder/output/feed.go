package output

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"slices"
	"time"
)

// A Feed is the news of a handbook. Addresses are absolute.
type Feed struct {
	Title, Subtitle, Author, Language string
	ID                                string // the address of the front page
	Self                              string // the feed's own address
	Entries                           []FeedEntry
}

// A FeedEntry is one piece of news. Its ID stays the same whatever else of it changes; one whose Updated is
// zero is left out, since a feed must date everything (RFC 4287, section 4.1.2).
type FeedEntry struct {
	ID, Title, Address, Text string
	Topics                   []string
	Published, Updated       time.Time // Published zero = not told
}

// mostEntries keeps the feed of a large handbook small: readers ask for it daily.
const mostEntries = 50

type atomFeed struct {
	XMLName  xml.Name    `xml:"http://www.w3.org/2005/Atom feed"`
	Language string      `xml:"xml:lang,attr,omitempty"`
	ID       string      `xml:"id"`
	Title    string      `xml:"title"`
	Subtitle string      `xml:"subtitle,omitempty"`
	Updated  string      `xml:"updated"`
	Author   atomPerson  `xml:"author"`
	Links    []atomLink  `xml:"link"`
	Entries  []atomEntry `xml:"entry"`
}

type atomPerson struct {
	Name string `xml:"name"`
}

type atomLink struct {
	Rel  string `xml:"rel,attr"`
	Type string `xml:"type,attr"`
	Href string `xml:"href,attr"`
}

type atomEntry struct {
	ID         string         `xml:"id"`
	Title      string         `xml:"title"`
	Updated    string         `xml:"updated"`
	Published  string         `xml:"published,omitempty"`
	Link       atomLink       `xml:"link"`
	Categories []atomCategory `xml:"category"`
	Summary    string         `xml:"summary,omitempty"`
}

type atomCategory struct {
	Term string `xml:"term,attr"`
}

// Atom returns the feed as Atom (RFC 4287), the newest entry first, and whether there is one: without a
// dated entry a feed would have no date of its own.
func (f Feed) Atom() ([]byte, bool) {
	entries := slices.DeleteFunc(slices.Clone(f.Entries), func(e FeedEntry) bool { return e.Updated.IsZero() })
	if len(entries) == 0 {
		return nil, false
	}
	slices.SortStableFunc(entries, func(a, b FeedEntry) int {
		return cmp.Or(b.Updated.Compare(a.Updated), cmp.Compare(a.ID, b.ID))
	})
	out := atomFeed{
		Language: f.Language, ID: f.ID, Title: f.Title, Subtitle: f.Subtitle,
		Updated: stamped(entries[0].Updated), Author: atomPerson{cmp.Or(f.Author, f.Title)},
		Links: []atomLink{{"self", "application/atom+xml", f.Self}, {"alternate", "text/html", f.ID}},
	}
	for _, e := range entries[:min(len(entries), mostEntries)] {
		out.Entries = append(out.Entries, e.atom())
	}
	return document(out), true
}

func (e FeedEntry) atom() atomEntry {
	out := atomEntry{
		ID: e.ID, Title: e.Title, Updated: stamped(e.Updated), Summary: e.Text,
		Link: atomLink{"alternate", "text/html", e.Address},
	}
	if !e.Published.IsZero() {
		out.Published = stamped(e.Published)
	}
	for _, t := range e.Topics {
		out.Categories = append(out.Categories, atomCategory{t})
	}
	return out
}

func stamped(t time.Time) string { return t.UTC().Format(time.RFC3339) }

// document writes a value as an XML file. For a character that XML cannot hold the library writes U+FFFD.
func document(v any) []byte {
	var b bytes.Buffer
	b.WriteString(xml.Header)
	enc := xml.NewEncoder(&b)
	enc.Indent("", " ")
	if err := enc.Encode(v); err != nil {
		panic("output: writing XML to memory failed: " + err.Error()) // the structs above hold nothing that fails
	}
	b.WriteByte('\n')
	return b.Bytes()
}
