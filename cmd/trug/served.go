package main

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"

	"trug/builder"
)

//go:embed live
var live embed.FS

// livePath is where the server's own files stand; no page of a site starts so.
const livePath = "/.trug/"

// A served site is the folder of the site as the loopback server hands it out: with a script in each page that
// keeps it up to date, which the files themselves do not hold.
type served struct {
	dir      string
	swapping sync.RWMutex // held for writing while the folder is being swapped
	base     atomic.Value // string: path of the handbook's address, from which its not-found page counts
	news     news
}

// newServed serves a folder. run tells this run of the program from others: a page of an earlier one is old.
func newServed(dir string, run int64) *served {
	s := &served{dir: dir, news: newNews(run)}
	s.base.Store("/")
	return s
}

// tell lets the open pages know what came of a build.
func (s *served) tell(report builder.Report) {
	if address, err := url.Parse(report.Address); err == nil && strings.HasSuffix(address.Path, "/") {
		s.base.Store(address.Path)
	}
	s.news.tell(report)
}

// kinds of files by their endings; any other is only bytes.
var contentTypes = map[string]string{
	".html": "text/html; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".json": "application/json",
	".csv":  "text/csv; charset=utf-8",
	".yaml": "application/yaml",
	".ics":  "text/calendar; charset=utf-8",
	".atom": "application/atom+xml",
	".xml":  "application/xml",
	".txt":  "text/plain; charset=utf-8",
	".svg":  "image/svg+xml",
	".png":  "image/png",
	".jpg":  "image/jpeg",
	".gif":  "image/gif",
}

// ServeHTTP answers with a file of the site, with one of its own, or with the not-found page.
func (s *served) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "pages can only be read", http.StatusMethodNotAllowed)
		return
	}
	w.Header().Set("Cache-Control", "no-store")
	w.Header().Set("X-Content-Type-Options", "nosniff")
	w.Header().Set("Cross-Origin-Resource-Policy", "same-origin")
	own, isOwn := strings.CutPrefix(r.URL.Path, livePath)
	switch {
	case isOwn && own == "events":
		s.news.stream(w, r)
	case isOwn:
		body, err := live.ReadFile("live/" + own)
		s.answer(w, own, body, err)
	default:
		s.page(w, r)
	}
}

// page answers with a file of the site. The name of a folder leads to the folder.
func (s *served) page(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" || strings.HasSuffix(name, "/") {
		name += "index.html"
	}
	edition := s.news.edition() // before the file is read: a page that is newer than it says is loaded again
	body, err := s.read(name)
	if errors.Is(err, errFolder) {
		http.Redirect(w, r, (&url.URL{Path: "/" + name + "/"}).String(), http.StatusFound) // name is a path inside the site
		return
	}
	if path.Ext(name) == ".html" {
		body = alive(body, edition)
	}
	s.answer(w, name, body, err)
}

var errFolder = errors.New("is a folder")

// read returns a file of the site. Nothing outside its folder is read, nor what is no part of the site: hidden
// files, and the script that keeps pages for reading without a signal, which would show old ones here.
func (s *served) read(name string) ([]byte, error) {
	if !fs.ValidPath(name) || strings.ContainsAny(name, "\\:\x00") || strings.Contains("/"+name, "/.") || name == "offline.js" {
		return nil, fs.ErrNotExist
	}
	s.swapping.RLock()
	defer s.swapping.RUnlock()
	file, err := os.OpenInRoot(s.dir, filepath.FromSlash(name))
	if err != nil {
		return nil, err
	}
	defer file.Close()
	if info, err := file.Stat(); err == nil && info.IsDir() {
		return nil, errFolder
	}
	return io.ReadAll(file)
}

// answer writes a file, or the not-found page in its place.
func (s *served) answer(w http.ResponseWriter, name string, body []byte, err error) {
	status := http.StatusOK
	if err != nil {
		name, status = "404.html", http.StatusNotFound
		edition := s.news.edition()
		if body, err = s.read(name); err != nil {
			body, _ = live.ReadFile("live/empty.html")
		}
		body = alive(rooted(body, s.base.Load().(string)), edition)
	}
	kind, known := contentTypes[strings.ToLower(path.Ext(name))]
	if !known {
		kind = "application/octet-stream"
	}
	w.Header().Set("Content-Type", kind)
	w.WriteHeader(status)
	_, _ = w.Write(body) // a reader who went away needs no answer
}

// within is an address in a page that leads to another page or file of the site.
var within = regexp.MustCompile(`\b(href|src)="([^"#?:]+)([#?"])`)

// rooted lets the addresses of the not-found page count from the server's root, where the site stands while it is
// watched: the page is shown at any depth, and its own count from base, the path where the site is to stand, or from
// itself where that is not told.
func rooted(page []byte, base string) []byte {
	return within.ReplaceAllFunc(page, func(found []byte) []byte {
		part := within.FindSubmatch(found)
		to := strings.TrimPrefix(string(part[2]), base)
		return fmt.Appendf(nil, `%s="/%s%s`, part[1], strings.TrimPrefix(to, "/"), part[3])
	})
}

const policy = `http-equiv="Content-Security-Policy" content="`

// alive puts the script into a page, and lets the page's policy ask this server for news.
func alive(page []byte, edition string) []byte {
	if before, after, found := bytes.Cut(page, []byte(policy)); found {
		if rules, _, _ := bytes.Cut(after, []byte(`"`)); !bytes.Contains(rules, []byte("connect-src")) {
			page = bytes.Join([][]byte{before, after}, []byte(policy+"connect-src 'self'; "))
		}
	}
	tags := `<link rel="stylesheet" href="/.trug/watch.css">` + "\n" + `<script defer src="/.trug/watch.js" data-edition="` + edition + `"></script>` + "\n"
	if at := bytes.Index(page, []byte("</head>")); at >= 0 {
		return bytes.Join([][]byte{page[:at], page[at:]}, []byte(tags))
	}
	return append(page, tags...)
}
