package output

import (
	"encoding/xml"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSiteMap(t *testing.T) {
	long := "https://bench.example/" + strings.Repeat("a", 2030)
	files := SiteMap("https://bench.example/", []MapPage{
		{"https://bench.example/notes/b%C3%A4ume/?a&b", on(3, 1)}, {Address: "https://bench.example/"}, {Address: long},
	})
	require.Len(t, files, 1)
	assert.Equal(t, "sitemap.xml", files[0].Name)
	assert.Equal(t, xml.Header+`<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">
 <url>
  <loc>https://bench.example/notes/b%C3%A4ume/?a&amp;b</loc>
  <lastmod>2027-03-01</lastmod>
 </url>
 <url>
  <loc>https://bench.example/</loc>
 </url>
</urlset>
`, string(files[0].Body))
	assert.Empty(t, SiteMap("https://bench.example/", nil))
}

// TestLargeSiteMapIsDivided: no file has more than 50,000 addresses, and each address stands in one.
func TestLargeSiteMapIsDivided(t *testing.T) {
	var pages []MapPage
	for i := range 120_001 {
		pages = append(pages, MapPage{Address: fmt.Sprintf("https://bench.example/notes/%d/", i)})
	}
	files := SiteMap("https://bench.example/", pages)
	require.Len(t, files, 4)
	var index mapIndex
	require.NoError(t, xml.Unmarshal(files[0].Body, &index))
	require.Len(t, index.Maps, 3)
	seen := 0
	for i, f := range files[1:] {
		assert.Equal(t, "https://bench.example/"+f.Name, index.Maps[i].Address)
		n := strings.Count(string(f.Body), "<loc>")
		assert.LessOrEqual(t, n, 50_000)
		assert.LessOrEqual(t, len(f.Body), 50_000_000)
		seen += n
	}
	assert.Equal(t, len(pages), seen)
}

func TestSiteMapOfLongAddressesStaysUnderItsBytes(t *testing.T) {
	var pages []MapPage
	for i := range 9_000 {
		pages = append(pages, MapPage{Address: fmt.Sprintf("https://bench.example/%d/", i) + strings.Repeat("'", 2000)})
	}
	files := SiteMap("https://bench.example/", pages)
	require.Greater(t, len(files), 2)
	for _, f := range files {
		assert.LessOrEqual(t, len(f.Body), 50_000_000)
	}
}
