package output

import (
	"encoding/xml"
	"fmt"
	"time"
)

// A MapPage is a page for the site map: its whole address, and the day of its last change, zero when not
// told.
type MapPage struct {
	Address string
	Changed time.Time
}

// A MapFile is one file of the site map.
type MapFile struct {
	Name string
	Body []byte
}

// The limits of the site map protocol (sitemaps.org, version 0.9): addresses in a file, bytes of a file, and
// characters of an address.
const (
	mostAddresses = 50_000
	mostBytes     = 50_000_000
	longestURL    = 2047
)

const mapSpace = "http://www.sitemaps.org/schemas/sitemap/0.9"

type mapSet struct {
	XMLName xml.Name   `xml:"urlset"`
	Space   string     `xml:"xmlns,attr"`
	Pages   []mapEntry `xml:"url"`
}

type mapIndex struct {
	XMLName xml.Name   `xml:"sitemapindex"`
	Space   string     `xml:"xmlns,attr"`
	Maps    []mapEntry `xml:"sitemap"`
}

type mapEntry struct {
	Address string `xml:"loc"`
	Changed string `xml:"lastmod,omitempty"`
}

// SiteMap returns the site map of pages: sitemap.xml, and where one file cannot hold them all, an index of
// that name with the files that it names. root is the address of the site. An address that is too long for
// the protocol is left out.
func SiteMap(root string, pages []MapPage) []MapFile {
	var sets []mapSet
	held := 0
	for _, p := range pages {
		if len(p.Address) > longestURL {
			continue
		}
		e := mapEntry{Address: p.Address}
		if !p.Changed.IsZero() {
			e.Changed = p.Changed.Format(time.DateOnly)
		}
		size := 6*len(p.Address) + 80 // at most: every character written as a reference, and the elements
		last := len(sets) - 1
		if last < 0 || len(sets[last].Pages) == mostAddresses || held+size > mostBytes {
			sets, last, held = append(sets, mapSet{Space: mapSpace}), last+1, 0
		}
		sets[last].Pages, held = append(sets[last].Pages, e), held+size
	}
	switch len(sets) {
	case 0:
		return nil
	case 1:
		return []MapFile{{"sitemap.xml", document(sets[0])}}
	}
	return indexed(root, sets)
}

func indexed(root string, sets []mapSet) []MapFile {
	index := mapIndex{Space: mapSpace}
	var out []MapFile
	for i, set := range sets {
		name := fmt.Sprintf("sitemap-%d.xml", i+1)
		index.Maps = append(index.Maps, mapEntry{Address: root + name})
		out = append(out, MapFile{name, document(set)})
	}
	return append([]MapFile{{"sitemap.xml", document(index)}}, out...)
}
