package builder

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/url"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// A siteCheck reads the finished pages as a browser would, apart from the code that wrote them: a link
// that the builder writes wrongly is found here, not only one that the grower wrote wrongly.
type siteCheck struct {
	files      map[string][]byte
	base       string // path of the site's address: the not-found page alone may use it
	ids        map[string]map[string]int
	reached    map[string]bool
	links      int
	complaints []string
}

// checkSite returns what is wrong with the pages of a site, and how many links it followed.
func checkSite(files map[string][]byte, base string) (complaints []string, links int) {
	c := &siteCheck{files: files, base: base, ids: map[string]map[string]int{}, reached: map[string]bool{}}
	pages := map[string]*html.Node{}
	for name, body := range files {
		if path.Ext(name) != ".html" {
			continue
		}
		root, err := html.Parse(bytes.NewReader(body))
		if err != nil {
			c.complain(name, "not HTML: %s", err)
			continue
		}
		pages[name], c.ids[name] = root, idsOf(root)
	}
	for name, root := range pages {
		c.page(name, root)
	}
	c.unreached()
	for name, body := range files {
		if path.Ext(name) == ".css" {
			c.styleSheet(name, string(body))
		}
	}
	slices.Sort(c.complaints)
	return slices.Compact(c.complaints), c.links
}

func (c *siteCheck) complain(name, format string, args ...any) {
	c.complaints = append(c.complaints, name+": "+fmt.Sprintf(format, args...))
}

func attribute(n *html.Node, key string) (string, bool) {
	i := slices.IndexFunc(n.Attr, func(a html.Attribute) bool { return a.Key == key })
	if i < 0 {
		return "", false
	}
	return n.Attr[i].Val, true
}

func value(n *html.Node, key string) string {
	v, _ := attribute(n, key)
	return v
}

func idsOf(root *html.Node) map[string]int {
	ids := map[string]int{}
	for n := range root.Descendants() {
		if id, is := attribute(n, "id"); is {
			ids[id]++
		}
	}
	return ids
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return strings.TrimSpace(b.String())
}

func (c *siteCheck) page(name string, root *html.Node) {
	for id, times := range c.ids[name] {
		if times > 1 || id == "" {
			c.complain(name, "id %q stands %d times", id, times)
		}
	}
	c.bones(name, root)
	for n := range root.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		c.policy(name, n)
		c.references(name, n)
		for _, a := range n.Attr {
			c.address(name, n, a)
		}
	}
}

// bones checks what every page must have.
func (c *siteCheck) bones(name string, root *html.Node) {
	headings, title, csp := 0, "", ""
	for n := range root.Descendants() {
		switch {
		case n.Data == "h1" && n.Type == html.ElementNode:
			headings++
		case n.Data == "title" && n.Parent.Data == "head":
			title = textOf(n)
		case n.Data == "meta" && strings.EqualFold(value(n, "http-equiv"), "Content-Security-Policy"):
			csp = value(n, "content")
		case (n.Data == "script" || n.Data == "link") && csp == "":
			c.complain(name, "<%s> stands before the Content-Security-Policy", n.Data)
		}
	}
	if headings != 1 {
		c.complain(name, "%d h1 headings, not one", headings)
	}
	if title == "" {
		c.complain(name, "no title")
	}
	if !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") || strings.Contains(csp, "http") {
		c.complain(name, "Content-Security-Policy %q", csp)
	}
}

// policy checks what the strict Content-Security-Policy would refuse without a word to the reader.
func (c *siteCheck) policy(name string, n *html.Node) {
	for _, a := range n.Attr {
		if a.Key == "style" || strings.HasPrefix(a.Key, "on") {
			c.complain(name, "<%s> has the attribute %s=%q", n.Data, a.Key, a.Val)
		}
	}
	switch n.Data {
	case "style", "base", "iframe", "object", "embed", "form":
		c.complain(name, "holds <%s>", n.Data)
	case "script":
		if _, is := attribute(n, "src"); is {
			return
		}
		kind := value(n, "type")
		if kind != "application/json" && kind != "application/ld+json" {
			c.complain(name, "inline script of type %q", kind)
		} else if !json.Valid([]byte(textOf(n))) {
			c.complain(name, "data block is not JSON")
		}
	}
}

var (
	idLists = []string{"for", "headers", "aria-labelledby", "aria-describedby", "aria-controls", "aria-owns", "aria-details", "list"}
	byURL   = regexp.MustCompile(`url\(\s*["']?([^"')]*)["']?\s*\)`)
)

// references checks that what an element names by id is on its page.
func (c *siteCheck) references(name string, n *html.Node) {
	for _, a := range n.Attr {
		var named []string
		if slices.Contains(idLists, a.Key) {
			named = strings.Fields(a.Val)
		}
		for _, m := range byURL.FindAllStringSubmatch(a.Val, -1) {
			named = append(named, strings.TrimPrefix(m[1], "#"))
		}
		for _, id := range named {
			if c.ids[name][id] == 0 {
				c.complain(name, "<%s %s=%q>: there is no id %q", n.Data, a.Key, a.Val, id)
			}
		}
	}
}

var addressKeys = []string{"href", "src", "srcset", "poster", "data", "action", "formaction", "cite", "background", "ping"}

// address checks one attribute that names another file.
func (c *siteCheck) address(name string, n *html.Node, a html.Attribute) {
	switch {
	case !slices.Contains(addressKeys, a.Key):
		return
	case a.Key == "srcset":
		c.widths(name, n, a)
		return
	}
	at := fmt.Sprintf("<%s %s=%q>", n.Data, a.Key, a.Val)
	target, err := url.Parse(a.Val)
	switch {
	case a.Key == "ping":
		c.complain(name, "%s: this check cannot read it", at)
	case err != nil:
		c.complain(name, "%s: %s", at, err)
	case target.Scheme != "" || target.Host != "":
		c.outside(name, n, at, target)
	default:
		c.inside(name, at, target)
	}
}

// widths checks a picture's list of files: each with its width, the narrowest first, the widest the one that src
// names.
func (c *siteCheck) widths(name string, n *html.Node, a html.Attribute) {
	before, last := 0, ""
	for _, one := range strings.Split(a.Val, ",") {
		words := strings.Fields(one)
		width := 0
		if len(words) == 2 {
			width, _ = strconv.Atoi(strings.TrimSuffix(words[1], "w"))
		}
		if width <= before {
			c.complain(name, "<%s srcset=%q>: %q is no file with a width, from narrow to wide", n.Data, a.Val, one)
			return
		}
		before, last = width, words[0]
		c.address(name, n, html.Attribute{Key: "src", Val: words[0]})
	}
	if src := value(n, "src"); src != last || value(n, "width") != strconv.Itoa(before) {
		c.complain(name, "<%s srcset=%q>: src=%q width=%q is not the widest", n.Data, a.Val, src, value(n, "width"))
	}
	if value(n, "sizes") == "" {
		c.complain(name, "<%s srcset=%q>: no sizes", n.Data, a.Val)
	}
}

// outside lets a link leave the site, and nothing else: no page loads anything from elsewhere.
func (c *siteCheck) outside(name string, n *html.Node, at string, target *url.URL) {
	web := target.Scheme == "https" || target.Scheme == "http"
	switch {
	case n.Data == "a" && (web && target.Host != "" || target.Scheme == "mailto"):
	case n.Data == "link" && value(n, "rel") == "canonical" && web:
	case target.Scheme == "data" && (n.Data == "img" || value(n, "rel") == "icon"):
	default:
		c.complain(name, "%s: leaves the site", at)
	}
}

func (c *siteCheck) inside(name, at string, target *url.URL) {
	c.links++
	to := path.Join(path.Dir(name), target.Path)
	switch {
	case target.Path == "":
		to = name
	case strings.HasPrefix(target.Path, "/") && name == string(notFound) && c.base != "":
		rest, under := strings.CutPrefix(target.Path, c.base)
		if !under {
			c.complain(name, "%s: not under %q", at, c.base)
			return
		}
		to = rest
	case strings.HasPrefix(target.Path, "/"):
		c.complain(name, "%s: not relative", at)
		return
	}
	if _, exists := c.files[to]; !exists {
		c.complain(name, "%s: there is no file %q", at, to)
		return
	}
	if to != name && name != string(notFound) {
		c.reached[to] = true
	}
	if id := target.Fragment; id != "" && c.ids[to][id] == 0 {
		c.complain(name, "%s: %q has no id %q", at, to, id)
	}
}

// unreached complains of pages that no other page leads to.
func (c *siteCheck) unreached() {
	for name := range c.ids {
		if !c.reached[name] && name != string(notFound) {
			c.complain(name, "no other page leads here")
		}
	}
}

func (c *siteCheck) styleSheet(name, text string) {
	if strings.Contains(text, "@import") {
		c.complain(name, "imports another style sheet")
	}
	for _, m := range byURL.FindAllStringSubmatch(text, -1) {
		if _, exists := c.files[path.Join(path.Dir(name), m[1])]; !exists && !strings.HasPrefix(m[1], "data:") {
			c.complain(name, "%s: there is no such file", m[0])
		}
	}
}

// TestDemoLinks checks every page of the demo handbook.
func TestDemoLinks(t *testing.T) {
	h, err := Read("../content", today)
	require.NoError(t, err)
	address, err := url.Parse(h.Garden.Handbook.Address)
	require.NoError(t, err)
	built, err := inMemory(Options{Content: "../content", Today: today})
	require.NoError(t, err)
	require.Zero(t, built.Faults(), printed(built.Sorted()))
	files := map[string][]byte{}
	for _, f := range built.out {
		files[f.Path] = f.Body
	}
	for _, name := range []string{"index.html", "404.html", "trug.css", "trug.js"} {
		require.Contains(t, files, name)
	}
	complaints, links := checkSite(files, address.Path)
	assert.Empty(t, strings.Join(complaints, "\n"))
	assert.Greater(t, links, 10*len(h.Notes), "every page has at least the bar's links")
}
