package layouts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func property(t *testing.T, p Page) map[string]string {
	t.Helper()
	text, err := ourLayouts(t).Page(p)
	require.NoError(t, err)
	out := map[string]string{}
	for n := range parsed(t, string(text)).Descendants() {
		if name := attr(n, "property"); n.Data == "meta" && name != "" {
			assert.NotContains(t, out, name, "told once")
			out[name] = attr(n, "content")
		}
	}
	return out
}

// TestLinksElsewhereSayWhatThePageIs: what the Open Graph protocol needs (title, type, url), and the picture.
func TestLinksElsewhereSayWhatThePageIs(t *testing.T) {
	p := Page{
		Title: `Tubs "and" <pots>`, Description: "Two words.", HandbookTitle: "Bench", Canonical: "https://bench.example/notes/t%C3%BCbs/",
		Picture: &Picture{Address: "https://bench.example/pictures/tub/960.jpg", Alt: "A tub", Width: 960, Height: 720}, Body: NotePage{Title: "Tubs"},
	}
	assert.Equal(t, map[string]string{
		"og:url": "https://bench.example/notes/t%C3%BCbs/", "og:type": "article", "og:title": `Tubs "and" <pots>`, "og:description": "Two words.", "og:site_name": "Bench",
		"og:image": "https://bench.example/pictures/tub/960.jpg", "og:image:alt": "A tub", "og:image:width": "960", "og:image:height": "720",
	}, property(t, p))
	p.Picture, p.Body = nil, SearchPage{}
	assert.Equal(t, "website", property(t, p)["og:type"])
	assert.NotContains(t, property(t, p), "og:image")
	p.Canonical = ""
	assert.Empty(t, property(t, p), "without an address there is nothing to link to")
}

func TestHeadPictureKeepsItsPlace(t *testing.T) {
	text, err := ourLayouts(t).Page(Page{Title: "Tubs", Body: NotePage{Title: "Tubs", Picture: samplePicture()}})
	require.NoError(t, err)
	pictures := withAttr(parsed(t, string(text)), "alt", "A tub <full> of leaves")
	require.Len(t, pictures, 1)
	for key, want := range map[string]string{
		"src": "../pictures/tub-9/960.jpg", "width": "960", "height": "720", "sizes": "100vw",
		"srcset": "../pictures/tub-9/480.jpg 480w, ../pictures/tub-9/960.jpg 960w", "loading": "",
	} {
		assert.Equal(t, want, attr(pictures[0], key), key)
	}
	text, err = ourLayouts(t).Page(Page{Title: "Tubs", Body: NotePage{Title: "Tubs", Picture: &Picture{Address: "a.gif", Width: 4, Height: 3}}})
	require.NoError(t, err)
	assert.Contains(t, string(text), `<img src="a.gif" alt="" width="4" height="3">`)
}

func TestScriptsOfAPageStandBehindOurOwn(t *testing.T) {
	text, err := ourLayouts(t).Page(Page{Title: "Search", Root: "../", Scripts: []string{"search-index.js", "search.js"}, Body: SearchPage{}})
	require.NoError(t, err)
	assert.Contains(t, string(text), `<script defer src="../trug.js"></script>
<script defer src="../search-index.js"></script>
<script defer src="../search.js"></script>`)
}
