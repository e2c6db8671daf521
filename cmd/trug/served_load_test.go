package main

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/builder"
	"trug/builder/publish"
)

// say sends bytes to the server as they are and returns the connection.
func say(t *testing.T, address, text string) net.Conn {
	t.Helper()
	c, err := net.Dial("tcp4", address)
	require.NoError(t, err)
	t.Cleanup(func() { c.Close() })
	_, err = io.WriteString(c, text)
	require.NoError(t, err)
	return c
}

// TestNoPathLeadsOut asks over the wire, where a path may be written in many ways.
func TestNoPathLeadsOut(t *testing.T) {
	site := newSite(t)
	server, err := listen(0, site, func() {})
	require.NoError(t, err)
	defer server.close()
	outside := strings.TrimSuffix(site.dir, "public") + "secret.txt"
	for _, target := range []string{
		"/../secret.txt", "/%2e%2e/secret.txt", "/%2E%2E%2Fsecret.txt", "/..%2fsecret.txt", "/notes/..%2f..%2fsecret.txt", "/%252e%252e/secret.txt",
		`/..\secret.txt`, "/..%5csecret.txt", "/%2e%2e%5csecret.txt", "/notes%5c..%5c..%5csecret.txt", "/%c0%ae%c0%ae/secret.txt", "/%00", "/index.html%00.txt",
		"/secret.txt%00", "/link.txt", "/up/secret.txt", "/up%2fsecret.txt", "/up/", "/up", outside, "/" + outside, "//" + outside, "/%2f" + outside, "/file://" + outside, "/c:/secret.txt",
		"/.trug-manifest", "/%2etrug-manifest", "/.trug/../served.go", "/.trug/%2e%2e/served.go", "/.trug/..%2fserved.go", "http://" + server.address + "/../secret.txt",
	} {
		c := say(t, server.address, "GET "+target+" HTTP/1.1\r\nHost: "+server.address+"\r\nConnection: close\r\n\r\n")
		answer, err := http.ReadResponse(bufio.NewReader(c), nil)
		require.NoError(t, err, target)
		body, err := io.ReadAll(answer.Body)
		require.NoError(t, err)
		assert.Contains(t, []int{http.StatusNotFound, http.StatusBadRequest}, answer.StatusCode, target)
		assert.NotRegexp(t, `^secret|package main|^list`, string(body), target)
	}
}

// TestOnlyReading: no other method does anything, and one that wants no body gets none.
func TestOnlyReading(t *testing.T) {
	server, err := listen(0, newSite(t), func() {})
	require.NoError(t, err)
	defer server.close()
	for _, method := range []string{"POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "CONNECT", "BREW", "get"} {
		c := say(t, server.address, method+" /index.html HTTP/1.1\r\nHost: "+server.address+"\r\nConnection: close\r\n\r\n")
		answer, err := http.ReadResponse(bufio.NewReader(c), nil)
		require.NoError(t, err, method)
		assert.Equal(t, http.StatusMethodNotAllowed, answer.StatusCode, method)
	}
	for _, target := range []string{"/index.html", "/.trug/events"} {
		c := say(t, server.address, "HEAD "+target+" HTTP/1.1\r\nHost: "+server.address+"\r\nConnection: close\r\n\r\n")
		all, err := io.ReadAll(c)
		require.NoError(t, err)
		assert.Regexp(t, `(?s)^HTTP/1.1 200 OK\r\n.*\r\n\r\n$`, string(all), target)
	}
}

// ends waits for the server to let a reader go, and returns what it was told until then.
func ends(t *testing.T, c net.Conn) string {
	t.Helper()
	require.NoError(t, c.SetReadDeadline(time.Now().Add(patience)))
	text, err := io.ReadAll(c)
	if late, ok := err.(net.Error); ok {
		require.False(t, late.Timeout(), "it is never let go")
	}
	return string(text)
}

// TestSlowReadersAreLetGo: one who never ends the question, one who sends a body drop by drop, one who says
// nothing more, one who never reads the answer. Meanwhile others are answered.
func TestSlowReadersAreLetGo(t *testing.T) {
	short := limits{asking: 2 * time.Second, answer: 3 * time.Second, silence: 100 * time.Millisecond}
	site := newSite(t)
	done := make(chan error, 1)
	large := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path != "/large" {
			site.ServeHTTP(w, r)
			return
		}
		var err error
		for err == nil {
			_, err = w.Write(make([]byte, 1<<20))
		}
		done <- err
	})
	server, err := short.listen(0, large, func() {})
	require.NoError(t, err)
	defer server.close()
	never := say(t, server.address, "GET /large HTTP/1.1\r\nHost: "+server.address+"\r\n\r\n")
	assert.Empty(t, ends(t, say(t, server.address, "GET / HTTP/1.1\r\nHost: "+server.address+"\r\nX-Endless: ")))
	ends(t, say(t, server.address, "GET / HTTP/1.1\r\nHost: "+server.address+"\r\nContent-Length: 100000\r\n\r\nx"))
	assert.Contains(t, ends(t, say(t, server.address, "GET / HTTP/1.1\r\nHost: "+server.address+"\r\n\r\n")), "here")
	select {
	case err := <-done:
		assert.Error(t, err, "the answer that nobody reads is given up")
	case <-time.After(patience):
		t.Fatal("the answer that nobody reads goes on")
	}
	never.Close()
}

// TestSlowReaderHoldsNothing: while one takes no news, building goes on and the others hear of it.
func TestSlowReaderHoldsNothing(t *testing.T) {
	s := newSite(t)
	server, err := listen(0, s, func() {})
	require.NoError(t, err)
	ask := "GET /.trug/events HTTP/1.1\r\nHost: " + server.address + "\r\n\r\n"
	for range 20 {
		say(t, server.address, ask)
	}
	reader := bufio.NewScanner(say(t, server.address, ask))
	for range 5000 {
		s.tell(builder.Report{Published: publish.Report{Written: 1}})
	}
	for reader.Scan() {
		if strings.Contains(reader.Text(), `"7-5000"`) {
			break
		}
	}
	require.NoError(t, reader.Err())
	assert.Contains(t, reader.Text(), `"7-5000"`)
	require.NoError(t, server.close())
}

// TestTheLastNewsAreHeard however the builds and the readers fall: an edition and its faults are told together.
func TestTheLastNewsAreHeard(t *testing.T) {
	const builds = 40
	for range 10_000 {
		n := newNews(7)
		go func() {
			for range builds {
				n.tell(builder.Report{Published: publish.Report{Written: 1}})
			}
		}()
		text, stale := n.now()
		for !strings.Contains(string(text), fmt.Sprintf(`"7-%d"`, builds)) {
			select {
			case <-stale:
				text, stale = n.now()
			case <-time.After(patience):
				t.Fatalf("the last build was never told of, only %s", text)
			}
		}
	}
}

var editionOf = regexp.MustCompile(`"edition":"([^"]+)"|data-edition="([^"]+)"`)

// A listener is an open page that follows the builds.
type listener struct {
	last  atomic.Value // string: the edition that it heard of last
	ended chan error
}

func (w *watching) listener() *listener {
	c := say(w.t, w.address, "GET /.trug/events HTTP/1.1\r\nHost: "+w.address+"\r\n\r\n")
	l := &listener{ended: make(chan error, 1)}
	l.last.Store("")
	go func() {
		lines := bufio.NewScanner(c)
		for lines.Scan() {
			if m := editionOf.FindStringSubmatch(lines.Text()); m != nil {
				l.last.Store(m[1])
			}
		}
		c.Close()
		l.ended <- lines.Err()
	}()
	return l
}

// TestTwoHundredOpenPages: 200 pages are open, and 100 saves are made one upon the other. Each page hears of the
// last, and when the program has ended no goroutine of it runs and no file is open.
func TestTwoHundredOpenPages(t *testing.T) {
	once := func(pages, saves int) {
		w := newWatching(t)
		w.start("0")
		var all []*listener
		for range pages {
			all = append(all, w.listener())
		}
		silent := say(t, w.address, strings.Repeat("GET /index.html HTTP/1.1\r\nHost: "+w.address+"\r\n\r\n", 50)) // and reads nothing
		for i := range saves {
			w.write("spring.md", fmt.Sprintf("%s\nSave %d.\n", tubNote, i+1))
		}
		w.shows("/notes/spring/", fmt.Sprintf("Save %d.", saves))
		shown := editionOf.FindStringSubmatch(w.page("/notes/spring/"))[2]
		for _, l := range all {
			require.Eventually(t, func() bool { return l.last.Load() == shown }, patience, 5*time.Millisecond, "each hears of %s", shown)
		}
		assert.Equal(t, 0, w.end())
		for _, l := range all {
			require.NoError(t, <-l.ended, "the stream ends in good order")
		}
		silent.Close()
	}
	once(1, 1) // what stays for the whole life of a program is started now
	goroutines, handles := running(), open()
	once(200, 100)
	require.Eventually(t, func() bool { return len(running()) <= len(goroutines)+1 }, patience, 50*time.Millisecond, "goroutines end") // one is Eventually's
	require.Eventually(t, func() bool { return open() <= handles }, patience, 50*time.Millisecond, "files are closed")
}
