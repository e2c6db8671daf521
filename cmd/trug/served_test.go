package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/builder"
	"trug/builder/publish"
	"trug/calcblocks/kit/diag"
)

const plainPage = `<!DOCTYPE html>
<html lang="en"><head>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'; script-src 'self'">
<title>T</title></head><body>here</body></html>
`

// newSite writes a site, a secret beside it and links to the secret inside it.
func newSite(t *testing.T) *served {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "public")
	for name, text := range map[string]string{
		"index.html": plainPage, "404.html": strings.Replace(plainPage, "here", "not here", 1), "notes/a/index.html": plainPage,
		"trug.css": "a {}", "trug.js": "1", "recipes/x.json": "{}", "recipes/x.csv": "a,b", "recipes/x.recipe.yaml": "recipe: x",
		"dates.ics": "BEGIN:VCALENDAR", "feed.atom": "<feed/>", "sitemap.xml": "<urlset/>", "pictures/p.jpg": "\xff\xd8", "odd.bin": "?",
		"offline.js": "keep", ".trug-manifest": "list", "../secret.txt": "secret",
	} {
		full := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(full), 0o755))
		require.NoError(t, os.WriteFile(full, []byte(text), 0o644))
	}
	require.NoError(t, os.Symlink("../secret.txt", filepath.Join(dir, "link.txt")))
	require.NoError(t, os.Symlink("..", filepath.Join(dir, "up")))
	return newServed(dir, 7)
}

// get asks the site for a path as it is written, without what a client would tidy up.
func get(t *testing.T, s http.Handler, method, target string) (int, http.Header, string) {
	t.Helper()
	r := httptest.NewRequestWithContext(t.Context(), method, "/", nil)
	r.URL.Path = target
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	body, err := io.ReadAll(w.Result().Body)
	require.NoError(t, err)
	return w.Code, w.Result().Header, string(body)
}

func TestContentTypes(t *testing.T) {
	s := newSite(t)
	for target, want := range map[string]string{
		"/": "text/html; charset=utf-8", "/index.html": "text/html; charset=utf-8", "/notes/a/": "text/html; charset=utf-8",
		"/trug.css": "text/css; charset=utf-8", "/trug.js": "text/javascript; charset=utf-8", "/recipes/x.json": "application/json",
		"/recipes/x.csv": "text/csv; charset=utf-8", "/recipes/x.recipe.yaml": "application/yaml", "/dates.ics": "text/calendar; charset=utf-8",
		"/feed.atom": "application/atom+xml", "/sitemap.xml": "application/xml", "/pictures/p.jpg": "image/jpeg", "/odd.bin": "application/octet-stream",
		"/.trug/watch.js": "text/javascript; charset=utf-8", "/.trug/watch.css": "text/css; charset=utf-8",
	} {
		code, head, body := get(t, s, http.MethodGet, target)
		assert.Equal(t, http.StatusOK, code, target)
		assert.Equal(t, want, head.Get("Content-Type"), target)
		assert.Equal(t, "nosniff", head.Get("X-Content-Type-Options"), target)
		assert.NotEmpty(t, body, target)
	}
}

// TestNothingElseIsServed: no path and no link leads out of the site, and what is no part of it is not there.
func TestNothingElseIsServed(t *testing.T) {
	s := newSite(t)
	for _, target := range []string{
		"/../secret.txt", "/notes/../../secret.txt", "/notes/a/../../../secret.txt", "//secret.txt", "/./index.html", "/link.txt", "/up/secret.txt",
		`/..\secret.txt`, "/\x00", "/.trug-manifest", "/offline.js", "/nothing", "/nothing/", "/.trug/", "/.trug/nothing", "/.trug/../watch.go", "/.trug/../../watch.go", "/index.html/",
	} {
		code, _, body := get(t, s, http.MethodGet, target)
		assert.Equal(t, http.StatusNotFound, code, target)
		assert.Contains(t, body, "not here", target)
		assert.NotContains(t, body, "secret", target)
	}
}

func TestFoldersAndMethods(t *testing.T) {
	s := newSite(t)
	code, head, _ := get(t, s, http.MethodGet, "/notes/a")
	assert.Equal(t, http.StatusFound, code)
	assert.Equal(t, "/notes/a/", head.Get("Location"))
	for _, method := range []string{http.MethodPost, http.MethodPut, http.MethodDelete, http.MethodOptions} {
		code, head, _ := get(t, s, method, "/")
		assert.Equal(t, http.StatusMethodNotAllowed, code)
		assert.Equal(t, "GET, HEAD", head.Get("Allow"))
	}
}

// TestThePageIsAlive: the script comes with the page, the page may ask the server, and the file holds neither.
func TestThePageIsAlive(t *testing.T) {
	s := newSite(t)
	_, _, body := get(t, s, http.MethodGet, "/")
	assert.Contains(t, body, `content="connect-src 'self'; default-src 'none'; style-src 'self'; script-src 'self'">`)
	assert.Contains(t, body, `<script defer src="/.trug/watch.js" data-edition="7-0"></script>`+"\n</head>")
	assert.Equal(t, 1, strings.Count(body, "watch.js"))
	_, _, css := get(t, s, http.MethodGet, "/trug.css")
	assert.Equal(t, "a {}", css)
	onDisk, err := os.ReadFile(filepath.Join(s.dir, "index.html"))
	require.NoError(t, err)
	assert.Equal(t, plainPage, string(onDisk))
	asks := strings.Replace(plainPage, "script-src", "connect-src 'self'; script-src", 1)
	assert.Equal(t, 1, strings.Count(string(alive([]byte(asks), "e")), "connect-src"), "a page that may ask already is left so")
	assert.Contains(t, string(alive([]byte("no head"), "e")), "no head<link", "a dress may have a page of any make")
}

// TestTheNotFoundPageLeadsIntoTheSite: at any depth, whether the handbook has no address, one at a host's root or one
// below it. A folder of the site that is named as the path of the address stays what it is.
func TestTheNotFoundPageLeadsIntoTheSite(t *testing.T) {
	for address, root := range map[string]string{"": "", "https://bench.example/": "/", "https://bench.example/notes/": "/notes/"} {
		s := newSite(t)
		page := "<head><link href=\"" + root + "trug.css\"><link href=\"data:image/svg+xml,a\"></head><a href=\"#main\"></a><a href=\"" + root + "notes/a/index.html#x\"></a><a href=\"https://out.example/\"></a>"
		require.NoError(t, os.WriteFile(filepath.Join(s.dir, "404.html"), []byte(page), 0o600))
		s.tell(builder.Report{Address: address})
		code, _, body := get(t, s, http.MethodGet, "/nowhere/deep/x.html")
		assert.Equal(t, http.StatusNotFound, code)
		for _, want := range []string{`href="/trug.css"`, `href="/notes/a/index.html#x"`, `href="#main"`, `href="data:image/svg+xml,a"`, `href="https://out.example/"`} {
			assert.Contains(t, body, want, address)
		}
		onDisk, err := os.ReadFile(filepath.Join(s.dir, "404.html"))
		require.NoError(t, err)
		assert.Equal(t, page, string(onDisk))
		code, _, _ = get(t, s, http.MethodGet, "/notes/a/")
		assert.Equal(t, http.StatusOK, code)
	}
}

func TestNoSiteYet(t *testing.T) {
	s := newServed(filepath.Join(t.TempDir(), "public"), 1)
	code, head, body := get(t, s, http.MethodGet, "/")
	assert.Equal(t, http.StatusNotFound, code)
	assert.Equal(t, "text/html; charset=utf-8", head.Get("Content-Type"))
	assert.Contains(t, body, "No page yet")
	assert.Contains(t, body, "connect-src 'self'; ")
	assert.Contains(t, body, "/.trug/watch.js")
}

// TestHosts: only a request that names this machine is answered.
func TestHosts(t *testing.T) {
	server, err := listen(0, newSite(t), func() {})
	require.NoError(t, err)
	defer server.close()
	_, port, _ := strings.Cut(server.address, ":")
	require.Equal(t, "127.0.0.1:"+port, server.address)
	for host, want := range map[string]int{
		"127.0.0.1:" + port: 200, "localhost:" + port: 200, "[::1]:" + port: 200, "LOCALHOST:" + port: 200,
		"127.0.0.1": 403, "localhost": 403, "localhost:1": 403, "bench.example": 403, "bench.example:" + port: 403,
		"127.0.0.1.bench.example:" + port: 403, "127.0.0.2:" + port: 403, "0.0.0.0:" + port: 403, "localhost.:" + port: 403,
	} {
		for _, target := range []string{"/", "/.trug/watch.js"} {
			r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, "http://"+server.address+target, nil)
			require.NoError(t, err)
			r.Host = host
			response, err := http.DefaultClient.Do(r)
			require.NoError(t, err)
			response.Body.Close()
			assert.Equal(t, want, response.StatusCode, "%s%s", host, target)
		}
	}
}

func TestATakenPort(t *testing.T) {
	first, err := listen(0, newSite(t), func() {})
	require.NoError(t, err)
	defer first.close()
	assert.NoError(t, first.taken)
	_, port, _ := strings.Cut(first.address, ":")
	number, err := strconv.ParseUint(port, 10, 16)
	require.NoError(t, err)
	second, err := listen(uint16(number), newSite(t), func() {})
	require.NoError(t, err)
	defer second.close()
	assert.Error(t, second.taken)
	assert.NotEqual(t, first.address, second.address)
}

// TestNewsAreSent: a page hears what is the matter at once, and again after each build; a slow reader gets the last.
func TestNewsAreSent(t *testing.T) {
	s := newSite(t)
	server, err := listen(0, s, func() {})
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+server.address+"/.trug/events", nil)
	require.NoError(t, err)
	response, err := http.DefaultClient.Do(r)
	require.NoError(t, err)
	defer response.Body.Close()
	assert.Equal(t, "text/event-stream", response.Header.Get("Content-Type"))
	lines := bufio.NewScanner(response.Body)
	next := func() string {
		for lines.Scan() {
			if text, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				return text
			}
		}
		return "the end"
	}
	assert.JSONEq(t, `{"edition": "7-0", "faults": []}`, next())
	file := diag.NewFile("content/a.md", "# A\n\n  rate: 2 <b>\n")
	bad := diag.Errorf(diag.Position{File: file, Line: 3, Column: 9}, "c", "unknown %q", "<b>").Hint("write g")
	doubt := diag.Errorf(diag.Whole("pots.yaml"), "d", "odd")
	doubt.Severity = diag.Doubt
	s.tell(builder.Report{Diagnostics: []diag.Diagnostic{bad, doubt}, Faults: 1})
	assert.JSONEq(t, `{"edition": "7-0", "faults": [{"place": "content/a.md:3:9", "message": "unknown \"<b>\"", "line": "  rate: 2 <b>", "hints": ["write g"]}]}`, next())
	s.tell(builder.Report{Published: publish.Report{Written: 2}})
	assert.JSONEq(t, `{"edition": "7-1", "faults": []}`, next())
	s.tell(builder.Report{Published: publish.Report{Unchanged: 9}})
	assert.JSONEq(t, `{"edition": "7-1", "faults": []}`, next(), "the same site is the same edition")
	require.NoError(t, server.close())
	assert.Equal(t, "the end", next(), "the stream ends with the server")
}
