package main

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A tab is a page open in Debian's Chromium.
type tab struct {
	t   *testing.T
	ctx context.Context
}

// newTab opens a tab; without a browser on the machine the test is skipped.
func newTab(t *testing.T) tab {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("no chromium on this machine")
	}
	flags := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()))
	for _, off := range []string{"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync"} {
		flags = append(flags, chromedp.Flag(off, true))
	}
	ctx, stop := chromedp.NewExecAllocator(t.Context(), flags...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	ctx, late := context.WithTimeout(ctx, 5*time.Minute)
	t.Cleanup(late)
	return tab{t, ctx}
}

func (b tab) open(address string) {
	b.t.Helper()
	require.NoError(b.t, chromedp.Do(b.ctx, chromedp.EmulateViewport(800, 600), chromedp.Navigate(address)))
}

// number asks the page for a number.
func (b tab) number(expression string) float64 {
	b.t.Helper()
	out, err := chromedp.Run(b.ctx, chromedp.Evaluate[float64](expression))
	require.NoError(b.t, err, expression)
	return out
}

// becomes waits for something to be true of the page, which may be loading anew meanwhile.
func (b tab) becomes(expression string) {
	b.t.Helper()
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(50 * time.Millisecond) {
		if yes, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](expression)); err == nil && yes {
			return
		}
	}
	shown, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](`location.href + "\n" + document.body.innerText`))
	require.Fail(b.t, "never true: "+expression, "%s %v", shown, err)
}

func holds(selector, text string) string {
	return fmt.Sprintf(`Array.from(document.querySelectorAll(%q)).some((n) => n.textContent.includes(%q))`, selector, text)
}

// TestOpenPageFollows edits a note while its page is open: the number changes and the place stays, a fault is
// shown above the last good page, and goes when it is mended.
func TestOpenPageFollows(t *testing.T) {
	b, w := newTab(t), newWatching(t)
	long := tubNote + "\n" + strings.Repeat("A line of prose.\n\n", 40) + "## Far below\n\n" + strings.Repeat("More of it.\n\n", 60)
	w.write("spring.md", long)
	w.start("0")
	b.open("http://" + w.address + "/notes/spring/index.html")
	b.becomes(holds("main", "36 g"))
	const top = `document.getElementById("far-below").getBoundingClientRect().top`
	b.becomes(`(window.scrollTo(0, document.getElementById("far-below").offsetTop + 100), scrollY > 500)`)
	before := b.number(top)
	w.write("spring.md", strings.Replace(long, "A line of prose.\n\n", strings.Repeat("A new line above.\n\n", 9), 1))
	b.becomes(holds("main p", "A new line above."))
	b.becomes(fmt.Sprintf(`Math.abs(%s - %f) < 2`, top, before))
	changed := strings.Replace(long, "1/2 cup", "1 cup", 1)
	w.write("spring.md", changed)
	b.becomes(holds("main", "72 g"))

	w.write("spring.md", strings.Replace(changed, "1 cup", "1 cupp", 1))
	b.becomes(holds(".unbuilt", "spring.md:7:17"))
	b.becomes(holds(".unbuilt .what", `unknown unit "cupp"`))
	b.becomes(holds(".unbuilt .line", "leaf-blend: 1 cupp"))
	b.becomes(holds("main", "72 g"))
	b.becomes(`getComputedStyle(document.querySelector(".unbuilt")).position === "fixed"`)
	b.open("http://" + w.address + "/index.html")
	b.becomes(holds(".unbuilt", "spring.md:7:17"))
	w.write("spring.md", changed)
	b.becomes(`!document.querySelector(".unbuilt")`)
	for name, text := range filesOf(t, filepath.Join(w.dir, "public")) {
		assert.NotContains(t, text, "watch.js", name)
	}
}

// TestManyTabsFollow: more tabs are open than a browser opens connections to one server, and all follow, also when
// the first of them has gone.
func TestManyTabsFollow(t *testing.T) {
	first, w := newTab(t), newWatching(t)
	w.start("0")
	at := "http://" + w.address + "/notes/spring/index.html"
	first.open(at)
	first.becomes(holds("main", "36 g"))
	var others []tab
	for range 9 {
		ctx, closed := chromedp.NewContext(first.ctx)
		t.Cleanup(closed)
		b := tab{t, ctx}
		b.open(at)
		b.becomes(holds("main", "36 g"))
		others = append(others, b)
	}
	w.write("spring.md", strings.Replace(tubNote, "1/2 cup", "1 cup", 1))
	for _, b := range append(others, first) {
		b.becomes(holds("main", "72 g"))
	}
	first.open("about:blank")
	w.write("spring.md", strings.Replace(tubNote, "1/2 cup", "1 cupp", 1))
	for _, b := range others {
		b.becomes(holds(".unbuilt", "spring.md:7:17"))
	}
	last, closed := chromedp.NewContext(first.ctx)
	t.Cleanup(closed)
	late := tab{t, last}
	late.open(at)
	late.becomes(holds(".unbuilt", "spring.md:7:17"))
}

// TestPagesKeptForReadingWithoutASignalGo: what an ordinary server at the same address left in the browser must
// not show old pages here.
func TestPagesKeptForReadingWithoutASignalGo(t *testing.T) {
	b, w := newTab(t), newWatching(t)
	site := filepath.Join(w.dir, "public")
	var out, err screen
	require.Equal(t, 0, Run(t.Context(), []string{"build", "--in", filepath.Join(w.dir, "content"), "--out", site}, Console{Out: &out, Err: &err, Now: time.Now}), &err)
	l, failed := net.Listen("tcp4", "127.0.0.1:0")
	require.NoError(t, failed)
	files := http.FileServer(http.Dir(site))
	plain := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-cache") // what is left shall be the script's, not the browser's own
		files.ServeHTTP(w, r)
	})}
	go func() { _ = plain.Serve(l) }()
	b.open("http://" + l.Addr().String() + "/index.html")
	b.becomes(`!!navigator.serviceWorker.controller`)
	require.NoError(t, plain.Close())
	_, port, _ := strings.Cut(l.Addr().String(), ":")
	w.start(port)
	require.Equal(t, l.Addr().String(), w.address)
	b.open("http://" + w.address + "/notes/spring/index.html")
	b.becomes(`!navigator.serviceWorker.controller && !!document.querySelector("script[data-edition]")`)
	const ask = `navigator.serviceWorker.getRegistrations().then((all) => { window.left = all.length }), caches.keys().then((all) => { window.kept = all.length })`
	b.becomes(`(` + ask + `, window.left === 0 && window.kept === 0)`)
	w.write("spring.md", strings.Replace(tubNote, "1/2 cup", "1 cup", 1))
	b.becomes(holds("main", "72 g"))
}
