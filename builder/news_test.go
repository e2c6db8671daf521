package builder

import (
	"bytes"
	"encoding/json"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

const smallHandbook = `
-- handbook.yaml --
title: Bench
address: https://bench.example/court/
author: The growers
sizes: [10 L]
measures: {main: us}
-- tubs/spring.md --
` + "```page" + `
summary: Renew the tubs
written: 2027-03-01
revised: 2027-04-02
topics: [tubs]
picture: tub.jpg
picture shows: A tub of leaves
` + "```" + `

# Spring

## Mix

See [the heap](../heap.md#turn), [its top](../heap.md#the-heap), [the mix](#mix), [a recipe](/recipes/tub/) and [out](https://example.org/).[^a]

` + "```recipe tub" + `
title: A tub
for: 10 L
crop: pepper
amounts:
  kelp-meal: 2 tbsp
` + "```" + `

[^a]: Wet.
-- heap.md --
` + "```page" + `
written: 2027-02-01
` + "```" + `

# The heap

## Turn

Gräser and potash-rich ash.[^a]

![A heap](tubs/tub.jpg)

[^a]: Dry.
-- bare.md --
# No date
`

// renderSmall renders the small handbook, with a photograph of 1000 x 500 pixels in it.
func renderSmall(t *testing.T, changes ...string) (Report, map[string]string) {
	t.Helper()
	text := smallHandbook
	for i := 0; i < len(changes); i += 2 {
		require.Contains(t, text, changes[i])
		text = strings.Replace(text, changes[i], changes[i+1], 1)
	}
	handbookIn(t, txtar.Parse([]byte(text)))
	photo := image.NewRGBA(image.Rect(0, 0, 1000, 500))
	for x := range 1000 {
		for y := range 500 {
			photo.Set(x, y, color.RGBA{uint8(x), uint8(y), uint8(x * y), 255})
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, photo, nil))
	require.NoError(t, os.WriteFile(filepath.Join("content", "tubs", "tub.jpg"), b.Bytes(), 0o600))
	built, err := inMemory(Options{Content: "content", Today: today})
	require.NoError(t, err)
	files := map[string]string{}
	for _, f := range built.out {
		files[f.Path] = string(f.Body)
	}
	return built.report(), files
}

func pageTree(t *testing.T, text string) *html.Node {
	t.Helper()
	root, err := html.Parse(strings.NewReader(text))
	require.NoError(t, err)
	return root
}

func elements(root *html.Node, name string) []*html.Node {
	var out []*html.Node
	for n := range root.Descendants() {
		if n.Type == html.ElementNode && n.Data == name {
			out = append(out, n)
		}
	}
	return out
}

func TestSmallHandbookIsSound(t *testing.T) {
	report, files := renderSmall(t)
	require.Empty(t, printed(report.Diagnostics))
	assert.Empty(t, report.Advice)
	bodies := map[string][]byte{}
	for name, text := range files {
		bodies[name] = []byte(text)
	}
	complaints, _ := checkSite(bodies, "/court/")
	assert.Empty(t, strings.Join(complaints, "\n"))
}

func TestWholeHandbook(t *testing.T) {
	_, files := renderSmall(t)
	root := pageTree(t, files["whole/index.html"])
	var hrefs []string
	for _, a := range elements(root, "a") {
		if href := value(a, "href"); strings.HasPrefix(href, "#notes.") || strings.Contains(textOf(a), "recipe") {
			hrefs = append(hrefs, href)
		}
	}
	assert.Subset(t, hrefs, []string{
		"#notes.heap_turn", "#notes.heap", "#notes.tubs.spring_mix", "../recipes/tub/index.html",
		"#notes.tubs.spring_footnote_1", "#notes.heap_footnote_1",
	})
	levels := map[string]string{}
	for _, level := range []string{"h1", "h2", "h3", "h4"} {
		for _, h := range elements(root, level) {
			levels[textOf(h)] = level
		}
	}
	assert.Equal(t, "h1", levels["Bench"])
	assert.Equal(t, "h2", levels["The heap"])
	assert.Equal(t, "h3", levels["Turn"])
	assert.Equal(t, "h4", levels["A tub"], "a block stands under the heading that it stands under in its note")
	assert.Contains(t, files["notes/index.html"], `href="../whole/index.html"`)
}

func TestFeedTellsOfNotes(t *testing.T) {
	_, files := renderSmall(t)
	feed := files["feed.atom"]
	assert.Equal(t, 2, strings.Count(feed, "<entry>"), "a note without a date is no news")
	assert.Contains(t, feed, "<id>https://bench.example/court/notes/tubs/spring/</id>")
	assert.Contains(t, feed, "<updated>2027-04-02T00:00:00Z</updated>\n  <published>2027-03-01T00:00:00Z</published>")
	for name, text := range files {
		if strings.HasSuffix(name, ".html") {
			named := func(n *html.Node) bool {
				return value(n, "rel") == "alternate" && value(n, "type") == "application/atom+xml"
			}
			assert.True(t, slices.ContainsFunc(elements(pageTree(t, text), "link"), named), name)
		}
	}
}

// TestFeedTellsOfChanges: an entry of the history leads to its block, and keeps its id when its words change.
func TestFeedTellsOfChanges(t *testing.T) {
	handbookIn(t, txtar.Parse([]byte(strings.Replace(smallHandbook, "picture: tub.jpg\npicture shows: A tub of leaves\n", "", 1))))
	h, err := Read("content", today)
	require.NoError(t, err)
	s := newSite(h, nil, nowhere{})
	s.spin()
	s.changes = []Change{
		{Date: time.Date(2027, 4, 9, 0, 0, 0, 0, time.UTC), BlockID: "tub", Title: "A tub", Text: "Cost for 10 L: 0.40 to 0.60 USD"},
		{Date: time.Date(2027, 4, 8, 0, 0, 0, 0, time.UTC), BlockID: "gone", Text: "It is gone."},
		{Date: time.Date(2027, 4, 9, 0, 0, 0, 0, time.UTC), BlockID: "tub", Title: "A tub", Text: "Cost for 10 L: 0.60 to 0.70 USD", Short: "Cost"},
	}
	feed, ok := s.feed()
	require.True(t, ok)
	assert.Contains(t, string(feed), "<updated>2027-04-09T00:00:00Z</updated>")
	assert.Contains(t, string(feed), "<id>https://bench.example/court/#tub-changed-2027-04-09</id>")
	assert.Contains(t, string(feed), "<id>https://bench.example/court/#tub-changed-2027-04-09-2</id>", "twice on a day")
	assert.Contains(t, string(feed), `href="https://bench.example/court/recipes/tub/"`)
	assert.Contains(t, string(feed), "<title>gone: changed numbers</title>")
	assert.Equal(t, "2027-04-09", day(s.changed("recipes/tub/")), "and dates the page in the site map")
	assert.Equal(t, "2027-04-02", day(s.changed("notes/tubs/spring/")))
	assert.Equal(t, "", day(s.changed("cupboard/")))
	var newest []string
	for _, i := range s.newestItems() {
		newest = append(newest, i.Name+" "+i.Href+" "+i.Summary)
	}
	assert.Equal(t, []string{
		"A tub: changed numbers recipes/tub/index.html ", "A tub: changed numbers recipes/tub/index.html Cost", "gone: changed numbers index.html ",
		"Spring notes/tubs/spring/index.html Renew the tubs", "The heap notes/heap/index.html ",
	}, newest, "on the front page, those of one day as the history has them")
}

func TestSiteMapListsThePages(t *testing.T) {
	_, files := renderSmall(t)
	for name := range files {
		page, isPage := strings.CutSuffix(name, "index.html")
		loc := "<loc>https://bench.example/court/" + page + "</loc>"
		switch {
		case page == "search/" || page == "whole/" || !isPage:
			assert.NotContains(t, files["sitemap.xml"], "/"+name+"<", name)
			assert.False(t, isPage && strings.Contains(files["sitemap.xml"], loc), name)
		default:
			assert.Contains(t, files["sitemap.xml"], loc)
		}
	}
	assert.Contains(t, files["sitemap.xml"], "spring/</loc>\n  <lastmod>2027-04-02</lastmod>")
	assert.NotContains(t, files["sitemap.xml"], "404")
}

func TestWithoutAnAddress(t *testing.T) {
	report, files := renderSmall(t, "address: https://bench.example/court/\n", "")
	assert.Len(t, report.Advice, 1, "said once")
	assert.Contains(t, report.Advice[0], "the feed, the site map")
	assert.NotContains(t, files, "feed.atom")
	assert.NotContains(t, files, "sitemap.xml")
	for name, text := range files {
		for _, word := range []string{"canonical", "og:", "atom+xml", "https://bench.example"} {
			assert.NotContains(t, text, word, name)
		}
	}
}

// TestPhotographOnPages: at the head of the note that names it, in the text of the one that shows it, and
// beside links elsewhere.
func TestPhotographOnPages(t *testing.T) {
	_, files := renderSmall(t)
	note := files["notes/tubs/spring/index.html"]
	pictures := elements(pageTree(t, note), "img")
	require.Len(t, pictures, 1)
	src := value(pictures[0], "src")
	assert.Regexp(t, `^\.\./\.\./\.\./pictures/tubs/tub-[0-9a-f]{16}/1000\.jpg$`, src)
	assert.Equal(t, "A tub of leaves", value(pictures[0], "alt"))
	assert.Equal(t, "1000", value(pictures[0], "width"))
	assert.Equal(t, 3, strings.Count(value(pictures[0], "srcset"), ".jpg "), "three files")
	assert.Contains(t, note, `<meta property="og:image" content="https://bench.example/court/`+strings.TrimPrefix(src, "../../../")+`">`)
	heap := elements(pageTree(t, files["notes/heap/index.html"]), "img")
	require.Len(t, heap, 1)
	assert.Equal(t, "lazy", value(heap[0], "loading"))
	assert.Equal(t, strings.TrimPrefix(src, "../"), value(heap[0], "src"), "the same files")
	assert.NotContains(t, files["notes/heap/index.html"], "og:image")
	size, err := jpeg.DecodeConfig(strings.NewReader(files[strings.TrimPrefix(src, "../../../")]))
	require.NoError(t, err)
	assert.Equal(t, 1000, size.Width)
}

// TestPictureWithoutWords: a doubt at the picture's place; the same picture in the text lends its words and stands
// there alone.
func TestPictureWithoutWords(t *testing.T) {
	report, _ := renderSmall(t, "picture shows: A tub of leaves\n", "")
	assert.Contains(t, printed(report.Diagnostics), `content/tubs/spring.md:6:10: doubt: the picture "tub.jpg" has no text that stands for it`)
	assert.Zero(t, report.Faults)
	report, files := renderSmall(t, "picture shows: A tub of leaves\n", "", "See [the heap]", "![Leaves](tub.jpg) See [the heap]")
	assert.Empty(t, printed(report.Diagnostics))
	assert.Len(t, elements(pageTree(t, files["notes/tubs/spring/index.html"]), "img"), 1)
	assert.Contains(t, files["notes/tubs/spring/index.html"], `<meta property="og:image:alt" content="Leaves">`)
}

// TestNothingOfACameraIsPublished builds with a picture that carries words, and looks for them in every file.
func TestNothingOfACameraIsPublished(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8))))
	const signature = 8 + 25 // and the first chunk
	words := "\x00\x00\x00\x0ctEXtGPS\x00Our yard\x7b\x5c\x03\x27"
	body := b.String()[:signature] + words + b.String()[signature:]
	handbookIn(t, &txtar.Archive{Files: []txtar.File{{Name: "a.md", Data: []byte("# A\n\n![A yard](yard.jpg)\n")}}})
	whole := "\xff\xd8\xff\xfe\x00\x0aOur yard"
	b.Reset()
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8)), nil))
	require.NoError(t, os.WriteFile("content/yard.jpg", []byte(whole+b.String()[2:]), 0o600))
	require.NoError(t, os.WriteFile("content/yard.png", []byte(body), 0o600))
	built, err := inMemory(Options{Content: "content", Today: today})
	require.NoError(t, err)
	require.Empty(t, printed(built.Sorted()))
	shown := 0
	for _, f := range built.out {
		assert.NotContains(t, string(f.Body), "Our yard", f.Path)
		if strings.HasPrefix(f.Path, "pictures/") {
			shown++
		}
	}
	assert.Equal(t, 1, shown, "what no note shows is not published")
}

func TestRecipeDescribesItself(t *testing.T) {
	_, files := renderSmall(t)
	var blocks []*html.Node
	for _, n := range elements(pageTree(t, files["recipes/tub/index.html"]), "script") {
		if value(n, "type") == "application/ld+json" {
			blocks = append(blocks, n)
		}
	}
	require.Len(t, blocks, 1)
	var got struct {
		Context, Type, Name, URL, DateModified string
		Supply                                 []struct{ Type, Name, RequiredQuantity string }
		Step                                   []struct {
			Position int
			Text     string
		}
	}
	text := strings.NewReplacer(`"@context"`, `"context"`, `"@type"`, `"type"`).Replace(textOf(blocks[0]))
	require.NoError(t, json.Unmarshal([]byte(text), &got))
	assert.Equal(t, "HowTo", got.Type)
	assert.Equal(t, "A tub", got.Name)
	assert.Equal(t, "https://bench.example/court/recipes/tub/", got.URL)
	assert.Equal(t, "2027-04-02", got.DateModified)
	require.Len(t, got.Supply, 1)
	assert.Equal(t, "HowToSupply", got.Supply[0].Type)
	assert.Equal(t, "Kelp meal", got.Supply[0].Name)
	assert.Regexp(t, `^2 tbsp \([\d.]+ g\)$`, got.Supply[0].RequiredQuantity)
	require.NotEmpty(t, got.Step)
	for i, step := range got.Step {
		assert.Equal(t, i+1, step.Position)
		assert.NotEmpty(t, step.Text)
	}
	assert.NotContains(t, textOf(blocks[0]), "estimatedCost", "kelp has no price here: no cost rather than a guess")
}

// TestSearchFinds reads the index of the small handbook.
func TestSearchFinds(t *testing.T) {
	_, files := renderSmall(t)
	index := files["search-index.js"]
	for _, want := range []string{
		`["Spring","notes/tubs/spring/index.html","Note","Renew the tubs"]`, `["A tub","recipes/tub/index.html","Recipe","Kelp meal"]`,
		`["Kelp meal","cupboard/index.html#kelp-meal","Amendment",`, `"recipes/tub/index.html","Crop","A tub"]`, `"how/recipe/index.html","Formula"`,
		`\npotash `, `\ngraser `,
	} {
		assert.Contains(t, index, want)
	}
	assert.NotContains(t, index, "404.html")
	page := files["search/index.html"]
	for _, want := range []string{"../notes/tubs/spring/index.html", "../recipes/tub/index.html", "../cupboard/index.html#kelp-meal", "../how/recipe/index.html", "../whole/index.html"} {
		assert.Contains(t, page, `href="`+want+`"`, "without a script the page lists everything")
	}
}
