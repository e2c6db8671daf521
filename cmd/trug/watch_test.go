package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// patience is how long a test waits for what is sure to come: a machine may be busy.
const patience = 2 * time.Minute

// A screen takes what the program prints.
type screen struct {
	mutex sync.Mutex
	text  bytes.Buffer
}

func (s *screen) Write(b []byte) (int, error) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.text.Write(b)
}

func (s *screen) String() string {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.text.String()
}

// A watching is a running "trug watch" on a handbook of its own.
type watching struct {
	t        *testing.T
	dir      string // holds content and public
	out, err screen
	address  string
	stop     context.CancelFunc
	ended    chan int
}

const tubNote = "# Spring\n\n```recipe tub\ntitle: Tub\nfor: 20 L\namounts:\n  leaf-blend: 1/2 cup\n```\n"

func newWatching(t *testing.T) *watching {
	t.Helper()
	w := &watching{t: t, dir: t.TempDir()}
	w.write("handbook.yaml", "title: Bench\naddress: https://bench.example/\nmeasures: {main: us}\nsizes: [10 L, 20 L]\n")
	w.write("cupboard.yaml", "leaf-blend: {name: Leaf blend, label: {n: 3, p2o5: 1, k2o: 2.5}, cup weighs: 72 g}\n")
	w.write("spring.md", tubNote)
	return w
}

func (w *watching) write(name, text string) {
	full := filepath.Join(w.dir, "content", filepath.FromSlash(name))
	require.NoError(w.t, os.MkdirAll(filepath.Dir(full), 0o755))
	require.NoError(w.t, os.WriteFile(full, []byte(text), 0o644))
}

var serving = regexp.MustCompile(`http://(127\.0\.0\.1:\d+)/ shows`)

// start runs the program until the test ends or stop is called, and returns when it serves.
func (w *watching) start(port string) {
	w.t.Helper()
	ctx, stop := context.WithCancel(w.t.Context())
	w.stop, w.ended = stop, make(chan int, 1)
	w.t.Cleanup(stop)
	args := []string{"watch", "--port", port, "--in", filepath.Join(w.dir, "content"), "--out", filepath.Join(w.dir, "public")}
	go func() { w.ended <- Run(ctx, args, Console{Out: &w.out, Err: &w.err, Now: time.Now}) }()
	require.Eventually(w.t, func() bool {
		if m := serving.FindStringSubmatch(w.out.String()); m != nil {
			w.address = m[1]
		}
		return strings.Contains(w.out.String(), " recipe") || w.err.String() != ""
	}, patience, 10*time.Millisecond, "it starts")
	require.NotEmpty(w.t, w.address, w.err.String())
}

// end stops the program and returns its exit code.
func (w *watching) end() int {
	w.t.Helper()
	w.stop()
	select {
	case code := <-w.ended:
		return code
	case <-time.After(patience):
		w.t.Fatal("it does not end")
		return -1
	}
}

// page returns a page as it is served now.
func (w *watching) page(at string) string {
	client := http.Client{Transport: &http.Transport{DisableKeepAlives: true}}
	response, err := client.Get("http://" + w.address + at)
	if err != nil {
		return err.Error()
	}
	defer response.Body.Close()
	text, err := io.ReadAll(response.Body)
	if err != nil {
		return err.Error()
	}
	return string(text)
}

// shows waits for a page to hold a text.
func (w *watching) shows(at, text string) {
	w.t.Helper()
	require.Eventually(w.t, func() bool { return strings.Contains(w.page(at), text) }, patience, 20*time.Millisecond, "%s shows %q; said: %s", at, text, &w.err)
}

// TestWatchFollowsEdits: a burst of saves ends in the last state, notes come and go with their folders, and the
// same content gives the same site as a plain build.
func TestWatchFollowsEdits(t *testing.T) {
	w := newWatching(t)
	w.start("0")
	assert.Contains(t, w.page("/notes/spring/"), "36 g")
	for i := range 100 {
		w.write("spring.md", fmt.Sprintf("%s\nSave %d.\n", tubNote, i))
	}
	w.shows("/notes/spring/", "Save 99.")
	content := filepath.Join(w.dir, "content")
	w.write("tubs/deep/note.md", "# Deep\n")
	w.shows("/notes/tubs/deep/note/", "<h1")
	require.NoError(t, os.Rename(filepath.Join(content, "tubs"), filepath.Join(content, "pots")))
	w.shows("/notes/pots/deep/note/", "<h1")
	assert.Contains(t, w.page("/notes/tubs/deep/note/"), "Not found")
	w.write("pots/deep/note.md", "# Deeper\n")
	w.shows("/notes/pots/deep/note/", "Deeper")
	require.NoError(t, os.RemoveAll(filepath.Join(content, "pots")))
	w.shows("/notes/pots/deep/note/", "Not found")
	assert.Equal(t, 0, w.end())
	plain := filepath.Join(w.dir, "plain")
	var out, err screen
	require.Equal(t, 0, Run(t.Context(), []string{"build", "--in", content, "--out", plain}, Console{Out: &out, Err: &err, Now: time.Now}), &err)
	assert.Equal(t, filesOf(t, plain), filesOf(t, filepath.Join(w.dir, "public")))
}

func filesOf(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(name string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(name)
		out[strings.TrimPrefix(name, dir)] = string(text)
		return err
	}))
	require.NotEmpty(t, out)
	return out
}

// TestWatchSurvivesFaults: the last good page stays, the terminal says each fault once, and a mended note is shown.
func TestWatchSurvivesFaults(t *testing.T) {
	w := newWatching(t)
	w.start("0")
	w.write("spring.md", strings.Replace(tubNote, "1/2 cup", "1/2 cupp", 1))
	said := func(text string) func() bool { return func() bool { return strings.Contains(w.err.String(), text) } }
	require.Eventually(t, said("nothing was published"), patience, 10*time.Millisecond)
	assert.Contains(t, w.err.String(), "spring.md:7:19: unknown unit \"cupp\"")
	assert.Contains(t, w.page("/notes/spring/"), "36 g", "the last good page")
	w.write("other.md", "# Other\n")
	require.NoError(t, os.Rename(filepath.Join(w.dir, "content"), filepath.Join(w.dir, "away")))
	require.Eventually(t, said("cannot read the content folder"), patience, 10*time.Millisecond)
	assert.Equal(t, 1, strings.Count(w.err.String(), "unknown unit"), "said once")
	require.NoError(t, os.Rename(filepath.Join(w.dir, "away"), filepath.Join(w.dir, "content")))
	w.write("spring.md", strings.Replace(tubNote, "1/2 cup", "1 cup", 1))
	w.shows("/notes/spring/", "72 g")
	w.shows("/notes/other/", "Other")
	assert.Equal(t, 0, w.end())
}

// TestWatchLeavesNothing: when it has ended, no goroutine of it runs and no file is open.
func TestWatchLeavesNothing(t *testing.T) {
	once := func() {
		w := newWatching(t)
		w.start("0")
		client := http.Client{Transport: &http.Transport{DisableKeepAlives: true}}
		stream, err := client.Get("http://" + w.address + "/.trug/events") // a page that stays open
		require.NoError(t, err)
		w.write("more.md", "# More\n")
		w.shows("/notes/more/", "More")
		assert.Equal(t, 0, w.end())
		_, err = io.ReadAll(stream.Body)
		require.NoError(t, err, "the stream ends in good order")
		stream.Body.Close()
	}
	once() // what stays for the whole life of a program is started now
	goroutines, handles := running(), open()
	once()
	for range 100 { // connections take a moment to close
		if len(running()) > len(goroutines) || open() > handles {
			time.Sleep(50 * time.Millisecond)
		}
	}
	assert.LessOrEqual(t, len(running()), len(goroutines), running())
	assert.LessOrEqual(t, open(), handles, "open files")
}

// running lists the goroutines, without the clock that the highlighting library lets run out by itself.
func running() []string {
	text := make([]byte, 1<<20)
	text = text[:runtime.Stack(text, true)]
	var out []string
	for one := range strings.SplitSeq(string(text), "\n\n") {
		if !strings.Contains(one, "regexp2") {
			out = append(out, one)
		}
	}
	return out
}

// open counts the open files of this process, 0 where the system does not tell.
func open() int {
	entries, err := os.ReadDir("/proc/self/fd")
	if err != nil {
		return 0
	}
	return len(entries)
}
