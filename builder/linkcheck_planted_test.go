package builder

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	cleanHead = `<!DOCTYPE html><html lang="en"><head><meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'"><title>A page</title></head>`
	cleanPage = cleanHead + `<body><h1 id="top">A page</h1><p id="é">It is <a href="../index.html">linked</a>.</p></body></html>`
)

// smallSite is a front page and two more, with everything in order; body goes into the front page.
func smallSite(body string) map[string][]byte {
	front := cleanHead + `<body><h1>Front</h1><a href="pot/index.html#%C3%A9">A pot</a> <a href="https://example.org/">Outside</a>` + body + `</body></html>`
	return map[string][]byte{
		"index.html":     []byte(front),
		"pot/index.html": []byte(cleanPage),
		"404.html":       []byte(cleanHead + `<body><h1>Nothing here</h1><a href="/bench/index.html">Front</a></body></html>`),
		"look.css":       []byte(`a { background: url("data:image/png;base64,AA==") }`),
		"data.json":      []byte(`{}`),
	}
}

func TestSiteCheckPassesACleanSite(t *testing.T) {
	complaints, links := checkSite(smallSite(`<script type="application/json">{"a": "<b>"}</script><a href="data.json?v=1">Data</a><a href="">Here</a>`), "/bench/")
	assert.Empty(t, complaints)
	assert.Equal(t, 5, links)
}

// TestSiteCheckFinds plants one slip at a time into a clean site: each gives one complaint, and the
// right one.
func TestSiteCheckFinds(t *testing.T) {
	slips := map[string]string{
		`<a href="pots/index.html">x</a>`:              `there is no file "pots/index.html"`,
		`<a href="pot/">x</a>`:                         `there is no file "pot"`,
		`<a href="../index.html">x</a>`:                `there is no file "../index.html"`,
		`<a href="pot/index.html#spring">x</a>`:        `"pot/index.html" has no id "spring"`,
		`<a href="#spring">x</a>`:                      `"index.html" has no id "spring"`,
		`<a href="data.json#spring">x</a>`:             `"data.json" has no id "spring"`,
		`<a href="/pot/index.html">x</a>`:              `not relative`,
		`<a href="//example.org/">x</a>`:               `leaves the site`,
		`<a href="javascript:void(0)">x</a>`:           `leaves the site`,
		`<img src="https://example.org/x.png" alt="">`: `leaves the site`,
		`<img src="picture.png" alt="">`:               `there is no file "picture.png"`,
		`<img srcset="look.css 2x" alt="">`:            `is no file with a width`,
		`<img src="look.css" srcset="gone.png 9w, look.css 10w" sizes="1px" width="10" alt="">`:                `there is no file "gone.png"`,
		`<img src="look.css" srcset="look.css 9w, look.css 8w" sizes="1px" width="8" alt="">`:                  `from narrow to wide`,
		`<img src="look.css" srcset="look.css 9w, data.json 10w" sizes="1px" width="10" alt="">`:               `is not the widest`,
		`<img src="look.css" srcset="look.css 9w" width="9" alt="">`:                                           `no sizes`,
		`<img src="look.css" srcset="https://example.org/x.png 8w, look.css 9w" sizes="1px" width="9" alt="">`: `leaves the site`,
		`<a href="data.json" ping="data.json">x</a>`:                                                           `cannot read it`,
		`<link rel="stylesheet" href="http://example.org/x.css">`:                                              `leaves the site`,
		`<script src="https://example.org/x.js"></script>`:                                                     `leaves the site`,
		`<svg><use href="more.svg#leaf"/></svg>`:                                                               `there is no file "more.svg"`,
		`<svg><path fill="url(#hatch)"/></svg>`:                                                                `there is no id "hatch"`,
		`<p id="twice">x</p><p id="twice">x</p>`:                                                               `id "twice" stands 2 times`,
		`<p id="">x</p>`:                                                                                       `id "" stands 1 times`,
		`<p aria-labelledby="gone">x</p>`:                                                                      `there is no id "gone"`,
		`<p style="color: red">x</p>`:                                                                          `attribute style=`,
		`<p onclick="x()">x</p>`:                                                                               `attribute onclick=`,
		`<style>p { color: red }</style>`:                                                                      `holds <style>`,
		`<iframe title="x"></iframe>`:                                                                          `holds <iframe>`,
		`<script>x()</script>`:                                                                                 `inline script of type ""`,
		`<script type="application/ld+json">{x</script>`:                                                       `data block is not JSON`,
		`<h1>Again</h1>`: `2 h1 headings, not one`,
	}
	for slip, want := range slips {
		t.Run(slip, func(t *testing.T) {
			complaints, _ := checkSite(smallSite(slip), "/bench/")
			require.Len(t, complaints, 1)
			assert.Contains(t, complaints[0], want)
			assert.Contains(t, complaints[0], "index.html: ")
		})
	}
}

// TestSiteCheckFindsMissing takes one needed thing at a time out of a clean site's page.
func TestSiteCheckFindsMissing(t *testing.T) {
	cases := []struct{ file, old, replacement, want string }{
		{"pot/index.html", "<title>A page</title>", "", "pot/index.html: no title"},
		{"pot/index.html", "<title>A page</title>", "<title> </title>", "pot/index.html: no title"},
		{"pot/index.html", `<h1 id="top">A page</h1>`, "", "pot/index.html: 0 h1 headings, not one"},
		{"pot/index.html", "Content-Security-Policy", "Refresh", `pot/index.html: Content-Security-Policy ""`},
		{"pot/index.html", "style-src 'self'", "style-src 'unsafe-inline'", "unsafe-inline"},
		{"pot/index.html", `<meta`, `<script type="application/json">{}</script><meta`, "stands before the Content-Security-Policy"},
		{"index.html", `href="pot/index.html#%C3%A9"`, `href="data.json"`, "pot/index.html: no other page leads here"},
		{"404.html", "/bench/", "/bed/", `not under "/bench/"`},
		{"404.html", "/bench/index.html", "/bench/gone.html", `there is no file "gone.html"`},
		{"look.css", "data:image/png;base64,AA==", "https://example.org/x.png", "look.css: "},
		{"look.css", "a {", `@import "more.css"; a {`, "look.css: imports another style sheet"},
	}
	for _, c := range cases {
		t.Run(c.want, func(t *testing.T) {
			files := smallSite("")
			require.Contains(t, string(files[c.file]), c.old)
			files[c.file] = []byte(strings.Replace(string(files[c.file]), c.old, c.replacement, 1))
			complaints, _ := checkSite(files, "/bench/")
			require.Len(t, complaints, 1)
			assert.Contains(t, complaints[0], c.want)
		})
	}
}
